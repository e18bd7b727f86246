package estimate

// This file says how far off a fill may be and still be right: what the owner
// gave, the range that the maker states, or the default; none of them beyond
// what is put right before the car is driven on.

import (
	"math"

	"garage/tundish/model/job"
)

// CorrectSoonShort is the share of the target that, if it is missing, is put
// right soon (trade judgement, no source).
const CorrectSoonShort = 0.10

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
	return usualTolerance(lowML, highML).atMost(MostTolerance(lowML, highML))
}

func usualTolerance(lowML, highML float64) Tolerance {
	if half := (highML - lowML) / 2; half > 0 {
		return Tolerance{half, half}
	}
	return defaultTolerance(lowML)
}

func (t Tolerance) atMost(ml float64) Tolerance {
	return Tolerance{math.Min(t.MinusML, ml), math.Min(t.PlusML, ml)}
}

// Stated are the ends of the stated quantity, ml, the same twice where it is no
// range; 0 until it is known.
func (s *Figures) Stated() (lowML, highML float64) {
	e, _ := s.Answer(job.Place{Topic: job.Capacity})
	return e.Value.Ends()
}

// Tolerance is what counts, ml each way: the owner's, else what the maker's way of
// setting the level leaves, else what is stated; and never more than MostTolerance.
func (s *Figures) Tolerance() Tolerance {
	if t, level := s.LevelTolerance(); level { // an owner can ask for less than the maker's level leaves
		return s.ToleranceWanted().atMost(t.MinusML)
	}
	return s.ToleranceWanted().atMost(MostTolerance(s.Stated()))
}

// ToleranceWanted is the same, however much of it counts.
func (s *Figures) ToleranceWanted() Tolerance {
	if e, ok := s.Answer(job.Place{Topic: job.ToleranceTopic}); ok && !e.Value.Unknown {
		return s.BoundsML(e.Value)
	}
	if t, ok := s.LevelTolerance(); ok {
		return t
	}
	return usualTolerance(s.Stated())
}

// BoundsML is a tolerance as it was given, ml. A share of the stated quantity
// is kept as a share and worked out here.
func (s *Figures) BoundsML(v job.Value) Tolerance {
	if v.Unit == job.DimShare {
		c := s.CapacityML()
		return Tolerance{v.Number * c, v.High * c}
	}
	return Tolerance{v.Number, v.High}
}
