package estimate

// This file works out what the unit needs and what to load for it: two
// measures, what they say together, and the sum that leads to the pre-load.
// It knows nothing of entries; ledger.go makes its input from them.

import (
	"errors"
	"fmt"
	"math"

	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// Meaning says what a stated quantity means: the largest silent error of the
// trade (common practice, no source).
type Meaning uint8

// The meanings of a stated quantity.
const (
	MeansDry     Meaning = iota // into a dry unit, after an overhaul
	MeansRefill                 // at an ordinary oil change
	MeansLevel                  // to the level hole
	MeansUnknown                // not known which
)

var meaningTokens = []string{"dry", "refill", "level", "unknown"}

// String is the meaning's name in files and on the command line.
func (m Meaning) String() string { return job.TokenOf(meaningTokens, m) }

// UnmarshalText reads dry, refill, level or unknown.
func (m *Meaning) UnmarshalText(text []byte) error {
	return job.UnmarshalToken(m, meaningTokens, text, "capacity means")
}

// MarshalText writes the meaning's name.
func (m Meaning) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// needsResidual reports whether a quantity of this meaning tells what belongs in
// only together with what an ordinary drain leaves behind.
func (m Meaning) needsResidual(dryStart bool) bool {
	switch m {
	case MeansDry:
		return !dryStart
	case MeansRefill:
		return dryStart
	}
	return m == MeansUnknown
}

// Trust says how far the level before the job is trusted.
type Trust uint8

// How far the level before the job is trusted.
const (
	Verified         Trust = iota // measured or seen at the level hole last time
	Believed                      // filled by someone who should have known
	TrustNobodyKnows              // nobody knows
)

var trustTokens = []string{"verified", "believed", "unknown"}

// String is the trust's name in files and on the command line.
func (t Trust) String() string { return job.TokenOf(trustTokens, t) }

// UnmarshalText reads verified, believed or unknown.
func (t *Trust) UnmarshalText(text []byte) error {
	return job.UnmarshalToken(t, trustTokens, text, "prior")
}

// MarshalText writes the trust's name.
func (t Trust) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// Share is the standard uncertainty of the level before the job as a share of
// capacity: 2 %, 5 % or 12 % (common practice, no source).
func (t Trust) Share() float64 {
	switch t {
	case Verified:
		return 0.02
	case Believed:
		return 0.05
	}
	return 0.12
}

// Basis says which measure the target rests on.
type Basis uint8

// The bases of a target.
const (
	ByBoth     Basis = iota // both, as sure as they are
	ByDrained               // what came out alone
	ByCapacity              // all else that is known, the stated quantity first, alone
	BothStand               // both, though they contradict each other
)

var basisTokens = []string{"auto", "drained", "capacity", "both"}

// String is the basis' name in files and on the command line.
func (b Basis) String() string { return job.TokenOf(basisTokens, b) }

// UnmarshalText reads auto, drained, capacity or both.
func (b *Basis) UnmarshalText(text []byte) error {
	return job.UnmarshalToken(b, basisTokens, text, "basis")
}

// MarshalText writes the basis' name.
func (b Basis) MarshalText() ([]byte, error) { return []byte(b.String()), nil }

// Defaults of the trade, all common practice without a source; an owner's own
// figures take their place wherever they are known.
const (
	ResidualShare  = 0.08               // of all that belongs in, left behind by an ordinary drain
	ResidualShareU = 0.04               // its standard uncertainty
	RefillShareU   = 0.03               // standard uncertainty of a stated refill quantity, with the scatter of a drain
	EscapeML       = 50.0               // ml lost between adapter out and plug in
	EscapeUML      = 25.298221281347036 // with escapeRigUML and EscapeOwnUML
	toleranceShare = 0.05               // of capacity, but not below
	toleranceML    = 50.0
	ConflictZ      = 2.0 // two measures further apart than this contradict each other
)

// Limits of what is taken for a stated quantity, and for a reading beside it.
const (
	MinCapacityML    = 20.0
	MaxCapacityML    = 200_000.0
	MostOverCapacity = 5 // times capacity is the most that is believed of a reading
)

// Tolerance is how far below and above the target is still right, ml, both
// positive.
type Tolerance struct{ MinusML, PlusML float64 }

// defaultTolerance is the larger of 50 ml and 5 % of capacity, both ways.
func defaultTolerance(capacityML float64) Tolerance {
	x := math.Max(toleranceML, toleranceShare*capacityML)
	return Tolerance{x, x}
}

// Stated is what is stated of a unit before its first drain that is known, ml at
// 20 °C.
type Stated struct {
	Capacity  measure.Value // the stated quantity; where it is a range, its middle
	Means     Meaning
	DryStart  bool // the unit held nothing: nothing came out, nothing stayed behind
	Prior     Trust
	Residual  measure.Value // left behind by an ordinary drain
	LateDrips measure.Value // part of what came out that an ordinary drain would have left
	ColdFilm  measure.Value // what stayed inside beyond an ordinary drain, of oil that was cold or had no time
	Changed   measure.Value // known to have been added since the last fill; less than nothing: lost
	Job       string        // that states it
	WholeML   float64       // all that belongs in by that, of which shares are taken; 0: Capacity
}

// whole is what shares are of, ml.
func (in Stated) whole() float64 {
	if in.WholeML > 0 {
		return in.WholeML
	}
	return in.Capacity.Nominal
}

// PlanInput is what a plan is made from, all volumes ml at 20 °C.
type PlanInput struct {
	Stated
	Card        *Card // what others measured of such a unit; nil where none counts
	Unit        *Unit // what earlier jobs tell of the unit; nil where Stated is all there is
	Tolerance   Tolerance
	Drained     measure.Value // all that came out, late drips too
	DrainedVoid bool          // what came out is no measure
	Basis       Basis
	HoseTakes   measure.Value  // what the hose keeps of this push; negative when it gives
	Heel        measure.Value  // what stays in the vessel
	Escape      measure.Value  // what is expected to escape
	RoundUpToML float64        // the vessel's graduation, 0 none
	Lip         *measure.Value // of the level hole from which it is filled until it weeps, nil none
	KeepsFull   bool           // the unit keeps full what no drain brings out: what came out is what is missing
}

// Plan is what the unit needs and what to load, ml at 20 °C.
type Plan struct {
	FromDrained  measure.Value // what belongs in by what came out
	DrainedVoid  bool
	Said         measure.Value // the stated quantity of a unit of which no earlier job is known,
	Inside       measure.Value // and what is taken off it and late drips for FromOthers
	FromOthers   measure.Value // what belongs in by all that is known but what came out and a card
	CardCounts   bool          // a card of what others measured does,
	FromCard     measure.Value // by which it is this,
	CardZ        float64       // so many standard uncertainties from FromOthers,
	CardWeight   float64       // which has this weight in the mean of the two:
	FromCapacity measure.Value // by all that is known but what came out
	Z            float64       // |FromDrained − FromCapacity| in standard uncertainties; 0 where one is void
	Conflict     bool          // Z > 2: the two contradict each other
	Basis        Basis         // what Target rests on
	Undecided    bool          // in conflict and no basis chosen: Target and Charge mean nothing
	Weight       float64       // of FromDrained in it, where it is the mean of that and FromCapacity
	Stands       measure.Value // else what a contradiction that stands moves that by, on which it rests
	Target       measure.Value
	Low, High    float64       // window, ml
	In           measure.Value // what went in before, in a later round, by which Target is less
	SurplusML    float64       // goes with it so that it weeps
	HoseTakes    measure.Value // as in PlanInput, of the round
	Heel, Escape measure.Value
	Charge       measure.Value // target + surplus + hose + heel + escape
	PreloadML    float64       // Charge rounded up to the vessel's graduation
}

// MakePlan works out the plan: what came out and all else that is known of the
// unit, adjusted to each other (unit.go), and
//
//	charge = target + surplus + hose + heel + escape
//
// Where the two contradict each other and no basis is chosen, the plan is
// Undecided; where one is, the target has the doubt of the contradiction that
// stands. The error names the input that is out of sense.
func MakePlan(in PlanInput) (Plan, error) {
	made := in.make()
	return made.plan, made.err
}

// planned is a plan, and what is known of the unit once what came out counts; or
// why there is none.
type planned struct {
	in    PlanInput
	plan  Plan
	unit  Unit
	stays measure.Value // unit.Stays without the doubt of a contradiction
	err   error
}

func (in PlanInput) make() planned {
	if err := in.check(); err != nil {
		return planned{err: err}
	}
	made := in.settle()
	switch p := &made.plan; {
	case made.err != nil || p.Undecided:
	case !(p.Target.Nominal > 0):
		return planned{err: errors.New("nothing belongs in by that: correct the fill quantity or what stays inside")}
	default:
		in.load(p)
	}
	return made
}

// load works out window and load of a plan from its target.
func (in PlanInput) load(p *Plan) {
	p.Low, p.High = p.Target.Nominal-in.Tolerance.MinusML, p.Target.Nominal+in.Tolerance.PlusML
	switch {
	case in.Lip != nil && in.KeepsFull: // as much as came out, and what the level may be off by
		p.SurplusML = math.Ceil(max(in.Drained.Nominal+Coverage*in.Lip.U()-p.Target.Nominal, 0))
	case in.Lip != nil:
		p.SurplusML = SurplusML(p.Target, *in.Lip, in.Heel)
	}
	p.HoseTakes, p.Heel, p.Escape = in.HoseTakes, in.Heel, in.Escape
	p.Charge = measure.Sum(p.Target, measure.Exact(p.SurplusML), p.HoseTakes, p.Heel, p.Escape)
	p.PreloadML = preloadOf(p.Charge, in.RoundUpToML)
}

// check names what is out of sense.
func (in PlanInput) check() error {
	tol := in.Tolerance
	switch {
	case !(in.Capacity.Nominal > 0) || !in.Capacity.Finite():
		return errors.New("capacity must be above 0 ml")
	case !(tol.MinusML >= 0 && tol.PlusML >= 0) || math.IsInf(tol.MinusML+tol.PlusML, 0):
		return errors.New("tolerance must not be negative")
	case !measure.Exact(in.RoundUpToML).Finite():
		return errors.New("marks must be a finite number of ml")
	}
	card := Card{}
	if in.Card != nil {
		card = *in.Card
	}
	for _, part := range []struct {
		name string
		v    measure.Value
	}{
		{"what came out", in.Drained}, {"what others measured", card.Out}, {"what stayed inside by others", card.Stays},
		{"late drips", in.LateDrips}, {"what stays inside", in.Residual},
		{"what the hose takes", in.HoseTakes}, {"oil below the vessel's tube", in.Heel}, {"spill", in.Escape},
	} {
		if !part.v.Finite() {
			return fmt.Errorf("%s must be a finite number of ml", part.name)
		}
	}
	return nil
}

// SurplusML is what goes beyond a need so that a level hole weeps for all the
// doubt of it, and of what else may keep it from that: twice the standard
// uncertainty of all together, ml.
func SurplusML(doubts ...measure.Value) float64 {
	return math.Ceil(Coverage * measure.Sum(doubts...).U())
}

// preloadOf rounds a charge up to the next whole step, ml; a hair above a step
// is that step, and a charge below nothing is nothing.
func preloadOf(charge measure.Value, stepML float64) float64 {
	if !(stepML > 0) {
		stepML = 1
	}
	return max(math.Ceil(charge.Nominal/stepML-1e-9)*stepML, 0)
}
