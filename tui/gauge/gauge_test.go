// Tests of the gauge: pictures looked over by eye, and the promises that hold
// for any data at all.

package gauge

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"garage/tundish/model/text"
	"garage/tundish/tui/theme"
)

var update = flag.Bool("update", false, "rewrite the pictures in testdata")

// drained is the worked case of a 900 ml unit, invented figures: 830 ml out,
// 829 ml wanted, 910 ml loaded.
func drained() Data {
	return Data{
		CapacityML: 900,
		Window:     Band{LowML: 779, HighML: 879, Known: true},
		Drained:    Mark{ML: 830, UML: 12, Known: true},
		Planned:    Mark{ML: 910, UML: 29, Known: true},
		Target:     Mark{ML: 829, UML: 28, Known: true},
	}
}

func filling() Data {
	d := drained()
	d.InUnit = Mark{ML: 412, UML: 25, Known: true, Draft: true}
	return d
}

func proven() Data {
	d := drained()
	d.InUnit = Mark{ML: 835, UML: 27, Known: true}
	return d
}

func tooMuch() Data {
	d := drained()
	d.Drained = Mark{ML: 3100, UML: 60, Known: true}
	d.InUnit = Mark{ML: 930, UML: 20, Known: true}
	return d
}

// quarts is a larger unit shown in another unit and other words.
func quarts() Data {
	const quartML = 946.352946
	return Data{
		CapacityML:    4400,
		Window:        Band{LowML: 4050, HighML: 4500, Known: true},
		Drained:       Mark{Label: "Came out", ML: 3900, UML: 80, Known: true},
		Planned:       Mark{Label: "To load", ML: 4480, UML: 90, Known: true},
		InUnit:        Mark{Label: "Inside now", ML: 4310, UML: 130, Known: true},
		Target:        Mark{ML: 4270, UML: 100, Known: true},
		DisplayUnitML: quartML,
		Format: func(ml, uML float64) string {
			if uML == 0 {
				return fmt.Sprintf("%.2f qt", ml/quartML)
			}
			return fmt.Sprintf("%.2f qt ±%.2f", ml/quartML, uML/quartML)
		},
	}
}

func TestPictures(t *testing.T) {
	scenes := []struct {
		name string
		data Data
	}{
		{"nothing known yet", Data{}},
		{"capacity and window known", Data{CapacityML: 900, Window: Band{779, 879, true}}},
		{"drained and planned", drained()},
		{"filling, being typed", filling()},
		{"proven", proven()},
		{"more out than the unit can hold", tooMuch()},
		{"in quarts, with other names", quarts()},
	}
	for _, width := range []int{80, 120} {
		for _, ascii := range []bool{false, true} {
			th := theme.New(theme.Options{Colour: theme.Plain, ASCII: ascii})
			var b strings.Builder
			for _, s := range scenes {
				for _, height := range []int{5, 8, 12, 16} {
					fmt.Fprintf(&b, "%s, %d lines\n%s\n\n", s.name, height, View(s.data, width, height, th))
				}
			}
			name := fmt.Sprintf("%d-unicode.txt", width)
			if ascii {
				name = fmt.Sprintf("%d-ascii.txt", width)
			}
			checkPicture(t, filepath.Join("testdata", name), b.String())
		}
	}
}

func checkPicture(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got == string(want) {
		return
	}
	g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range g {
		if i >= len(w) || g[i] != w[i] {
			t.Errorf("%s, line %d: look at the new picture and run with -update:\n%s", path, i+1, g[i])
			return
		}
	}
	t.Errorf("%s: the picture is shorter than before", path)
}

// number draws volumes that make sense and those that do not.
func number() *rapid.Generator[float64] {
	return rapid.OneOf(
		rapid.Float64Range(-100, 6000),
		rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300, 5e-324, 1e12}),
		rapid.Float64(),
	)
}

func anyMark() *rapid.Generator[Mark] {
	return rapid.Custom(func(t *rapid.T) Mark {
		return Mark{
			Label: rapid.OneOf(rapid.Just(""), rapid.String()).Draw(t, "label"),
			ML:    number().Draw(t, "ml"), UML: number().Draw(t, "u"),
			Known: rapid.Bool().Draw(t, "known"), Draft: rapid.Bool().Draw(t, "draft"),
		}
	})
}

func anyData() *rapid.Generator[Data] {
	return rapid.Custom(func(t *rapid.T) Data {
		d := Data{
			CapacityML: number().Draw(t, "capacity"),
			Window:     Band{number().Draw(t, "low"), number().Draw(t, "high"), rapid.Bool().Draw(t, "window")},
			Drained:    anyMark().Draw(t, "drained"), Planned: anyMark().Draw(t, "planned"),
			InUnit: anyMark().Draw(t, "in unit"), Target: anyMark().Draw(t, "target"),
			DisplayUnitML: number().Draw(t, "unit"),
		}
		if suffix := rapid.String().Draw(t, "suffix"); rapid.Bool().Draw(t, "format") {
			d.Format = func(ml, uML float64) string { return fmt.Sprint(ml) + suffix + fmt.Sprint(uML) }
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

func TestViewNeverLeavesItsBox(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, th := anyData().Draw(t, "data"), anyTheme().Draw(t, "theme")
		width, height := rapid.IntRange(-1, 210).Draw(t, "width"), rapid.IntRange(-1, 20).Draw(t, "height")
		got := View(d, width, height, th)
		if got == "" {
			return
		}
		lines := strings.Split(got, "\n")
		if len(lines) > height {
			t.Fatalf("%d lines in a box of %d", len(lines), height)
		}
		for _, l := range lines {
			if n := text.Width(l); n > width {
				t.Fatalf("%q is %d wide in a box of %d", l, n, width)
			}
		}
	})
}

func TestViewIsPureAndASCIIHasNoByteAbove127(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyData().Draw(t, "data")
		th := theme.New(theme.Options{Colour: theme.TrueColour, ASCII: true})
		width, height := rapid.IntRange(1, 200).Draw(t, "width"), rapid.IntRange(1, 16).Draw(t, "height")
		got := View(d, width, height, th)
		if got != View(d, width, height, th) {
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
		width, height := rapid.IntRange(1, 200).Draw(t, "width"), rapid.IntRange(1, 16).Draw(t, "height")
		coloured := theme.New(theme.Options{
			Dark: rapid.Bool().Draw(t, "dark"), Colour: theme.Colour(rapid.IntRange(1, 4).Draw(t, "colour"))})
		got, want := ansi.Strip(View(d, width, height, coloured)), View(d, width, height, plain)
		if got != want {
			t.Fatalf("coloured\n%s\nplain\n%s", got, want)
		}
	})
}

// A name that ends in a blank, in a box that has room for nothing else.
func TestColourKeepsNoBlankAtTheEnd(t *testing.T) {
	d := Data{CapacityML: 1, InUnit: Mark{Label: "\u0300 "}}
	for _, c := range []theme.Colour{theme.Plain, theme.NoColour, theme.ANSI16, theme.ANSI256, theme.TrueColour} {
		if got := ansi.Strip(View(d, 2, 1, theme.New(theme.Options{Colour: c}))); strings.HasSuffix(got, " ") {
			t.Errorf("%v: %q ends in a blank", c, got)
		}
	}
}

// A letter that a variation selector makes two cells wide, where there is room
// for one.
func TestWideCharacterInANarrowBox(t *testing.T) {
	for width := range 8 {
		got := View(Data{CapacityML: 1, InUnit: Mark{Label: "A\ufe0f"}}, width, 1, theme.New(theme.Options{}))
		if n := text.Width(got); n > width {
			t.Errorf("%q is %d wide in a box of %d", got, n, width)
		}
	}
}

// In the room the gauge is made for every number that was given is there in
// full.
func TestEveryNumberIsShown(t *testing.T) {
	for _, width := range []int{60, 80, 120, 200} {
		for height := 5; height <= 16; height++ {
			got := View(proven(), width, height, theme.New(theme.Options{}))
			for _, want := range []string{"830 ml ±12", "910 ml ±29", "835 ml ±27", "829 ml ±28", "779–879 ml", "capacity 900 ml"} {
				if !strings.Contains(got, want) {
					t.Errorf("%dx%d: no %q in\n%s", width, height, want, got)
				}
			}
		}
	}
}

func TestWordsForWhatIsNotANumber(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, tt := range []struct {
		name string
		in   Mark
		want string
	}{
		{"unknown", Mark{ML: 5}, "not yet"},
		{"typed", Mark{ML: 5, Known: true, Draft: true}, "5 ml typing"},
		{"not a number", Mark{ML: nan, Known: true}, "not computable"},
		{"infinite", Mark{ML: inf, Known: true}, "not computable"},
		{"huge", Mark{ML: 1e300, Known: true}, "too large"},
		{"uncertainty not a number", Mark{ML: 5, UML: nan, Known: true}, "5 ml ±?"},
		{"uncertainty below zero", Mark{ML: 5, UML: -1, Known: true}, "5 ml ±?"},
		{"no uncertainty", Mark{ML: 5, Known: true}, "5 ml"},
	} {
		v := newView(Data{InUnit: tt.in}, 80, theme.New(theme.Options{}))
		if got := v.numberOf(v.inUnit).number; got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

// A bar ends between the brackets only if its value lies in the window, as far
// as cells can tell: it may share a cell with an edge.
func TestABarAgreesWithTheWindow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drained()
		d.InUnit = Mark{ML: rapid.Float64Range(0, 960).Draw(t, "ml"), Known: true}
		v := newView(d, rapid.IntRange(60, 200).Draw(t, "width"), theme.New(theme.Options{}))
		low, high, ok := v.band()
		at, on := v.scale.cell(d.InUnit.ML)
		if !ok || !on {
			t.Fatalf("window drawn %v, value on the scale %v", ok, on)
		}
		inside := d.InUnit.ML >= d.Window.LowML && d.InUnit.ML <= d.Window.HighML
		if inside && (at < low || at > high) {
			t.Fatalf("%v ml is inside, its cell %d is not within %d to %d", d.InUnit.ML, at, low, high)
		}
		if !inside && at > low && at < high {
			t.Fatalf("%v ml is outside, its cell %d is within %d to %d", d.InUnit.ML, at, low, high)
		}
	})
}

func BenchmarkView(b *testing.B) {
	for _, size := range []struct{ w, h int }{{80, 5}, {80, 16}, {120, 16}, {200, 16}} {
		for _, level := range []theme.Colour{theme.Plain, theme.TrueColour} {
			th := theme.New(theme.Options{Dark: true, Colour: level})
			b.Run(fmt.Sprintf("%dx%d/%v", size.w, size.h, level), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					View(proven(), size.w, size.h, th)
				}
			})
		}
	}
}
