package guide

import (
	"math"
	"strings"
	"testing"

	"garage/tundish/model/hydraulics"
	"garage/tundish/model/job"
	"garage/tundish/model/push"
)

// datasheet is the example with an oil of 100 mm²/s at 40 °C and 12 at 100 °C,
// invented.
var datasheet = example.with(script{job.OilKV40: {"100"}, job.OilKV100: {"12"}, job.HoseBore: {"6"}, job.HoseLength: {"1.5"}})

func pushOf(t *testing.T, sc script, tempC float64) push.Forecast {
	t.Helper()
	return newDrive(t, sc).until(job.PlanAccepted).Push(0, tempC)
}

// Worked by hand at 40 °C, where the viscosity is that of the data sheet, by
// the law of Hagen and Poiseuille (OpenStax College Physics, section 12.4) and
// ASTM D1250-80 table 54D for the density:
//
//	VCF(40) = exp(−0.01804(1 + 0.8·0.01804)) = 0.98187, ρ = 854.2 kg/m³
//	hold-up 42.4, charge 828.8 + 42.4 + 50 = 921.2, pre-load 930, at 40 °C 943.8 ml
//	R = 128·100e-6·854.2·1.5/(π·0.006⁴) = 4.028e9 Pa·s/m³
//	lift 854.2·9.80665·0.8 = 6.70 kPa, drive 50 − 6.70 = 43.30 kPa
//	t = 943.8e-6·4.028e9/43.30e3 = 87.8 s = 1.463 min
//	Re = 4·943.8e-6/87.8/(π·0.006·100e-6) = 22.8
func TestPushByHand(t *testing.T) {
	f := pushOf(t, datasheet, 40)
	if f.Tell != push.GetsThrough || f.FromGrade {
		t.Fatalf("%v (%s), from grade %v", f.Tell, f.Why, f.FromGrade)
	}
	near(t, "volume at 40 °C", f.VolumeML, 943.8, 0.1)
	low, high := f.Thin.Minutes, f.Thick.Minutes
	near(t, "minutes", low, 1.463, 0.002)
	near(t, "minutes", high, 1.463, 0.002)
	near(t, "Reynolds number", f.Thin.Reynolds, 22.8, 0.1)
	if f.Warmer != "" {
		t.Errorf("%q for a push of a minute and a half", f.Warmer)
	}
}

// A funnel has its head alone, 6.70 kPa instead of 43.30: 6.46 times as long.
func TestFunnelPushesByItsHeadAlone(t *testing.T) {
	byHand := pushOf(t, datasheet, 40)
	funnel := pushOf(t, datasheet.with(script{job.Filler: {"funnel"}}), 40)
	near(t, "ratio", funnel.Thin.Minutes/byHand.Thin.Minutes, 43.298/6.702, 0.005)
}

// As much air as oil at 50 kPa: the air falls to the lift's 6.7 kPa after
// 0.40 of the oil (law of Boyle, 43.3/(101.3 + 6.7)), so it must be restored.
func TestPressurisedVesselNeedsItsPressureBack(t *testing.T) {
	f := pushOf(t, datasheet.with(script{job.Filler: {"pressurised"}, job.VesselRating: {"100 kPa"}, job.PushPressure: {"50 kPa"}}), 40)
	held := pushOf(t, datasheet, 40)
	if f.Tell != push.GetsThrough || f.Restores < 1 || f.Thin.RestoresToFinish != 0 {
		t.Fatalf("%v, %d restorings", f.Tell, f.Restores)
	}
	if f.Thin.Minutes <= held.Thin.Minutes {
		t.Errorf("%v min with falling pressure, %v with it held", f.Thin.Minutes, held.Thin.Minutes)
	}
	if !strings.Contains(f.Text(), "pressure brought back") || len(f.Assumed) != 2 {
		t.Errorf("text %q, assumed %q", f.Text(), f.Assumed)
	}
}

func TestTooLittlePressureNeverLiftsTheOil(t *testing.T) {
	f := pushOf(t, datasheet.with(script{job.Filler: {"pressurised"}, job.VesselRating: {"100 kPa"}, job.PushPressure: {"5 kPa"}}), 40)
	if f.Tell != push.StallsOnTheWay || f.Text() != "does not start: the pressure does not lift the oil" {
		t.Errorf("%v: %q", f.Tell, f.Text())
	}
}

// A grade is a span: a data sheet whose oil is inside it must lie in the span.
func TestGradeIsASpanAboutADataSheet(t *testing.T) {
	grade := pushOf(t, example.with(script{job.OilGrade: {"75W-90"}}), 10)
	sheet := pushOf(t, example.with(script{job.OilGrade: {"75W-90"}, job.OilKV40: {"100"}, job.OilKV100: {"15"}}), 10)
	if !grade.FromGrade || sheet.FromGrade {
		t.Fatalf("from grade %v and %v", grade.FromGrade, sheet.FromGrade)
	}
	low, high := grade.Thin.Minutes, grade.Thick.Minutes
	if m := sheet.Thin.Minutes; !(low < m && m < high) {
		t.Errorf("%v min is not within %v to %v", m, low, high)
	}
	if got := grade.Text(); !strings.Contains(got, " to ") {
		t.Errorf("text %q is no span", got)
	}
}

// Cold oil is told to be warmed, and what that gains is what a push of warm oil
// takes.
func TestColdOilIsToldToBeWarmed(t *testing.T) {
	cold := pushOf(t, datasheet, 3)
	if !strings.HasPrefix(cold.Warmer, "Warm the oil to 25 °C: ") || !strings.HasSuffix(cold.Warmer, " instead of "+cold.Text()+".") {
		t.Fatalf("advice %q for a push of %s", cold.Warmer, cold.Text())
	}
	if warm := pushOf(t, datasheet, 25).Text(); !strings.Contains(cold.Warmer, " "+warm+" instead") {
		t.Errorf("advice %q, but at 25 °C it takes %s", cold.Warmer, warm)
	}
	us := pushOf(t,
		datasheet.with(script{job.DisplayUnits: {"us"}, job.Capacity: {"900 ml"}, job.OilTemperature: {"68"}, job.DrainedAmount: {"830 ml"},
			job.HoseBore: {"6 mm"}, job.HoseLength: {"1.5 m"}}), 3)
	if !strings.HasPrefix(us.Warmer, "Warm the oil to 77 °F: ") {
		t.Errorf("advice %q in US units", us.Warmer)
	}
}

func TestPushSaysWhyNot(t *testing.T) {
	for _, tt := range []struct {
		name  string
		sc    script
		tempC float64
		want  string
	}{
		{"no oil", example, 20, "cannot tell: neither grade nor viscosity of the oil is known"},
		{"no such grade", example.with(script{job.OilGrade: {"the blue one"}}), 20,
			`cannot tell: nothing is known of how thick "the blue one" is`},
		{"open grade", example.with(script{job.OilGrade: {"75W"}}), 20, "cannot tell: grade 75W alone does not say how thick the oil is"},
		{"no hose", datasheet.with(script{job.HoseBore: {"-"}}), 20, "cannot tell: bore and length of the hose are not known"},
		{"level port", datasheet.with(script{job.FillPath: {"level_port"}}), 20, "cannot tell: bore and length of the hose are not known"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f := pushOf(t, tt.sc, tt.tempC)
			if f.Tell != push.CannotTell || f.Text() != tt.want {
				t.Errorf("%v: %q, want %q", f.Tell, f.Text(), tt.want)
			}
		})
	}
	s := newDrive(t, datasheet).until(job.PlanAccepted)
	for _, tempC := range []float64{math.NaN(), math.Inf(1), -400, 900} {
		if f := s.Push(0, tempC); f.Tell != push.CannotTell || f.Why == "" {
			t.Errorf("at %v °C: %v, %q", tempC, f.Tell, f.Why)
		}
	}
	for _, round := range []int{-1, 1, 400} {
		if f := s.Push(round, 20); f.Tell != push.CannotTell {
			t.Errorf("round %d: %v", round, f.Tell)
		}
	}
	if f := newDrive(t, datasheet).state().Push(0, 20); f.Tell != push.CannotTell {
		t.Errorf("before anything is known: %v", f.Tell)
	}
}

// The second push is a small one.
func TestSecondPushIsItsOwn(t *testing.T) {
	d := newDrive(t, jobs["two pushes"].with(script{job.OilKV40: {"100"}, job.OilKV100: {"12"}}))
	d.until(job.Decision)
	d.until(job.NoTopic)
	s := d.state()
	first, second := s.Push(0, 20), s.Push(1, 20)
	if second.Tell != push.GetsThrough || second.VolumeML >= first.VolumeML/2 {
		t.Errorf("second push %v of %v ml after %v ml", second.Tell, second.VolumeML, first.VolumeML)
	}
}

// Before the second push is looked at, the unit holds what the first one left in it.
func TestInUnitBeforeTheSecondPush(t *testing.T) {
	s := newDrive(t, small).until(job.LoadedAmount)
	if _, ok := s.InUnitNow(); ok {
		t.Error("something is in before anything was loaded")
	}
	d := newDrive(t, small.with(script{job.LoadedAmount: {"560", "100"}, job.LeftInVessel: {"0", "0"}, job.Decision: {"add", "accept"}}))
	d.until(job.Decision)
	s = d.state()
	p, _ := s.Next()
	d.answer(s, p)
	for _, stop := range []job.Topic{job.LoadedAmount, job.LeftInVessel} {
		s = d.until(stop)
		if in, ok := s.InUnitNow(); !ok || s.Round() != 1 || in.Nominal != s.NetFill(0).Nominal || in.Nominal <= 0 {
			t.Errorf("round %d, at %v: %.1f ml, %v; want %.1f", s.Round(), stop, in.Nominal, ok, s.NetFill(0).Nominal)
		}
	}
}

func TestSpanOf(t *testing.T) {
	at := func(minutes float64) hydraulics.PushResult {
		return hydraulics.PushResult{Outcome: hydraulics.Finishes, Minutes: minutes}
	}
	for _, tt := range []struct {
		low, high float64
		want      string
	}{
		{5, 5, "5 min"}, {5, 12, "5 to 12 min"}, {0.5, 12, "30 s to 12 min"}, {30, 125, "30 min to 2 h 5 min"}, {0.2, 0.5, "12 to 30 s"},
	} {
		if got := push.SpanOf(at(tt.low), at(tt.high)); got != tt.want {
			t.Errorf("%v to %v min prints %q, want %q", tt.low, tt.high, got, tt.want)
		}
	}
}
