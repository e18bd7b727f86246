// Package drip estimates how much is still to come while a gear case drips out.
//
// Readings are the minutes since the plug was removed and the cumulative volume
// caught by then. The volume is modelled as one of
//
//	V(t) = V∞ (1 − e^(−kt))                                plain
//	V(t) = a + b (1 − e^(−k(t−t₁))),  V∞ = a + b           with an offset
//	V(t) = a + b (1 − √(t₁/t)),       V∞ = a + b           film
//
// The last two are laws of the drips alone, from a reading t₁ after minute 0 on,
// by when a had come, since a stream runs first and only then breaks to drips. Oil
// that runs down a wall as a film drips at a rate ∝ t^(−3/2), so that what is still
// to come is twice the time since the plug came out times the rate (H. Jeffreys,
// Proc. Cambridge Phil. Soc. 26 (1930) 204, from memory).
//
// Volumes are in ml, times in minutes, rates per minute.
//
// This file holds the readings and the result. The forms and the choice between
// them are in forms.go, the least squares fit is in search.go.
package drip

import (
	"cmp"
	"fmt"
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
	// Film is a + b(1 − √(t₁/t)), fitted to the readings from t₁ on.
	Film
	// Settled is a level line: what the plain form is where the readings do not tell
	// its rate.
	Settled
	// even is a straight line: of the drips it tells no end.
	even
)

// String names the form for people.
func (f Form) String() string {
	switch f {
	case Plain:
		return "plain"
	case Offset:
		return "offset"
	case Film:
		return "film"
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
	Readings         int     // readings the curve was fitted to; one at minute 0 says nothing and is none of them
	LeftOut          int     // readings before them, of the stream
	DegreesOfFreedom int     // Readings − fitted parameters
	LastMinutes      float64 // time of the last reading
	LastML           float64 // volume of the last reading

	SettlesAtML  float64 // V∞
	SettlesAtUML float64
	RatePerMin   float64 // k; 0 in the forms Settled and Film, which have no rate
	RateUPerMin  float64

	ResidualSDML float64 // s
	AICc         float64 // the smaller, the better the form describes all readings; +Inf where they are too few

	curve curve // in minutes and ml; zero in the form Settled
}

const (
	minReadings    = 3 // two parameters and one degree of freedom
	maxReadings    = 10000
	maxMinutes     = 1e7
	minLastMinutes = 1e-6
	maxML          = 1e9

	misreadShare = 0.02 // of the largest reading: a larger difference is no reading error (common practice, no source)
	maxRelativeU = 0.20 // of V∞, in a usable forecast
)

// Fit fits the form that AICc prefers; the plain one where there are not more
// readings than a form's parameters and two, of which AICc says nothing. Where it
// prefers a straight line, the drips do not tell where they end: ErrNotSettling.
// Rows may come in any order.
//
// The errors of the package say why readings give no forecast, and what to do.
func Fit(readings []Reading) (Result, error) {
	return fit(readings, Plain, even, Film, Offset)
}

// FitAs fits one form, Plain, Offset or Film, whatever the others would do. The
// plain form comes out as Settled where the readings do not tell its rate.
func FitAs(readings []Reading, form Form) (Result, error) {
	if form == Plain || form == Offset || form == Film {
		return fit(readings, form)
	}
	return Result{}, fmt.Errorf("the form %v is not one that is fitted by itself", form)
}

func fit(readings []Reading, forms ...Form) (Result, error) {
	s, err := newSeries(readings)
	if err != nil {
		return Result{}, err
	}
	var best candidate
	for i, form := range forms {
		if c := s.candidateOf(form); i == 0 || c.result.AICc < best.result.AICc {
			best = c
		}
	}
	if best.refusal != nil {
		return Result{}, best.refusal
	}
	return best.result, nil
}

// series is a checked, sorted set of readings after minute 0, with its scale.
type series struct {
	readings []Reading
	lastMin  float64
	topML    float64
}

func newSeries(readings []Reading) (series, error) {
	if err := checkEach(readings); err != nil {
		return series{}, err
	}
	sorted := slices.Clone(readings)
	slices.SortFunc(sorted, func(a, b Reading) int { return cmp.Compare(a.Minutes, b.Minutes) })
	s := series{readings: sorted}
	zeros := 0
	for _, r := range sorted {
		s.topML = max(s.topML, r.ML)
		s.lastMin = r.Minutes
		if r.Minutes == 0 {
			zeros++
		}
	}
	if err := s.check(len(sorted) - zeros); err != nil {
		return series{}, err
	}
	s.readings = sorted[zeros:]
	return s, nil
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

func (r Result) finite() bool {
	for _, x := range []float64{r.SettlesAtML, r.SettlesAtUML, r.RatePerMin, r.RateUPerMin, r.curve.offset, r.ResidualSDML} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
