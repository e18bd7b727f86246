// This file combines values that claim to be of the same quantity, and says how
// badly they disagree.

package measure

import (
	"errors"
	"fmt"
	"math"
)

// ErrExactContradiction is returned by WeightedMean for two values that differ
// although nothing in them leaves room for a difference.
var ErrExactContradiction = errors.New("the two values differ but the difference has no uncertainty")

// sharedTolerance is the part of the two variances below which the variance of
// the difference is rounding, that is, the two values have all their errors in common.
const sharedTolerance = 1e-20

// WeightedMean returns the best linear unbiased mean of two values of the same
// quantity, with their covariance taken into account, and how many standard
// uncertainties apart they are:
//
//	mean = a·v + (1 - a)·w,  a = cov(w, w - v) / var(v - w)
//	z    = |v - w| / √var(v - w)
//
// For independent values this is the inverse-variance mean. Its variance is never
// above that of either. With strongly shared errors a can leave 0 to 1, and the mean
// the interval between the two: then the more doubtful one only serves to correct
// the common error of the other.
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
	return linear(w.Nominal+a*diff.Nominal, 1, w, a, diff), gap / math.Sqrt(varGap), nil
}

// ScaleRule says which inputs decide the scale factor of inconsistent values.
type ScaleRule uint8

const (
	// BirgeRatio lets every input count (R. T. Birge, Phys. Rev. 40 (1932) 207).
	BirgeRatio ScaleRule = iota
	// ParticleDataGroup leaves out inputs with u above 3·√N times the internal
	// uncertainty, as they say little (Review of Particle Physics, introduction, 5.2.2).
	ParticleDataGroup
)

// String names the rule.
func (r ScaleRule) String() string {
	switch r {
	case BirgeRatio:
		return "Birge ratio"
	case ParticleDataGroup:
		return "Particle Data Group"
	}
	return fmt.Sprintf("scale rule(%d)", uint8(r))
}

// Pooled is the weighted mean of several independent results of one quantity.
type Pooled struct {
	Mean    float64
	U       float64 // internal: from the inputs' own uncertainties
	Chi2    float64 // of all inputs about the mean, len(inputs)-1 degrees of freedom
	Scale   float64 // S = √(χ²/dof) of the inputs the rule counts; may be below 1
	ScaledU float64 // U·max(1, S)
}

// BirgeScale returns the inverse-variance mean of independent results xs with
// standard uncertainties us, and widens its uncertainty by the scale factor of the
// given rule where they scatter more than they should. One input alone has S = 0.
// The error names the input that is not a finite number or not above zero.
func BirgeScale(xs, us []float64, rule ScaleRule) (Pooled, error) {
	if len(xs) == 0 || len(xs) != len(us) {
		return Pooled{}, fmt.Errorf("results: need one or more, each with its uncertainty, got %d and %d", len(xs), len(us))
	}
	sumW, sumWX := 0.0, 0.0
	for i, u := range us {
		if !(u > 0) || math.IsInf(u, 0) || math.IsNaN(xs[i]) || math.IsInf(xs[i], 0) {
			return Pooled{}, fmt.Errorf("result %d: must be finite with an uncertainty above zero, is %g ± %g", i+1, xs[i], u)
		}
		sumW += 1 / (u * u)
		sumWX += xs[i] / (u * u)
	}
	p := Pooled{Mean: sumWX / sumW, U: 1 / math.Sqrt(sumW)}
	p.Chi2, _ = chiSquared(xs, us, p.Mean, math.Inf(1))
	limit := math.Inf(1)
	if rule == ParticleDataGroup {
		limit = 3 * math.Sqrt(float64(len(xs))) * p.U
	}
	if chi2, counted := chiSquared(xs, us, p.Mean, limit); counted > 1 {
		p.Scale = math.Sqrt(chi2 / float64(counted-1))
	}
	p.ScaledU = p.U * math.Max(1, p.Scale)
	return p, nil
}

// chiSquared adds up the squared normalised distances of the inputs with u up to
// the limit, and counts them.
func chiSquared(xs, us []float64, mean, limit float64) (chi2 float64, counted int) {
	for i, u := range us {
		if u <= limit {
			d := (xs[i] - mean) / u
			chi2 += d * d
			counted++
		}
	}
	return chi2, counted
}
