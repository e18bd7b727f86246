package job

// This file folds a job's entries into its state: which answers stand. All else
// is worked out from here; nothing of it is stored.

import (
	"maps"
	"slices"
	"time"
)

// State is a job, folded. It is made by Fold and says the same for ever, but
// remembers what it has worked out: it is for one goroutine at a time.
type State struct {
	ID      string
	Started time.Time
	Updated time.Time   // of the last entry; Started where there is none
	Count   int         // entries, struck ones too
	answers map[key]int // standing: index of entries
	entries []Entry     // all, in order
	stands  []bool      // by index of entries
	memo    memo
}

// memo is what a state remembers. The zero memo knows nothing.
type memo struct {
	standing Lazy[[]Entry]
	rounds   Lazy[int]
}

// Fold folds a job.
func Fold(job Job) *State {
	s := &State{
		ID: job.ID, Started: job.Started, Updated: job.Started, Count: len(job.Entries),
		answers: make(map[key]int, len(job.Entries)), entries: job.Entries,
	}
	s.stands = standing(job.Entries)
	for i, e := range job.Entries {
		s.Updated = e.At
		if s.stands[i] && e.Topic != Undo {
			s.answers[At(e.Topic, e.Round, e.Item).key()] = i
		}
	}
	if s.DryStart() { // what was said of oil drained does not count: there was none
		maps.DeleteFunc(s.answers, func(_ key, i int) bool { return s.entries[i].Topic.Info().OldOil })
	}
	return s
}

// standing says of each entry whether no later one strikes it out. An entry
// that was undone strikes nothing, so an undone correction gives the earlier
// reading back; one that was itself corrected goes on striking, so a reading
// corrected twice does not come back.
func standing(entries []Entry) []bool {
	stands := slices.Repeat([]bool{true}, len(entries))
	undone := make([]bool, len(entries))
	for i := len(entries) - 1; i >= 0; i-- {
		if n := entries[i].Strikes; !undone[i] && n >= 1 && n <= i {
			stands[n-1] = false
			undone[n-1] = undone[n-1] || entries[i].Topic == Undo
		}
	}
	return stands
}

// Answer is the standing answer at a place.
func (s *State) Answer(p Place) (Entry, bool) {
	i, ok := s.answers[p.key()]
	if !ok {
		return Entry{}, false
	}
	return s.entries[i], true
}

// Has reports whether a topic of round and item 0 has a standing answer.
func (s *State) Has(t Topic) bool { return s.HasItem(t, 0, 0) }

// HasIn reports whether a topic has a standing answer in a round.
func (s *State) HasIn(t Topic, round int) bool { return s.HasItem(t, round, 0) }

// EverSaid reports whether a topic was ever answered, struck out since or not.
func (s *State) EverSaid(t Topic) bool {
	return slices.ContainsFunc(s.entries, func(e Entry) bool { return e.Topic == t })
}

// SaidIn reports whether a topic was ever answered in a round, struck out since or
// not.
func (s *State) SaidIn(t Topic, round int) bool {
	return slices.ContainsFunc(s.entries, func(e Entry) bool { return e.Topic == t && e.Round == round })
}

// LoadedAfter reports whether the first load was entered after a line.
func (s *State) LoadedAfter(seq int) bool {
	i := slices.IndexFunc(s.entries, func(e Entry) bool { return e.Topic == LoadedAmount })
	return i >= 0 && s.entries[i].Seq > seq
}

// Items is how many of the items 0, 1, 2… of a topic have been answered and
// count.
func (s *State) Items(t Topic, round int) int {
	n := 0
	for s.HasItem(t, round, n) {
		n++
		if !s.Repeats(t, At(t, round, n-1)) {
			break
		}
	}
	return n
}

// Repeats reports whether the run of questions that a topic begins or belongs to
// is gone through once more after an item. It also says which items count: one
// that an earlier "that is all" cuts off does not.
func (s *State) Repeats(t Topic, p Place) bool {
	switch t {
	case ContainerName:
		return s.saysMore(ContainerMore, p)
	case HoseBore:
		return s.saysMore(HoseMore, p)
	case OilTemperature:
		return s.tooHot(p)
	case DrainedWith, DrainedAmount:
		return s.moreDrained(p)
	case LoadedWith, LoadedAmount:
		return s.saysMore(LoadedMore, p)
	case EscapedHow:
		return s.saysMore(EscapedMore, p)
	case LeakCheck:
		return s.WeepsAt(p)
	}
	return s.HasItem(t, p.Round, p.Item)
}

// saysMore reports whether a choice at a place asks for one more.
func (s *State) saysMore(more Topic, p Place) bool {
	e, ok := s.Answer(At(more, p.Round, p.Item))
	return ok && e.Value.Choice != MoreDone
}

// tooHot reports whether the temperature must be taken again.
func (s *State) tooHot(p Place) bool {
	t, _ := s.Num(p.Of(OilTemperature))
	return t > HotInsistC || (t > HotAskC && s.Choice(p.Of(HotOilGoOn)) == HotWait)
}

// SaysMoreDrained reports whether it was said that there is more to measure than an
// amount that came out.
func (s *State) SaysMoreDrained(p Place) bool { return s.saysMore(DrainedMore, p) }

// moreDrained reports whether there is another amount, or a second look found
// one.
func (s *State) moreDrained(p Place) bool {
	return s.SaysMoreDrained(p) || s.Choice(p.Of(LookedAgain)) == LookedMore || s.Choice(p.Of(PanLookedAgain)) == PanMore ||
		s.Choice(p.Of(CardLookedAgain)) == LookedMore
}

func (s *State) HasItem(t Topic, round, item int) bool {
	_, ok := s.answers[At(t, round, item).key()]
	return ok
}

// Num is a number with its standing answer; false where unknown or not given.
func (s *State) Num(p Place) (float64, bool) {
	e, ok := s.Answer(p)
	if !ok || e.Value.Unknown {
		return 0, false
	}
	return e.Value.Number, true
}

// NumOr is a number, or a default.
func (s *State) NumOr(t Topic, def float64) float64 {
	if x, ok := s.Num(Place{Topic: t}); ok {
		return x
	}
	return def
}

// Choice is the token chosen at a place, "" where none is.
func (s *State) Choice(p Place) string {
	e, _ := s.Answer(p)
	return e.Value.Choice
}

// ChoiceAt is the choice at a place as a typed constant, of tokens in the order
// of the constants.
func ChoiceAt[T ~uint8](s *State, p Place, tokens []string) (T, bool) {
	e, ok := s.Answer(p)
	i := slices.Index(tokens, e.Value.Choice)
	return T(max(i, 0)), ok && i >= 0
}

// Text is a line of text, "" where unknown or not given.
func (s *State) Text(t Topic) string { return s.TextAt(Place{Topic: t}) }

func (s *State) TextAt(p Place) string {
	e, ok := s.Answer(p)
	if !ok || e.Value.Unknown {
		return ""
	}
	return e.Value.Text
}

// Facts are the answers to the questions of the first step that hold beyond
// the job: what the next job of the same unit offers.
func (s *State) Facts() map[Place]Value {
	o := map[Place]Value{}
	for _, i := range s.answers {
		if e := s.entries[i]; e.Topic.IsFact() {
			o[At(e.Topic, e.Round, e.Item)] = e.Value
		}
	}
	return o
}

// Ledger lists all entries in order, with whether each still stands.
func (s *State) Ledger() ([]Entry, []bool) {
	return s.entries, s.stands
}

// SeqOf is the entry that stands at a place, 0 where none does.
func (s *State) SeqOf(p Place) int {
	e, _ := s.Answer(p)
	return e.Seq
}

// FirstAt is when a reading was taken: a correction puts right what was read,
// not when.
func (s *State) FirstAt(e Entry) time.Time {
	for e.Strikes > 0 && e.Strikes < e.Seq && e.Strikes <= len(s.entries) {
		before := s.entries[e.Strikes-1]
		if (At(before.Topic, before.Round, before.Item)) != (At(e.Topic, e.Round, e.Item)) || before.Seq >= e.Seq {
			break
		}
		e = before
	}
	return e.At
}

// UndoEntry strikes out the last standing entry; false where there is none.
// What was seen on coming back to the job is not what somebody wants undone.
func (s *State) UndoEntry(at time.Time) (Entry, bool) {
	for i := len(s.entries) - 1; i >= 0; i-- {
		switch s.entries[i].Topic {
		case Undo, ResumedStands, ResumedTag, ResumedPlug, FromPaper:
			continue
		}
		if s.stands[i] {
			return Entry{Seq: s.Count + 1, At: at.UTC().Round(0), Topic: Undo, Strikes: i + 1}, true
		}
	}
	return Entry{}, false
}

// StrikeEntry strikes out one standing entry without an answer in its place:
// what it answered is asked again, where it still matters. An entry that had
// struck out an earlier one gives that back, as it does when it is undone. False
// where the entry does not stand.
func (s *State) StrikeEntry(seq int, at time.Time) (Entry, bool) {
	if seq < 1 || seq > len(s.entries) || !s.stands[seq-1] || s.entries[seq-1].Topic == Undo {
		return Entry{}, false
	}
	return Entry{Seq: s.Count + 1, At: at.UTC().Round(0), Topic: Undo, Strikes: seq}, true
}

// Standing lists the entries that stand and can be corrected, newest first. The
// list is the state's own: not to be written to.
func (s *State) Standing() []Entry { return s.memo.standing.Get(s.listStanding) }

func (s *State) listStanding() []Entry {
	var list []Entry
	for i := len(s.entries) - 1; i >= 0; i-- {
		if s.stands[i] && s.entries[i].Topic != Undo {
			list = append(list, s.entries[i])
		}
	}
	return list
}
