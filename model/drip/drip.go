// Package drip estimates how much is still to come while a gear case drips out.
//
// Readings are the minutes since the plug was removed and the cumulative volume
// caught by then. The volume is modelled as
//
//	V(t) = V∞ (1 − e^(−kt))
//
// or, where a stream ran first and only then broke to drips, from the first
// reading t₁ of the drips on as the same curve with an offset a, the volume that
// had come by then:
//
//	V(t) = a + b (1 − e^(−k(t−t₁))),   V∞ = a + b
//
// Volumes are in ml, times in minutes, rates per minute.
//
// This file holds the readings, the result and the plain fit. The other forms are
// in forms.go, the least squares fit is in search.go.
package drip

import (
	"cmp"
	"math"
	"slices"
)

// Reading is a reading of the jug: ML caught in all, Minutes after the plug was removed.
type Reading struct {
	Minutes float64
	ML      float64
}

// Form is the curve a Result was fitted with.
type Form uint8

const (
	// Plain is V∞(1 − e^(−kt)).
	Plain Form = iota + 1
	// Offset is a + b(1 − e^(−k(t−t₁))), fitted to the readings from t₁ on.
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

// Result is a fitted drain. Fields ending in U are standard uncertainties by the
// scatter of the readings, s²(JᵀJ)⁻¹ with s² = RSS/DegreesOfFreedom. They leave out
// an error that all readings share, as of the jug's scale.
type Result struct {
	Form             Form
	Readings         int     // readings the curve was fitted to
	DegreesOfFreedom int     // Readings − fitted parameters
	LastMinutes      float64 // time of the last reading
	LastML           float64 // volume of the last reading

	SettlesAtML  float64 // V∞
	SettlesAtUML float64
	RatePerMin   float64 // k; 0 in the form Settled, which has no rate
	RateUPerMin  float64
	offsetML     float64 // a, the volume by fromMinutes; 0 except in the form Offset
	fromMinutes  float64 // t₁, the first reading of the drips; 0 except in the form Offset

	ResidualSDML float64 // s
	rssML2       float64 // residual sum of squares, ml²

	curve curve // in minutes and ml
}

const (
	minReadings       = 3 // two parameters and one degree of freedom
	minOffsetReadings = 5 // three parameters and two degrees of freedom
	maxReadings       = 10000
	maxMinutes        = 1e7
	minLastMinutes    = 1e-6
	maxML             = 1e9

	fallShare    = 0.02 // of the largest reading: a larger fall is no reading error (common practice, no source)
	maxRelativeU = 0.20 // of V∞, in a usable forecast
)

// Fit fits the plain form, and the form with an offset where at least five
// readings after minute 0 show it clearly better: significantly at 0.1 %, and with
// a curve that at minute 0 is at least 5 % of V∞ away from zero. Rows may come in
// any order.
//
// The errors of the package say why readings give no forecast, and what to do.
func Fit(readings []Reading) (Result, error) {
	s, err := newSeries(readings)
	if err != nil {
		return Result{}, err
	}
	plain, err := s.fitPlain()
	offset, ok := s.fitOffset()
	if ok && (err != nil || s.clearlyBetter(plain, offset)) {
		return offset, nil
	}
	return plain, err
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
	slices.SortFunc(sorted, func(a, b Reading) int { return cmp.Compare(a.Minutes, b.Minutes) })
	s := series{readings: sorted}
	for _, r := range sorted {
		s.topML = max(s.topML, r.ML)
		s.lastMin = r.Minutes
		if r.Minutes == 0 {
			s.positive++
		}
	}
	return s, s.check()
}

func (s series) last() Reading { return s.readings[len(s.readings)-1] }

// scaled returns times since startMin and volumes of the given readings, scaled so
// that the largest of each is near 1.
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
	case s.overruns(r):
		return Result{}, s.misfit()
	}
	return r, nil
}

func (s series) result(form Form, c curve, fitted []Reading) Result {
	return Result{
		Form: form, Readings: len(fitted), DegreesOfFreedom: c.dof,
		LastMinutes: s.last().Minutes, LastML: s.last().ML,
		SettlesAtML: c.offset + c.amplitude, SettlesAtUML: c.uLevel(),
		RatePerMin: c.rate, RateUPerMin: c.uRate(),
		ResidualSDML: math.Sqrt(c.rss / float64(c.dof)), rssML2: c.rss,
		curve: c,
	}
}

func (r Result) finite() bool {
	for _, x := range []float64{r.SettlesAtML, r.SettlesAtUML, r.RatePerMin, r.RateUPerMin, r.offsetML, r.ResidualSDML} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
