// Tests that a chart tells the truth: values stand beside their own labels, no
// job hides another, and what is no number is not drawn.

package history

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"garage/tundish/model/measure"
	"garage/tundish/model/quantity"
	"garage/tundish/model/verdict"
	"garage/tundish/tui/theme"
)

func plain(ascii bool) theme.Theme { return theme.New(theme.Options{ASCII: ascii}) }

func look(ascii bool) *theme.Theme {
	t := plain(ascii)
	return &t
}

// drawn is the chart of so many drained volumes, one a year.
func drawn(height int, uML float64, drainedML ...float64) []string {
	v := view{theme: look(true), width: 80, height: 20}
	for i, ml := range drainedML {
		v.data.Points = append(v.data.Points, verdict.HistoryPoint{
			Date: time.Date(2026-i, 1, 1, 0, 0, 0, 0, time.UTC), Drained: true, DrainedML: measure.Gaussian(fmt.Sprint(i), ml, uML),
		})
	}
	return v.draw(v.plot(drainedChart), "", 60, height)[1:]
}

// labelOf is the label of a line, "" where it has none.
func labelOf(line string) string {
	return strings.TrimSpace(line[:max(strings.IndexAny(line, "|+"), 0)])
}

// Two values on round numbers stand in the rows that bear these as labels, and
// so do the ends of their whiskers, two standard uncertainties away.
func TestValuesStandBesideTheirLabels(t *testing.T) {
	lines := drawn(16, 5, 840, 820)
	at := map[string]string{} // by label
	for _, l := range lines {
		if label := labelOf(l); label != "" {
			at[label] = l[strings.Index(l, "|")+1:]
		}
	}
	old, recent := strings.Index(at["820"], "#"), strings.Index(at["840"], "#")
	if old < 0 || recent < old {
		t.Fatalf("820 and then 840 ml are not beside their labels:\n%s", strings.Join(lines, "\n"))
	}
	for label, column := range map[string]int{"810": old, "830": old, "850": recent} {
		if row := at[label]; column >= len(row) || row[column] != '-' {
			t.Errorf("no whisker ends at %s in column %d:\n%s", label, column, strings.Join(lines, "\n"))
		}
	}
}

// The international mile is 1.609344 km (yard and pound agreement of 1959).
func TestLossIsPerThousandOfTheOwnersDistance(t *testing.T) {
	v := view{theme: look(false), width: 120, height: 30}
	v.data.Units = quantity.Units{Distance: quantity.Mile}
	v.data.Points = []verdict.HistoryPoint{{Known: true, PerKm: true, LossPer1000Km: measure.Gaussian("x", 10, 1)}}
	p := v.plot(lossChart)
	if got := p.marks[0]; math.Abs(got.y-16.09344) > 1e-6 || math.Abs(got.half-2*1.609344) > 1e-6 {
		t.Errorf("10 ± 2 ml per 1,000 km is drawn as %g ± %g per 1,000 mi", got.y, got.half)
	}
	if got := v.row(0).cells[fieldLoss]; got != "16.1 ± 3.2" {
		t.Errorf("and listed as %q", got)
	}
}

// A job just after another says next to nothing of a loss per distance: it runs
// off the chart, marked, and leaves the others their scale.
func TestOneDoubtfulJobDoesNotFlattenTheOthers(t *testing.T) {
	bars := []bar{{0.5, 1}, {0.7, 1}, {50, 250}, {0.2, 1.1}}
	s := newScale(bars, 10, true)
	if high := s.low + 10*s.perRow; high > 10 {
		t.Errorf("the scale reaches to %g", high)
	}
	v := view{data: unsureData(), theme: look(true), width: 80, height: 20}
	lines := v.draw(v.plot(lossChart), "", 79, 10)
	column := strings.Index(lines[1], "^")
	if column < 0 || lines[7][column] != 'v' { // over the axis and the dates
		t.Errorf("the job off the chart is not marked at both ends:\n%s", strings.Join(lines, "\n"))
	}
}

func TestWhatIsNoNumberIsNotDrawn(t *testing.T) {
	for _, x := range []measure.Value{
		measure.Exact(math.NaN()), measure.Exact(math.Inf(1)), measure.Exact(-1e300),
		measure.Gaussian("x", 800, math.NaN()), measure.Gaussian("x", 800, math.Inf(1)), measure.Gaussian("x", 800, 1e9),
	} {
		d := soundData()
		d.Points[1].DrainedML = x
		v := view{data: d, theme: look(false), width: 80, height: 20}
		if got := len(v.plot(drainedChart).marks); got != 5 {
			t.Errorf("%g ± %g: %d of 6 jobs drawn, want the other 5", x.Nominal, x.U(), got)
		}
	}
}

func TestScaleHoldsTheBarsAndCountsInRoundNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		half := rapid.Float64Range(0, 100).Draw(t, "half")
		bars := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) bar {
			return bar{rapid.Float64Range(-1e7, 1e7).Draw(t, "y"), half * rapid.Float64Range(1, 2).Draw(t, "wider")}
		}), 1, 20).Draw(t, "bars")
		rows, zero := rapid.IntRange(leastRows, 13).Draw(t, "rows"), rapid.Bool().Draw(t, "zero")
		s := newScale(bars, rows, zero)
		high := s.low + s.perRow*float64(rows)
		slack := 1e-6 * math.Max(1, math.Abs(high))
		for _, b := range bars {
			if b.y-b.half < s.low-slack || b.y+b.half > high+slack {
				t.Fatalf("%g ± %g is not on %g to %g", b.y, b.half, s.low, high)
			}
			if math.Round((b.y-s.low)/s.perRow) < 1 {
				t.Fatalf("%g lies on the axis at %g", b.y, s.low)
			}
		}
		if zero && (s.low > 0 || high < 0) {
			t.Fatalf("no zero on %g to %g", s.low, high)
		}
		for i := 0; i <= rows; i += s.label {
			y := s.low + float64(i)*s.perRow
			if shown, err := strconv.ParseFloat(s.textAt(i), 64); err != nil || math.Abs(shown-y) > slack {
				t.Fatalf("%g is labelled %q", y, s.textAt(i))
			}
		}
	})
}

func TestNoJobHidesAnotherWhereThereIsRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.SliceOfN(rapid.OneOf(rapid.Float64Range(0, 2e9), rapid.Just(1e9)), 1, 120).Draw(t, "at")
		slices.Sort(at)
		width := rapid.IntRange(1, 120).Draw(t, "width")
		x := columns(at, width)
		for i := range x {
			if x[i] < 1 || x[i] > width {
				t.Fatalf("column %d of %d", x[i], width)
			}
			if i > 0 && len(x) <= width && x[i] <= x[i-1] {
				t.Fatalf("%v: out of order or on top of each other", x)
			}
		}
	})
}

// Two years and four years apart: the columns keep the proportion.
func TestColumnsAreInScale(t *testing.T) {
	if got := columns([]float64{0, 20, 60}, 61); !slices.Equal(got, []int{1, 21, 61}) {
		t.Errorf("%v", got)
	}
}

func TestFirstIsTheOneChartShown(t *testing.T) {
	for c, title := range map[chart]string{lossChart: "loss per 1,000 km, ml (1 of 3)", drainedChart: "drained, ml (1 of 3)",
		netFillChart: "went in, ml (1 of 3)"} {
		d := soundData()
		d.First = c
		if text := strings.Join(View(d, 80, 20, plain(false)), "\n"); strings.Count(text, " of 3)") != 1 || !strings.Contains(text, title) {
			t.Errorf("%v first:\n%s", c, text)
		}
	}
	if netFillChart.Next() != lossChart {
		t.Error("the charts do not go round")
	}
}

// However far it is scrolled, the list stays full, and its ends can be reached.
func TestSkipScrollsWithinTheList(t *testing.T) {
	d := manyData()
	for skip, want := range map[int]string{-5: "1 Jun 2025", 0: "1 Jun 2025", 10: "1 Jun 2015", 1000: "1 Jun 1966"} {
		d.Skip = skip
		lines := View(d, 80, 20, plain(false))
		if text := strings.Join(lines, "\n"); !strings.Contains(text, want+" ") {
			t.Errorf("scrolled by %d, %s is missing:\n%s", skip, want, text)
		}
	}
}
