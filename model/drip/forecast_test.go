// This file checks the forecast of a fitted drain.

package drip

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestRemainingAndWaitAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, _, readings := drawDrain(t)
		r, err := Fit(readings)
		if err != nil {
			t.Fatal(err)
		}
		nowMin := r.LastMinutes * rapid.Float64Range(0, 2).Draw(t, "now")
		remaining, _, err := r.RemainingML(nowMin)
		if err != nil {
			t.Fatal(err)
		}
		if want := r.SettlesAtML * math.Exp(-r.RatePerMin*nowMin); math.Abs(remaining-want) > 1e-9*r.SettlesAtML {
			t.Fatalf("remaining %g, want %g", remaining, want)
		}
		later, _, _ := r.RemainingML(nowMin + r.LastMinutes/10)
		if !(later < remaining) {
			t.Fatalf("%g is to come, and later %g", remaining, later)
		}
		thresholdML := remaining * rapid.Float64Range(0.01, 3).Draw(t, "threshold")
		wait, err := r.WaitMin(nowMin, thresholdML)
		if err != nil {
			t.Fatal(err)
		}
		if thresholdML > remaining {
			if wait != 0 {
				t.Fatalf("wait %g though only %g of %g is to come", wait, remaining, thresholdML)
			}
			return
		}
		if then, _, _ := r.RemainingML(nowMin + wait); math.Abs(then-thresholdML) > 1e-9*thresholdML {
			t.Fatalf("after %g min %g is to come, want %g", wait, then, thresholdML)
		}
	})
}

// The uncertainty of what is to come is the one found by another road: refit with
// each reading moved a little, and sum the squares of what that does,
// u² = s² Σ (∂R/∂y_i)² + s². The two agree as far as the model is linear about the
// solution, which the small residuals of Misra1a (NIST StRD) make nearly so.
func TestRemainingUncertaintyMatchesMovedReadings(t *testing.T) {
	readings := loadMisra(t)
	base, err := FitAs(readings, Plain)
	if err != nil {
		t.Fatal(err)
	}
	for _, nowMin := range []float64{100, 760, 3000} {
		_, got, err := base.RemainingML(nowMin)
		if err != nil {
			t.Fatal(err)
		}
		sum := 1.0
		for i := range readings {
			const stepML = 1e-4
			moved := append([]Reading(nil), readings...)
			moved[i].ML += stepML
			up, err1 := FitAs(moved, Plain)
			moved[i].ML -= 2 * stepML
			down, err2 := FitAs(moved, Plain)
			if err1 != nil || err2 != nil {
				t.Fatal(err1, err2)
			}
			high, _, _ := up.RemainingML(nowMin)
			low, _, _ := down.RemainingML(nowMin)
			slope := (high - low) / (2 * stepML)
			sum += slope * slope
		}
		wantNear(t, "u of remaining", got, base.ResidualSDML*math.Sqrt(sum), 0.01)
	}
}

// The same road for the form with an offset, and for where it settles: u² = s² Σ (∂V∞/∂y_i)².
func TestOffsetUncertaintyMatchesMovedReadings(t *testing.T) {
	var readings []Reading
	for i := range 10 {
		scatterML := 0.3 * float64(i*7%5-2)
		readings = append(readings, Reading{1 + 2*float64(i), 750 - 80*math.Expm1(-0.15*2*float64(i)) + scatterML})
	}
	fit := func(readings []Reading) Result {
		s, err := newSeries(readings)
		if err != nil {
			t.Fatal(err)
		}
		c, ok := s.tail(Offset, 0)
		if !ok {
			t.Fatal("no fit")
		}
		return c.result
	}
	base := fit(readings)
	now := base.LastMinutes
	_, remainingU, _ := base.RemainingML(now)
	level, rate, remaining := 0.0, 0.0, 1.0
	for i := range readings {
		const stepML = 1e-4
		moved := append([]Reading(nil), readings...)
		moved[i].ML += stepML
		up := fit(moved)
		moved[i].ML -= 2 * stepML
		down := fit(moved)
		high, _, _ := up.RemainingML(now)
		low, _, _ := down.RemainingML(now)
		level += math.Pow((up.SettlesAtML-down.SettlesAtML)/(2*stepML), 2)
		rate += math.Pow((up.RatePerMin-down.RatePerMin)/(2*stepML), 2)
		remaining += math.Pow((high-low)/(2*stepML), 2)
	}
	wantNear(t, "u of where it settles", base.SettlesAtUML, base.ResidualSDML*math.Sqrt(level), 0.05)
	wantNear(t, "u of the rate", base.RateUPerMin, base.ResidualSDML*math.Sqrt(rate), 0.05)
	wantNear(t, "u of remaining", remainingU, base.ResidualSDML*math.Sqrt(remaining), 0.05)
}

// JCGM 100:2008, table G.2, for 95 %; where the table falls below 2, it is 2.
func TestCoverageFollowsStudent(t *testing.T) {
	for dof, want := range map[int]float64{1: 12.71, 2: 4.30, 3: 3.18, 4: 2.78, 5: 2.57, 10: 2.23, 50: 2.01, 100: 2, 9997: 2} {
		if got := (Result{DegreesOfFreedom: dof}).CoverageFactor(); math.Abs(got-want) > 0.0051 {
			t.Errorf("%d degrees of freedom: %.4f, want %g", dof, got, want)
		}
	}
	if got := (Result{}).CoverageFactor(); !math.IsInf(got, 1) {
		t.Errorf("of no fit: %g", got)
	}
}

func TestForecastRefusesInvalidTimes(t *testing.T) {
	r, err := Fit([]Reading{{5, 500}, {10, 690}, {15, 770}, {20, 800}}) // invented
	if err != nil {
		t.Fatal(err)
	}
	for _, now := range []float64{-1, math.NaN(), math.Inf(1), 1e8} {
		if ml, u, err := r.RemainingML(now); ml != 0 || u != 0 || err == nil || !strings.Contains(err.Error(), "minutes must be") {
			t.Errorf("remaining at %g: %g ± %g, %v", now, ml, u, err)
		}
		if _, err := r.WaitMin(now, 5); err == nil {
			t.Errorf("wait from %g accepted", now)
		}
	}
	for _, threshold := range []float64{0, -5, math.NaN(), math.Inf(1)} {
		if _, err := r.WaitMin(20, threshold); err == nil || !strings.Contains(err.Error(), "threshold ml must be") {
			t.Errorf("threshold %g: %v", threshold, err)
		}
	}
}

// A tail that is asked about long before it began has no answer rather than an
// infinite one.
func TestForecastFarBeforeTheDripsIsRefused(t *testing.T) {
	var readings []Reading
	for i := range 8 {
		minutes := 1000 + float64(i)
		readings = append(readings, Reading{minutes, 800 - 50*math.Expm1(-float64(i))})
	}
	r, err := Fit(readings)
	if err != nil || r.Form != Offset {
		t.Fatalf("form %v, %v", r.Form, err)
	}
	if ml, u, err := r.RemainingML(0); ml != 0 || u != 0 || err == nil {
		t.Errorf("got %g ± %g at minute 0", ml, u)
	}
}

func TestNoWaitBesideAnError(t *testing.T) {
	r, err := Fit([]Reading{{5, 400}, {10, 600}, {15, 700}, {20, 750}})
	if err != nil {
		t.Fatal(err)
	}
	for _, in := range [][2]float64{{-1, 5}, {math.NaN(), 5}, {10, 0}, {10, -1}} {
		if wait, err := r.WaitMin(in[0], in[1]); wait != 0 || err == nil {
			t.Errorf("minute %g, threshold %g: %g, %v", in[0], in[1], wait, err)
		}
	}
}

// The law of the film: what is to come is twice the time since the plug came out times the rate, and
// half of it at four times the time. Readings of a stream before it are left out, with the zero.
func TestFilmIsRecovered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		settlesAtML := rapid.Float64Range(300, 3000).Draw(t, "V")
		scale := rapid.Float64Range(20, 100).Draw(t, "c") // ml to come at 1 min
		ml := func(minutes float64) float64 { return settlesAtML - scale/math.Sqrt(minutes) }
		readings := []Reading{{0, 0}, {1, ml(2) * 0.6}}
		for i := range rapid.IntRange(6, 12).Draw(t, "n") {
			minutes := 2 + 3*float64(i)
			readings = append(readings, Reading{minutes, ml(minutes)})
		}
		r, err := Fit(rapid.Permutation(readings).Draw(t, "order"))
		if err != nil || r.Form != Film || r.LeftOut != 1 || r.DegreesOfFreedom != len(readings)-4 {
			t.Fatalf("%+v, %v", r, err)
		}
		if math.Abs(r.SettlesAtML-settlesAtML) > 1e-6 || r.RatePerMin != 0 {
			t.Fatalf("settles at %g, want %g; rate %g", r.SettlesAtML, settlesAtML, r.RatePerMin)
		}
		now := r.LastMinutes
		remaining, _, err := r.RemainingML(now)
		rate := (ml(now+0.01) - ml(now-0.01)) / 0.02
		if err != nil || math.Abs(remaining-2*now*rate) > 1e-4*remaining {
			t.Fatalf("to come %g, want %g (%v)", remaining, 2*now*rate, err)
		}
		if later, _, err := r.RemainingML(4 * now); err != nil || math.Abs(later-remaining/2) > 1e-9*remaining {
			t.Fatalf("%g at four times the time, want half of %g (%v)", later, remaining, err)
		}
		if wait, err := r.WaitMin(now, remaining/2); err != nil || math.Abs(wait-3*now) > 1e-6 {
			t.Fatalf("wait %g for half, want %g (%v)", wait, 3*now, err)
		}
		if _, _, err := r.RemainingML(0); err == nil {
			t.Fatal("something is told of minute 0")
		}
	})
}
