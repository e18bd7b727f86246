package thread

// Checks of the ranges of torque, and of units that were mistaken.

import (
	"fmt"
	"math"
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

// The ranges rise with the thread, and the published figures are inside of what is asked at.
func TestRangesAreInOrder(t *testing.T) {
	last := Range{}
	for _, r := range ranges {
		if !(r.RefuseBelowNm < r.AskBelowNm && r.AskBelowNm < r.LowNm && r.LowNm < r.HighNm && r.HighNm < r.AskAboveNm &&
			r.AskAboveNm < r.RefuseAboveNm) {
			t.Errorf("up to M%g: %+v is not in order", r.uptoMM, r.Range)
		}
		if r.AskAboveNm < last.AskAboveNm || r.RefuseAboveNm < last.RefuseAboveNm || r.RefuseBelowNm < last.RefuseBelowNm {
			t.Errorf("up to M%g: %+v is below the smaller thread's", r.uptoMM, r.Range)
		}
		last = r.Range
	}
}

// Torques published for drain and level plugs, as gathered from makers' pages; none of them may be
// doubted.
func TestPublishedTorquesAreUsual(t *testing.T) {
	for _, row := range []struct {
		thread string
		nm     []float64
	}{
		{"M8", []float64{16}}, {"M14x1.5", []float64{23, 42, 16, 18}}, {"M12x1.5", []float64{14, 35}},
		{"M16x1.5", []float64{18, 55}}, {"M18x1.5", []float64{23, 70}}, {"M20x1.5", []float64{33, 100}},
		{"M24x1.5", []float64{60, 100}}, {"", []float64{8, 15, 20, 17, 39, 24, 44, 35, 45, 40, 60, 80}},
	} {
		for _, nm := range row.nm {
			if got := RangeOf(row.thread).Judge(nm); got != Usual {
				t.Errorf("%s at %g N·m: finding %d, want usual", row.thread, nm, got)
			}
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
