package guide

// This file puts the steps in order and finds what is to be asked next. It is
// the only place that knows the order; both fill paths and every correction
// round run through it.

import (
	"iter"

	"garage/tundish/model/job"
)

// cadence says how often a section of the job is gone through.
type cadence uint8

const (
	onceAJob    cadence = iota
	everyRound          // once for each round of filling
	inLastRound         // for the last round only, so again after a correction
)

// section is a run of blocks of one cadence.
type section struct {
	cadence cadence
	blocks  []block
}

// jobFlow is the whole job in order. It never changes.
var jobFlow = []section{
	{onceAJob, join(prepareBlocks(), isolateBlocks(), drainBlocks(), measureBlocks())},
	{everyRound, join(preloadBlocks(), fillBlocks(), capBlocks(), seatBlocks(), decisionBlocks())},
	{inLastRound, tagBlocks()},
	{onceAJob, wasteBlocks()},
	{everyRound, recheckBlocks()},
}

// specs finds a topic's spec. It never changes.
var specs = indexSpecs()

func join(runs ...[]block) []block {
	var all []block
	for _, run := range runs {
		all = append(all, run...)
	}
	return all
}

func indexSpecs() [job.NumTopics]*Spec {
	var index [job.NumTopics]*Spec
	for _, sec := range jobFlow {
		for _, b := range sec.blocks {
			for i := range b.specs {
				index[b.specs[i].Topic] = &b.specs[i]
				if ends := b.specs[i].Ends; ends != job.NoTopic {
					index[ends] = &once(Spec{Topic: ends, Ask: endedAsks[ends]}).specs[0]
				}
			}
		}
	}
	for _, extra := range unaskedSpecs() {
		index[extra.Topic] = &extra
	}
	return index
}

// endedAsks are what an empty line says that ends a run of readings.
var endedAsks = map[job.Topic]string{job.DripsEnded: "No more drip readings", job.FillEnded: "No more readings while it fills",
	job.RunEnded: "Level looked at"}

// SpecOf is a topic's spec; nil for Undo and NoTopic.
func SpecOf(t job.Topic) *Spec {
	if t >= job.NumTopics {
		return nil
	}
	return specs[t]
}

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
		for i := range jobFlow {
			first, last := 0, 0
			if jobFlow[i].cadence != onceAJob {
				last = s.Round()
			}
			if jobFlow[i].cadence == inLastRound {
				first = last
			}
			for round := first; round <= last; round++ {
				for k := range jobFlow[i].blocks {
					if !s.promptsOf(&jobFlow[i].blocks[k], round, yield) {
						return
					}
				}
			}
		}
	}
}

// promptsOf goes through the questions of a block in a round; false when
// yield has had enough.
func (s *Guide) promptsOf(b *block, round int, yield func(Prompt, bool) bool) bool {
	first := &b.specs[0]
	for item := 0; item <= job.MaxIndex; item++ {
		if first.Ends != job.NoTopic && s.HasIn(first.Ends, round) && !s.HasItem(first.Topic, round, item) {
			return true
		}
		for i := range b.specs {
			p := Prompt{Spec: &b.specs[i], Place: job.At(b.specs[i].Topic, round, item)}
			if (p.OldOil && s.DryStart()) || (p.When != nil && !p.When(s, p.Place)) {
				continue
			}
			open := s.isOpen(&p)
			if !yield(p, open) {
				return false
			}
		}
		if !b.repeats || !s.Repeats(first.Topic, job.At(first.Topic, round, item)) {
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
	if (p.Stale == nil || !p.Stale(s, p.Place, e)) && !s.wrongDimension(p, e) {
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
