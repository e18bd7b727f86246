package hydraulics

// This file holds how oils mix: what share of a fill is renewed where only part of it drains, and
// what a rig brings from one fill to the next.

import (
	"cmp"
	"errors"
	"math"

	"garage/tundish/model/oil"
)

// Exchange is a unit of which a drain brings out a part: an automatic gearbox whose converter,
// clutches and cooler stay full.
type Exchange struct {
	TotalML float64 // all that is in it
	OutML   float64 // of that, what a drain brings out
	Mixing  float64 // between two drains, 0 to 1: 1 is that all of it mixes
}

// Mixing between two drains (judgement, no source): 2 minutes idle through the gears give 0.5 to
// 0.8, a drive with converter and cooler warm 0.9 to 1.
const DefaultMixing = 0.8

const maxExchanges = 50

// Check names what is out of sense, and what is allowed.
func (e Exchange) Check() error {
	return cmp.Or(
		oil.CheckWithin("total", e.TotalML, 1, maxPushML, "ml"),
		oil.CheckWithin("out", e.OutML, 0, e.TotalML, "ml"),
		oil.CheckWithin("mixing", e.Mixing, 0, 1, "of full mixing"))
}

// Renewed is the share of the fill that is new after so many drains and fills, 0 to 1:
//
//	1 − (1 − f)(1 − m f)^(n−1),  f = out/total
//
// Two volumes, of which the one that drains is filled anew and a share m of full mixing takes
// place before the next drain (a model; computed, no source).
func (e Exchange) Renewed(times int) float64 {
	if times < 1 {
		return 0
	}
	f := e.OutML / e.TotalML
	return 1 - (1-f)*math.Pow(1-e.Mixing*f, float64(times-1))
}

// TimesFor is how many drains and fills renew at least a share; an error where none do, or so many
// that nobody does it.
func (e Exchange) TimesFor(share float64) (int, error) {
	for n := 1; n <= maxExchanges; n++ {
		if e.Renewed(n) >= share-1e-9 {
			return n, nil
		}
	}
	return 0, errors.New("no number of drains and fills renews that much")
}

// ContinuousML is the new oil, in ml, that renews a share where it flows through: 1 − exp(−V/T).
func (e Exchange) ContinuousML(share float64) float64 { return -math.Log1p(-share) * e.TotalML }

// CarriedShare is the share of the last oil in the next fill, 0 to 1.
func CarriedShare(leftML, fillML float64) float64 { return min(leftML/fillML, 1) }

// RinsedML is what is left of it in a rig that was rinsed with so much of the new oil, so many times:
// h (h/(h+r))ⁿ. Two rinses are better than one with twice as much.
func RinsedML(leftML, rinseML float64, times int) float64 {
	return leftML * math.Pow(leftML/(leftML+rinseML), float64(times))
}
