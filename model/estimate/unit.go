package estimate

// This file holds what is thought of a unit as its oil is drained, and adjusts
// what came out and all else that is known to each other. All of it is linear in
// the sources of error, which jobs of one unit share:
//
//	X before = C + level                        (the first job that is known)
//	X before = X after the last job - loss      (every other)
//	came out = X before - R                     R: what this drain leaves behind
//	needed   = C - R                            C: all that belongs in
//	X after  = R + net fill                     off = X after - C

import (
	"math"
	"slices"

	"garage/tundish/model/adjust"
	"garage/tundish/model/measure"
)

// Standard uncertainties as a share of all that belongs in (Stated.whole), of what
// is stated as a share of that: common practice and trade judgement, no source.
const (
	ownStaysShare  = 0.02  // what one drain leaves behind, about what is usual for the unit
	refillStatedU  = 0.022 // a stated refill quantity; with the line above 3 %
	dryStatedU     = 0.005 // a stated dry quantity
	lossShareU     = 0.02  // lost in an interval, the same each time, and never gained (lossRate)
	ownLossShareU  = 0.002 // beside it
	nobodyKnowsU   = 0.12  // of a level of which nothing is known
	usualInterval  = 30_000.0
	firstLevelPart = 0.7 // of the doubt of a contradiction at the first drain: the level before
	laterLevelPart = 0.5 // at a later one: oil lost or added since
)

// Names of sources.
const (
	StatedQuantity = "fill quantity of the manual"
	LevelBefore    = "level before the job"
	DryOrRefill    = "oil change or dry fill, not known"
	LossSince      = "oil lost since the last job"
	changedSince   = "oil lost or added, as it was told"
)

// Unit is what is thought of a unit as its oil is drained, ml at 20 °C, by itself
// and as all readings before it leave it.
type Unit struct {
	Right  measure.Value // all that belongs in, with what stays behind
	Usual  measure.Value // what an ordinary drain leaves behind
	Stays  measure.Value // what this one does
	Level  measure.Value // how much more than Right was in it
	First  bool          // nothing is known of a job before:
	said   measure.Value // the stated quantity,
	inside measure.Value // and what is to be taken off it and late drips; less each other they are what is needed
	known  known
}

// known is what some conditions tell; the zero known tells nothing.
type known struct {
	conditions []measure.Value
	*adjust.Solution
}

// and is what is known with more conditions. Where they cannot be solved,
// the error says so, and what was known stays.
func (k known) and(more ...measure.Value) (known, error) {
	if len(more) == 0 {
		return k, nil
	}
	conditions := slices.Concat(k.conditions, more)
	all, err := adjust.Solve(conditions)
	if err != nil {
		return k, err
	}
	return known{conditions, all}, nil
}

// needed is what the drained unit lacks.
func (u *Unit) needed() measure.Value { return u.Right.Sub(u.Stays) }

// unit is what is thought of a unit by the jobs before, or by what is stated, and a card.
func (in PlanInput) unit() *Unit { return in.unitFor(&Plan{}) }

// unitFor notes in a plan what the card and all else say.
func (in PlanInput) unitFor(p *Plan) *Unit {
	u := in.unitBefore()
	if in.Card != nil {
		u.withCard(in.Card, in.Stated, p)
	}
	return &u
}

func (in PlanInput) unitBefore() Unit {
	if in.Unit != nil {
		return *in.Unit
	}
	u := Unit{First: true, Usual: usualStays(in.Residual, in.whole())}
	u.Stays = u.thisTime(in.Stated)
	said, onTop := in.parts(u.Usual)
	u.Right, u.said, u.inside = said.Add(onTop), said, u.Stays.Add(in.LateDrips).Sub(onTop)
	u.Level = measure.Gaussian(measure.Source{Name: LevelBefore, Job: in.Job}, 0, in.Prior.Share()*in.whole()).Add(in.Changed)
	return u
}

// usualStays is what a unit usually keeps: all drains of it together.
func usualStays(residual measure.Value, wholeML float64) measure.Value {
	own := math.Min(ownStaysShare*wholeML, residual.U())
	return measure.Gaussian(StaysBehind, residual.Nominal, math.Sqrt(max(residual.Variance()-own*own, 0)))
}

// thisTime is what the drain of a job leaves behind: what is usual, with a
// scatter of its own, less what dripped out long after an ordinary drain, and what cold oil
// left on the walls.
func (u *Unit) thisTime(in Stated) measure.Value {
	if in.DryStart {
		return measure.Exact(0)
	}
	own := math.Min(ownStaysShare*in.whole(), in.Residual.U())
	return u.Usual.Add(measure.Gaussian(measure.Source{Name: StaysBehind, Job: in.Job, Part: 1}, 0, own)).Sub(in.LateDrips).Add(in.ColdFilm)
}

// parts are the stated quantity, and what goes on top of it for all that belongs in:
//
//	C = stated                       dry, or to the level hole of a dry unit
//	C = stated + usual               refill, or to the level hole
//	C = stated + half of it ± half   where it is not known which
func (in Stated) parts(usual measure.Value) (stated, onTop measure.Value) {
	shareU := refillStatedU
	switch {
	case in.Means == MeansDry:
		shareU = dryStatedU
	case in.Means == MeansUnknown:
		half := usual.Scale(0.5)
		onTop = half.Add(measure.Rectangular(measure.Source{Name: DryOrRefill, Job: in.Job}, 0, half.Nominal))
	case in.Means != MeansLevel || !in.DryStart:
		onTop = usual
	}
	err := measure.Gaussian(measure.Source{Name: StatedQuantity, Job: in.Job}, 0, shareU*in.Capacity.Nominal)
	return in.Capacity.Add(err), onTop
}

// right is all that belongs in by the stated quantity.
func (in Stated) right(usual measure.Value) measure.Value {
	stated, onTop := in.parts(usual)
	return stated.Add(onTop)
}

// settle adjusts what came out and what is known else. What came out and is void
// never counts, whatever the basis says. The aim is made of what each of the two says, which
// is what the adjusted unit lacks, so that the plan has the parts of it.
func (in PlanInput) settle() planned {
	made := planned{in: in}
	p := &made.plan
	unit := in.unitFor(p)
	made.unit, made.stays = *unit, unit.Stays
	before := unit.known
	p.Said, p.Inside, p.CardCounts = unit.said, unit.inside, in.Card != nil
	if p.CardCounts {
		mean := meanOf(p.FromOthers, p.FromCard)
		p.CardWeight, p.FromCapacity = mean.Weight, mean.Value
	} else {
		p.FromOthers = before.Of(unit.needed())
		p.FromCapacity = p.FromOthers
	}
	p.FromDrained = before.Of(in.Drained.Sub(unit.Level))
	p.DrainedVoid = in.DrainedVoid || in.DryStart
	if p.DrainedVoid {
		p.Basis, p.Target = ByCapacity, p.FromCapacity
		return made
	}
	gap := in.Drained.Sub(unit.needed()).Sub(unit.Level)
	p.Z = before.Z(gap)
	p.Conflict = p.Z > ConflictZ
	drained, others := p.FromDrained, p.FromCapacity // with the doubt of a contradiction, where there is one
	if p.Conflict {
		p.Basis = in.Basis
		if p.Basis == ByDrained { // what is not chosen says nothing any more
			made.unit, p.CardCounts = in.unitBefore(), false
			p.FromDrained = made.unit.known.Of(in.Drained.Sub(made.unit.Level))
		}
		onDrained, onOthers := made.unit.doubt(in, adjust.StandingU(before.Of(gap), ConflictZ))
		drained, others = p.FromDrained.Add(onDrained), p.FromCapacity.Add(onOthers)
		if p.Stands = onDrained; p.Basis == ByCapacity {
			p.Stands = onOthers
		}
	}
	switch p.Basis {
	case ByDrained:
		p.Target = drained
	case ByCapacity:
		p.Target = others
	default:
		mean := meanOf(drained, others)
		p.Weight, p.Target = mean.Weight, mean.Value
		if p.Basis == BothStand {
			p.Stands = p.Stands.Add(others.Sub(drained).Scale(1 - mean.Weight))
		}
		made.unit.known, made.err = before.and(in.Drained.Sub(made.unit.needed()).Sub(made.unit.Level))
	}
	p.Undecided = p.Conflict && p.Basis == ByBoth
	return made
}

// doubt lays the doubt of a contradiction that stands, of tau ml, on what may be
// wrong: all of it on the one that is chosen, where one is, and what is not
// chosen says nothing any more; where both are let stand, on both. So it is
// carried on to the jobs after. What it comes to is added to what belongs in by what came
// out, and by all else.
func (u *Unit) doubt(in PlanInput, tau float64) (onDrained, onOthers measure.Value) {
	of := func(part int, ml float64) measure.Value { return standing(in.Job, part, ml) }
	level, right, stays := 0.0, 0.0, 0.0
	switch {
	case in.Basis == ByCapacity && u.First:
		right = tau
	case in.Basis == ByCapacity:
		stays = tau
	case in.Basis == ByDrained:
		level = tau
	case u.First:
		level, right = math.Sqrt(firstLevelPart)*tau, math.Sqrt(1-firstLevelPart)*tau
	default:
		level, stays = math.Sqrt(laterLevelPart)*tau, math.Sqrt(1-laterLevelPart)*tau
	}
	u.Level = u.Level.Add(of(1, level))
	u.Right = u.Right.Add(of(2, right))
	u.Stays = u.Stays.Add(of(3, stays))
	switch {
	case in.Basis != ByDrained:
	case u.First:
		u.Right = in.Drained.Add(u.Stays).Sub(u.Level)
	default:
		u.Stays = u.Right.Add(u.Level).Sub(in.Drained)
	}
	return of(1, level).Scale(-1), of(2, right).Sub(of(3, stays))
}
