package model

// This file works out, from the folded entries, the plan and the verdict of
// each round, and in what state the unit and the job are.

import (
	"errors"
	"time"

	"garage/tundish/model/measure"
)

// RoundKind says which way a round goes.
type RoundKind uint8

// The kinds of round.
const (
	RoundAdds RoundKind = iota
	RoundLetsOut
)

// RoundKind is that of a round: the first adds, the others do what was decided.
func (s *State) RoundKind(round int) RoundKind {
	if round > 0 && s.Decision(round-1) == DecideLetOut {
		return RoundLetsOut
	}
	return RoundAdds
}

// Decision is what the owner decided after a round.
func (s *State) Decision(round int) Decided {
	d, ok := pick[Decided](s, Place{Decision, round, 0}, decisionOptions)
	if !ok {
		return Undecided
	}
	return d
}

var errNoCapacity = errors.New("capacity is not known yet")

// Plan is the plan of a round: of the whole fill for the first, of what is to
// be added for a correction. ErrNoCapacity until capacity is known. Before
// anything was measured, the stated quantity is the only witness.
func (s *State) Plan(round int) (Plan, error) {
	in, err := s.planInput()
	if err != nil {
		return Plan{}, err
	}
	plan, err := MakePlan(in)
	if err != nil || round == 0 || plan.Undecided {
		return plan, err
	}
	missing := plan.Target.Sub(s.NetFill(round - 1))
	step, _ := s.num(Place{Topic: VesselGraduation})
	plan.Target = missing
	plan.Low, plan.High = missing.Nominal-in.Tolerance.MinusML, missing.Nominal+in.Tolerance.PlusML
	plan.Charge = measure.Sum(missing, s.hoseWillTake(round), s.heel(), s.escapeExpected())
	plan.PreloadML = roundUp(max(plan.Charge.Nominal, 0), step)
	return plan, nil
}

func (s *State) planInput() (PlanInput, error) {
	c, ok := s.capacity()
	if !ok {
		return PlanInput{}, errNoCapacity
	}
	step, _ := s.num(Place{Topic: VesselGraduation})
	drained := s.Drained()
	basis := BothWitnesses
	if e, ok := s.at(Place{Topic: Basis}); ok {
		basis = ByDrained
		if e.Value.Choice == basisOptions[1].Token {
			basis = ByCapacity
		}
	}
	return PlanInput{
		Capacity: c, Means: s.Meaning(), Tolerance: s.tolerance(),
		Drained: drained.Total, LateDrips: drained.Late, DrainedVoid: s.drainedVoid() || !s.measured(),
		Prior: s.Prior(), Residual: s.residual(), Basis: s.soundBasis(basis),
		HoseTakes: s.hoseWillTake(0), Heel: s.heel(), Escape: s.escapeExpected(), RoundUpToML: step,
	}, nil
}

// soundBasis keeps a chosen basis only where there is something to choose:
// where the two witnesses agree, both count.
func (s *State) soundBasis(basis Witness) Witness {
	if basis == BothWitnesses {
		return basis
	}
	c, _ := s.capacity()
	drained := s.Drained()
	in := PlanInput{Capacity: c, Means: s.Meaning(), Drained: drained.Total, LateDrips: drained.Late, Prior: s.Prior(), Residual: s.residual(), Tolerance: s.tolerance()}
	if p, err := MakePlan(in); err == nil && !p.Conflict {
		return BothWitnesses
	}
	return basis
}

// hoseWillTake is what the hose is planned to keep of a push.
func (s *State) hoseWillTake(round int) ml20 {
	if s.hasIn(HoseAfter, round) {
		return s.hoseTook(round)
	}
	if s.hoseBefore(round) == HoseFull && s.hasIn(HoseBefore, round) {
		return measure.Exact(0)
	}
	return s.HoldUp()
}

// levelShareU is how well a weep at the level hole tells the level, as a share
// of capacity, and levelUML its least: a band of 0 to 5 mm below the lip is
// 60 to 150 ml on the surfaces of such units (trade practice).
const (
	levelShareU = 0.015
	levelUML    = 10.0
)

// Verdict compares the net fill after a round with the plan. Where oil weeps
// from a level hole, that is a witness of its own and weighs in.
func (s *State) Verdict(round int) (Verdict, error) {
	plan, err := s.Plan(0)
	if err != nil {
		return Verdict{}, err
	}
	if plan.Undecided {
		return Verdict{}, errors.New("what came out and capacity contradict each other: choose a basis first")
	}
	net := s.NetFill(round)
	if !s.LevelSeen(round) {
		return Judge(net, plan.Target, plan.Low, plan.High), nil
	}
	u := max(levelUML, levelShareU*s.CapacityML())
	bySight := plan.Target.Add(measure.Gaussian("level at the lip", 0, u))
	// The level stands in for the target: the right amount is what reaches it.
	mean, z, err := measure.WeightedMean(net.Sub(plan.Target), bySight.Sub(plan.Target))
	if err != nil {
		return Judge(net, plan.Target, plan.Low, plan.High), nil
	}
	v := Judge(mean.Add(measure.Exact(plan.Target.Nominal)), measure.Exact(plan.Target.Nominal), plan.Low, plan.High)
	v.InUnit = net
	v.LevelZ = z
	return v, nil
}

// LevelSeen says whether oil wept from the level hole in a round or before.
func (s *State) LevelSeen(round int) bool {
	for r := round; r >= 0; r-- {
		if e, ok := s.at(Place{LevelWeeps, r, 0}); ok {
			return e.Value.Choice == weepsLevel
		}
	}
	return false
}

// lastRound is the round that the job is in.
func (s *State) lastRound() int { return s.Rounds() - 1 }

// Round is the round that the job is in: 0 the first fill.
func (s *State) Round() int { return s.lastRound() }

// UnitState is what is known of the oil in the unit.
func (s *State) UnitState() UnitState {
	last := s.lastRound()
	switch {
	case !s.has(PlugOut):
		return AsFound
	case s.Decision(last) == DecideAccept && s.acceptHolds(last):
		return Proven
	case s.Decision(last) == DecideLeave:
		return LeftOff
	case s.pushBegun(0):
		return Unproven
	}
	return Empty
}

// acceptHolds says whether an acceptance still has its verdict.
func (s *State) acceptHolds(round int) bool {
	p := Place{Decision, round, 0}
	e, ok := s.at(p)
	return ok && s.hasIn(PlugSeated, round) && !staleDecision(s, p, e)
}

// StoppedByOwner says whether the owner stopped the job: chips, or the wrong
// box.
func (s *State) StoppedByOwner() bool {
	chips, ok1 := s.at(Place{Topic: ChipsDecision})
	box, ok2 := s.at(Place{Topic: WrongBoxDecision})
	return (ok1 && s.MagnetLook() == MagnetChips && chips.Value.Choice == chipsStop) ||
		(ok2 && s.WrongBox() && box.Value.Choice == boxStop)
}

// MayDrive says whether the car may be driven as things stand.
func (s *State) MayDrive() bool {
	if s.MagnetLook() == MagnetChips {
		return false
	}
	switch s.UnitState() {
	case Proven, AsFound:
		return true
	case LeftOff:
		v, err := s.Verdict(s.lastRound())
		return err == nil && v.MayDrive
	}
	return false
}

// Phase says whether the job still wants something.
func (s *State) Phase() Phase {
	if s.StoppedByOwner() {
		return Stopped
	}
	p, more := s.Next()
	switch {
	case !more:
		return Done
	case p.Topic == LeakCheck || p.Topic == WasherRecheck:
		return ToRecheck
	}
	return Open
}

// Due is when the next change is due, by date and by odometer; zero where not
// known. It counts from the job's start.
func (s *State) Due() (at time.Time, km float64) {
	if months, ok := s.num(Place{Topic: IntervalMonths}); ok {
		at = s.Started.AddDate(0, int(months), 0)
	}
	odo, ok1 := s.num(Place{Topic: Odometer})
	every, ok2 := s.num(Place{Topic: IntervalKm})
	if ok1 && ok2 {
		km = odo + every
	}
	return at, km
}

// Head is the job's line in a list.
func (s *State) Head() Head {
	h := Head{
		ID: s.ID, Started: s.Started, Updated: s.Updated, Entries: s.Count,
		Vehicle: s.Vehicle(), UnitName: s.UnitName(), Phase: s.Phase(), UnitState: s.UnitState(),
	}
	at, km := s.Due()
	if !at.IsZero() {
		h.Due = &at
	}
	h.DueKm = km
	return h
}
