// This file turns a value and its uncertainty into the probability of conformity.

package measure

import "math"

// Probability returns the probability that the true value lies below low, from low
// to high, and above high, for a normal distribution about v.Nominal (JCGM 106:2012,
// section 7.2). The three add up to 1. An exact value is in one of the three; the limits
// count as within. Either limit may be infinite. Limits the wrong way round, or
// anything that is not a number, give three NaN, which satisfy no requirement.
func Probability(v Value, low, high float64) (pBelow, pWithin, pAbove float64) {
	u := v.U()
	if !(low <= high) || math.IsNaN(v.Nominal) || math.IsNaN(u) {
		return math.NaN(), math.NaN(), math.NaN()
	}
	if u == 0 {
		switch {
		case v.Nominal < low:
			return 1, 0, 0
		case v.Nominal > high:
			return 0, 0, 1
		}
		return 0, 1, 0
	}
	pBelow = normalCDF((low - v.Nominal) / u)
	pAbove = normalCDF((v.Nominal - high) / u)
	return pBelow, max(0, 1-pBelow-pAbove), pAbove
}

// normalCDF is Φ(z), exact to rounding in the lower tail.
func normalCDF(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
