package guide

// This file keeps questions and options as they were shown, where their words
// go by the state: answers that come later change the state, and must not
// change what somebody was asked.

import (
	"slices"
	"strings"
	"unicode/utf8"

	"garage/tundish/model/ask"
	"garage/tundish/model/job"
)

// asShown is what an entry keeps of the words that it answers: nothing of those
// that are the same in every job.
func (p Prompt) asShown(s *Guide, v job.Value) (asked, label string) {
	if p.AskOf != nil {
		if text := p.AskOf(s.Known, p.Place); text != p.Ask {
			asked = clipText(text)
		}
	}
	if p.OptionsOf == nil || v.Choice == "" {
		return asked, ""
	}
	sameToken := func(o ask.Option) bool { return o.Token == v.Choice }
	shown, fixed := p.OptionsOf(s.Known, p.Place), p.Options
	if i := slices.IndexFunc(shown, sameToken); i >= 0 {
		if k := slices.IndexFunc(fixed, sameToken); k < 0 || fixed[k].Label != shown[i].Label {
			label = clipText(shown[i].Label)
		}
	}
	return asked, label
}

// clipText cuts a text to what an entry may hold.
func clipText(text string) string {
	text = strings.ToValidUTF8(text, string(utf8.RuneError))
	return strings.ToValidUTF8(text[:min(len(text), job.MaxTextBytes)], "")
}

// AskedText is the question that an entry answered, as it was shown; "" where
// it answered none. An entry that does not keep it is of an older file, of a
// shared one, or answered a question that is the same in every job: then the
// question is worded by the entries that stood before.
func (s *Guide) AskedText(e job.Entry) string {
	p, ok := PromptOf(e)
	switch {
	case !ok:
		return ""
	case e.Asked != "":
		return e.Asked
	case p.AskOf == nil:
		return p.Ask
	}
	return p.AskText(s.before(e))
}

// AnswerText says in words what an entry's value means: a chosen option as it
// was shown, all else as Echo does.
func (s *Guide) AnswerText(e job.Entry) string {
	p, ok := PromptOf(e)
	switch {
	case !ok:
		return ""
	case p.Kind != job.Choose || p.OptionsOf == nil || e.Value.Unknown:
		return p.Echo(s, e.Value)
	case e.Label != "":
		return e.Label
	}
	return p.Echo(s.before(e), e.Value)
}

// before is the job as it was when an entry was made.
func (s *Guide) before(e job.Entry) *Guide {
	entries, _ := s.Ledger()
	if e.Seq < 1 || e.Seq > len(entries) {
		return s
	}
	return Fold(job.Job{ID: s.ID, Started: s.Started, Entries: entries[:e.Seq-1]}, Offers{s.Offered, s.earlier})
}
