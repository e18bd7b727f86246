// Tests of the gauge: pictures looked over by eye, and the promises that hold
// for any data at all.

package gauge

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"garage/tundish/model/text"
	"garage/tundish/testdata/golden"
	"garage/tundish/tui/theme"
)

// worked is a unit for 640 ml, invented figures: 582 ml out, 637 ml went in.
func worked() Data {
	return Data{
		Aim: Volume{636, true}, Right: Band{600, 680, true}, ManualML: 640,
		CameOut: Bar{ML: 582, UML: 14, Known: true}, Now: Bar{ML: 637, UML: 17, Known: true}, Kind: WentIn,
	}
}

// with is the worked unit, changed.
func with(change func(*Data)) Data {
	d := worked()
	change(&d)
	return d
}

const (
	quartML = 946.352946 // NIST Handbook 44, appendix C: US liquid quart
	flozML  = 29.5735296 // the same: US fluid ounce
)

// inUnit writes volumes in a unit of so many ml, as the screens do.
func inUnit(d *Data, unitML float64, decimals int, symbol string) {
	d.DisplayUnitML, d.Unit = unitML, symbol
	d.Numbers = func(volumesML ...float64) (texts []string) {
		for _, ml := range volumesML {
			texts = append(texts, fmt.Sprintf("%.*f", decimals, ml/unitML))
		}
		return texts
	}
}

func TestPictures(t *testing.T) {
	scenes := []struct {
		name string
		data Data
	}{
		{"nothing known yet", Data{}},
		{"nothing measured yet", with(func(d *Data) { d.Aim.ML, d.CameOut, d.Now, d.Kind = 640, Bar{}, Bar{}, Planned })},
		{"came out being typed", with(func(d *Data) { d.CameOut.Draft, d.Now, d.Kind = true, Bar{}, Planned })},
		{"planned", with(func(d *Data) { d.Now, d.Kind = Bar{ML: 636, UML: 40, Known: true}, Planned })},
		{"so far", with(func(d *Data) { d.Now, d.Kind = Bar{ML: 405, UML: 20, Known: true}, SoFar })},
		{"went in", worked()},
		{"so far from the aim", with(func(d *Data) { d.Now.Off, d.Now.UML = "1 over", 45 })},
		{"low", with(func(d *Data) { d.Now.ML, d.Now.UML = 520, 30 })},
		{"high", with(func(d *Data) { d.Now.ML, d.Now.UML = 760, 30 })},
		{"dry start", with(func(d *Data) { d.CameOut = Bar{None: "none, unit was dry"} })},
		{"level hole", Data{Aim: Volume{1400, true}, LevelHole: true, ManualML: 1500, CameOut: Bar{ML: 1420, UML: 30, Known: true},
			Now: Bar{ML: 1412, UML: 60, Known: true}, Kind: WentIn}},
		{"with what stays", with(func(d *Data) { d.WithStays = true })},
		{"far more out than belongs in", with(func(d *Data) { d.CameOut.ML, d.CameOut.UML = 3100, 60 })},
		{"a narrow range", with(func(d *Data) { d.Right = Band{630, 642, true} })},
		{"not computable", with(func(d *Data) { d.Now.ML = math.NaN() })},
		{"in US fl oz", with(func(d *Data) { inUnit(d, flozML, 1, "US fl oz") })},
		{"in quarts", with(func(d *Data) { inUnit(d, quartML, 3, "qt") })},
	}
	for _, width := range []int{40, 60, 80, 100, 120} {
		for _, ascii := range []bool{false, true} {
			th := theme.New(theme.Options{Colour: theme.Plain, ASCII: ascii})
			var b strings.Builder
			for _, s := range scenes {
				fmt.Fprintf(&b, "%s\n%s\n\n", s.name, View(s.data, width, th))
			}
			name := fmt.Sprintf("%d-unicode.txt", width)
			if ascii {
				name = fmt.Sprintf("%d-ascii.txt", width)
			}
			golden.Check(t, filepath.Join("testdata", name), b.String())
		}
	}
}

// number draws volumes that make sense and those that do not.
func number() *rapid.Generator[float64] {
	return rapid.OneOf(
		rapid.Float64Range(-100, 6000),
		rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300, 5e-324, 1e12}),
		rapid.Float64(),
	)
}

func anyBar() *rapid.Generator[Bar] {
	return rapid.Custom(func(t *rapid.T) Bar {
		return Bar{
			ML: number().Draw(t, "ml"), UML: number().Draw(t, "u"),
			Known: rapid.Bool().Draw(t, "known"), Draft: rapid.Bool().Draw(t, "draft"),
			None: rapid.OneOf(rapid.Just(""), rapid.String()).Draw(t, "none"), Off: rapid.OneOf(rapid.Just(""), rapid.String()).Draw(t,
				"off"),
		}
	})
}

func anyData() *rapid.Generator[Data] {
	return rapid.Custom(func(t *rapid.T) Data {
		d := Data{
			Aim:       Volume{number().Draw(t, "aim"), rapid.Bool().Draw(t, "aimed")},
			Right:     Band{number().Draw(t, "low"), number().Draw(t, "high"), rapid.Bool().Draw(t, "right")},
			LevelHole: rapid.Bool().Draw(t, "level hole"), CameOut: anyBar().Draw(t, "came out"), Now: anyBar().Draw(t, "now"),
			Kind: Kind(rapid.IntRange(0, 4).Draw(t, "kind")), WithStays: rapid.Bool().Draw(t, "with stays"),
			ManualML: number().Draw(t, "manual"), DisplayUnitML: number().Draw(t, "unit"),
		}
		if suffix := rapid.String().Draw(t, "suffix"); rapid.Bool().Draw(t, "format") {
			d.Unit = rapid.String().Draw(t, "symbol")
			d.Numbers = func(volumesML ...float64) (texts []string) {
				for _, ml := range volumesML {
					texts = append(texts, fmt.Sprint(ml)+suffix)
				}
				return texts
			}
		}
		return d
	})
}

func anyTheme() *rapid.Generator[theme.Theme] {
	return rapid.Custom(func(t *rapid.T) theme.Theme {
		return theme.New(theme.Options{
			Dark:   rapid.Bool().Draw(t, "dark"),
			Colour: theme.Colour(rapid.IntRange(0, 4).Draw(t, "colour")),
			ASCII:  rapid.Bool().Draw(t, "ascii"),
		})
	})
}

func TestAlwaysFourRowsThatFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.IntRange(-1, 210).Draw(t, "width")
		lines := strings.Split(View(anyData().Draw(t, "data"), width, anyTheme().Draw(t, "theme")), "\n")
		if len(lines) != Rows {
			t.Fatalf("%d lines", len(lines))
		}
		for _, l := range lines {
			if n := text.Width(l); n > max(width, 0) {
				t.Fatalf("%q is %d wide, want at most %d", l, n, width)
			}
		}
	})
}

func TestViewIsPureAndASCIIHasNoByteAbove127(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyData().Draw(t, "data")
		th := theme.New(theme.Options{Colour: theme.TrueColour, ASCII: true})
		width := rapid.IntRange(1, 200).Draw(t, "width")
		got := View(d, width, th)
		if got != View(d, width, th) {
			t.Fatal("drawn twice, two pictures")
		}
		for i := range len(got) {
			if got[i] > 127 {
				t.Fatalf("byte %#x in %q", got[i], got)
			}
		}
	})
}

// Colour must never move anything: stripped of it, all themes draw the same.
func TestColourChangesNoCell(t *testing.T) {
	plain := theme.New(theme.Options{Colour: theme.Plain})
	rapid.Check(t, func(t *rapid.T) {
		d := anyData().Draw(t, "data")
		width := rapid.IntRange(1, 200).Draw(t, "width")
		coloured := theme.New(theme.Options{
			Dark: rapid.Bool().Draw(t, "dark"), Colour: theme.Colour(rapid.IntRange(1, 4).Draw(t, "colour"))})
		if got, want := ansi.Strip(View(d, width, coloured)), View(d, width, plain); got != want {
			t.Fatalf("coloured\n%s\nplain\n%s", got, want)
		}
	})
}

// anyFill draws a unit with all its figures known and in proportion.
func anyFill() *rapid.Generator[Data] {
	return rapid.Custom(func(t *rapid.T) Data {
		aim := rapid.Float64Range(20, 200_000).Draw(t, "aim")
		share := func(name string, low, high float64) float64 { return aim * rapid.Float64Range(low, high).Draw(t, name) }
		return Data{
			Aim: Volume{aim, true}, Right: Band{aim - share("minus", 0, 1.1), aim + share("plus", 0, 0.2), true},
			CameOut:  Bar{ML: share("out", 0, 5), UML: share("u", 0, 0.5), Known: true},
			Now:      Bar{ML: share("in", 0, 2), UML: share("v", 0, 0.5), Known: true},
			Kind:     Kind(rapid.IntRange(0, 2).Draw(t, "kind")),
			ManualML: share("manual", 0.5, 1.5),
		}
	})
}

// barCells are the cells of the two bars of a plain picture.
func barCells(d Data, width int) (out, now []string, s scale) {
	th := theme.New(theme.Options{})
	v := newView(d, width, th)
	lines := strings.Split(View(d, width, th), "\n")
	cells := func(line string) []string {
		runes := []rune(text.PadRight(line, width))
		return strings.Split(string(runes[barStart:barStart+v.cells]), "")
	}
	return cells(lines[1]), cells(lines[2]), v.scale
}

func TestWallsStandInOrderAndApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyFill().Draw(t, "data")
		out, now, s := barCells(d, rapid.IntRange(60, 200).Draw(t, "width"))
		for _, cells := range [][]string{out, now} {
			low, high := slices.Index(cells, "│"), len(cells)-1
			for cells[high] != "│" {
				high--
			}
			if low != s.low || high != s.high || high-low <= leastInside || high >= len(cells)-1 || low == 0 && d.Right.LowML > 0 {
				t.Fatalf("walls in cells %d and %d of %v", low, high, cells)
			}
			if slices.Contains(cells[:low], "·") || slices.Contains(cells[high:], "·") {
				t.Fatalf("dots beside the walls: %v", cells)
			}
		}
	})
}

// What is shaded is value - U to value + U, to a cell; before it the bar is
// solid, or a line, and behind it there is none.
func TestShadeCoversTheUncertainty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyFill().Draw(t, "data")
		out, now, s := barCells(d, rapid.IntRange(60, 200).Draw(t, "width"))
		for _, row := range []struct {
			bar   Bar
			cells []string
			body  string
		}{{d.CameOut, out, "█"}, {d.Now, now, map[bool]string{true: "─", false: "█"}[d.Kind == Planned]}} {
			low, high := s.at(row.bar.ML-row.bar.UML), s.at(row.bar.ML+row.bar.UML)
			shaded := 0
			for i, c := range row.cells {
				from, to := float64(i), float64(i+1)
				switch {
				case i == s.low || i == s.high:
				case c == "▒":
					shaded++
					if from > high || to < low {
						t.Fatalf("cell %d is shaded, want %.2f to %.2f: %v", i, low, high, row.cells)
					}
				case c == row.body && to > low, c != row.body && from < high:
					t.Fatalf("cell %d is %q, want shade from %.2f to %.2f: %v", i, c, low, high, row.cells)
				}
			}
			if i := s.cell(row.bar.ML); shaded == 0 && i != s.low && i != s.high {
				t.Fatalf("nothing is shaded: %v", row.cells)
			}
		}
	})
}

func TestScaleKeepsOrderAndSides(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyFill().Draw(t, "data")
		s := newScale(d, rapid.IntRange(leastBarCells, 180).Draw(t, "cells"))
		most := s.knots[len(s.knots)-1].ml
		a, b := rapid.Float64Range(0, most).Draw(t, "a"), rapid.Float64Range(0, most).Draw(t, "b")
		ca, cb := s.cell(a), s.cell(b)
		if a <= b && ca > cb || min(ca, cb) < 0 || max(ca, cb) >= s.cells {
			t.Fatalf("%v in cell %d, %v in cell %d of %d", a, ca, b, cb, s.cells)
		}
		low, high := max(d.Right.LowML, 0), d.Right.HighML
		if a < low && ca > s.low || a > high && ca < s.high || a > low && a < high && (ca < s.low || ca > s.high) {
			t.Fatalf("%v is in cell %d, the walls of %v and %v in %d and %d", a, ca, low, high, s.low, s.high)
		}
	})
}

// The axis goes a tenth beyond the largest thing shown (design of this gauge).
func TestScaleReach(t *testing.T) {
	for _, tt := range []struct {
		name string
		data Data
		want float64
	}{
		{"nothing known", Data{}, 0},
		{"the upper wall", Data{Right: Band{600, 680, true}}, 748},
		{"the manual", Data{Right: Band{600, 680, true}, ManualML: 700}, 770},
		{"a bar with its shade", with(func(d *Data) { d.Now.ML, d.Now.UML = 690, 20 }), 781},
		{"what came out", with(func(d *Data) { d.CameOut.ML, d.CameOut.UML = 3000, 100 }), 3410},
		{"unknown values do not count", Data{CameOut: Bar{ML: 850}, Aim: Volume{ML: 100}}, 0},
		{"senseless values do not count", Data{ManualML: math.NaN(), CameOut: Bar{ML: math.Inf(1), Known: true}}, 0},
	} {
		got := 0.0
		if s := newScale(tt.data, 50); len(s.knots) > 0 {
			got = s.knots[len(s.knots)-1].ml
		}
		if math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}

func TestTicksAreRoundInTheDisplayUnit(t *testing.T) {
	for _, tt := range []struct {
		mostML, unitML float64
		want           []float64 // in the display unit
	}{
		{972, 0, []float64{0, 200, 400, 600, 800}},
		{972, 1000, []float64{0, 0.2, 0.4, 0.6, 0.8}},
		{4860, quartML, []float64{0, 1, 2, 3, 4, 5}},
		{0, 1, nil},
	} {
		var got []float64
		for _, ml := range newScale(Data{ManualML: tt.mostML / headroom}, 52).ticks(tt.unitML, axisGap) {
			got = append(got, math.Round(ml/max(tt.unitML, 1)*1e6)/1e6)
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("0 to %v ml in units of %v: %v, want %v", tt.mostML, tt.unitML, got, tt.want)
		}
	}
}

func TestWords(t *testing.T) {
	th := theme.New(theme.Options{})
	for _, tt := range []struct {
		name  string
		data  Data
		width int
		want  []string
	}{
		{"right at length", worked(), 80, []string{"aim 636, right 600 to 680 ┌", "582 ±14 ml", "637 ±17 ml", "▲manual 640"}},
		{"right in short", worked(), 60, []string{"right 600-680 ┌"}},
		{"not yet", Data{}, 80, []string{" came out", " planned", "not yet"}},
		{"a draft says so", with(func(d *Data) { d.CameOut.Draft = true }), 60, []string{"582 ml typing"}},
		{"why there is no bar", with(func(d *Data) { d.CameOut = Bar{None: "none, unit was dry"} }), 60,
			[]string{" came out none, unit was dry"}},
		{"not a number", with(func(d *Data) { d.Now.UML = math.NaN() }), 80, []string{"not computable"}},
		{"a unit of several words is whole", with(func(d *Data) { inUnit(d, flozML, 1, "US fl oz") }), 60,
			[]string{"right 20.3-23.0 US fl oz ┌", "21.5 ±0.6 US fl oz", "▲manual 21.6"}},
		{"so far", with(func(d *Data) { d.Kind = SoFar }), 80, []string{" so far "}},
		{"went in", worked(), 80, []string{" went in "}},
		{"how far from the aim", with(func(d *Data) { d.Now.Off, d.Now.UML = "1 over", 45 }), 80, []string{" 1 over ±45 ml"}},
		{"that as a draft", with(func(d *Data) { d.Now.Off, d.Now.Draft = "1 over", true }), 80, []string{" 1 over typing"}},
		{"with what stays", with(func(d *Data) { d.WithStays = true }), 80, []string{"what stays: aim 636", " in total "}},
		{"level hole", with(func(d *Data) { d.LevelHole = true }), 80, []string{"aim 636\n", "level hole"}},
		{"words beside a range at the left", with(func(d *Data) { d.CameOut.ML = 9000 }), 80, []string{"┐ aim 636, right 600 to 680"}},
	} {
		drawn := View(tt.data, tt.width, th)
		for _, want := range tt.want {
			if !strings.Contains(drawn, want) {
				t.Errorf("%s: no %q in\n%s", tt.name, want, drawn)
			}
		}
	}
}

// The words over the bracket and the marks on the scale are never lost from
// where the screens are made for on.
func TestRightAndManualAreAlwaysSaid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyFill().Draw(t, "data")
		d.WithStays = rapid.Bool().Draw(t, "with stays")
		drawn := View(d, rapid.IntRange(60, 200).Draw(t, "width"), theme.New(theme.Options{}))
		for _, want := range []string{"right ", "▲", "manual "} {
			if !strings.Contains(drawn, want) {
				t.Fatalf("no %q in\n%s", want, drawn)
			}
		}
	})
}

func BenchmarkView(b *testing.B) {
	d, th := worked(), theme.New(theme.Options{Dark: true, Colour: theme.TrueColour})
	for b.Loop() {
		View(d, 120, th)
	}
}
