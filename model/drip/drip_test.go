// This file checks the fit against curves made here, whose answer is known, and
// checks what is refused.

package drip

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// drawDrain draws a drain and exact readings of it that reach from a tenth to all
// but e⁻²⁰ of its curve.
func drawDrain(t *rapid.T) (settlesAtML, ratePerMin float64, readings []Reading) {
	settlesAtML = math.Pow(10, rapid.Float64Range(-2, 6).Draw(t, "log V"))
	lastMin := math.Pow(10, rapid.Float64Range(-2, 4).Draw(t, "log t"))
	ratePerMin = rapid.Float64Range(0.1, 20).Draw(t, "kt") / lastMin
	n := rapid.IntRange(3, 20).Draw(t, "n")
	for i := range n {
		minutes := lastMin * float64(i+1) / float64(n)
		readings = append(readings, Reading{minutes, -settlesAtML * math.Expm1(-ratePerMin*minutes)})
	}
	return settlesAtML, ratePerMin, readings
}

func TestExactPlainReadingsAreRecovered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wantML, wantRate, readings := drawDrain(t)
		readings = rapid.Permutation(readings).Draw(t, "order")
		r, err := Fit(readings)
		if err != nil {
			t.Fatal(err)
		}
		if r.Form != Plain {
			t.Fatalf("form %v", r.Form)
		}
		if math.Abs(r.SettlesAtML-wantML) > 1e-9*wantML || math.Abs(r.RatePerMin-wantRate) > 1e-9*wantRate {
			t.Fatalf("got %g at %g, want %g at %g", r.SettlesAtML, r.RatePerMin, wantML, wantRate)
		}
	})
}

// Readings taken while the stream ran, until minute 2, stay out of the fit of the
// drips, and so does the zero at minute 0.
func TestOffsetIsRecoveredOnceTheStreamHasBroken(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		streamML := rapid.Float64Range(300, 900).Draw(t, "stream")
		dripsML := rapid.Float64Range(20, 150).Draw(t, "drips")
		rate := rapid.Float64Range(0.1, 0.5).Draw(t, "k")
		readings := []Reading{{0, 0}, {0.5, streamML / 4}, {1, streamML / 2}}
		for i := range rapid.IntRange(6, 12).Draw(t, "n") {
			minutes := 2 + 1.5*float64(i)
			readings = append(readings, Reading{minutes, streamML - dripsML*math.Expm1(-rate*(minutes-2))})
		}
		r, err := Fit(readings)
		if err != nil {
			t.Fatal(err)
		}
		if r.Form != Offset || r.curve.start != 2 {
			t.Fatalf("form %v from minute %g", r.Form, r.curve.start)
		}
		if math.Abs(r.SettlesAtML-streamML-dripsML) > 1e-6 || math.Abs(r.RatePerMin-rate) > 1e-7 {
			t.Fatalf("got %g at %g, want %g at %g", r.SettlesAtML, r.RatePerMin, streamML+dripsML, rate)
		}
		last := r.LastMinutes
		remaining, _, err := r.RemainingML(last)
		if want := dripsML * math.Exp(-rate*(last-2)); err != nil || math.Abs(remaining-want) > 1e-6 {
			t.Fatalf("remaining %g, want %g (%v)", remaining, want, err)
		}
	})
}

// AICc divides by n−K−1, K being the parameters and the scatter: it takes one reading more than
// the parameters and two.
func TestFormsNeedMoreReadingsThanParametersAndTwo(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	drain := func(n int, ml func(minutes float64) float64) (readings []Reading) {
		for i := range n {
			minutes := 1 + 3*float64(i)
			readings = append(readings, Reading{minutes, ml(minutes) + 0.01*random.NormFloat64()})
		}
		return readings
	}
	offset := func(minutes float64) float64 { return 700 - 100*math.Expm1(-0.2*(minutes-1)) }
	film := func(minutes float64) float64 { return 830 - 60/math.Sqrt(minutes) }
	for _, tt := range []struct {
		name     string
		readings []Reading
		want     Form
	}{
		{"offset, 6", drain(6, offset), Offset},
		{"film, 5", drain(5, film), Film},
	} {
		if r, err := Fit(tt.readings); err != nil || r.Form != tt.want {
			t.Errorf("%s: form %v, %v, want %v", tt.name, r.Form, err, tt.want)
		}
	}
	if r, err := Fit(drain(4, film)); err != nil || r.Form != Plain {
		t.Errorf("film, 4 readings: form %v, %v, want plain", r.Form, err)
	}
	if r, err := Fit(drain(5, offset)); !errors.Is(err, ErrMisfit) {
		t.Errorf("offset, 5 readings: form %v, %v, want ErrMisfit", r.Form, err)
	}
	for form, least := range map[Form]int{Plain: 3, Film: 3, Offset: 4} {
		if _, err := FitAs(drain(least, film), form); err != nil && !errors.Is(err, ErrMisfit) {
			t.Errorf("%v form alone, %d readings: %v", form, least, err)
		}
		if _, err := FitAs(drain(least-1, film), form); !errors.Is(err, ErrTooFew) {
			t.Errorf("%v form alone, %d readings: %v, want ErrTooFew", form, least-1, err)
		}
	}
}

// By hand: n ln(RSS/n) + 2K + 2K(K+1)/(n−K−1) with n = 8, RSS = 2 ml², K = 3 of two parameters,
// and K = 4 with one reading left out.
func TestAICcByHand(t *testing.T) {
	s := series{readings: make([]Reading, 8), topML: 1}
	for leftOut, want := range []float64{8*math.Log(0.25) + 6 + 24.0/4, 8*math.Log(0.25) + 8 + 40.0/3} {
		if got := s.aicc(2, 2, leftOut); math.Abs(got-want) > 1e-9 {
			t.Errorf("%d left out: %.6f, want %.6f", leftOut, got, want)
		}
	}
	if got := s.aicc(2, 3, 3); !math.IsInf(got, 1) {
		t.Errorf("K = 7 of 8 readings: %g, want +Inf", got)
	}
}

func TestOnlyThreeFormsAreFittedAlone(t *testing.T) {
	readings := []Reading{{5, 500}, {10, 650}, {15, 700}, {20, 720}}
	for _, form := range []Form{0, Settled, even, 99} {
		if r, err := FitAs(readings, form); err == nil || r != (Result{}) {
			t.Errorf("form %v: %+v, %v", form, r, err)
		}
	}
}

func TestLevelReadingsAreSettled(t *testing.T) {
	tests := []struct {
		name         string
		readings     []Reading
		settlesAtML  float64 // the plain mean
		settlesAtUML float64 // s/√n
		remainingUML float64 // s
		dof          int
	}{
		{"equal", []Reading{{5, 830}, {10, 830}, {15, 830}}, 830, 0, 0, 2},
		{"zero at minute 0 left out", []Reading{{0, 0}, {5, 830}, {10, 830}, {15, 830}}, 830, 0, 0, 2},
		{"scatter about a level", []Reading{{10, 831}, {12, 829}, {14, 830}}, 830, 1 / math.Sqrt(3), 1, 2},
		// 5/6, −5/3 and 5/6 from the mean of 830 1/6.
		{"the last somewhat higher", []Reading{{10, 831}, {12, 828.5}, {14, 831}}, 830 + 1./6, 5. / 6, 5 / math.Sqrt(12), 2},
	}
	for _, tt := range tests {
		r, err := Fit(tt.readings)
		if err != nil || r.Form != Settled {
			t.Errorf("%s: form %v, %v", tt.name, r.Form, err)
			continue
		}
		remaining, u, _ := r.RemainingML(r.LastMinutes)
		wait, _ := r.WaitMin(r.LastMinutes, 5)
		if math.Abs(r.SettlesAtML-tt.settlesAtML) > 1e-9 || math.Abs(r.SettlesAtUML-tt.settlesAtUML) > 1e-9 ||
			r.DegreesOfFreedom != tt.dof || remaining != 0 || math.Abs(u-tt.remainingUML) > 1e-9 || wait != 0 {
			t.Errorf("%s: %+v, remaining %g ± %g, wait %g", tt.name, r, remaining, u, wait)
		}
	}
}

// Readings about a level, which a meaningless curve would fit a little better: one whose rate
// is not known at all, one that runs backward.
func TestLevelReadingsAreNotBent(t *testing.T) {
	for _, readings := range [][]Reading{
		{{4, 753}, {5, 756.5}, {16, 750.5}, {24, 752.5}, {25, 752.5}, {27, 751}, {30, 755.5}},
		{{5, 790}, {10, 783}, {15, 779}, {20, 777}, {25, 776}, {30, 775.5}},
	} {
		if r, err := Fit(readings); err != nil || r.Form != Settled {
			t.Errorf("%v: %+v, %v", readings, r, err)
		}
	}
}

// A form that is asked for alone is refused where the readings do not tell its parameters.
func TestFormsAloneRefuse(t *testing.T) {
	for _, tt := range []struct {
		name     string
		readings []Reading
		form     Form
	}{
		{"level", []Reading{{5, 830}, {10, 831}, {15, 830}, {20, 829}, {25, 830}, {30, 830}}, Offset},
		{"a rate not told, V∞ near enough", []Reading{{5, 749}, {10, 750}, {15, 752}, {20, 751}, {25, 748}, {30, 752}}, Offset},
		{"falling", []Reading{{5, 790}, {10, 783}, {15, 779}, {20, 777}, {25, 776}}, Film},
		{"from below nothing", []Reading{{1, 0}, {2, 500}, {3, 600}, {4, 650}}, Film},
	} {
		if r, err := FitAs(tt.readings, tt.form); !errors.Is(err, ErrMisfit) || r != (Result{}) {
			t.Errorf("%s, %v: %+v, %v, want ErrMisfit", tt.name, tt.form, r, err)
		}
	}
}

// Readings that creep up by no more than the jug is misread are not told to be running.
func TestASmallRiseIsNoRun(t *testing.T) {
	creeping := []Reading{{5, 830}, {10, 831}, {15, 831}, {20, 832}, {25, 833}, {30, 833}}
	if s, err := newSeries(creeping); err != nil || s.tails(even).result.AICc < math.Inf(1) {
		t.Errorf("a straight line is a candidate (%v)", err)
	}
	if r, err := Fit(creeping); err != nil || r.SettlesAtML > 850 {
		t.Errorf("%+v, %v", r, err)
	}
}

// A clock that was started 100 minutes too early: the plain form is a straight line at best, and no worse one counts.
func TestLateStartIsAnOffset(t *testing.T) {
	var readings []Reading
	for since := 0.0; since < 16; since += 2 {
		readings = append(readings, Reading{100 + since, -400 * math.Expm1(-0.2*(since+1))})
	}
	if r, err := Fit(readings); err != nil || r.Form != Offset || math.Abs(r.SettlesAtML-400) > 1e-6 {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestRefusals(t *testing.T) {
	line := []Reading{{5, 100}, {10, 200}, {15, 300}}
	tests := []struct {
		name     string
		readings []Reading
		want     error
		says     string
	}{
		{"none", nil, ErrTooFew, "read again in 5 minutes"},
		{"two", []Reading{{10, 600}, {30, 700}}, ErrTooFew, "read again in 15 minutes"},
		{"two and the zero", []Reading{{0, 0}, {5, 600}, {10, 700}}, ErrTooFew, "2 after minute 0"},
		{"straight line", line, ErrNotSettling, "read again in 8 minutes"},
		{"straight line, rough", []Reading{{5, 100}, {10, 205}, {15, 297}, {20, 401}}, ErrNotSettling, "read again"},
		{"ever faster", []Reading{{5, 100}, {10, 250}, {15, 450}}, ErrNotSettling, "read again"},
		{"falls", []Reading{{5, 700}, {10, 800}, {15, 650}}, ErrFalling, "from 800 ml at minute 10 to 650 ml at minute 15"},
		{"falls bit by bit", []Reading{{5, 800}, {10, 790}, {15, 781}}, ErrFalling, "to 781 ml at minute 15"},
		{"same time", []Reading{{5, 700}, {10, 800}, {5, 710}, {15, 810}}, ErrSameTime, "minute 5"},
		{"nothing out", []Reading{{5, 0}, {10, 0}, {15, 0}}, ErrNothingOut, "check that the port is open"},
		{"negative time", []Reading{{-5, 1}, {10, 2}, {15, 3}}, errReading, "minutes of reading 1 must be"},
		{"negative volume", []Reading{{5, 1}, {10, -2}, {15, 3}}, errReading, "ml of reading 2 must be"},
		{"time not a number", []Reading{{math.NaN(), 1}}, errReading, "minutes of reading 1"},
		{"infinite volume", []Reading{{5, math.Inf(1)}}, errReading, "ml of reading 1"},
		{"time too long", []Reading{{1e8, 5}}, errReading, "from 0 to 10000000"},
		{"time too short", []Reading{{1e-9, 5}, {2e-9, 6}, {3e-9, 7}}, errReading, "at least 1e-06"},
		{"too many", make([]Reading, 10001), errTooMany, "at most 10000"},
		{"nearly straight", []Reading{{5, 77}, {10, 154}, {15, 226}, {20, 281}}, ErrNotSettling, "read again in 10"}, // V∞ ± 26 %
		{"level, but for too much scatter", []Reading{{5, 759}, {19, 745}, {26, 782}}, ErrMisfit, "read again"},
		{"nearly straight, with an offset", []Reading{{1, 758}, {2, 761}, {9, 768.5}, {13, 779.5}, {15, 774.5}, {16, 783}, {21,
			776}, {25, 788.5}}, ErrNotSettling, "read again in 13"},
		{"still rising after the curve has ended", []Reading{{2, 769.5}, {8, 812.5}, {15, 817}, {21, 834.5}}, ErrMisfit,
			"read again in 11"},
		{"scatters about any curve", []Reading{{5, 798}, {10, 784}, {15, 795}, {20, 792}, {25, 817}, {30, 808}}, ErrMisfit,
			"read again in 15"},
		{"bends twice", []Reading{{1, 760}, {2, 790}, {5, 810}}, ErrMisfit, "go on to 6 readings"},
	}
	for _, tt := range tests {
		r, err := Fit(tt.readings)
		if !errors.Is(err, tt.want) || r != (Result{}) {
			t.Errorf("%s: got %+v, %v; want %v", tt.name, r, err, tt.want)
			continue
		}
		text := err.Error()
		if more := errors.Is(err, ErrMisfit) && len(tt.readings) < 6; strings.Contains(text, "go on to 6 readings") != more {
			t.Errorf("%s, %d readings: %q", tt.name, len(tt.readings), text)
		}
		if !strings.Contains(text, tt.says) || strings.ContainsAny(text, "\n") || strings.HasSuffix(text, ".") {
			t.Errorf("%s: %q does not say %q on one line", tt.name, text, tt.says)
		}
	}
}

// simulated is a drain of known form, with Gaussian reading errors, read from one minute to another.
type simulated struct {
	form     Form
	ml       func(minutes float64) float64
	from, to float64
	endML    float64
}

func simulatedDrains() []simulated {
	return []simulated{
		{Plain, func(t float64) float64 { return -830 * math.Expm1(-0.15*t) }, 1.5, 20, 830},
		{Offset, func(t float64) float64 { return 700 - 100*math.Expm1(-0.2*(t-1)) }, 1, 16, 800},
		{Film, func(t float64) float64 { return 830 - 100/math.Sqrt(t) }, 3, 30, 830},
	}
}

func (d simulated) readings(n int, sdML float64, random *rand.Rand) (readings []Reading) {
	for i := range n {
		minutes := d.from + (d.to-d.from)*float64(i)/float64(n-1)
		readings = append(readings, Reading{minutes, d.ml(minutes) + sdML*random.NormFloat64()})
	}
	return readings
}

// ± CoverageFactor·u covers where the drain settles 19 times in 20, however few the readings: 95 % of 400 drains
// of the form that is fitted, give or take five binomial standard deviations (4.36 = √(400·0.95·0.05)). What is
// still to come is covered no less: its ± has the scatter of a reading of the jug in it.
func TestUncertaintyCoversTheTrueValue(t *testing.T) {
	const runs, want, slack = 400, 0.95 * 400, 5 * 4.36
	for _, d := range simulatedDrains() {
		for _, n := range []int{3, 4, 5, 6, 10, 20} {
			if n < d.form.parameters()+1 {
				continue
			}
			random := rand.New(rand.NewPCG(7, 7))
			covered, coveredToCome := 0, 0
			for range runs {
				r, err := FitAs(d.readings(n, 0.5, random), d.form)
				if err != nil {
					t.Fatal(err)
				}
				k := r.CoverageFactor()
				if math.Abs(r.SettlesAtML-d.endML) <= k*r.SettlesAtUML {
					covered++
				}
				remaining, u, err := r.RemainingML(d.to)
				if err == nil && math.Abs(remaining-(d.endML-d.ml(d.to))) <= k*u {
					coveredToCome++
				}
			}
			if math.Abs(float64(covered)-want) > slack || float64(coveredToCome) < want-slack {
				t.Errorf("%v, %d readings: covered %d and %d of %d, want %.0f ± %.0f", d.form, n, covered, coveredToCome, runs, want, slack)
			}
		}
	}
}

// The choice by AICc finds the form nine times in ten with 12 readings, and the ± is then still right about so often.
// Seen: found in 94, 99 and 99 of 100, covered in 92, 92 and 91.
func TestChoiceFindsTheForm(t *testing.T) {
	const runs = 400
	for _, d := range simulatedDrains() {
		random := rand.New(rand.NewPCG(3, 9))
		found, covered := 0, 0
		for range runs {
			r, err := Fit(d.readings(12, 0.5, random))
			if err == nil && r.Form == d.form {
				found++
			}
			if err == nil && math.Abs(r.SettlesAtML-d.endML) <= r.CoverageFactor()*r.SettlesAtUML {
				covered++
			}
		}
		if found < runs*85/100 || covered < runs*85/100 {
			t.Errorf("%v: found %d, covered %d of %d", d.form, found, covered, runs)
		}
	}
}

// Readings while a stream still ran are left out though they lie only a little off the
// curve of the drips: 4, 8 and 12 ml, read to 0.5 ml.
func TestAWeakStreamIsLeftOut(t *testing.T) {
	const runs = 300
	random := rand.New(rand.NewPCG(5, 6))
	leftOut := 0
	for range runs {
		readings := []Reading{{0.5, 688}, {1, 692}, {1.5, 696}}
		for i := range 9 {
			since := 1.5 * float64(i)
			readings = append(readings, Reading{2 + since, 700 - 100*math.Expm1(-0.2*since) + 0.5*random.NormFloat64()})
		}
		if r, err := Fit(readings); err == nil && r.Form == Offset && r.curve.start >= 2 {
			leftOut++
		}
	}
	if leftOut < runs*95/100 {
		t.Errorf("left out in %d of %d drains", leftOut, runs)
	}
}

// Readings of curves that settle at 800 ml, with 0.4 ml of scatter and in half millilitres: the last ones alone are fitted a
// little better with an offset, but not significantly. The figures are simulated.
func TestRoundingIsNotTakenForAnOffset(t *testing.T) {
	for _, readings := range [][]Reading{
		{{20, 431.5}, {30, 549}, {40, 629.5}, {50, 683.5}, {60, 721.5}, {70, 747}, {80, 764}, {90, 775.5}},
		{{20, 600}, {30, 699}, {40, 750}, {50, 775.5}, {60, 787.5}, {70, 794}, {80, 796.5}, {90, 798}},
	} {
		if r, err := Fit(readings); err != nil || r.Form != Plain || math.Abs(r.SettlesAtML-800) > 1 {
			t.Errorf("%v: %v form settles at %g ml, %v", readings, r.Form, r.SettlesAtML, err)
		}
	}
}
