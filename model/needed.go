package model

// This file works out, from the answers, what belongs in and the plan of each
// round.

import (
	"errors"

	"garage/tundish/model/measure"
)

// Plan is the plan of a round: of the whole fill for the first, of what is to
// be added for a correction. The error says what is not known yet. Before
// anything was measured, the stated quantity is the only witness.
func (s *State) Plan(round int) (Plan, error) {
	whole := s.memo.plan.get(s.wholePlan)
	plan, err := whole.plan, whole.err
	if err != nil || round <= 0 || plan.Undecided {
		return plan, err
	}
	missing := plan.Target.Sub(s.NetFill(round - 1))
	tol := s.tolerance()
	step, _ := s.num(Place{Topic: VesselGraduation})
	plan.Target = missing
	plan.Low, plan.High = missing.Nominal-tol.MinusML, missing.Nominal+tol.PlusML
	plan.SurplusML = s.weepSurplusML(missing)
	plan.Charge = measure.Sum(missing, measure.Exact(plan.SurplusML), s.hoseWillTake(round), s.heel(), s.escapeIn(round))
	plan.PreloadML = preloadOf(plan.Charge, step)
	return plan, nil
}

var errNoCapacity = errors.New("capacity is not known yet")

func (s *State) wholePlan() planned {
	in, err := s.planInput()
	if err != nil {
		return planned{Plan{}, err}
	}
	plan, err := MakePlan(in)
	return planned{plan, err}
}

func (s *State) planInput() (PlanInput, error) {
	c, ok := s.capacity()
	if !ok {
		return PlanInput{}, errNoCapacity
	}
	step, _ := s.num(Place{Topic: VesselGraduation})
	drained := s.Drained()
	in := PlanInput{
		Capacity: c, Means: s.Meaning(), DryStart: s.DryStart(), Tolerance: s.tolerance(),
		Drained: drained.Total, LateDrips: drained.Late, DrainedVoid: s.drainedVoid() || !s.Measured(),
		Prior: s.Prior(), Residual: s.residual(),
		HoseTakes: s.hoseWillTake(0), Heel: s.heel(), Escape: s.escapeIn(0), RoundUpToML: step, ToWeep: s.Path() == LevelPort,
	}
	in.Basis = s.basis(in)
	return in, nil
}

// basis is what the owner chose, but only where there is something to choose:
// where the two witnesses agree, both count.
func (s *State) basis(in PlanInput) Witness {
	chosen, ok := choiceAt[Witness](s, Place{Topic: Basis}, witnessTokens)
	if !ok {
		return BothWitnesses
	}
	if p, err := MakePlan(in); err == nil && !p.Conflict {
		return BothWitnesses
	}
	return chosen
}

// hoseWillTake is what the hose is planned to keep of a push.
func (s *State) hoseWillTake(round int) measure.Value {
	if s.hoseBefore(round) == HoseFull {
		return measure.Exact(0)
	}
	return s.HoldUp()
}

var errNoBasis = errors.New("what came out and the stated quantity contradict each other: choose first")

// plansOf are the plan of the whole fill and that of a round.
func (s *State) plansOf(round int) (whole, plan Plan, err error) {
	if whole, err = s.Plan(0); err != nil {
		return whole, plan, err
	}
	if whole.Undecided {
		return whole, plan, errNoBasis
	}
	plan, err = s.Plan(round)
	return whole, plan, err
}
