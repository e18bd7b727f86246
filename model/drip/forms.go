// This file holds the forms other than the plain one, and the tests that choose
// between the forms.

package drip

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

const (
	offsetShare = 0.05  // of V∞: a curve nearer to 0 at minute 0 is not worth a third parameter
	formSignif  = 0.001 // of the F test of the form with an offset against another
	tailSignif  = 0.01  // of the F test of a shorter tail against a longer
	misfitShare = 0.01  // of what came out: more scatter is not the jug's (common practice, no source)
	levelShare  = 0.02  // the same for a level line
	levelSDs    = 2.0   // a last reading so many SD above the mean is still rising
	maxTails    = 12    // starts of the drips that are tried
)

// fitOffset fits the form with an offset to the drips: to the longest tail of the
// readings after minute 0 that no shorter tail fits significantly better. ok is
// false where none settles.
func (s series) fitOffset() (r Result, ok bool) {
	after := s.readings[s.positive:]
	starts := len(after) - minOffsetReadings + 1
	var tails []Result
	stride := (starts + maxTails - 1) / maxTails
	for from := 0; from < starts; from += stride {
		if r, ok := s.fitTail(after[from:]); ok {
			tails = append(tails, r)
		}
	}
	for i, r := range tails {
		isWorse := func(shorter Result) bool { return s.betterBy(r.rssML2, r.DegreesOfFreedom, shorter, tailSignif) }
		if !slices.ContainsFunc(tails[i+1:], isWorse) {
			return r, !s.overruns(r)
		}
	}
	return Result{}, false
}

// fitTail fits the form with an offset to the given last readings, with time
// counted from the first of them, which is better conditioned than from minute 0.
func (s series) fitTail(tail []Reading) (Result, bool) {
	startMin := tail[0].Minutes
	t, v, scaleMin := s.scaled(tail, startMin)
	c, where := solve(t, v, settling, true)
	if where != inRange {
		return Result{}, false
	}
	r := s.result(Offset, c.unscaled(scaleMin, s.topML, startMin), tail)
	r.offsetML, r.fromMinutes = r.curve.offset, startMin
	ok := r.finite() &&
		r.SettlesAtUML <= maxRelativeU*r.SettlesAtML &&
		r.RateUPerMin < r.RatePerMin &&
		r.curve.amplitude > 0 &&
		r.offsetML >= 0 &&
		math.Abs(r.at(0)) >= offsetShare*r.SettlesAtML
	return r, ok
}

// settled is the level line through the readings after minute 0. Readings that
// rise every time are not level, however little they rise, nor are those that
// scatter by more than the jug's error, or end well above their mean.
func (s series) settled() (Result, error) {
	after := s.readings[s.positive:]
	n := float64(len(after))
	var mean, rss float64
	rising := true
	for i, r := range after {
		mean += r.ML / n
		rising = rising && (i == 0 || r.ML > after[i-1].ML)
	}
	for _, r := range after {
		rss += (r.ML - mean) * (r.ML - mean)
	}
	sd := math.Sqrt(rss / (n - 1))
	if rising || sd > levelShare*s.topML || s.last().ML-mean > levelSDs*sd {
		return Result{}, s.misfit()
	}
	return Result{
		Form: Settled, Readings: len(after), DegreesOfFreedom: len(after) - 1,
		LastMinutes: s.last().Minutes, LastML: s.last().ML,
		SettlesAtML: mean, SettlesAtUML: sd / math.Sqrt(n), ResidualSDML: sd, rssML2: rss,
	}, nil
}

// overruns reports whether the readings still rise where the curve has levelled
// off: the sign of a stream that has broken to drips, for which the plain form would
// forecast that nothing more comes.
func (s series) overruns(r Result) bool {
	if r.ResidualSDML <= misfitShare*s.topML {
		return false
	}
	last, before := s.last(), s.readings[len(s.readings)-2]
	forecastML := r.at(last.Minutes) - r.at(before.Minutes)
	return last.ML > r.at(last.Minutes) && last.ML-before.ML > 2*forecastML
}

// clearlyBetter reports whether the drips alone, with an offset, are fitted
// significantly better than all readings after minute 0 are by the other form.
func (s series) clearlyBetter(other, offset Result) bool {
	after := s.readings[s.positive:]
	var rss float64
	for _, r := range after {
		d := r.ML - other.at(r.Minutes)
		rss += d * d
	}
	parameters := other.Readings - other.DegreesOfFreedom
	return s.betterBy(rss, len(after)-parameters, offset, formSignif)
}

// betterBy is the F test of a fit to more readings or with fewer parameters
// against one with less residual and fewer degrees of freedom; for the same form
// over more readings it is Chow's predictive test (Econometrica 28 (1960) 591).
func (s series) betterBy(rss float64, dof int, better Result, significance float64) bool {
	betterDoF := float64(better.DegreesOfFreedom)
	lost := float64(dof) - betterDoF
	rounding := 1e-24 * s.topML * s.topML
	f := (rss - better.rssML2) / lost / (better.rssML2/betterDoF + rounding)
	return lost > 0 && f > 0 && distuv.F{D1: lost, D2: betterDoF}.Survival(f) < significance
}
