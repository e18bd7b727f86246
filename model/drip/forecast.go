// This file holds the forecast of a fitted drain: what is still to come, and how
// long to wait.

package drip

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// left is the share of the drips that is still to come at a time, and its derivative
// by the rate. Where they have settled, it is a share of nothing.
func (r Result) left(minutes float64) (share, byRate float64) {
	since := minutes - r.curve.start
	if r.Form == Film {
		return math.Sqrt(r.curve.start / minutes), 0
	}
	share = math.Exp(-r.curve.rate * since)
	return share, -since * share
}

// at is the fitted volume at a time.
func (r Result) at(minutes float64) float64 {
	share, _ := r.left(minutes)
	return r.SettlesAtML - r.curve.amplitude*share
}

// CoverageFactor is the factor k for a level of confidence of 95 % of ± k·u, where u
// is a standard uncertainty of this fit: the quantile of Student's t for its degrees
// of freedom, but at least 2 (JCGM 100:2008, annex G.3). Few readings say little
// about their own scatter, so for three of them k is 12.7; without a degree of
// freedom it is +Inf.
func (r Result) CoverageFactor() float64 {
	if r.DegreesOfFreedom < 1 {
		return math.Inf(1)
	}
	return max(2, distuv.StudentsT{Sigma: 1, Nu: float64(r.DegreesOfFreedom)}.Quantile(0.975))
}

// RemainingML is what is still to come nowMin minutes after the plug was removed,
//
//	R = b e^(−k(t−t₁))   (t₁ = 0 in the plain form, R = 0 in the form Settled)
//	R = b √(t₁/t)        (Film)
//
// and its standard uncertainty, propagated from the covariance of b and k and
// combined with the scatter s of the readings, since it counts from what the jug
// shows now. nowMin must be a number from 0 to 1e7, above 0 in the form Film.
func (r Result) RemainingML(nowMin float64) (ml, uML float64, err error) {
	if !(nowMin >= 0 && nowMin <= maxMinutes) {
		return 0, 0, fmt.Errorf("minutes must be a number from 0 to %.0f", maxMinutes)
	}
	c := r.curve
	share, byRate := r.left(nowMin)
	byRate *= c.amplitude
	variance := share*share*c.cov[0][0] + 2*share*byRate*c.cov[0][1] + byRate*byRate*c.cov[1][1]
	ml, uML = c.amplitude*share, math.Hypot(math.Sqrt(max(0, variance)), r.ResidualSDML)
	if math.IsInf(ml, 0) || math.IsInf(uML, 0) || math.IsNaN(uML) {
		return 0, 0, fmt.Errorf("minutes must lie nearer to the readings, which are fitted from minute %g on", c.start)
	}
	return ml, uML, nil
}

// WaitMin is how many minutes after nowMin less than thresholdML is still to come; 0
// if that is so already. thresholdML must be above 0.
func (r Result) WaitMin(nowMin, thresholdML float64) (float64, error) {
	if !(thresholdML > 0 && thresholdML <= maxML) {
		return 0, fmt.Errorf("threshold ml must be a number above 0 and up to %.0f", maxML)
	}
	remainingML, _, err := r.RemainingML(nowMin)
	switch {
	case err != nil:
		return 0, err
	case remainingML < thresholdML:
		return 0, nil
	case r.Form == Film: // half as much at four times the time
		times := remainingML / thresholdML
		return nowMin * (times*times - 1), nil
	}
	return math.Log(remainingML/thresholdML) / r.curve.rate, nil
}
