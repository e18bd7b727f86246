package guide

// This file finds what is to be asked next.

import (
	"iter"

	"garage/tundish/model/ask"
	"garage/tundish/model/job"
)

// Next is what is to be asked next; false when nothing is left to ask. Where
// an answer no longer holds, the new one strikes it out.
func (s *Guide) Next() (Prompt, bool) {
	next := s.memo.next.Get(s.findNext)
	return next.prompt, next.more
}

func (s *Guide) findNext() upNext {
	if s.StoppedByOwner() {
		return upNext{}
	}
	for p, open := range s.Prompts() {
		if open && p.Asked(s) {
			return upNext{p, true}
		}
	}
	return upNext{}
}

// Prompts goes through the questions of the job as things stand, in order,
// each with whether it is still open. Of those that are optional not all are asked.
func (s *Guide) Prompts() iter.Seq2[Prompt, bool] {
	return func(yield func(Prompt, bool) bool) {
		for i := range ask.Flow {
			first, last := 0, 0
			if ask.Flow[i].Cadence != ask.OnceAJob {
				last = s.Round()
			}
			if ask.Flow[i].Cadence == ask.InLastRound {
				first = last
			}
			for round := first; round <= last; round++ {
				for k := range ask.Flow[i].Blocks {
					if !s.promptsOf(&ask.Flow[i].Blocks[k], round, yield) {
						return
					}
				}
			}
		}
	}
}

// promptsOf goes through the questions of a block in a round; false when
// yield has had enough.
func (s *Guide) promptsOf(b *ask.Block, round int, yield func(Prompt, bool) bool) bool {
	first := &b.Specs[0]
	for item := 0; item <= job.MaxIndex; item++ {
		if first.Ends != job.NoTopic && s.HasIn(first.Ends, round) && !s.HasItem(first.Topic, round, item) {
			return true
		}
		for i := range b.Specs {
			p := Prompt{Spec: &b.Specs[i], Place: job.At(b.Specs[i].Topic, round, item)}
			if (p.OldOil && s.DryStart()) || (p.When != nil && !p.When(s.Known, p.Place)) {
				continue
			}
			open := s.isOpen(&p)
			if !yield(p, open) {
				return false
			}
		}
		if !b.Repeats || !s.Repeats(first.Topic, job.At(first.Topic, round, item)) {
			return true
		}
	}
	return true
}

// isOpen reports whether a question has no answer that still holds. An answer
// that does not is marked to be struck out.
func (s *Guide) isOpen(p *Prompt) bool {
	e, ok := s.Answer(p.Place)
	if !ok {
		return true
	}
	if (p.Stale == nil || !p.Stale(s.Known, p.Place, e)) && !s.wrongDimension(p, e) {
		return false
	}
	p.Strikes = e.Seq
	return true
}

// wrongDimension reports whether an amount was read with something else than what
// is now said to have measured it.
func (s *Guide) wrongDimension(p *Prompt, e job.Entry) bool {
	if p.With == job.NoTopic || e.Value.Unknown {
		return false
	}
	d, ok := s.Device(p.With, p.Place)
	return ok && d.Scale != (e.Value.Unit == job.DimG)
}

// Step is the step that the job is at: that of the next question, or the last.
func (s *Guide) Step() job.Step {
	if p, ok := s.Next(); ok {
		return p.Step
	}
	return job.CloseOut
}

// ResumePrompts are asked again when a job is taken up with the car in the
// air: the stands, and what is in the drain port.
func (s *Guide) ResumePrompts() []Prompt {
	if !s.Has(job.GroundAndChocks) || s.Phase() != Open || s.UnitState().Settled() {
		return nil
	}
	topics := []job.Topic{job.ResumedStands}
	if s.Emptied() {
		topics = append(topics, job.ResumedTag, job.ResumedPlug)
	}
	prompts := make([]Prompt, len(topics))
	for i, t := range topics {
		prompts[i] = Prompt{Spec: ask.SpecOf(t), Place: job.At(t, 0, s.Items(t, 0))}
	}
	return prompts
}
