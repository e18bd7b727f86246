package guide

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
)

var updateLines = flag.Bool("update-lines", false, "write the printed sums anew")

// The printed sums of a job, to be looked at when they change.
func TestLinesAsPrinted(t *testing.T) {
	for _, tt := range []struct{ file, job string }{
		{"example", "example"},
		{"two_pushes", "two pushes"},
		{"let_out", "let out"},
		{"level_port", "level port"},
		{"us_units_on_a_scale", "in US units, on a scale"},
		{"second_witness", "a second witness and late drips"},
		{"bottles_and_strokes", "bottles and strokes, a guess"},
		{"basis_chosen", "far below, basis chosen"},
	} {
		t.Run(tt.file, func(t *testing.T) {
			got := printed(Fold(driven(t, tt.job), Offers{}))
			path := filepath.Join("testdata", "lines", tt.file+".txt")
			if *updateLines {
				if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("printed:\n%s\nwant:\n%s", got, want)
			}
		})
	}
}

func printed(s *Guide) string {
	sums := []verdict.Sum{s.UnfoldDrained(), s.UnfoldTarget()}
	for r := range s.Rounds() {
		sums = append(sums, s.UnfoldPreload(r), s.UnfoldNet(r))
		if v, err := s.UnfoldVerdict(r); err == nil {
			sums = append(sums, v)
		}
	}
	var b strings.Builder
	for _, sum := range sums {
		b.WriteString(strings.Join(verdict.Lines(s.Assessment, sum, verdict.SumColumns), "\n") + "\n\n")
	}
	return b.String()
}

// A name from an imported job may hold anything; a line stays a line, and
// narrow.
func TestLinesOfHostileNames(t *testing.T) {
	for _, name := range []string{"jug\nof\x1b[31m mine", strings.Repeat("x", 300), strings.Repeat("油", 150), "\u202eguj",
		"a " + strings.Repeat("long name ", 30)} {
		d := newDrive(t, example)
		d.until(job.Decision)
		for i, e := range d.job.Entries {
			if e.Topic == job.ContainerName {
				d.job.Entries[i].Value.Text = name
			}
		}
		s := d.state()
		for _, sum := range []verdict.Sum{s.UnfoldDrained(), s.UnfoldNet(0)} {
			for _, width := range []int{58, verdict.SumColumns} {
				for _, line := range verdict.Lines(s.Assessment, sum, width) {
					if strings.ContainsAny(line, "\n\x1b\u202e") || text.Width(line) > width {
						t.Errorf("%q: line %q of %d columns, want %d", name, line, text.Width(line), width)
					}
				}
			}
		}
	}
}

func TestThingOf(t *testing.T) {
	for _, c := range []struct {
		source measure.Source
		want   string
	}{
		{measure.Source{Kind: estimate.ReadSource, Name: "jug", Reading: 61, Part: 1}, "reading of the jug"},
		{measure.Source{Kind: estimate.ReadSource, Name: "jug (line 3)", Reading: 61, Part: 1, Job: "20260418a"},
			"reading of the jug (line 3)"},
		{measure.Source{Name: estimate.Temperature, Reading: 61}, "temperature"},
		{measure.Source{Kind: estimate.FillingSource, Name: estimate.Bottles, Part: 2}, "the bottles"},
		{measure.Source{Kind: estimate.FilmSource, Name: estimate.Bottles, Part: 1}, "the bottles"},
		{measure.Source{Kind: estimate.MarksSource, Name: "jug"}, "marks of the jug"},
		{measure.Source{Kind: estimate.WaterSource, Name: "jug"}, "marks of the jug"},
		{measure.Source{Kind: estimate.MarksSource, Name: "jug, checked with water"}, "marks of the jug, checked with water"},
		{measure.Source{Kind: estimate.WeighSource, Name: "vessel", Reading: 80}, "weighing the vessel"},
		{measure.Source{Name: estimate.GuessSource, Reading: 80}, "guess of what escaped"},
		{measure.Source{Name: estimate.DampPlug, Round: 1}, "damp plug"},
		{measure.Source{Name: estimate.StaysBehind}, "what stays behind"},
	} {
		if got := verdict.WordsOf(verdict.ThingOf(c.source)); got != c.want {
			t.Errorf("%+v is of %q, want %q", c.source, got, c.want)
		}
	}
}

func TestPercent(t *testing.T) {
	for _, tt := range []struct {
		share float64
		want  string
	}{{0, "0 %"}, {0.004, "< 1 %"}, {0.01, "1 %"}, {0.62, "62 %"}, {0.99, "99 %"}, {0.9999, "> 99 %"}, {1, "100 %"}} {
		if got := verdict.Percent(tt.share); got != tt.want {
			t.Errorf("%v prints %q, want %q", tt.share, got, tt.want)
		}
	}
}

// A probability is never said to be nothing or all.
func TestNoChanceIsCertain(t *testing.T) {
	for p, want := range map[float64]string{-1e-17: "< 1 %", 0: "< 1 %", 0.003: "< 1 %", 0.8958: "90 %", 0.995: "> 99 %", 1: "> 99 %",
		1 + 1e-15: "> 99 %"} {
		v := verdict.Verdict{PWithin: p, PHigh: 1 - p}
		if _, got, _ := v.Chances(); got != want {
			t.Errorf("%v prints %q, want %q", p, got, want)
		}
		if odds := v.Odds(); odds < 1 || odds > 99 {
			t.Errorf("%v is %d in 100", p, odds)
		}
	}
}

// Readings of two jobs on the same line number are two errors; the jug is one.
func TestJobsShareContainersNotReadings(t *testing.T) {
	v := measure.Rectangular(measure.Source{Kind: estimate.ReadSource, Name: "jug", Reading: 7, Part: 1}, 500, 5).
		Mul(measure.Rectangular(measure.Source{Kind: estimate.MarksSource, Name: "jug"}, 1, 0.02))
	a, b := verdict.OneOf("a", v), verdict.OneOf("b", v)
	if a.Nominal != v.Nominal || !(abs(a.U()-v.U()) < 1e-9) {
		t.Errorf("%v ± %v became %v ± %v", v.Nominal, v.U(), a.Nominal, a.U())
	}
	// √2 times the reading's u is left: 5/√3·√2 = 4.082.
	near(t, "u of the difference", a.Sub(b).U(), 4.082, 0.001)
}

func abs(x float64) float64 { return max(x, -x) }
