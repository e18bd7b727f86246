package verdict

// This file draws from earlier jobs what stays behind in a unit and what
// escapes with a rig. It makes offers only: what a plan goes by must stand in
// the job's own entries.

import (
	"slices"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/learn"
	"garage/tundish/model/measure"
)

// Lessons are what earlier jobs taught, ml at 20 °C. Jobs is 0 where they
// taught nothing, and the defaults hold.
type Lessons struct {
	Residual Learned // what stays behind in this unit at an ordinary drain
	Escape   Learned // what escapes at the swap with this rig
}

// Learn draws on the jobs of one unit and on the latest jobs of one rig, both
// newest first.
func Learn(unit, rig []*Assessment) Lessons {
	return Lessons{Residual: learnResidual(unit), Escape: learnEscape(rig)}
}

// learnResidual follows the oil from every job after which the whole of it was
// known:
//
//	stayed behind = in the unit after the job before − come out now
//	in the unit   = what stayed behind + put in
//
// A chain ends at a job that is not accepted, at oil that is no witness and at a
// loss; without a known whole (wholeKnown) it has no beginning, since it would
// only repeat the default. While the history shows any sign of a loss nothing is taught: a
// slow loss looks like oil that stays behind.
func learnResidual(unit []*Assessment) Learned {
	if Leaks(History(unit)).Sign != learn.NoSign {
		return Learned{}
	}
	prior := measure.Value{}
	for _, s := range unit {
		if s.CapacityML() > 0 {
			prior = estimate.DefaultResidual(s.CapacityML())
			break
		}
	}
	var drains []learn.Drain
	for _, chain := range chainsOf(unit) {
		drains = append(drains, soundPart(prior, drains, chain)...)
	}
	h, err := learn.Follow(prior, drains)
	if err != nil || h.Residual.Jobs == 0 || h.Residual.MeanML() <= 0 {
		return Learned{}
	}
	return Learned{ML: h.Residual.MeanML(), UML: h.Residual.UML(), Jobs: h.Residual.Jobs}
}

// soundPart is a chain up to the drain, if any, that shows a leak or a gain:
// after it the whole is not known any more.
func soundPart(prior measure.Value, before, chain []learn.Drain) []learn.Drain {
	h, err := learn.Follow(prior, slices.Concat(before, chain))
	if err != nil {
		return nil
	}
	for i, step := range h.Steps[len(before):] {
		if !step.Learned {
			return chain[:i]
		}
	}
	return chain
}

// chainsOf are the drains of a unit whose beginning is known, oldest first.
func chainsOf(unit []*Assessment) [][]learn.Drain {
	var chains [][]learn.Drain
	var total measure.Value // in the unit after the job before
	known, km := false, 0.0
	for i := len(unit) - 1; i >= 0; i-- {
		s := unit[i]
		if s.UnitState() == AsFound {
			continue
		}
		if known = known && s.Measured() && !s.DrainedVoid(); known {
			last := len(chains) - 1
			odo, _ := s.Num(job.Place{Topic: job.Odometer})
			chains[last] = append(chains[last], learn.Drain{Km: distance(km, odo), InML: total, OutML: OneOf(s.ID, s.ordinaryDrain())})
			total = total.Sub(OneOf(s.ID, s.Drained().Total)).Add(OneOf(s.ID, s.NetFill(s.Round())))
		}
		known = known && s.fillTold()
		if whole, ok := s.wholeKnown(); ok {
			total, known = whole, true
			chains = append(chains, nil)
		}
		km, _ = s.Num(job.Place{Topic: job.Odometer})
	}
	return chains
}

// distance is the way between two odometer readings; 0 where it is not known.
func distance(fromKm, toKm float64) float64 {
	if fromKm > 0 && toKm > fromKm {
		return toKm - fromKm
	}
	return 0
}

// wholeKnown is all the oil in the unit after a proven job, where something
// other than a residual tells it: a start with a dry unit, or a level seen at
// the hole, where the stated quantity is that of the dry unit up to it.
func (s *Assessment) wholeKnown() (measure.Value, bool) {
	if s.DryStart() && s.fillTold() {
		return OneOf(s.ID, s.NetFill(s.Round())), true
	}
	c, ok := s.Capacity()
	if !ok || s.Meaning() != estimate.MeansDry || !s.LevelProven() {
		return measure.Value{}, false
	}
	return c.Add(measure.Gaussian(measure.Source{Name: estimate.LevelSource, Job: s.ID}, 0, s.LevelU())), true
}

// LevelProven reports whether the fill is proven and its level was seen.
func (s *Assessment) LevelProven() bool { return s.UnitState() == Proven && s.LevelSeen(s.Round()) }

// learnEscape takes what escaped at a swap in each push of a job through the
// drain port whose ledger tells, where it was measured and not guessed.
func learnEscape(rig []*Assessment) Learned {
	var past []measure.Value
	for i := len(rig) - 1; i >= 0; i-- {
		s := rig[i]
		if !s.fillTold() || s.Path() != job.DrainPortOnly {
			continue
		}
		for r := range s.Rounds() {
			if ml, ok := s.EscapedAtSwap(r); ok {
				past = append(past, OneOf(s.ID, ml).Scale(1/estimate.SwapsIn(r)))
			}
		}
	}
	if len(past) == 0 {
		return Learned{}
	}
	e, err := learn.Escape(measure.Gaussian("escape by default", estimate.EscapeML, estimate.EscapeUML), past)
	if err != nil || e.MeanML() < 0 {
		return Learned{}
	}
	return Learned{ML: e.MeanML(), UML: e.UML(), Jobs: e.Jobs}
}

// EscapedAtSwap is what escaped at the swaps of a round; false where none of it,
// or not all, was measured.
func (s *Assessment) EscapedAtSwap(round int) (measure.Value, bool) {
	n := s.Items(job.EscapedHow, round)
	if s.RoundKind(round) == job.RoundLetsOut || n == 0 {
		return measure.Value{}, false
	}
	var sum measure.Value
	for i := range n {
		p := job.Place{Round: round, Item: i}
		if s.Choice(p.Of(job.EscapedHow)) == job.EscapeGuess || !s.MeasuredCatch(estimate.SwapCatch, p) {
			return measure.Value{}, false
		}
		sum = sum.Add(s.Caught(estimate.SwapCatch, p))
	}
	return sum, true
}

// Learned is a quantity that earlier proven jobs taught, ml at 20 °C.
type Learned struct {
	ML, UML float64
	Jobs    int // how many; 0 means nothing was learned
}
