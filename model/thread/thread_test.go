package thread

// Checks of the ranges of torque, and of units that were mistaken.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

func TestMetricThreadIsFoundInWhatAPersonWrote(t *testing.T) {
	for text, want := range map[string]float64{
		"M18x1.5": 18, "m 20 x 1,5": 20, "M8": 8, "M10×1": 10, "plug M14*1.5, copper": 14, "M22/1.5": 22,
		"3/8 NPT": 0, "": 0, "18": 0, "G 1/2": 0, "M180": 0, "RM12x1": 0,
	} {
		if got := MetricMM(text); got != want {
			t.Errorf("%q: M%g, want %g", text, got, want)
		}
	}
}

// Torques that two works standards publish for plugs in steel or grey cast iron and in light alloy, N·m: MTN 5183-1, plugs of DIN 908, 910
// and 7604 with a copper ring, and MTN 5183-6. None of them may be asked about.
func TestPublishedTorquesAreUsual(t *testing.T) {
	for _, row := range []struct {
		thread string
		nm     []float64
	}{
		{"M10x1", []float64{15, 15, 20, 10}}, {"M12x1.5", []float64{35, 25, 35, 14}}, {"M14x1.5", []float64{35, 25, 45, 15}},
		{"M16x1.5", []float64{40, 30, 55, 18}}, {"M18x1.5", []float64{50, 35, 70, 23}}, {"M20x1.5", []float64{55, 45}},
		{"M22x1.5", []float64{60, 50, 100, 33}}, {"M24x1.5", []float64{70, 60}}, {"M26x1.5", []float64{80, 70}},
		{"M27x2", []float64{80, 70, 170, 57}}, {"M30x1.5", []float64{100, 90}}, {"M30x2", []float64{95, 85}},
		// Of vehicles, as gathered from makers' pages, some without their thread.
		{"M8", []float64{16}}, {"M14x1.5", []float64{23, 42, 16, 18}}, {"", []float64{8, 15, 20, 17, 39, 24, 44, 35, 45, 40, 60, 80}},
	} {
		for _, nm := range row.nm {
			if got := RangeOf(row.thread).Judge(nm); got != Usual {
				t.Errorf("%s at %g N·m: finding %d, want usual", row.thread, nm, got)
			}
		}
	}
}

// Where a torque is asked about and where it is refused: judgement, but for what is too much, the top of a maker's general table for
// steel bolts (M10, M12, M14, M16, M18, M20; above M20 as M20). Up to each limit, and just beyond it. A thread between two sizes is
// judged as the larger.
func TestLimitsOfTorque(t *testing.T) {
	for _, row := range []struct {
		threads                            string
		refuseBelow, askBelow, above, most float64
	}{
		{"M8 M9 M10", 3, 8, 25, 34}, {"M11 M12", 4, 10, 45, 61}, {"M13 M14", 5, 12, 55, 98}, {"M15 M16", 6, 14, 65, 155},
		{"M17 M18", 6, 16, 85, 225}, {"M19 M20 M22", 8, 20, 110, 325}, {"M23 M24 M27 M30", 8, 25, 180, 325},
		{"M7 M31 M42 G1/2", 3, 8, 100, 325}, // none of the table
	} {
		for _, thread := range strings.Fields(row.threads) {
			r := RangeOf(thread)
			for nm, want := range map[float64]Finding{
				0.999 * row.refuseBelow: Refused, row.refuseBelow: Doubted, 0.999 * row.askBelow: Doubted, row.askBelow: Usual,
				row.above: Usual, 1.001 * row.above: Doubted, row.most: Doubted, 1.001 * row.most: Refused,
			} {
				if got := r.Judge(nm); got != want {
					t.Errorf("%s at %g N·m: finding %d, want %d", thread, nm, got, want)
				}
			}
		}
	}
}

// The units that are mistaken for N·m, to the digits of NIST SP 811, appendix B.8.
func TestSlipsAreOfTheUnitsPublished(t *testing.T) {
	if got := RangeOf("").Slips(95); len(got) > 0 { // 9.3 in kgf·cm, but usual as it stands
		t.Errorf("a usual torque may be %v", got)
	}
	for _, row := range []struct {
		nm   float64
		want []Slip
	}{
		{4, []Slip{{"kgf·m", 39.2266}}}, {200, []Slip{{"kgf·cm", 19.6133}, {"lbf·in", 22.5969658}}},
	} {
		if got := RangeOf("M14").Slips(row.nm); !slices.EqualFunc(got, row.want, func(a, b Slip) bool {
			return a.Unit == b.Unit && math.Abs(a.Nm-b.Nm) < 1e-7
		}) {
			t.Errorf("%g: %v, want %v", row.nm, got, row.want)
		}
	}
}

// Cases G3 to G6. 2.3 and 204 are of kgf·m and kgf·cm, 180 of lbf·in; 29 lbf·ft typed as N·m is found
// by nobody.
func TestTorqueInAnotherUnit(t *testing.T) {
	for _, row := range []struct {
		thread string
		nm     float64
		want   Finding
		slips  string
	}{
		{"M14x1.5", 2.3, Refused, "kgf·m 23"},
		{"M14x1.5", 204, Refused, "kgf·cm 20, lbf·in 23"}, // two units that the figure does not tell apart
		{"M18x1.5", 180, Doubted, "kgf·cm 18, lbf·in 20"},
		{"M18x1.5", 29, Usual, ""},
		{"M14x1.5", 4.9, Refused, "kgf·m 48"},
		{"M14x1.5", 5, Doubted, "kgf·m 49"},
		{"M14x1.5", 12, Usual, ""},
		{"M14x1.5", 55, Usual, ""},
		{"M14x1.5", 56, Doubted, ""},
		{"M14x1.5", 99, Refused, ""},
		{"3/8 NPT", 7.9, Doubted, "kgf·m 77"},
		{"3/8 NPT", 326, Refused, "kgf·cm 32, lbf·in 37"},
		{"M14x1.5", math.NaN(), Refused, ""},
	} {
		r := RangeOf(row.thread)
		var slips []string
		for _, s := range r.Slips(row.nm) {
			slips = append(slips, fmt.Sprintf("%s %.0f", s.Unit, s.Nm))
		}
		if got := r.Judge(row.nm); got != row.want || strings.Join(slips, ", ") != row.slips {
			t.Errorf("%s at %g: finding %d, slips %q; want %d, %q", row.thread, row.nm, got, slips, row.want, row.slips)
		}
	}
}
