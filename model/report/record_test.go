package report

// This file holds the record to what it must say: state and verdict first, a
// half-done job never like a done one, what was struck out, left, guessed or
// done by feel, and the same figures in every format.

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/jobtest"
	"garage/tundish/model/verdict"
)

// pageText is what can be read of an HTML page, without its style.
func pageText(t *testing.T, page string) string {
	t.Helper()
	root, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for n := range root.Descendants() {
		if n.Type == html.TextNode && n.Parent.Data != "style" {
			b.WriteString(n.Data + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// Between the plug coming out and the amount being accepted, every format of
// the job as it is at that moment says that the unit is empty or unproven.
func TestHalfDoneJobNeverLooksDone(t *testing.T) {
	for _, j := range []job.Job{wholeDrainPort(t), wholeLevelPort(t)} {
		out := false
		for n := range j.Entries {
			part := job.Job{ID: j.ID, Started: j.Started, Entries: j.Entries[:n]}
			s := guide.Fold(part, guide.Offers{})
			out = out || (n > 0 && j.Entries[n-1].Topic == job.PlugOut)
			if !out || s.UnitState().Settled() {
				continue
			}
			word, token := "EMPTY", `"unit_state": "empty"`
			if s.UnitState() == verdict.Unproven {
				word, token = "NOT PROVEN", `"unit_state": "unproven"`
			}
			for f, want := range map[Format]string{Markdown: word, HTML: word, Text: word, CSV: word, JSON: token} {
				if got := written(t, f, part); !strings.Contains(got, want) ||
					strings.Contains(got, "PROVEN ·") != (word == "NOT PROVEN") && f != CSV && f != JSON {
					t.Fatalf("%v after %d entries does not say %q", f, n, want)
				}
			}
			if text := written(t, Text, part); !strings.Contains(strings.Join(strings.Fields(text), " "), "Not to be driven") {
				t.Fatalf("after %d entries it does not say that the car is not to be driven:\n%s", n, text[:400])
			}
		}
	}
}

// State and verdict stand before everything else.
func TestRecordLeadsWithStateAndVerdict(t *testing.T) {
	lines := strings.Split(written(t, Text, wholeDrainPort(t)), "\n")
	if lines[2] != "ACCEPTED, LIKELY 84 in 100 · DONE" || !strings.HasPrefix(lines[4], "Verdict: ") {
		t.Errorf("the record begins\n%s", strings.Join(lines[:6], "\n"))
	}
}

func TestFormatsAgree(t *testing.T) {
	for _, job := range []job.Job{wholeDrainPort(t), wholeLevelPort(t), longJob(t, 3, 1)} {
		r := recordOf(guide.Fold(job, guide.Offers{}), Options{})
		texts := []string{r.StateText, r.Phase.String(),
			r.Gauge.Drained.Text, r.Gauge.InUnit.Text, r.Gauge.TargetText, r.Gauge.CapacityText}
		for _, sum := range r.Sums {
			for _, l := range sum.Lines {
				texts = append(texts, l.Amount)
			}
		}
		for _, g := range r.Readings {
			texts = append(texts, g.Shown20)
		}
		md, txt, page := written(t, Markdown, job), written(t, Text, job), pageText(t, written(t, HTML, job))
		for _, want := range texts {
			for name, got := range map[string]string{"md": md, "txt": txt, "html": page} {
				if !strings.Contains(got, want) {
					t.Errorf("%s of %s does not have %q", name, job.ID, want)
				}
			}
		}
	}
}

func TestStruckReadingsStayVisible(t *testing.T) {
	job := wholeDrainPort(t) // 830 was corrected to 850, that to 845
	for name, got := range map[string]string{"txt": written(t, Text, job), "html": pageText(t, written(t, HTML, job)),
		"md": written(t, Markdown, job)} {
		flat := strings.Join(strings.Fields(got), " ")
		for _, want := range []string{"500+330 = 830 ml", "500+350 = 850 ml", "500+345 = 845 ml"} {
			if !strings.Contains(flat, want) {
				t.Errorf("%s does not show %s", name, want)
			}
		}
		if n := strings.Count(flat, "STRUCK OUT, now 845 ml"); n != 2 && name != "txt" {
			t.Errorf("%s says STRUCK OUT %d times, want twice", name, n)
		}
	}
	if n := strings.Count(written(t, HTML, job), "<s>"); n != 4 {
		t.Errorf("html strikes %d cells, want 4", n)
	}
}

// A choice keeps the figure that it was made for; what is shown is the choice.
func TestStruckDecisionIsToldInWords(t *testing.T) {
	lines := jobtest.DrainPort()
	lines[job.Decision], lines[job.LeftWhy] = []string{"leave"}, []string{"the light went"}
	d := jobtest.New(t, lines)
	d.Until(job.LeftWhy)
	d.Correct(job.Decision, 0, 0, "accept")
	if struck := recordOf(d.Guide(), Options{}).Struck; len(struck) != 1 || !strings.Contains(struck[0].Instead, "accept") {
		t.Errorf("struck out: %q", struck)
	}
}

func TestUndoneReadingIsTakenBack(t *testing.T) {
	d := jobtest.New(t, jobtest.DrainPort())
	d.Until(job.DrainedTemperature)
	e, ok := d.Guide().UndoEntry(d.At)
	if !ok {
		t.Fatal("nothing to undo")
	}
	d.Add(e)
	if text := written(t, Markdown, d.Job); !strings.Contains(text, "came out: STRUCK OUT, taken back") {
		t.Errorf("the undone reading is not shown as struck out:\n%s", text)
	}
}

func TestDeviations(t *testing.T) {
	with := func(other jobtest.Script) jobtest.Script {
		lines := jobtest.DrainPort()
		for topic, l := range other {
			lines[topic] = l
		}
		return lines
	}
	tests := []struct {
		name  string
		lines jobtest.Script
		until job.Topic
		want  string
	}{
		{"by feel", with(jobtest.Script{job.TorqueFigure: {"-"}}), 0, "The plug was tightened by feel"},
		{"old washer", with(jobtest.Script{job.WasherFitted: {"reused"}}), 0, "The old washer was used again."},
		{"guessed", with(jobtest.Script{job.EscapedHow: {"guess"}}), 0, "The spill was guessed"},
		{"dry swap, not looked at again", with(jobtest.Script{job.EscapedHow: {"none"}, job.NothingEscaped: {"not_looked"}}), job.Decision,
			"the usual spill is taken"},
		{"pan above the measure", with(jobtest.Script{job.DripReading: {"900", ""}}), job.PlanAccepted, "the looks at the pan were wrong"},
		{"air", with(jobtest.Script{job.AirInLine: {"air"}}), 0, "Air in the line"},
		{"hot", with(jobtest.Script{job.OilTemperature: {"55"}, job.HotOilGoOn: {"go_on"}}), 0, "Drained hot"},
		{"water", with(jobtest.Script{job.OilLook: {"milky"}}), job.DrainedAmount, "Water in the oil: what came out proves nothing."},
		{"leaked before", with(jobtest.Script{job.OilHistory: {"leaked"}}), job.DrainedAmount, "It had been leaking"},
		{"dry", with(jobtest.Script{job.DryStart: {"dry"}}), job.PlanAccepted,
			"The unit started dry (new, rebuilt or overhauled): nothing was drained."},
		{"chips", with(jobtest.Script{job.MagnetLook: {"chips"}}), 0, "STOPPED by the owner: chips of metal"},
		{"chosen basis",
			with(jobtest.Script{job.PriorLevel: {"verified"}, job.DrainedAmount: {"640"}, job.LookedAgain: {"nothing_more"},
				job.Basis:    {"capacity"},
				job.BasisWhy: {"it weeped for a year"}}), job.PlanAccepted, "Why: it weeped for a year."},
		{"left", with(jobtest.Script{job.Decision: {"leave"}, job.LeftWhy: {"the light went"}}), job.WasteOil,
			"LEFT, NOT PROVEN by the owner. Why: the light went."},
		{"readings do not agree", with(jobtest.Script{job.VesselWeighedAfter: {"900"}, job.BalanceSuspect: {"stands"}}), job.Decision,
			"the suspect one kept"},
	}
	for _, tt := range tests {
		d := jobtest.New(t, tt.lines)
		s := d.Until(tt.until)
		if got := strings.Join(recordOf(s, Options{}).Deviations, "\n"); !strings.Contains(got, tt.want) {
			t.Errorf("%s: deviations\n%s\nwant %q", tt.name, got, tt.want)
		}
	}
	if plain := recordOf(jobtest.New(t, jobtest.DrainPort()).Until(job.LeakCheck), Options{}).Deviations; len(plain) > 1 {
		t.Errorf("a plain job has deviations: %q", plain)
	}
}

// A unit that started dry is said to have; nothing of it is said to be drained,
// and what stays inside is no estimate that anything rests on.
func TestRecordOfADryStart(t *testing.T) {
	s := jobtest.New(t, jobtest.Script{job.Capacity: {"900"}, job.DryStart: {"dry"}}).Until(job.PlanAccepted)
	r := recordOf(s, Options{})
	if !slices.Contains(r.Unit, recordFact{"In it before", "Nothing: new, rebuilt or overhauled, dry inside"}) {
		t.Errorf("facts of the unit: %v", r.Unit)
	}
	if !strings.Contains(r.StateWords, "dry inside") || strings.Contains(strings.Join(r.Notes, "\n"), "stays inside") {
		t.Errorf("%q, %q", r.StateWords, r.Notes)
	}
	if f := figuresOf(s); f.Drained != nil || f.Target == nil || f.Target.ML != 900 {
		t.Errorf("drained %v, target %v", f.Drained, f.Target)
	}
}

func TestEstimatesAreSaidToBeOnes(t *testing.T) {
	d := jobtest.New(t, jobtest.Script{job.Capacity: {"900"}})
	d.Until(job.GroundAndChocks)
	notes := strings.Join(recordOf(d.Guide(), Options{}).Notes, "\n")
	for _, want := range []string{"not the maker's figures", "the tolerance", "density of the oil, 870", "what stays inside at a drain"} {
		if !strings.Contains(notes, want) {
			t.Errorf("notes do not say %q:\n%s", want, notes)
		}
	}
}

func TestSafetyIsShownWithItsTime(t *testing.T) {
	r := recordOf(guide.Fold(wholeDrainPort(t), guide.Offers{}), Options{Zone: time.FixedZone("CEST", 7200)})
	if len(r.Safety) < 10 {
		t.Fatalf("only %d cautions are shown", len(r.Safety))
	}
	if first := r.Safety[0]; !strings.HasPrefix(first.When, "10:") { // 08:11 UTC
		t.Errorf("the first is at %s, want the time of the zone", first.When)
	}
	if !strings.Contains(strings.Join(r.Notes, " "), "CEST") {
		t.Errorf("the zone is not said: %q", r.Notes)
	}
}

func TestFormatNames(t *testing.T) {
	for f := range formatCount {
		text := []byte(f.String())
		var back Format
		if err := back.UnmarshalText(text); err != nil || back != f {
			t.Errorf("%s is read back as %v: %v", text, back, err)
		}
	}
	var f Format
	if err := f.UnmarshalText([]byte("pdf")); err == nil || !strings.Contains(err.Error(), "md, html, txt, json, csv") {
		t.Errorf("an unknown format: %v", err)
	}
}

// In the middle of a push the net fill in the files is that of the last look,
// as in the picture; before one it is not known.
func TestFiguresInTheMiddleOfAPush(t *testing.T) {
	d := jobtest.New(t, jobtest.DrainPort())
	s := d.Until(job.FillReading)
	if f := figuresOf(s); f.NetFill != nil {
		t.Errorf("%v before the first look", f.NetFill.ML)
	}
	next, _ := s.Next()
	d.Answer(s, next)
	s = d.Guide()
	want, _ := s.InUnitNow()
	if f := figuresOf(s); f.NetFill == nil || f.NetFill.ML > 330 || math.Abs(f.NetFill.ML-want.Nominal) > 0.001 {
		t.Errorf("net fill %+v, in the picture %v", f.NetFill, want.Nominal)
	}
}

// A record says what came out, the aim and what went in as the results of their sums
// wherever it says them: in short, and in the verdict's sentence.
func TestRecordSaysOneFigureOfEachThing(t *testing.T) {
	for _, j := range []job.Job{wholeDrainPort(t), wholeLevelPort(t)} {
		s := guide.Fold(j, guide.Offers{})
		r := recordOf(s, Options{})
		results := map[string]string{}
		for _, sum := range r.Sums {
			last := sum.Lines[len(sum.Lines)-1]
			results[last.Name] = last.Amount
		}
		for name, said := range map[string]string{"came out": r.Gauge.Drained.Text, "aim": r.Gauge.TargetText,
			"went in": r.Gauge.InUnit.Text} {
			if said == "" || results[name] != said {
				t.Errorf("%s, %s: in short %q, the sum comes to %q", j.ID, name, said, results[name])
			}
		}
		round, _ := s.JudgedRound()
		h, err := s.Headline(round)
		if err != nil || s.FormatU(h.In) != results["went in"] || s.FormatU(h.Aim) != results["aim"] {
			t.Errorf("%s: %q (%v), the sums come to %v", j.ID, h.Sentence, err, results)
		}
	}
}
