package estimate

// This file works out what the unit needs and what to load for it: two
// witnesses, what they say together, and the sum that leads to the pre-load.
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

// Witness says which witness the target rests on.
type Witness uint8

// The bases of a target.
const (
	BothWitnesses Witness = iota // the weighted mean of the two
	ByDrained                    // what came out alone
	ByCapacity                   // the stated quantity alone
)

var witnessTokens = []string{"auto", "drained", "capacity"}

// String is the basis' name in files and on the command line.
func (w Witness) String() string { return job.TokenOf(witnessTokens, w) }

// UnmarshalText reads auto, drained or capacity.
func (w *Witness) UnmarshalText(text []byte) error {
	return job.UnmarshalToken(w, witnessTokens, text, "basis")
}

// MarshalText writes the basis' name.
func (w Witness) MarshalText() ([]byte, error) { return []byte(w.String()), nil }

// Defaults of the trade, all common practice without a source; an owner's own
// figures take their place wherever they are known.
const (
	ResidualShare  = 0.08 // of capacity, left behind by an ordinary drain
	ResidualShareU = 0.04 // its standard uncertainty
	RefillShareU   = 0.03 // standard uncertainty of a stated refill quantity
	EscapeML       = 50.0 // ml lost between adapter out and plug in
	EscapeUML      = 20.0
	toleranceShare = 0.05 // of capacity, but not below
	toleranceML    = 50.0
	ConflictZ      = 2.0 // two witnesses further apart than this contradict each other
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

// DefaultTolerance is the larger of 50 ml and 5 % of capacity, both ways.
func DefaultTolerance(capacityML float64) Tolerance {
	x := math.Max(toleranceML, toleranceShare*capacityML)
	return Tolerance{x, x}
}

// PlanInput is what a plan is made from, all volumes ml at 20 °C.
type PlanInput struct {
	Capacity    measure.Value // the stated quantity; where it is a range, its middle
	Means       Meaning
	Tolerance   Tolerance
	Drained     measure.Value // all that came out, late drips too
	LateDrips   measure.Value // part of Drained that an ordinary drain would have left
	DrainedVoid bool          // what came out is no witness
	DryStart    bool          // the unit held nothing: nothing came out, nothing stayed behind
	Prior       Trust
	Residual    measure.Value // left behind by an ordinary drain
	Basis       Witness
	HoseTakes   measure.Value // what the hose keeps of this push; negative when it gives
	Heel        measure.Value // what stays in the vessel
	Escape      measure.Value // what is expected to escape
	RoundUpToML float64       // the vessel's graduation, 0 none
	ToWeep      bool          // filled until it weeps from a level hole
}

// DefaultResidual is 8 % ± 4 % of capacity, ml.
func DefaultResidual(capacityML float64) measure.Value {
	return measure.Gaussian(StaysBehind, ResidualShare*capacityML, ResidualShareU*capacityML)
}

// Plan is what the unit needs and what to load, ml at 20 °C.
type Plan struct {
	FromDrained  measure.Value
	DrainedVoid  bool
	FromCapacity measure.Value
	Z            float64 // |FromDrained − FromCapacity| in standard uncertainties; 0 where one is void
	Conflict     bool    // Z > 2: the two contradict each other
	Basis        Witness // what Target rests on
	Undecided    bool    // in conflict and no basis chosen: Target and Charge mean nothing
	Target       measure.Value
	Low, High    float64       // window, ml
	SurplusML    float64       // goes with it so that it weeps
	Charge       measure.Value // target + surplus + hose + heel + escape
	PreloadML    float64       // Charge rounded up to the vessel's graduation
}

// MakePlan works out the plan:
//
//	N_D = drained                     u² = u(drained)² + (trust·C)²
//	N_C = C − residual + late (dry)   N_C = C + late, ± 3 % (refill, level)
//	target = inverse-variance mean of the two, charge = target + surplus + hose + heel + escape
//
// A unit that starts dry has N_C alone, and what stays behind the other way
// round:
//
//	N_C = C (dry)   N_C = C + residual, ± 3 % (refill)   N_C = C, ± 3 % (level)
//
// The mean takes account of errors that both share. Where the two contradict
// each other and no basis is chosen, the plan is Undecided; where one is, the
// target has the doubt of the contradiction that stands (standing). The error
// names the input that is out of sense.
func MakePlan(in PlanInput) (Plan, error) {
	if err := in.check(); err != nil {
		return Plan{}, err
	}
	p := Plan{
		FromDrained:  in.Drained.Add(measure.Gaussian("level before the job", 0, in.Prior.Share()*in.Capacity.Nominal)),
		FromCapacity: FromCapacity(in),
		DrainedVoid:  in.DrainedVoid || in.DryStart,
	}
	if err := p.settle(in.Basis); err != nil {
		return Plan{}, err
	}
	if p.Undecided {
		return p, nil
	}
	if !(p.Target.Nominal > 0) {
		return Plan{}, errors.New("nothing belongs in by that: correct the stated quantity or what stays behind")
	}
	p.Low, p.High = p.Target.Nominal-in.Tolerance.MinusML, p.Target.Nominal+in.Tolerance.PlusML
	if in.ToWeep {
		p.SurplusML = SurplusML(p.Target)
	}
	p.Charge = measure.Sum(p.Target, measure.Exact(p.SurplusML), in.HoseTakes, in.Heel, in.Escape)
	p.PreloadML = preloadOf(p.Charge, in.RoundUpToML)
	return p, nil
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
		return errors.New("graduation must be a finite number of ml")
	}
	for _, part := range []struct {
		name string
		v    measure.Value
	}{
		{"what came out", in.Drained}, {"late drips", in.LateDrips}, {"what stays behind", in.Residual},
		{"what the hose takes", in.HoseTakes}, {"heel", in.Heel}, {"escape", in.Escape},
	} {
		if !part.v.Finite() {
			return fmt.Errorf("%s must be a finite number of ml", part.name)
		}
	}
	return nil
}

func FromCapacity(in PlanInput) measure.Value {
	inNew := in.Capacity
	if !in.DryStart {
		inNew = inNew.Add(in.LateDrips)
	}
	if in.Means != MeansDry {
		inNew = inNew.Add(measure.Gaussian("stated quantity", 0, RefillShareU*in.Capacity.Nominal))
	}
	return inNew.Add(in.BesideStated())
}

// BesideStated is what belongs in beside the stated quantity for what stays
// behind: an ordinary drain has left it in though a dry quantity counts it, and
// a dry unit lacks it though a refill does not.
func (in PlanInput) BesideStated() measure.Value {
	stays := in.Residual
	if in.Means == MeansUnknown { // anywhere between dry and refill
		half := in.Residual.Nominal / 2
		stays = measure.Rectangular("dry or refill, not known", half, half)
	}
	switch {
	case !in.Means.needsResidual(in.DryStart):
		return measure.Exact(0)
	case in.DryStart:
		return stays
	}
	return stays.Scale(-1)
}

// settle chooses the target. What came out and is void never counts, whatever
// the basis says.
func (p *Plan) settle(basis Witness) error {
	if p.DrainedVoid {
		p.Basis, p.Target = ByCapacity, p.FromCapacity
		return nil
	}
	mean, z, err := measure.WeightedMean(p.FromDrained, p.FromCapacity)
	if err != nil {
		return fmt.Errorf("weigh what came out against capacity: %w", err)
	}
	p.Z, p.Conflict = z, z > ConflictZ
	p.Basis = basis
	switch basis {
	case ByDrained:
		p.Target = p.FromDrained.Add(StandingDoubt(p.FromDrained, p.FromCapacity))
	case ByCapacity:
		p.Target = p.FromCapacity.Add(StandingDoubt(p.FromDrained, p.FromCapacity))
	default:
		p.Target, p.Undecided = mean, p.Conflict
	}
	return nil
}

// StandingDoubt is the extra doubt of the one of two values that is gone by where they
// contradict each other: as much as would make the gap ordinary,
//
//	τ² = u²(v − w) · (z² − 1)
//
// (a variance between the two in the manner of Mandel and Paule). It is exact
// where they do not contradict each other.
func StandingDoubt(v, w measure.Value) measure.Value {
	gap := v.Sub(w)
	extra := gap.Nominal*gap.Nominal - gap.Variance()
	if gap.Nominal*gap.Nominal <= ConflictZ*ConflictZ*gap.Variance() {
		return measure.Exact(0)
	}
	return measure.Gaussian(ContradictionStands, 0, math.Sqrt(extra))
}

// SurplusML is what goes beyond a need so that a level hole weeps for all the
// doubt of it: twice its standard uncertainty, ml.
func SurplusML(need measure.Value) float64 { return math.Ceil(Coverage * need.U()) }

// preloadOf rounds a charge up to the next whole step, ml; a hair above a step
// is that step, and a charge below nothing is nothing.
func preloadOf(charge measure.Value, stepML float64) float64 {
	if !(stepML > 0) {
		stepML = 1
	}
	return max(math.Ceil(charge.Nominal/stepML-1e-9)*stepML, 0)
}
