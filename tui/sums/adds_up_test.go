package sums

// This file tests that the sums add up as a person reads them: the printed figures of a
// sum come to the printed result, and that is the figure that the job shows elsewhere.

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"garage/tundish/model/ask"
	"garage/tundish/model/estimate"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/jobtest"
	"garage/tundish/model/report"
	"garage/tundish/model/verdict"
)

// drawn is a job with amounts drawn at random, answered up to a question that is drawn too.
func drawn(t *testing.T, d *rand.Rand) *guide.Guide {
	t.Helper()
	between := func(low, high float64) float64 { return math.Round(low + d.Float64()*(high-low)) }
	ml := func(x float64) string { return fmt.Sprintf("%.0f ml", x) }
	of := func(list ...string) string { return list[d.IntN(len(list))] }
	holds := between(400, 4000)
	out := holds * (0.85 + 0.2*d.Float64())
	load := out + between(20, 150)
	lines := jobtest.DrainPort()
	lines[job.DisplayUnits] = []string{of("metric", "us", "imperial")}
	lines[job.Capacity] = []string{ml(holds)}
	lines[job.CapacityMeans] = []string{of("dry", "refill", "unknown")}
	lines[job.PriorLevel] = []string{of("verified", "believed", "unknown")}
	lines[job.ToleranceTopic] = []string{"-"}
	lines[job.OilTemperature] = []string{fmt.Sprintf("%.0f C", between(10, 49))}
	lines[job.DripReading] = nil
	lines[job.DrainedAmount] = []string{ml(out)}
	if d.IntN(2) == 0 { // read a second time
		lines[job.DrainedAmount] = append(lines[job.DrainedAmount], ml(out*(0.98+0.04*d.Float64())))
		lines[job.DrainedMore] = []string{of("again", "another", "late")}
	}
	lines[job.DrainedTemperature] = []string{"20 C", "20 C"}
	lines[job.LoadedAmount] = []string{ml(load), ml(between(150, 300))} // the second where more is added
	lines[job.LoadedTemperature] = []string{fmt.Sprintf("%.0f C", between(5, 35))}
	lines[job.BottlesOpened], lines[job.BottlesLeft] = []string{"-"}, nil
	if d.IntN(2) == 0 {
		lines[job.BottlesOpened], lines[job.BottlesLeft] = []string{ml(load + 100)}, []string{ml(between(80, 110))}
	}
	lines[job.VesselWeighedFull], lines[job.VesselWeighedAfter] = []string{"-"}, nil
	lines[job.FillReading] = nil
	lines[job.LeftInVessel] = []string{ml(between(0, 60)), ml(between(0, 60))}
	lines[job.LetOutAmount] = []string{ml(between(20, 200))}
	lines[job.Decision] = []string{"", "leave"}
	lines[job.HoseBefore], lines[job.HoseAfter] = []string{of("dry", "primed")}, []string{of("full", "back")}
	lines[job.EscapedAtCap] = []string{ml(between(0, 10)), "0"}
	lines[job.EscapedAmount] = []string{ml(between(5, 80)), ml(between(5, 80))}
	stops := []job.Topic{job.DrainedTemperature, job.PlanAccepted, job.LoadedTemperature, job.Decision, job.Decision, job.LeakCheck}
	return jobtest.New(t, lines).Until(stops[d.IntN(len(stops))])
}

// termForm is a printed term: its sign, its label, its figure, and the ± of that.
var termForm = regexp.MustCompile(`^([ +=-]) (\S.*?) +(-?\d+(?:\.\d+)?) +(?:± (\d+(?:\.\d+)?) )?\pL`)

// printed is a figure as it stands on a line, and half of what its last digit counts.
type printed struct{ sign, label, figure, give string }

func (p printed) number(t *testing.T) (x, half float64) {
	t.Helper()
	x, err := strconv.ParseFloat(p.figure, 64)
	if err != nil {
		t.Fatal(err)
	}
	_, decimals, _ := strings.Cut(p.figure, ".")
	half = math.Pow10(-len(decimals)) / 2
	if decimals == "" { // tens and hundreds, where the ± has no more
		give := p.give
		for strings.HasSuffix(give, "0") && len(give) > 1 {
			half, give = 10*half, give[:len(give)-1]
		}
	}
	return x, half
}

// termsOf are the terms among the printed lines of a sum.
func termsOf(t *testing.T, s *guide.Guide, sum verdict.Breakdown) (terms []printed) {
	t.Helper()
	for _, line := range Lines(s, sum, Columns)[1:] {
		if m := termForm.FindStringSubmatch(line); m != nil && len(terms) < len(sum.Terms) {
			terms = append(terms, printed{m[1], m[2], m[3], m[4]})
		}
	}
	if len(terms) != len(sum.Terms) {
		t.Fatalf("%d terms are read of %d:\n%s", len(terms), len(sum.Terms), strings.Join(Lines(s, sum, Columns), "\n"))
	}
	return terms
}

// elsewhere are the figures that a job shows beside its sums, by the title of their sums and
// in their order: in its file, in the question that takes the plan of a round, and as the
// verdict has it.
func elsewhere(t *testing.T, s *guide.Guide) map[string][]string {
	t.Helper()
	data, err := report.Figures(s)
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Drained *report.Amount `json:"drained_20c"`
		Target  *report.Amount `json:"target_20c"`
		NetFill *report.Amount `json:"net_fill_20c"`
	}
	if err := json.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	said := map[string][]string{}
	of := func(title string, a *report.Amount) {
		if a != nil {
			said[title] = []string{s.Units().FormatVolumeU(a.ML, estimate.Coverage*a.UML)}
		}
	}
	of("What came out", file.Drained)
	of("Aim: what belongs in", file.Target)
	if s.HasIn(job.LeftInVessel, s.Round()) {
		of("What went in", file.NetFill)
	}
	if v, err := s.Verdict(s.Round()); err == nil {
		said["How far off it is"] = []string{s.FormatU(v.Error)}
	}
	for r := range s.Rounds() {
		if s.RoundKind(r) == job.RoundAdds {
			asked := ask.SpecOf(job.PlanAccepted).AskOf(s.Known, job.At(job.PlanAccepted, r, 0))
			said["What to pour into the vessel"] = append(said["What to pour into the vessel"], strings.TrimPrefix(asked, "Pour "))
		}
	}
	return said
}

// comesTo checks the printed terms of a sum: those before each "=" come to it, within what
// rounding makes of them.
func comesTo(t *testing.T, terms []printed) error {
	t.Helper()
	at, doubt := 0.0, 0.0
	for _, p := range terms {
		x, half := p.number(t)
		switch p.sign {
		case " ":
			at, doubt = x, half
		case "+":
			at, doubt = at+x, doubt+half
		case "-":
			at, doubt = at-x, doubt+half
		case "=":
			if math.Abs(at-x) > doubt+half+1e-9 {
				return fmt.Errorf("%q comes to %g, not %s", p.label, at, p.figure)
			}
			at, doubt = x, half // the lines below go on from what is printed
		}
	}
	return nil
}

func TestPrintedSumsAddUpAndAreShownElsewhere(t *testing.T) {
	d := rand.New(rand.NewPCG(11, 4))
	compared := map[string]int{}
	for n := range 60 {
		s := drawn(t, d)
		said := elsewhere(t, s)
		for _, sum := range Of(s) {
			terms := termsOf(t, s, sum)
			if err := comesTo(t, terms); err != nil {
				t.Errorf("job %d, %s: %v:\n%s", n, sum.Title, err, strings.Join(Lines(s, sum, Columns), "\n"))
			}
			title, _, _ := strings.Cut(sum.Title, ",")
			if len(said[title]) == 0 || sum.Open {
				continue
			}
			compared[title]++
			figure, _, _ := strings.Cut(said[title][0], " ")
			said[title] = said[title][1:]
			last := terms[len(terms)-1]
			x, half := last.number(t)
			shown, other := printed{figure: figure}.number(t)
			if math.Abs(x-shown) > half+other {
				t.Errorf("job %d, %s: the sum comes to %s, elsewhere it is %s", n, title, last.figure, figure)
			}
		}
	}
	for _, title := range []string{"What came out", "Aim: what belongs in", "What to pour into the vessel", "What went in",
		"How far off it is"} {
		if compared[title] < 10 {
			t.Errorf("%s: only %d figures were compared", title, compared[title])
		}
	}
}
