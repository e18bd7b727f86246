package estimate

// This file works out, from the answers, what belongs in and the plan of each
// round.

import (
	"errors"
	"math"

	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// Plan is the plan of a round: of the whole fill for the first, of what is to
// be added for a correction. The error says what is not known yet. Before
// anything was measured, the stated quantity is the only measure.
func (s *Figures) Plan(round int) (Plan, error) {
	whole := s.made()
	plan, err := whole.plan, whole.err
	if err != nil || round <= 0 || plan.Undecided {
		return plan, err
	}
	in := whole.in
	in.HoseTakes, in.Escape = s.HoseWillTake(round), s.EscapeIn(round)
	plan.In = s.NetFill(round - 1)
	plan.Target = plan.Target.Sub(plan.In)
	in.load(&plan)
	return plan, nil
}

var errNoCapacity = errors.New("capacity is not known yet")

// WholePlan is the plan of the whole fill, and what it was made from.
func (s *Figures) WholePlan() (PlanInput, Plan, error) {
	made := s.made()
	return made.in, made.plan, made.err
}

// planInput is what the plan of the whole fill is made from.
func (s *Figures) planInput() (PlanInput, error) {
	in, err := s.inputWithoutCard()
	if err != nil {
		return in, err
	}
	card, level := s.card()
	in.Card, in.Changed = card, in.Changed.Add(level)
	if in.Unit != nil {
		in.Unit.Level = in.Unit.Level.Add(level)
	}
	return in, nil
}

func (s *Figures) inputWithoutCard() (PlanInput, error) {
	if _, ok := s.Capacity(); !ok {
		return PlanInput{}, errNoCapacity
	}
	step, _ := s.Num(job.Place{Topic: job.VesselGraduation})
	drained := s.Drained()
	in := PlanInput{
		Stated: s.stated(drained.Late), Tolerance: s.Tolerance(), Drained: drained.Total, DrainedVoid: s.DrainedVoid() || !s.Measured(),
		HoseTakes: s.HoseWillTake(0), Heel: s.Heel(), Escape: s.EscapeIn(0), RoundUpToML: step,
	}
	if s.Path().ShowsLevel() {
		lip := s.LevelAtLip()
		in.Lip = &lip
		in.KeepsFull = s.Path().RunsEngine() && s.OldOilTold()
	}
	in.Unit = s.unitAfter(in.Stated)
	if in.Unit != nil && s.Past() == job.PastLeaked && s.LossTold() {
		in.DrainedVoid = false // it tells how much was lost
	}
	in.Basis, _ = job.ChoiceAt[Basis](s.State, job.Place{Topic: job.Basis}, basisTokens)
	return in, nil
}

// HoseWillTake is what the hose is planned to keep of a push.
func (s *Figures) HoseWillTake(round int) measure.Value {
	if s.HoseBefore(round) == job.HoseFull {
		return measure.Exact(0)
	}
	return s.HoldUp()
}

var ErrNoBasis = errors.New("what came out and the fill quantity contradict each other: choose first")

// PlansOf are the plan of the whole fill and that of a round.
func (s *Figures) PlansOf(round int) (whole, plan Plan, err error) {
	if whole, err = s.Plan(0); err != nil {
		return whole, plan, err
	}
	if whole.Undecided {
		return whole, plan, ErrNoBasis
	}
	plan, err = s.Plan(round)
	return whole, plan, err
}

// rigRinseML is the new oil that rinses a rig, twice 100 ml.
const rigRinseML = 200.0

// OilToBuyML is the oil to have at hand: stated quantity, with what a dry unit
// takes on top of a refill, less the additive, what hose, vessel and bottles keep,
// what escapes, and one small corrective push, rounded up to 100 ml.
func (s *Figures) OilToBuyML() float64 {
	spare := s.EscapeIn(0).Nominal + s.EscapeIn(1).Nominal + s.Tolerance().PlusML
	rinse := 0.0
	if s.Choice(job.Place{Topic: job.RigRinse}) == job.RigRinsed {
		rinse = rigRinseML
	}
	need := rinse + s.TakesML() + s.HoldUp().Nominal + s.Heel().Nominal + spare
	return math.Ceil((need+s.bottlesKeepML(need))/100) * 100
}

// TakesML is the oil that the unit takes, with what a dry one takes on top, but without the
// additive, ml.
func (s *Figures) TakesML() float64 {
	c := s.CapacityML() - s.AdditiveML()
	if s.DryStart() && s.ResidualMatters() {
		c += s.residual().Nominal
	}
	return c
}

// ExpectedOut is what will come out, by all that is known before it does; false where
// nothing can be told.
func (s *Figures) ExpectedOut() (measure.Value, bool) {
	in, err := s.planInput()
	if err != nil || in.check() != nil || s.DryStart() {
		return measure.Value{}, false
	}
	unit := in.unit()
	return unit.known.Of(unit.needed().Add(unit.Level)), true
}

// StaysBehind is what stayed behind in the unit, as a round leaves it known; false where
// it is not known.
func (s *Figures) StaysBehind(round int) (measure.Value, bool) {
	if s.made().err != nil {
		return measure.Value{}, false
	}
	return s.adjusted(round).known.Of(s.made().unit.Stays), true
}
