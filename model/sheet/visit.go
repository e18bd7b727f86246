package sheet

// This file holds where a person is in a job: which sheet is before them, what they have
// asked to see of it, and the way from one to the next. Nothing of it is stored.

import (
	"slices"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// Visit is somebody at a sheet of a job. It is a value: every change makes another.
type Visit struct {
	Guide  *guide.Guide
	resume []guide.Prompt // asked before anything else, after a break
	asked  int            // how many of them are answered
	at     At             // the sheet that is held until it is said to be complete
	holds  bool
	look   bool        // at is looked at by the way: it is left without being complete
	opened []job.Place // folded lines that were asked for
}

// Begin begins a visit at the sheet that a job is at; resume are the questions to be
// asked first.
func Begin(g *guide.Guide, resume []guide.Prompt) Visit {
	return Visit{Guide: g, resume: resume}.hold()
}

// hold keeps the sheet that the job is at before the person until it is complete.
func (v Visit) hold() Visit {
	v.look, v.opened = false, nil
	s, more := Now(v.Guide, v.Guide.Updated)
	if v.holds = more && s.ID != Stop; v.holds {
		v.at = s.At
	}
	return v
}

// Sheet is the sheet before the person; false where nothing is left to do.
func (v Visit) Sheet(now time.Time) (Sheet, bool) {
	if v.asked < len(v.resume) {
		return resuming(v.Guide, v.resume), true
	}
	if v.look {
		return v.unfolded(lookedAt(v.Guide, assume(v.Guide, v.at, now), v.at, now)), true
	}
	s, more := Now(v.Guide, now)
	if v.holds && (!more || s.ID != Stop) {
		s, more = Of(v.Guide, v.at, now), true
	}
	return v.unfolded(s), more
}

// unfolded shows the folded lines of a sheet that were asked for.
func (v Visit) unfolded(s Sheet) Sheet {
	for i, l := range s.Lines {
		if slices.Contains(v.opened, l.Place) {
			s.Lines[i].Folded = false
		}
	}
	return s
}

// Mark tells a sheet of a job from its others; the zero Mark is of none.
type Mark struct {
	at   At
	stop job.Topic
	any  bool
}

// Mark is what tells the sheet from the others of its job.
func (s Sheet) Mark() Mark {
	m := Mark{at: s.At, any: true}
	if s.ID == Stop {
		m.stop = s.Lines[0].Topic()
	}
	return m
}

// Unfold asks for a folded line.
func (v Visit) Unfold(p job.Place) Visit {
	v.opened = append(slices.Clip(v.opened), p)
	return v
}

// Stored is the visit once entries are durable; g is the job with them.
func (v Visit) Stored(g *guide.Guide, entries []job.Entry) Visit {
	v.Guide = g
	if v.asked < len(v.resume) && len(entries) > 0 && entries[0].Topic == v.resume[v.asked].Topic {
		v.asked++
	}
	if !v.holds && !v.look {
		return v.hold()
	}
	return v
}

// Done leaves the sheet: it is complete, or was only looked at. The entries of it being
// complete must be durable.
func (v Visit) Done() Visit { return v.hold() }

// Looks is the visit at another sheet of the job, or back at the one that it is at.
func (v Visit) Looks(at At) Visit {
	v.at, v.look, v.holds, v.opened = at, true, false, nil
	if s, more := Now(v.Guide, v.Guide.Updated); more && s.At == at {
		return v.hold()
	}
	return v
}

// LooksFor is the visit at the sheet that an answer's place belongs to; false where it
// belongs to none.
func (v Visit) LooksFor(p job.Place) (Visit, bool) {
	at, ok := Home(v.Guide, p)
	if ok {
		v = v.Done().Looks(at)
	}
	return v, ok
}

// Answered is the visit once the entries of an answer are durable. An answer that is
// given anew may open again what was settled before: it leads back to where the job is.
func (v Visit) Answered(entries []job.Entry) Visit {
	if v.look || slices.ContainsFunc(entries, func(e job.Entry) bool { return e.Strikes > 0 }) {
		return v.Done()
	}
	return v
}

// Looking reports whether an earlier sheet is looked at.
func (v Visit) Looking() bool { return v.look }

// Undo takes back what was answered last: all entries of that answer. False where there
// is nothing.
func Undo(g *guide.Guide, at time.Time) ([]job.Entry, bool) {
	d := &draft{g: g, at: at}
	var last *merged
	for range job.MaxIndex {
		e, ok := d.g.UndoEntry(at)
		if !ok {
			break
		}
		entries, _ := d.g.Ledger()
		struck := entries[e.Strikes-1]
		of := mergedOf[struck.Topic]
		if len(d.entries) > 0 && (of == nil || of != last) {
			break
		}
		last = of
		d.add(e)
		if of == nil {
			break
		}
	}
	return d.entries, len(d.entries) > 0
}

// Correct makes the entries of an answer typed anew at a place, whatever sheet it is on.
func Correct(g *guide.Guide, p job.Place, a Answer, at time.Time) ([]job.Entry, error) {
	d := &draft{g: g, at: at}
	err := d.answer(d.prompt(p), a)
	return d.entries, err
}

// LineOf is the line of a sheet that stands for the question at a place; -1 none.
func (s Sheet) LineOf(p job.Place) int {
	return slices.IndexFunc(s.Lines, func(l Line) bool {
		return slices.ContainsFunc(l.prompts, func(q guide.Prompt) bool { return q.Place == p })
	})
}

// Home is the sheet that an answer's place belongs to.
func Home(g *guide.Guide, p job.Place) (At, bool) {
	for q := range g.Prompts() {
		if q.Place == p {
			return home(g, q), true
		}
	}
	return At{}, false
}

// FromPaper is the entry that says that what follows is typed from a printed page.
func FromPaper(g *guide.Guide, at time.Time) job.Entry {
	p := (&draft{g: g}).prompt(job.At(job.FromPaper, g.Round(), 0))
	return p.Entry(g, job.Value{}, "", at)
}
