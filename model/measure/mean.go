// This file combines two values of the same quantity, and computes how far they
// disagree.

package measure

import (
	"errors"
	"math"
)

// ErrExactContradiction is returned by WeightedMean for two values that differ
// although their difference has no uncertainty.
var ErrExactContradiction = errors.New("the two values differ but the difference has no uncertainty")

// sharedTolerance is the share of the two variances up to which the variance of
// the difference is rounding: the two values then have all their errors in common.
const sharedTolerance = 1e-20

// WeightedMean returns the best linear unbiased mean of two values of the same
// quantity, with their covariance taken into account, and how many standard
// uncertainties apart they are:
//
//	mean = a·v + (1 - a)·w,  a = cov(w, w - v) / var(v - w)
//	z    = |v - w| / √var(v - w)
//
// For independent values this is the inverse-variance mean. Its variance is never
// above that of either. With strongly shared errors a can lie outside 0 to 1, and
// the mean outside the interval between the two: the more uncertain one then only
// corrects the common error of the other.
// Source: generalised least squares (Aitken) for one parameter.
func WeightedMean(v, w Value) (mean Value, z float64, err error) {
	diff := v.Sub(w)
	gap, varGap := math.Abs(diff.Nominal), diff.Variance()
	if varGap <= sharedTolerance*(v.Variance()+w.Variance()) {
		if gap > 1e-9*math.Max(math.Abs(v.Nominal), math.Abs(w.Nominal)) {
			return Value{}, math.Inf(1), ErrExactContradiction
		}
		return v, 0, nil
	}
	a := -Covariance(w, diff) / varGap
	return linear(w.Nominal+a*diff.Nominal, []float64{1, a}, []Value{w, diff}), gap / math.Sqrt(varGap), nil
}
