// Tests of the history: pictures looked over by eye, and the promises that hold
// for any data at all.

package history

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"garage/tundish/model/learn"
	"garage/tundish/model/measure"
	"garage/tundish/model/quantity"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
	"garage/tundish/testdata/golden"
	"garage/tundish/tui/theme"
)

// filling is one job of an invented unit: figures in ml, what follows a figure
// is its standard uncertainty.
type filling struct {
	date        string
	km          float64
	out, outU   float64
	in, inU     float64
	loss, lossU float64 // since the job before; lossU 0 not known
	outcome     outcome
}

func accepted(w verdict.Conformity) outcome {
	if w == verdict.Within {
		return outcome{Unit: verdict.Proven}
	}
	return outcome{Unit: verdict.Accepted, Odds: 90}
}

// points makes a history of fillings given oldest first.
func points(fillings ...filling) (list []verdict.HistoryPoint, outcomes []outcome) {
	before := 0.0
	for i, f := range fillings {
		date, err := time.Parse(time.DateOnly, f.date)
		if err != nil {
			panic(err)
		}
		source := func(what string) string { return fmt.Sprint(what, i) }
		p := verdict.HistoryPoint{
			JobID: source("job"), Date: date, Km: f.km,
			Drained: f.outU > 0, DrainedML: measure.Gaussian(source("out"), f.out, f.outU),
			Proven: f.outcome.Unit == verdict.Proven, NetML: measure.Gaussian(source("in"), f.in, f.inU),
		}
		if p.Known = f.lossU > 0; p.Known {
			m := learn.Missing{ML: measure.Gaussian(source("loss"), f.loss, f.lossU)}
			if f.km > before && before > 0 {
				m.Km = f.km - before
			}
			p.SinceKm, p.LossML, p.Sign = m.Km, m.ML, m.Sign()
			p.LossPer1000Km, p.PerKm = m.PerThousandKm()
		}
		before = f.km
		list = append(list, p)
		outcomes = append(outcomes, f.outcome)
	}
	slices.Reverse(list)
	slices.Reverse(outcomes)
	return list, outcomes
}

func dataOf(fillings ...filling) Data {
	d := Data{Name: "Blue estate, rear axle"}
	d.Points, d.Outcomes = points(fillings...)
	d.Leakage = verdict.Leaks(d.Points)
	return d
}

func sound() []filling {
	return []filling{
		{"2015-05-02", 61200, 790, 14, 835, 13, 0, 0, accepted(verdict.LikelyWithin)},
		{"2017-04-22", 88400, 818, 9, 829, 11, 17, 16, accepted(verdict.Within)},
		{"2019-06-15", 117900, 812, 9, 834, 11, 9, 15, accepted(verdict.Within)},
		{"2021-05-08", 142300, 824, 9, 826, 11, 12, 15, accepted(verdict.Within)},
		{"2023-09-30", 171050, 815, 9, 831, 11, 4, 15, accepted(verdict.Within)},
		{"2026-04-18", 203480, 809, 9, 828, 12, 14, 15, accepted(verdict.LikelyWithin)},
	}
}

func soundData() Data {
	d := dataOf(sound()...)
	d.Residual = verdict.Learned{ML: 83, UML: 9.5, Jobs: 5}
	d.Escape = verdict.Learned{ML: 44, UML: 11, Jobs: 6}
	d.Waste = verdict.Waste{ML: 1620, Since: time.Date(2023, 9, 30, 0, 0, 0, 0, time.UTC)}
	return d
}

func leakingData() Data {
	f := sound()
	f[4].loss, f[4].out = 31, 795
	f[5].loss, f[5].out = 96, 735
	return dataOf(f...)
}

// unsureData has a job soon after another, which says next to nothing of a loss
// per distance, one left unproven, and one that is under way.
func unsureData() Data {
	f := sound()[:4]
	f[2].loss, f[2].lossU = 40, 25
	return dataOf(append(f,
		filling{"2021-05-29", 142420, 821, 9, 830, 40, 6, 15, outcome{Unit: verdict.LeftOff}},
		filling{"2023-09-30", 171050, 815, 9, 0, 0, 0, 0, outcome{Unit: verdict.Empty}})...)
}

func usData() Data {
	d := soundData()
	d.Units = quantity.US()
	return d
}

func manyData() Data {
	var f []filling
	for i := range 60 {
		date := time.Date(1966+i, 6, 1, 0, 0, 0, 0, time.UTC).Format(time.DateOnly)
		f = append(f, filling{date, 1000 + 9000*float64(i), 800 + 10*math.Sin(float64(i)), 9, 830, 11, 12 * math.Cos(float64(i)), 15,
			accepted(verdict.Within)})
	}
	d := dataOf(f...)
	d.Skip = 3
	return d
}

func TestPictures(t *testing.T) {
	scenes := []struct {
		name string
		data Data
	}{
		{"no job yet", Data{Name: "Blue estate, rear axle"}},
		{"one job", dataOf(sound()[0])},
		{"two jobs", dataOf(sound()[:2]...)},
		{"six sound jobs", soundData()},
		{"losing oil", leakingData()},
		{"unsure", unsureData()},
		{"in fluid ounces and miles", usData()},
		{"sixty jobs, three scrolled away", manyData()},
	}
	for _, size := range [][2]int{{60, 17}, {80, 20}, {120, 36}} {
		for _, ascii := range []bool{false, true} {
			th := theme.New(theme.Options{Colour: theme.Plain, ASCII: ascii})
			var b strings.Builder
			for _, s := range scenes {
				fmt.Fprintf(&b, "== %s\n%s\n\n", s.name, strings.Join(View(s.data, size[0], size[1], th), "\n"))
			}
			name := fmt.Sprintf("%dx%d-unicode.txt", size[0], size[1])
			if ascii {
				name = fmt.Sprintf("%dx%d-ascii.txt", size[0], size[1])
			}
			golden.Check(t, filepath.Join("testdata", name), b.String())
		}
	}
}

// number draws volumes that make sense and those that do not.
func number() *rapid.Generator[float64] {
	return rapid.OneOf(
		rapid.Float64Range(-100, 6000),
		rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300, 5e-324, 1e7, -1e7}),
		rapid.Float64(),
	)
}

func anyValue(t *rapid.T) measure.Value {
	return measure.Gaussian("x", number().Draw(t, "value"), number().Draw(t, "u"))
}

func anyPoint() *rapid.Generator[verdict.HistoryPoint] {
	return rapid.Custom(func(t *rapid.T) verdict.HistoryPoint {
		flag := func(name string) bool { return rapid.Bool().Draw(t, name) }
		seconds := rapid.OneOf(rapid.Int64Range(0, 4e9), rapid.SampledFrom([]int64{0, 1e9, math.MinInt64, math.MaxInt64}))
		p := verdict.HistoryPoint{
			Km: number().Draw(t, "km"), Drained: flag("drained"), DrainedML: anyValue(t),
			Proven: flag("proven"), NetML: anyValue(t), Known: flag("known"), LossML: anyValue(t),
			SinceKm: number().Draw(t, "since"), PerKm: flag("per km"), LossPer1000Km: anyValue(t),
			Sign: learn.Sign(rapid.IntRange(0, 4).Draw(t, "sign")),
		}
		if flag("dated") {
			p.Date = time.Unix(seconds.Draw(t, "date"), 0).UTC()
		}
		return p
	})
}

func anyData() *rapid.Generator[Data] {
	return rapid.Custom(func(t *rapid.T) Data {
		learned := func() verdict.Learned {
			return verdict.Learned{ML: number().Draw(t, "learned"), UML: number().Draw(t, "u"), Jobs: rapid.IntRange(-1, 3).Draw(t, "jobs")}
		}
		few := rapid.SliceOfN(anyPoint(), 1, 5).Draw(t, "points")
		n := rapid.SampledFrom([]int{0, 1, 2, 3, 10, 500}).Draw(t, "n")
		d := Data{Residual: learned(), Escape: learned(), Name: rapid.String().Draw(t, "name"),
			Waste: verdict.Waste{ML: number().Draw(t, "waste")}}
		for i := range n {
			p := few[i%len(few)]
			if !p.Date.IsZero() {
				p.Date = p.Date.AddDate(0, -i, 0)
			}
			d.Points = append(d.Points, p)
			if i%7 != 6 {
				d.Outcomes = append(d.Outcomes, outcome{verdict.UnitState(i % 7), i % 100, verdict.Conformity(i % 6)})
			}
		}
		d.Leakage = verdict.Leaks(d.Points)
		d.Units = rapid.SampledFrom([]quantity.Units{{}, quantity.US(), quantity.Imperial(), {Volume: quantity.Litre},
			{Volume: quantity.USGallon}}).Draw(t, "units")
		d.Skip = rapid.IntRange(-3, 600).Draw(t, "skip")
		d.First = chart(rapid.Uint8().Draw(t, "first"))
		if rapid.Bool().Draw(t, "since known") {
			d.Waste.Since = time.Unix(1e9, 0)
		}
		return d
	})
}

func anyTheme() *rapid.Generator[theme.Theme] {
	return rapid.Custom(func(t *rapid.T) theme.Theme {
		return theme.New(theme.Options{
			Dark:   rapid.Bool().Draw(t, "dark"),
			Colour: rapid.SampledFrom([]theme.Colour{theme.Plain, theme.NoColour, theme.ANSI16, theme.TrueColour}).Draw(t, "colour"),
			ASCII:  rapid.Bool().Draw(t, "ascii"),
		})
	})
}

func TestKeepsToItsRoomWhateverTheData(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, th := anyData().Draw(t, "data"), anyTheme().Draw(t, "theme")
		width, height := rapid.IntRange(-1, 200).Draw(t, "width"), rapid.IntRange(-1, 60).Draw(t, "height")
		lines := View(d, width, height, th)
		if len(lines) > max(height, 0) {
			t.Fatalf("%d lines in %d", len(lines), height)
		}
		for _, l := range lines {
			if w := text.Width(l); w > max(width, 0) {
				t.Fatalf("%d cells in %d: %q", w, width, l)
			}
			for _, r := range ansi.Strip(l) {
				if r < ' ' || r >= 0x7f && r < 0xa0 || th.Glyphs.ASCII && r > 127 {
					t.Fatalf("%U in %q", r, l)
				}
			}
		}
		if again := View(d, width, height, th); !slices.Equal(lines, again) {
			t.Fatal("drawn twice, it differs")
		}
	})
}

// The colour adds nothing that the characters do not say.
func TestColourChangesNoCharacter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyData().Draw(t, "data")
		o := theme.Options{Dark: true, ASCII: rapid.Bool().Draw(t, "ascii")}
		width, height := rapid.IntRange(60, 200).Draw(t, "width"), rapid.IntRange(17, 60).Draw(t, "height")
		plain := View(d, width, height, theme.New(o))
		o.Colour = theme.TrueColour
		if got := ansi.Strip(strings.Join(View(d, width, height, theme.New(o)), "\n")); got != strings.Join(plain, "\n") {
			t.Fatalf("with colour\n%s\nwithout\n%s", got, strings.Join(plain, "\n"))
		}
	})
}

func TestSaysLosingOilOnlyWhereTheFiguresBearIt(t *testing.T) {
	th := theme.New(theme.Options{})
	rapid.Check(t, func(t *rapid.T) {
		var f []filling
		date := time.Date(2010, 1, 1, 0, 0, 0, 0, time.UTC)
		for i := range rapid.IntRange(0, 8).Draw(t, "n") {
			f = append(f, filling{
				date: date.AddDate(i, 0, 0).Format(time.DateOnly), km: 1000 * float64(i+1),
				out: 800, outU: 9, in: 830, inU: 11,
				loss: rapid.Float64Range(-150, 150).Draw(t, "loss"), lossU: rapid.Float64Range(1, 60).Draw(t, "u"),
				outcome: accepted(verdict.Within),
			})
		}
		d := dataOf(f...)
		text := strings.Join(View(d, 200, 30, th), "\n")
		if got, want := strings.Contains(text, "the unit is losing oil"), d.Leakage.Sign == learn.Leak; got != want {
			t.Fatalf("says so: %v, borne out: %v (%v)\n%s", got, want, d.Leakage, text)
		}
	})
}

func BenchmarkViewOfManyJobs(b *testing.B) {
	d, th := manyData(), theme.New(theme.Options{Colour: theme.TrueColour})
	for b.Loop() {
		View(d, 200, 60, th)
	}
}
