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

// RoundKind is that of a round: the first adds, the others do what was done, or
// else decided.
func (s *State) RoundKind(round int) RoundKind {
	switch {
	case round == 0 || s.hasIn(AdapterIn, round) || s.fillBegun(round):
		return RoundAdds
	case s.hasIn(LetOutAmount, round) || s.Decision(round-1) == DecideLetOut:
		return RoundLetsOut
	}
	return RoundAdds
}

// Decision is what the owner decided after a round.
func (s *State) Decision(round int) Decided {
	d, _ := choiceAt[Decided](s, Place{Decision, round, 0}, decisionTokens)
	return d
}

var errNoCapacity = errors.New("capacity is not known yet")

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
		Drained: drained.Total, LateDrips: drained.Late, DrainedVoid: s.drainedVoid() || !s.measured(),
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
func (s *State) hoseWillTake(round int) ml20 {
	if s.hoseBefore(round) == HoseFull {
		return measure.Exact(0)
	}
	return s.HoldUp()
}

// Verdict compares the net fill after a round with the plan. Where oil weeps
// from a level hole, or stands below it, that is a witness of its own and weighs
// in; where it and the sums contradict each other, nothing is proven until it
// was looked at again, nor then.
func (s *State) Verdict(round int) (Verdict, error) {
	j := recall(&s.memo.verdicts, round, func() judged { return s.judge(round) })
	return j.verdict, j.err
}

// JudgedRound is the round whose verdict stands: the last whose plug was seated,
// as long as the unit was not opened again since. Where none does it is false,
// and the round that the job is in.
func (s *State) JudgedRound() (round int, ok bool) {
	for r := s.lastRound(); r >= 0 && s.pushBegun(0) && !s.roundBegun(r+1); r-- {
		if s.hasIn(PlugSeated, r) {
			return r, true
		}
	}
	return s.lastRound(), false
}

// Judged is the verdict that stands; false where none does or can be given.
func (s *State) Judged() (Verdict, bool) {
	r, ok := s.JudgedRound()
	if !ok {
		return Verdict{}, false
	}
	v, err := s.Verdict(r)
	return v, err == nil
}

func (s *State) judge(round int) judged {
	plan, err := s.Plan(0)
	if err != nil {
		return judged{Verdict{}, err}
	}
	if plan.Undecided {
		return judged{Verdict{}, errNoBasis}
	}
	v := Judge(s.NetFill(round), plan.Target, plan.Low, plan.High)
	switch {
	case s.LevelSeen(round):
		v = s.withLevel(v, plan, round)
	case s.belowHole(round):
		v = s.withBelow(v, plan, round)
	}
	return judged{v, nil}
}

var errNoBasis = errors.New("what came out and the stated quantity contradict each other: choose first")

// lastRound is the round that the job is in.
func (s *State) lastRound() int { return s.Rounds() - 1 }

// Round is the round that the job is in: 0 the first fill.
func (s *State) Round() int { return s.lastRound() }

// UnitState is what is known of the oil in the unit.
func (s *State) UnitState() UnitState {
	last := s.lastRound()
	switch {
	case !s.emptied() && !s.pushBegun(0):
		return AsFound
	case s.Decision(last) == DecideAccept && s.acceptHolds(last):
		return s.acceptedAs(last)
	case s.Decision(last) == DecideLeave && s.decisionHolds(last):
		return LeftOff
	case s.anythingIn():
		return Unproven
	}
	return Empty
}

// acceptedAs is what an accepted fill counts as: proven only from 95 in 100 on,
// with nothing against it.
func (s *State) acceptedAs(round int) UnitState {
	if v, err := s.Verdict(round); err == nil && v.Word == Within && len(s.forbidsProven()) == 0 {
		return Proven
	}
	return Accepted
}

// StateWords is the state of the unit in words, with the odds where it is
// accepted.
func (s *State) StateWords() string { return s.UnitState().Words(s.odds()) }

// odds is how probably an accepted fill is right, in 100; 0 where none is
// accepted.
func (s *State) odds() int {
	if !s.UnitState().Settled() {
		return 0
	}
	v, err := s.Verdict(s.lastRound())
	if err != nil {
		return 0
	}
	return v.Odds()
}

// anythingIn says whether oil went in in any round, or may have.
func (s *State) anythingIn() bool {
	for r := range s.Rounds() {
		nothing := s.hasIn(LeftInVessel, r) && s.Passed(r).Nominal < 1
		if s.pushBegun(r) && !nothing {
			return true
		}
	}
	return false
}

// acceptHolds says whether an acceptance still has its verdict, with every
// plug in and none of them found weeping since.
func (s *State) acceptHolds(round int) bool {
	return s.plugsIn(round) && !s.weeps() && s.decisionHolds(round)
}

func (s *State) decisionHolds(round int) bool {
	p := Place{Decision, round, 0}
	e, ok := s.at(p)
	return ok && !staleDecision(s, p, e)
}

func (s *State) plugsIn(round int) bool {
	return s.hasIn(PlugSeated, round) && (s.Path() == DrainPortOnly || s.has(DrainPlugIn))
}

// BreatherOpen says whether the breather was opened again after the last swap.
func (s *State) BreatherOpen() bool {
	return s.Path() == LevelPort || !s.emptied() || s.hasIn(BreatherReopened, s.lastRound())
}

// weepsAt says whether a look after a drive found a plug or seal weeping;
// weeps, whether it did and what was lost is not measured yet.
func (s *State) weepsAt(p Place) bool {
	return s.choice(p.of(LeakCheck)) == checkWeeps || s.choice(p.of(WasherRecheck)) == checkWeeps
}

func (s *State) weeps() bool { _, weeps := s.weeping(); return weeps }

// weeping is the look that found it, where what was lost is not measured yet.
func (s *State) weeping() (Place, bool) {
	for r := range s.Rounds() {
		for p := (Place{Round: r}); s.weepsAt(p); p.Item++ {
			switch {
			case s.measuredCatch(leakCatch, p):
			case s.choice(p.of(LeakCheck)) == checkWeeps:
				return p.of(LeakCheck), true
			default:
				return p.of(WasherRecheck), true
			}
		}
	}
	return Place{}, false
}

// measuredCatch says whether it is known how much oil got out at a place.
func (s *State) measuredCatch(c catch, p Place) bool {
	switch s.choice(p.of(c.how)) {
	case escapeDamp:
		return true
	case escapeNone:
		return !asksNothingEscaped(s, p) || s.looksDry(p)
	case escapePads:
		return s.hasItem(c.padsAfter, p.Round, p.Item)
	}
	return s.hasItem(c.amount, p.Round, p.Item)
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
	if s.MagnetLook() == MagnetChips || !s.BreatherOpen() || s.weeps() {
		return false
	}
	switch s.UnitState() {
	case Proven, Accepted, AsFound:
		return true
	case LeftOff:
		v, err := s.Verdict(s.lastRound())
		return err == nil && v.MayDrive && s.plugsIn(s.lastRound())
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
	if months, ok := s.num(Place{Topic: IntervalMonths}); ok && months > 0 && months <= maxIntervalMonths {
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
		Vehicle: s.Vehicle(), UnitName: s.UnitName(), Phase: s.Phase(), UnitState: s.UnitState(), Odds: s.odds(),
	}
	at, km := s.Due()
	if !at.IsZero() {
		h.Due = &at
	}
	h.DueKm = km
	return h
}
