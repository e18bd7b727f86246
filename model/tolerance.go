package model

// This file says how far off a fill may be and still be right: what the owner
// gave, the range that the maker states, or the default; none of them beyond
// what is put right before the car is driven on.

import (
	"fmt"
	"math"
)

// MostToleranceShare of the stated quantity is the most that a tolerance can
// be: a fill that is further off is put right soon, and is not called right
// (trade judgement, no source).
const MostToleranceShare = CorrectSoonShort

// MostTolerance is the most that a tolerance can be, ml each way: a tenth of
// the stated quantity or, where that is a narrower range, what the range allows.
func MostTolerance(lowML, highML float64) float64 {
	most := MostToleranceShare * (lowML + highML) / 2
	if half := (highML - lowML) / 2; half > 0 {
		most = math.Min(most, half)
	}
	return most
}

// StatedTolerance is the tolerance where nobody gives one, ml: what a stated
// range allows, else the default, as far as either may count.
func StatedTolerance(lowML, highML float64) Tolerance {
	half := (highML - lowML) / 2
	if half > 0 {
		return Tolerance{half, half}.atMost(MostTolerance(lowML, highML))
	}
	return DefaultTolerance(lowML).atMost(MostTolerance(lowML, lowML))
}

func (t Tolerance) atMost(ml float64) Tolerance {
	return Tolerance{math.Min(t.MinusML, ml), math.Min(t.PlusML, ml)}
}

// stated are the ends of the stated quantity, ml, the same twice where it is no
// range; 0 until it is known.
func (s *State) stated() (lowML, highML float64) {
	e, _ := s.at(Place{Topic: Capacity})
	return e.Value.ends()
}

// tolerance is what counts, ml each way: the owner's, else what is stated, and
// never more than MostTolerance.
func (s *State) tolerance() Tolerance {
	low, high := s.stated()
	if e, ok := s.at(Place{Topic: ToleranceTopic}); ok && !e.Value.Unknown {
		return s.boundsML(e.Value).atMost(MostTolerance(low, high))
	}
	return StatedTolerance(low, high)
}

// boundsML is a tolerance as it was given, ml. A share of the stated quantity
// is kept as a share and worked out here.
func (s *State) boundsML(v Value) Tolerance {
	if v.Unit == DimShare {
		c := s.CapacityML()
		return Tolerance{v.Number * c, v.High * c}
	}
	return Tolerance{v.Number, v.High}
}

// checkTolerance refuses what would not count, and says what would.
func checkTolerance(s *State, _ Place, v Value) error {
	t := s.boundsML(v)
	if v.Number+v.High <= 0 {
		return fmt.Errorf("tolerance must be above 0, such as %s", s.Units().BareVolume(s.tolerance().MinusML))
	}
	low, high := s.stated()
	if most := MostTolerance(low, high); low > 0 && math.Max(t.MinusML, t.PlusML) > most*(1+1e-9) {
		if most < MostToleranceShare*s.CapacityML() {
			return fmt.Errorf("the maker's own range allows %s each way, and not more", s.show(most, DimML))
		}
		return fmt.Errorf("at most %s, a tenth of what is stated: further off is put right, not called right", s.show(most, DimML))
	}
	return nil
}

// toleranceCut finds a tolerance that is more than counts: of an older job, the
// default of a small unit, or a wide range.
func (s *State) toleranceCut() (Finding, bool) {
	e, ok := s.at(Place{Topic: ToleranceTopic})
	low, high := s.stated()
	if !ok || low <= 0 {
		return Finding{}, false
	}
	given := Tolerance{(high - low) / 2, (high - low) / 2}
	switch {
	case !e.Value.Unknown:
		given = s.boundsML(e.Value)
	case high <= low:
		given = DefaultTolerance(low)
	}
	wide, most := math.Max(given.MinusML, given.PlusML), MostTolerance(low, high)
	if wide <= most*(1+1e-9) {
		return Finding{}, false
	}
	return Finding{
		Kind: ToleranceWide, Step: Prepare, ML: wide, Seq: e.Seq,
		Text: fmt.Sprintf("± %s is %.0f %% of what is stated: only ± %s counts.", s.show(wide, DimML), 100*wide/s.CapacityML(), s.show(most, DimML)),
		Do:   "Beyond that it is put right before it is driven on. Weigh what goes in.",
	}, true
}

// unknownTolerance says what counts where the owner gives no tolerance.
func unknownTolerance(s *State, _ Place) string {
	low, high := s.stated()
	t := "± " + s.show(StatedTolerance(low, high).MinusML, DimML)
	if high > low {
		return "what the stated range allows: " + t
	}
	return "not given: " + t
}
