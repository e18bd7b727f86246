package oil

// Checks of the SAE grades: reading them, their limits, and the range they stand for.

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// SAE J306, February 2019, as restated on pmlubrication.com.au/charts.
func TestGradeLimitsPublished(t *testing.T) {
	for text, want := range map[string]kvLimits{
		"70W": {3.8, 0}, "75W": {3.8, 0}, "80W": {8.5, 0}, "85W": {11.0, 0},
		"SAE 65": {3.8, 5.0}, "SAE 70": {5.0, 6.5}, "SAE 75": {6.5, 8.5}, "SAE 80": {8.5, 11.0},
		"SAE 85": {11.0, 13.5}, "SAE 90": {13.5, 18.5}, "SAE 110": {18.5, 24.0}, "SAE 140": {24.0, 32.5},
		"SAE 190": {32.5, 41.0}, "SAE 250": {41.0, 0},
		// A pair has to meet both lines of the table.
		"75W-90": {13.5, 18.5}, "85W-140": {24.0, 32.5}, "80W-80": {8.5, 11.0}, "75W-65": {3.8, 5.0},
	} {
		g, err := ParseGrade(text)
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		if got, err := g.kv100(); err != nil || got != want {
			t.Errorf("%s: %+v, %v; want %+v", text, got, err, want)
		}
	}
}

func TestParseGrade(t *testing.T) {
	for text, want := range map[string]Grade{
		"75W-90": {75, 90}, "75w90": {75, 90}, "75 W 90": {75, 90}, "75W/90": {75, 90}, "75W–90": {75, 90},
		" GL-5  75W90 LS ": {75, 90}, "API GL-4, SAE 80W-90": {80, 90}, "synthetic 75W-140 GL5": {75, 140},
		"SAE 90": {0, 90}, "sae90": {}, "90": {0, 90}, "SAE 90 GL-4": {0, 90}, "GL-4 SAE 90": {0, 90}, "GL 5 140": {0, 140},
		"80W": {80, 0}, "SAE 75W GL-4": {75, 0},
		"": {}, "ATF": {}, "ATF 134": {}, "type III": {}, "GL-5": {}, "oil 90": {}, "10W-40": {}, "75W-95": {},
		"75W-900": {}, "75W-9": {}, "85W-80": {}, "80W-75": {}, "75WX": {}, "X75W-90": {}, "0": {}, "SAE 0": {},
		"75W-90 or 80W-90": {}, "-90": {}, "+90": {}, "9e1": {}, "99999999999999999999": {}, "99999999999999999999W-90": {},
		"90W-75": {}, "SAE SAE": {}, "75W-0": {},
	} {
		got, err := ParseGrade(text)
		if got != want || (err == nil) != (want != Grade{}) {
			t.Errorf("%q read as %v, %v; want %v", text, got, err, want)
		}
		if err != nil && !errors.Is(err, errGradeNotKnown) {
			t.Errorf("%q: %v does not say that the grade is not known", text, err)
		}
	}
}

func FuzzParseGrade(f *testing.F) {
	for _, seed := range []string{"75W-90", "GL-5 80w90", "SAE 90", "85W/140", "ATF 134", "75 W", "\x00", "７５W-90", "75W-90 75W-90"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		grade, err := ParseGrade(text)
		if err != nil {
			if grade != (Grade{}) || !errors.Is(err, errGradeNotKnown) {
				t.Fatalf("%q: %v with %v", text, err, grade)
			}
			return
		}
		again, err := ParseGrade(grade.String())
		if err != nil || again != grade {
			t.Fatalf("%q read as %v, and that as %v, %v", text, grade, again, err)
		}
	})
}

// Typical data sheet values of gear oils, from memory: each must lie in the range that its
// grade alone gives, or the assumed viscosity index is too narrow.
func TestRangeHoldsTypicalOils(t *testing.T) {
	for _, row := range []struct {
		grade             string
		kv40CSt, kv100CSt float64
	}{
		{"75W-80", 45, 8.6}, {"75W-80", 60, 10}, {"75W-90", 75, 14}, {"75W-90", 115, 17},
		{"80W-90", 130, 14}, {"80W-90", 150, 15}, {"75W-140", 165, 24}, {"75W-140", 190, 26},
		{"85W-140", 310, 25}, {"85W-140", 380, 28}, {"SAE 90", 190, 17},
	} {
		g, err := ParseGrade(row.grade)
		if err != nil {
			t.Fatal(err)
		}
		o := Oil{Rho15KgM3: 885, KV40CSt: row.kv40CSt, KV100CSt: row.kv100CSt}
		for _, tempC := range []float64{0, 20, 40, 100, 120} {
			low, high, errRange := g.ViscosityRangeAt(tempC)
			kvCSt, err := o.ViscosityAt(tempC)
			if errRange != nil || err != nil || kvCSt < low || kvCSt > high {
				t.Errorf("%s, %g/%g: %.1f cSt at %g °C, range %.1f to %.1f (%v, %v)", row.grade, row.kv40CSt, row.kv100CSt,
					kvCSt, tempC, low, high, errRange, err)
			}
		}
	}
}

// What is taken for an index, common practice without a source.
func TestAssumedIndex(t *testing.T) {
	for g, want := range map[Grade][2]float64{
		{70, 75}: {130, 200}, {75, 90}: {130, 200}, {80, 90}: {90, 140}, {85, 140}: {90, 140}, {0, 90}: {80, 120},
	} {
		if low, high := g.AssumedIndex(); low != want[0] || high != want[1] {
			t.Errorf("%v: %g to %g, want %v", g, low, high, want)
		}
	}
}

func TestRangeAt100IsTheStandard(t *testing.T) {
	low, high, err := Grade{75, 90}.ViscosityRangeAt(100)
	if err != nil || math.Abs(low-13.5) > 1e-9 || math.Abs(high-18.5) > 1e-9 {
		t.Errorf("%v to %v, %v; want 13.5 to 18.5", low, high, err)
	}
}

func TestEndsBoundTheRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		winter := rapid.SampledFrom([]int{0, 70, 75, 80, 85}).Draw(t, "winter")
		number := rapid.SampledFrom([]int{65, 70, 75, 80, 85, 90, 110, 140, 190}).Draw(t, "number")
		g := Grade{winter, number}
		thin, thick, err := g.Extremes(880)
		if err != nil {
			t.Skip("no such grade")
		}
		tempC := rapid.Float64Range(0, 100).Draw(t, "temp")
		low, high, err := g.ViscosityRangeAt(tempC)
		if err != nil {
			t.Fatal(err)
		}
		kvThin, _ := thin.ViscosityAt(tempC)
		kvThick, _ := thick.ViscosityAt(tempC)
		if math.Abs(kvThin/low-1) > 1e-9 || math.Abs(kvThick/high-1) > 1e-9 {
			t.Fatalf("%s at %v °C: ends %v and %v, range %v to %v", g, tempC, kvThin, kvThick, low, high)
		}
	})
}

func TestRangeRefusals(t *testing.T) {
	for _, g := range []Grade{{75, 0}, {0, 250}, {85, 250}} {
		if _, _, err := g.ViscosityRangeAt(20); !errors.Is(err, errNoUpperLimit) {
			t.Errorf("%s: %v, want that it has no upper limit", g, err)
		}
	}
	for _, g := range []Grade{{}, {10, 40}, {85, 80}, {75, -1}, {-1, 90}} {
		if _, _, err := g.ViscosityRangeAt(20); !errors.Is(err, errGradeNotKnown) {
			t.Errorf("%v: %v, want that it is not known", g, err)
		}
	}
	if _, _, err := (Grade{75, 90}).ViscosityRangeAt(math.NaN()); err == nil {
		t.Error("a temperature that is not a number was accepted")
	}
	if _, _, err := (Grade{75, 90}).Extremes(0); err == nil {
		t.Error("a density of 0 was accepted")
	}
}

func TestTwoGradesOnOneBottleAreRefused(t *testing.T) {
	_, err := ParseGrade("75W-90 or 80W-90")
	if !errors.Is(err, errGradeNotKnown) || !strings.Contains(err.Error(), "more than one grade") {
		t.Errorf("%v", err)
	}
}
