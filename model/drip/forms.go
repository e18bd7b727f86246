// This file holds the forms and the choice between them.

package drip

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
)

// candidate is a form fitted to the readings, or what speaks against a forecast by
// it, of which only the AICc is kept.
type candidate struct {
	result  Result
	refusal error
}

func (s series) candidateOf(form Form) candidate {
	if form == Plain {
		return s.plain()
	}
	return s.tails(form)
}

// aicc is Akaike's criterion for a least squares fit, corrected for few readings:
//
//	AICc = n ln(RSS/n) + 2K + 2K(K+1)/(n−K−1)
//
// (C. M. Hurvich and C.-L. Tsai, Biometrika 76 (1989) 297), where K counts the
// parameters, the scatter, and each reading that is left out: that one has, as it
// were, a parameter of its own (G. Kitagawa, Technometrics 21 (1979) 193, from
// memory), so that fits to more and to fewer of the readings can be compared.
func (s series) aicc(rssML2 float64, parameters, leftOut int) float64 {
	n, k := float64(len(s.readings)), float64(parameters+leftOut+1)
	if n <= k+1 {
		return math.Inf(1)
	}
	rounding := 1e-24 * s.topML * s.topML // what a perfect fit leaves
	return n*math.Log(rssML2/n+rounding) + 2*k + 2*k*(k+1)/(n-k-1)
}

// plain is the plain form.
func (s series) plain() candidate {
	t, v, scaleMin := s.scaled(s.readings, 0)
	c, where := solve(t, v, settling, false)
	switch where {
	case belowRange: // a straight line through 0, and no better than one that need not go through it
		return unfitted(s.notSettling())
	case aboveRange:
		return s.settled()
	}
	fitted := s.candidate(Plain, c.unscaled(scaleMin, s.topML, 0), 0)
	if fitted.refusal == nil && fitted.result.RateUPerMin >= fitted.result.RatePerMin {
		return s.settled()
	}
	return fitted
}

// scatters reports whether readings lie further apart about a curve than the jug is misread.
func (s series) scatters(from int, at func(minutes float64) float64) bool {
	var low, high float64
	for i, r := range s.readings[from:] {
		d := r.ML - at(r.Minutes)
		if i == 0 {
			low, high = d, d
		}
		low, high = min(low, d), max(high, d)
	}
	return high-low > misreadShare*s.topML
}

// settled is the level line through the readings, unless they scatter about it by
// more than the jug is misread.
func (s series) settled() candidate {
	ml := make([]float64, len(s.readings))
	for i, r := range s.readings {
		ml[i] = r.ML
	}
	mean, sd := stat.MeanStdDev(ml, nil)
	n := float64(len(ml))
	c := candidate{result: Result{
		Form: Settled, Readings: len(s.readings), DegreesOfFreedom: len(s.readings) - 1,
		LastMinutes: s.last().Minutes, LastML: s.last().ML,
		SettlesAtML: mean, SettlesAtUML: sd / math.Sqrt(n), ResidualSDML: sd, AICc: s.aicc(sd*sd*(n-1), 1, 0),
	}}
	if s.scatters(0, func(float64) float64 { return mean }) {
		return c.refused(s.misfit())
	}
	return c
}

// parameters of a form of the drips.
func (f Form) parameters() int {
	if f == Offset {
		return 3
	}
	return 2
}

// readings is the least number of them of which AICc says something.
func (f Form) readings() int { return f.parameters() + 3 }

// maxTails is how many starts of the drips are tried, evenly spread, so that
// thousands of readings do not take minutes.
const maxTails = 12

// tails is a form of the drips from the reading on from which AICc likes it best.
func (s series) tails(form Form) candidate {
	n := len(s.readings)
	if n <= form.parameters() {
		return unfitted(fmt.Errorf("%w: %d after minute 0, and the form %v needs %d: read again in %s",
			ErrTooFew, n, form, form.parameters()+1, s.pause()))
	}
	best := unfitted(fmt.Errorf("%w of the form %v: try another form", ErrMisfit, form))
	starts := max(1, n-form.readings()+1)
	for from := 0; from < starts; from += (starts + maxTails - 1) / maxTails {
		if c, ok := s.tail(form, from); ok && (from == 0 || c.result.AICc < best.result.AICc) {
			best = c
		}
	}
	return best
}

// tail fits a form of the drips to the readings from one on. Time counts from it,
// which is better conditioned than from minute 0. ok is false where the drips run
// backward, where they do not tell the rate of the form Offset, or where a straight
// line rises by no more than the jug is misread.
func (s series) tail(form Form, from int) (_ candidate, ok bool) {
	readings := s.readings[from:]
	startMin := readings[0].Minutes
	t, v, scaleMin := s.scaled(readings, startMin)
	var c curve
	where := inRange
	switch form {
	case Offset:
		c, where = solve(t, v, settling, true)
	case Film:
		c = fitter{t: t, y: v, shape: film, withOffset: true}.fixed(scaleMin / startMin)
	default:
		line := func(x float64) (value, slope float64) { return x, 0 } // has no rate to be found either
		c = fitter{t: t, y: v, shape: line, withOffset: true}.fixed(1)
	}
	if where != inRange || c.amplitude <= 0 || c.offset < 0 ||
		form == Offset && math.Sqrt(c.cov[1][1]) >= c.rate || form == even && c.amplitude <= misreadShare {
		return candidate{}, false
	}
	fitted := s.candidate(form, c.unscaled(scaleMin, s.topML, startMin), from)
	if form == even {
		fitted = fitted.refused(s.notSettling())
	}
	return fitted, true
}

// candidate is a fit to all but the first readings, refused where it does not tell
// where the drain settles; and, with fewer readings than let a stream that broke to
// drips be seen, where they scatter by more than the jug is misread.
func (s series) candidate(form Form, c curve, leftOut int) candidate {
	n := len(s.readings) - leftOut
	r := Result{
		Form: form, Readings: n, LeftOut: leftOut, DegreesOfFreedom: c.dof,
		LastMinutes: s.last().Minutes, LastML: s.last().ML,
		SettlesAtML: c.offset + c.amplitude, SettlesAtUML: math.Sqrt(math.Max(0, c.cov[0][0]+2*c.cov[0][2]+c.cov[2][2])),
		ResidualSDML: math.Sqrt(c.rss / float64(c.dof)),
		AICc:         s.aicc(c.rss, n-c.dof, leftOut),
		curve:        c,
	}
	if form != Film {
		r.RatePerMin, r.RateUPerMin = c.rate, math.Sqrt(c.cov[1][1])
	}
	fitted := candidate{result: r}
	if !r.finite() || r.SettlesAtUML > maxRelativeU*r.SettlesAtML {
		return fitted.refused(s.notSettling())
	}
	if len(s.readings) < Offset.readings() && s.scatters(leftOut, r.at) {
		return fitted.refused(s.misfit())
	}
	return fitted
}

// refused is a candidate that gives no forecast: where it is the best, there is none.
func (c candidate) refused(why error) candidate {
	return candidate{refusal: why, result: Result{AICc: c.result.AICc}}
}

// unfitted is a form that cannot be fitted.
func unfitted(why error) candidate {
	return candidate{refusal: why, result: Result{AICc: math.Inf(1)}}
}
