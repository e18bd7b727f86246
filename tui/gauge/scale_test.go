// Tests of the scale: its reach, its order and its round numbers.

package gauge

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"garage/tundish/tui/theme"
)

func TestScaleReach(t *testing.T) {
	for _, tt := range []struct {
		name string
		data Data
		want float64
	}{
		{"nothing known", Data{}, 0},
		{"capacity", Data{CapacityML: 900}, 1008},
		{"window beyond capacity", Data{CapacityML: 900, Window: Band{850, 950, true}}, 1064},
		{"usual plan moves nothing", Data{CapacityML: 900, Planned: Mark{ML: 930, Known: true}}, 1008},
		{"plan beyond capacity", Data{CapacityML: 900, Planned: Mark{ML: 1000, Known: true}}, 1040},
		{"plan far beyond capacity is cut off", Data{CapacityML: 900, Planned: Mark{ML: 99999, Known: true}}, 1350},
		{"what came out does not stretch it", Data{CapacityML: 900, Drained: Mark{ML: 3000, Known: true}}, 1008},
		{"what came out is all there is", Data{Drained: Mark{ML: 850, Known: true}}, 952},
		{"unknown values do not count", Data{Drained: Mark{ML: 850}}, 0},
		{"senseless values do not count", Data{CapacityML: math.NaN(), Drained: Mark{ML: math.Inf(1), Known: true}}, 0},
	} {
		if got := newScale(tt.data, 50).maxML; math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}

func TestScaleKeepsOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := scale{maxML: rapid.Float64Range(1, 1e6).Draw(t, "max"), cells: rapid.IntRange(1, 180).Draw(t, "cells")}
		a := rapid.Float64Range(0, s.maxML*0.999).Draw(t, "a")
		b := rapid.Float64Range(0, s.maxML*0.999).Draw(t, "b")
		ca, okA := s.cell(a)
		cb, okB := s.cell(b)
		if !okA || !okB || ca >= s.cells || cb >= s.cells {
			t.Fatalf("%v in cell %d (%v), %v in cell %d (%v) of %d", a, ca, okA, b, cb, okB, s.cells)
		}
		if a <= b && ca > cb {
			t.Fatalf("%v in cell %d, %v in cell %d", a, ca, b, cb)
		}
	})
}

func TestTicksAreRoundInTheDisplayUnit(t *testing.T) {
	const quartML = 946.352946
	for _, tt := range []struct {
		maxML, unitML float64
		want          []float64 // in the display unit
	}{
		{972, 0, []float64{0, 200, 400, 600, 800}},
		{972, 1000, []float64{0, 0.2, 0.4, 0.6, 0.8}},
		{4860, quartML, []float64{0, 1, 2, 3, 4, 5}},
		{0, 1, nil},
	} {
		var got []float64
		for _, ml := range (scale{maxML: tt.maxML, cells: 52}).ticks(tt.unitML, axisGap) {
			got = append(got, math.Round(ml/max(tt.unitML, 1)*1e6)/1e6)
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("0 to %v ml in units of %v: %v, want %v", tt.maxML, tt.unitML, got, tt.want)
		}
	}
}

func TestTicksAreRoundAndFarEnoughApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := scale{maxML: rapid.Float64Range(1e-3, 1e12).Draw(t, "max"), cells: rapid.IntRange(12, 180).Draw(t, "cells")}
		ticks := s.ticks(rapid.Float64Range(1e-3, 1e6).Draw(t, "unit"), axisGap)
		if len(ticks) == 0 || ticks[0] != 0 {
			t.Fatalf("ticks %v do not start at 0", ticks)
		}
		for i := 1; i < len(ticks); i++ {
			if gap := s.at(ticks[i]) - s.at(ticks[i-1]); gap < axisGap*(1-1e-6) {
				t.Fatalf("ticks %v and %v are %v cells apart", ticks[i-1], ticks[i], gap)
			}
		}
	})
}

// A unit of several words belongs to both ends of a span, and to no tick.
func TestUnitOfSeveralWords(t *testing.T) {
	d := Data{
		CapacityML: 600, Window: Band{LowML: 501, HighML: 601, Known: true}, DisplayUnitML: 29.5735,
		Format: func(ml, _ float64) string { return fmt.Sprintf("%.1f US fl oz", ml/29.5735) },
	}
	drawn := ansi.Strip(View(d, 100, 10, theme.New(theme.Options{})))
	if !strings.Contains(drawn, "16.9–20.3 US fl oz") {
		t.Errorf("the window is not 16.9–20.3 US fl oz:\n%s", drawn)
	}
	if n := strings.Count(drawn, "US fl"); n != strings.Count(drawn, "US fl oz") {
		t.Errorf("a unit is cut in two:\n%s", drawn)
	}
}
