package guide

// This file makes entries: answers, corrections of earlier ones, and undo. All
// of them only ever add to a job.

import (
	"errors"
	"time"

	"garage/tundish/model/ask"
	"garage/tundish/model/job"
)

// Entry is the answer to a prompt as the next entry of the job.
func (p Prompt) Entry(s *Guide, v job.Value, typed string, at time.Time) job.Entry {
	e := job.Entry{
		Seq: s.Count + 1, At: at.UTC().Round(0), Topic: p.Place.Topic, Round: p.Place.Round, Item: p.Place.Item,
		Strikes: p.Strikes, Typed: typed, Value: v,
	}
	e.Asked, e.Label = p.asShown(s, v)
	return e
}

// UnknownLine alone on a line means "don't know": it is on the number pad.
const UnknownLine = "."

// Answer is the entry that a line makes of a prompt: what was typed, or the token
// or number of an option. An empty line confirms, ends a run of readings, or takes what is
// on offer.
func (p Prompt) Answer(s *Guide, line string, at time.Time) (job.Entry, error) {
	v, typed, err := job.Value{Unknown: true}, "", error(nil)
	switch {
	case p.Kind == job.Acknowledge || p.Kind == job.Event:
		v := p.confirming(s, job.Value{})
		if err := p.Accept(s, v); err != nil {
			return job.Entry{}, err
		}
		return p.Entry(s, v, line, at), nil
	case line == "" && p.Ends != job.NoTopic:
		return job.Entry{Seq: s.Count + 1, At: at.UTC().Round(0), Topic: p.Ends, Round: p.Place.Round}, nil
	case line == UnknownLine:
	case line != "":
		if o, ok := p.option(s, line); ok {
			v = p.ChoiceValue(s, o)
			break
		}
		typed = line
		v, err = p.Parse(s, line)
	default:
		var ok bool
		if v, ok = p.DefaultValue(s); !ok {
			return job.Entry{}, errors.New("type it, then Enter")
		}
		if p.Kind == job.Choose {
			v = p.ChoiceValue(s, ask.Option{Token: v.Choice})
		}
	}
	if err == nil {
		err = p.Accept(s, v)
	}
	return p.Entry(s, v, typed, at), err
}

// Correcting is the prompt that asks for a standing entry again; its answer
// strikes the old one out. False where the entry does not stand, or cannot be
// asked for again.
func (s *Guide) Correcting(seq int) (Prompt, bool) {
	entries, stands := s.Ledger()
	if seq < 1 || seq > len(entries) || !stands[seq-1] {
		return Prompt{}, false
	}
	p, ok := PromptOf(entries[seq-1])
	p.Strikes = seq
	return p, ok
}

// PromptOf is the prompt that an entry answered, for showing it.
func PromptOf(e job.Entry) (Prompt, bool) {
	sp := ask.SpecOf(e.Topic)
	if sp == nil {
		return Prompt{}, false
	}
	return Prompt{Spec: sp, Place: job.At(e.Topic, e.Round, e.Item)}, true
}
