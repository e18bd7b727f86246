package session

// This file makes control characters visible: of a job of a stranger nothing reaches
// a terminal that it would obey.

import (
	"slices"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/text"
)

// bring takes what earlier jobs bring. Those before this one are folded here once:
// every state after it works on them.
func (s Session) bring(offers guide.Offers) Session {
	s.offers, s.shown, s.hidden = offers, offers, false
	s.shown.Answers = make(map[job.Place]job.Value, len(offers.Answers))
	for p, v := range offers.Answers {
		v.Text = text.Visible(v.Text)
		s.hidden = s.hidden || v.Text != offers.Answers[p].Text
		s.shown.Answers[p] = v
	}
	for b := offers.Before; b != nil; b = b.Before() {
		if entries, _ := b.Ledger(); slices.ContainsFunc(entries, hides) {
			s.shown.Before = offers.Before.Refold(visible) // so that the same names are the same in all of them
			s.hidden = true
			break
		}
	}
	return s
}

// refold folds the job as it is stored, and gives it as it is shown.
func (s *Session) refold() *guide.Guide {
	s.real = guide.Fold(s.Job, s.offers)
	if !s.hidden && !slices.ContainsFunc(s.Job.Entries, hides) {
		return s.real
	}
	return s.With()
}

// visible is a job with the control characters in its texts made visible.
func visible(j job.Job) job.Job {
	j.Entries = slices.Clone(j.Entries)
	for i := range j.Entries {
		j.Entries[i] = visibleEntry(j.Entries[i])
	}
	return j
}

func visibleEntry(e job.Entry) job.Entry {
	for _, t := range []*string{&e.Typed, &e.Asked, &e.Label, &e.Value.Text, &e.Value.Choice} {
		*t = text.Visible(*t)
	}
	return e
}

// hides reports whether there is something in an entry to be made visible.
func hides(e job.Entry) bool {
	v := visibleEntry(e)
	return v.Typed != e.Typed || v.Asked != e.Asked || v.Label != e.Label || v.Value.Text != e.Value.Text ||
		v.Value.Choice != e.Value.Choice
}
