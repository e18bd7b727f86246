package model

// This file makes entries: answers, corrections of earlier ones, and undo. All
// of them only ever add to a job.

import (
	"slices"
	"time"
)

// Entry is the answer to a prompt as the next entry of the job.
func (p Prompt) Entry(s *State, v Value, typed string, at time.Time) Entry {
	e := Entry{
		Seq: s.Count + 1, At: at.UTC().Round(0), Topic: p.Place.Topic, Round: p.Place.Round, Item: p.Place.Item,
		Strikes: p.Strikes, Typed: typed, Value: v,
	}
	e.Asked, e.Label = p.asShown(s, v)
	return e
}

// EndEntry is the event that Enter on an empty field stands for.
func (p Prompt) EndEntry(s *State, at time.Time) Entry {
	return Entry{Seq: s.Count + 1, At: at.UTC().Round(0), Topic: p.Ends, Round: p.Place.Round}
}

// Taken is an answer on offer that is taken over, and what it means in words.
type Taken struct {
	Prompt Prompt
	Entry  Entry
	Echo   string
}

// TakeOver is what one key takes over as shown: the answers on offer to the
// questions of a part of the first step that are open, for as long as there is
// one. Each is made on the state that the ones before it lead to.
func (s *State) TakeOver(part string, at time.Time) []Taken {
	var list []Taken
	entries, _ := s.Ledger()
	job := Job{ID: s.ID, Started: s.Started, Entries: slices.Clip(entries)}
	for len(job.Entries) < MaxEntries {
		p, ok := s.Next()
		if !ok || p.Step != Prepare || p.Part != part || p.Kind == Acknowledge {
			break
		}
		v, ok := p.DefaultValue(s)
		if !ok || p.Accept(s, v) != nil {
			break
		}
		e := p.Entry(s, v, "", at)
		list = append(list, Taken{p, e, p.Echo(s, v)})
		job.Entries = append(job.Entries, e)
		s = Fold(job, s.offers)
	}
	return list
}

// Correcting is the prompt that asks for a standing entry again; its answer
// strikes the old one out. False where the entry does not stand, or cannot be
// asked for again.
func (s *State) Correcting(seq int) (Prompt, bool) {
	entries, stands := s.Ledger()
	if seq < 1 || seq > len(entries) || !stands[seq-1] {
		return Prompt{}, false
	}
	p, ok := PromptOf(entries[seq-1])
	p.Strikes = seq
	return p, ok
}

// PromptOf is the prompt that an entry answered, for showing it.
func PromptOf(e Entry) (Prompt, bool) {
	sp := SpecOf(e.Topic)
	if sp == nil {
		return Prompt{}, false
	}
	return Prompt{Spec: sp, Place: at(e.Topic, e.Round, e.Item)}, true
}
