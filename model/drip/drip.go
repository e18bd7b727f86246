// Package drip tells how much is still to come while a gear case drips out.
//
// Readings are the minutes since the plug came out and the cumulative volume
// caught by then. A draining case is taken to settle as
//
//	V(t) = V∞ (1 − e^(−kt))
//
// or, where the stream ran first and only then broke to drips, as the same curve
// with an offset a (what the stream brought at once):
//
//	V(t) = a + b (1 − e^(−kt)),   V∞ = a + b
//
// Volumes are in ml, times in minutes, rates per minute. The package reads no
// clock and no file.
//
// This file holds the readings, the result and the choice between the forms.
// It holds neither the numerical search (search.go) nor the CSV reader (csv.go).
package drip

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Reading is one look at the jug: ML caught in all, Minutes after the plug came out.
type Reading struct {
	Minutes float64
	ML      float64
}

// Form is the curve a Result was fitted with.
type Form uint8

const (
	// Plain is V∞(1 − e^(−kt)).
	Plain Form = iota + 1
	// Offset is a + b(1 − e^(−kt)), fitted to the readings after minute 0.
	Offset
	// Settled is a level line: the readings differ by no more than their scatter.
	Settled
)

// String names the form for people.
func (f Form) String() string {
	switch f {
	case Plain:
		return "plain"
	case Offset:
		return "offset"
	case Settled:
		return "settled"
	}
	return "unknown"
}

// Result is a fitted drain. Fields ending in U are standard uncertainties, from
// s²(JᵀJ)⁻¹ with s² = RSS/(n − parameters).
type Result struct {
	Form             Form
	Readings         int     // readings the curve was fitted to
	DegreesOfFreedom int     // Readings − fitted parameters
	LastMinutes      float64 // time of the last reading
	LastML           float64 // volume of the last reading

	SettlesAtML  float64 // V∞
	SettlesAtUML float64
	RatePerMin   float64 // k; 0 in the form Settled, where no rate can be seen
	RateUPerMin  float64
	OffsetML     float64 // a, what the stream brought at once; 0 but in the form Offset

	ResidualSDML float64 // s
	RSSML2       float64 // residual sum of squares, ml²

	curve curve // as solved, in minutes and ml
}

const (
	minReadings       = 3 // two parameters and one degree of freedom
	minOffsetReadings = 5 // three parameters and two degrees of freedom
	maxReadings       = 10000
	maxMinutes        = 1e7
	minLastMinutes    = 1e-6
	maxML             = 1e9

	fallShare       = 0.02  // a fall beyond this share of the largest reading is no reading error (common practice, no source)
	maxRelativeU    = 0.20  // V∞ known no better than this is no forecast
	offsetShare     = 0.05  // a smaller offset is not a stream worth a third parameter
	offsetSignif    = 0.001 // F test for the third parameter
	misfitShare     = 0.01  // scatter beyond this share of what came out is not the jug's
	settledSpreadSD = 2     // a last reading this far above the mean is still rising
)

// Fit fits the plain form, and the form with an offset where at least five
// readings after minute 0 show it clearly better: significant at 0.1 % by the F
// test for one more parameter, and an offset of at least 5 % of V∞. Rows may come
// in any order.
//
// It refuses rather than guess: see the errors of this package, each of which
// ends with what to do.
func Fit(readings []Reading) (Result, error) {
	s, err := newSeries(readings)
	if err != nil {
		return Result{}, err
	}
	plain, err := s.fitPlain()
	offset, ok := s.fitOffset()
	if ok && (err != nil || clearlyBetter(plain, offset, s)) {
		return offset, nil
	}
	return plain, err
}

// FitPlain fits V∞(1 − e^(−kt)) only, whatever an offset would do.
func FitPlain(readings []Reading) (Result, error) {
	s, err := newSeries(readings)
	if err != nil {
		return Result{}, err
	}
	return s.fitPlain()
}

// series is a checked, sorted set of readings with its scale.
type series struct {
	readings []Reading
	lastMin  float64
	topML    float64
	positive int // index of the first reading after minute 0
}

func newSeries(readings []Reading) (series, error) {
	if err := checkEach(readings); err != nil {
		return series{}, err
	}
	sorted := slices.Clone(readings)
	slices.SortFunc(sorted, func(a, b Reading) int {
		if a.Minutes < b.Minutes {
			return -1
		}
		if a.Minutes > b.Minutes {
			return 1
		}
		return 0
	})
	s := series{readings: sorted}
	for _, r := range sorted {
		s.topML = math.Max(s.topML, r.ML)
		s.lastMin = r.Minutes
		if r.Minutes == 0 {
			s.positive++
		}
	}
	return s, s.check()
}

func (s series) last() Reading { return s.readings[len(s.readings)-1] }

// scaled returns times and volumes of the given readings, counted from
// startMin, with the largest of each near 1, so that any unit solves alike.
func (s series) scaled(readings []Reading, startMin float64) (t, v []float64, scaleMin float64) {
	scaleMin = s.lastMin - startMin
	for _, r := range readings {
		t = append(t, (r.Minutes-startMin)/scaleMin)
		v = append(v, r.ML/s.topML)
	}
	return t, v, scaleMin
}

func (s series) fitPlain() (Result, error) {
	t, v, scaleMin := s.scaled(s.readings, 0)
	c, where := solve(t, v, settling, false)
	switch where {
	case belowRange:
		return Result{}, s.notSettling()
	case aboveRange:
		return s.settled()
	}
	r := s.result(Plain, c.unscaled(scaleMin, s.topML, 0), s.readings)
	switch {
	case !r.finite() || r.SettlesAtUML > maxRelativeU*r.SettlesAtML:
		return Result{}, s.notSettling()
	case r.RateUPerMin >= r.RatePerMin:
		return s.settled()
	case s.misfits(r):
		return Result{}, s.misfit()
	}
	return r, nil
}

// fitOffset fits the form with an offset to the readings after minute 0: what
// stands in the jug at minute 0 says nothing about the drips. The time is counted
// from the first of them, which leaves V∞ and k alone and is better conditioned.
func (s series) fitOffset() (Result, bool) {
	tail := s.readings[s.positive:]
	if len(tail) < minOffsetReadings {
		return Result{}, false
	}
	startMin := tail[0].Minutes
	t, v, scaleMin := s.scaled(tail, startMin)
	c, where := solve(t, v, settling, true)
	if where != inRange {
		return Result{}, false
	}
	r := s.result(Offset, c.unscaled(scaleMin, s.topML, startMin), tail)
	r.OffsetML = r.curve.offset - r.curve.amplitude*math.Expm1(r.RatePerMin*startMin)
	ok := r.finite() &&
		r.SettlesAtUML <= maxRelativeU*r.SettlesAtML &&
		r.RateUPerMin < r.RatePerMin &&
		r.curve.amplitude > 0 &&
		r.OffsetML >= offsetShare*r.SettlesAtML
	return r, ok
}

// settled is the level line through the readings after minute 0.
func (s series) settled() (Result, error) {
	tail := s.readings[s.positive:]
	n := float64(len(tail))
	var mean, rss float64
	for _, r := range tail {
		mean += r.ML / n
	}
	for _, r := range tail {
		rss += (r.ML - mean) * (r.ML - mean)
	}
	sd := math.Sqrt(rss / (n - 1))
	if s.last().ML-mean > settledSpreadSD*sd {
		return Result{}, s.notSettling()
	}
	return Result{
		Form: Settled, Readings: len(tail), DegreesOfFreedom: len(tail) - 1,
		LastMinutes: s.last().Minutes, LastML: s.last().ML,
		SettlesAtML: mean, SettlesAtUML: sd / math.Sqrt(n), ResidualSDML: sd, RSSML2: rss,
	}, nil
}

func (s series) result(form Form, c curve, fitted []Reading) Result {
	return Result{
		Form: form, Readings: len(fitted), DegreesOfFreedom: c.dof,
		LastMinutes: s.last().Minutes, LastML: s.last().ML,
		SettlesAtML: c.offset + c.amplitude, SettlesAtUML: c.uLevel(),
		RatePerMin: c.rate, RateUPerMin: c.uRate(),
		ResidualSDML: math.Sqrt(c.rss / float64(c.dof)), RSSML2: c.rss,
		curve: c,
	}
}

// misfits tells a plain curve that has levelled off while the readings go on
// rising: the sign of a stream that has broken to drips, where the plain form
// would promise that nothing more comes.
func (s series) misfits(r Result) bool {
	if r.ResidualSDML <= misfitShare*s.topML {
		return false
	}
	last, before := s.readings[len(s.readings)-1], s.readings[len(s.readings)-2]
	foretold := r.at(last.Minutes) - r.at(before.Minutes)
	return last.ML > r.at(last.Minutes) && last.ML-before.ML > 2*foretold
}

// clearlyBetter is the F test for one more parameter, over the readings both
// forms were fitted to.
func clearlyBetter(plain, offset Result, s series) bool {
	if plain.Form != Plain {
		return false
	}
	var rss float64
	for _, r := range s.readings[s.positive:] {
		d := r.ML - plain.at(r.Minutes)
		rss += d * d
	}
	dof := float64(offset.DegreesOfFreedom)
	rounding := 1e-24 * s.topML * s.topML
	f := (rss - offset.RSSML2) / (offset.RSSML2/dof + rounding)
	return f > 0 && distuv.F{D1: 1, D2: dof}.Survival(f) < offsetSignif
}

func (r Result) finite() bool {
	for _, x := range []float64{r.SettlesAtML, r.SettlesAtUML, r.RatePerMin, r.RateUPerMin, r.OffsetML, r.ResidualSDML} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
