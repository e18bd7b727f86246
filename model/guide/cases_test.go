package guide

// This file holds troubled jobs up to the plan, and what they share; those of
// the push are in cases_fill_test.go. They say what an experienced hand decides
// in each, and the millilitres. The jobs are invented; the decisions are common
// practice, no source. Volumes are at 20 °C unless a row says otherwise, of oil
// of 0.885 kg/L at 20 °C, which is 888.15 kg/m³ at 15 °C (API MPMS 11.1,
// lubricating oils).

import (
	"strings"
	"testing"
	"time"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// sheet is a refill job with a good jug, a scale and an oil with a data sheet.
var sheet = script{
	job.CapacityMeans:  {"refill"},
	job.PriorLevel:     {"verified"},
	job.OilDensity:     {"888.15"},
	job.ScaleDivision:  {"1"},
	job.HoseBore:       {"6"},
	job.VesselHeel:     {"0"},
	job.OilTemperature: {"40"},
	job.DrainedWith:    {"c0"},
	job.LoadedWith:     {"c0"},
	job.LeftWith:       {"c0"},
	job.LeftInVessel:   {"0"},
	job.EscapedAtCap:   {"0"},
	job.LeakCheck:      {"dry"},
	job.WasherRecheck:  {"dry"},
}

// found is the finding of a kind, or a failure.
func found(t *testing.T, s *Guide, k verdict.FindingKind) verdict.Finding {
	t.Helper()
	for _, f := range s.Findings() {
		if f.Kind == k {
			return f
		}
	}
	t.Fatalf("nothing found of the kind %v; found %+v", k, s.Findings())
	return verdict.Finding{}
}

func notFound(t *testing.T, s *Guide, k verdict.FindingKind) {
	t.Helper()
	for _, f := range s.Findings() {
		if f.Kind == k {
			t.Errorf("found %v: %s", k, f.Text)
		}
	}
}

func asked(t *testing.T, s *Guide, want job.Topic) Prompt {
	t.Helper()
	next, ok := s.Next()
	for p, open := range s.Prompts() { // or it need not be answered, and stands before that
		if open && p.Topic == want && (p.Optional || p.Place == next.Place) {
			return p
		}
		if p.Place == next.Place && want != job.HoseBore {
			break
		}
	}
	t.Fatalf("asked is %v (%v), want %v", next.Place.Topic, ok, want)
	return next
}

func verdictOf(t *testing.T, s *Guide, round int) verdict.Verdict {
	t.Helper()
	v, err := s.Verdict(round)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func planFor(t *testing.T, s *Guide, round int) estimate.Plan {
	t.Helper()
	p, err := s.Plan(round)
	if err != nil || p.Undecided {
		t.Fatalf("no plan: undecided %v, %v", p.Undecided, err)
	}
	return p
}

func wantUnit(t *testing.T, s *Guide, unit verdict.UnitState, phase Phase) {
	t.Helper()
	if s.UnitState() != unit || s.Phase() != phase {
		t.Errorf("%v, %v; want %v, %v", s.UnitState(), s.Phase(), unit, phase)
	}
}

// Case 1: 1500 ± 75 stated, 640 at 45 °C = 629 came out, 871 short; 15 more on
// waiting. Never copied: filled to 1500, and a leak hunt.
func TestCaseDrainedFarBelow(t *testing.T) {
	far := sheet.with(script{
		job.Capacity: {"1500"}, job.ToleranceTopic: {"75"}, job.DrainedAmount: {"640", "15"}, job.DrainedTemperature: {"45", "45"},
		job.LookedAgain: {"more", "nothing_more"}, job.BasisWhy: {"leak at the pinion seal"},
	})
	d := newDrive(t, far)
	s := d.until(job.LookedAgain)
	near(t, "drained", s.Drained().Total.Nominal, 629, 0.6)
	near(t, "short by", found(t, s, verdict.FarBelowStated).ML, 871, 0.6)
	if p := asked(t, s, job.LookedAgain); !p.Stop || !p.Safety {
		t.Errorf("no stop before filling: %q", p.AskText(s))
	}
	s = d.until(job.Basis)
	near(t, "drained after waiting", s.Drained().Total.Nominal, 629+14.7, 0.6)
	if v, ok := asked(t, s, job.Basis).DefaultValue(s); ok {
		t.Errorf("on offer where two facts contradict each other: %v", v)
	}
	s = d.until(job.LoadedAmount)
	near(t, "target", planFor(t, s, 0).Target.Nominal, 1500, 0)
	if f := found(t, s, verdict.LeakSuspected); !strings.Contains(f.Do, "500 km") {
		t.Errorf("no second look after 500 km: %q", f.Do)
	}

	s = newDrive(t, far.with(script{job.MagnetLook: {"chips"}})).until(job.NoTopic)
	found(t, s, verdict.ChipsFound)
	wantUnit(t, s, verdict.Empty, Stopped)
	if s.MayDrive() {
		t.Error("slivers on the magnet, and the car may be driven")
	}
}

// Case 2: 600 ± 30 stated, 790 at 50 °C = 773 came out, 173 too much. Whatever
// the cause, the target stays 600.
func TestCaseDrainedAbove(t *testing.T) {
	for _, row := range []struct {
		cause string
		kind  verdict.FindingKind
	}{
		{"neighbour", verdict.NeighbourOil}, {"water", verdict.WaterIn}, {"overfilled", verdict.OverfilledBefore},
		{"nothing_more", verdict.FarAboveStated},
	} {
		d := newDrive(t, sheet.with(script{
			job.Capacity: {"600"}, job.ToleranceTopic: {"30"}, job.DrainedAmount: {"790"}, job.DrainedTemperature: {"50"},
			job.LookedAgain: {row.cause}, job.BasisWhy: {"checked the manual twice"},
		}))
		s := d.until(job.LookedAgain)
		near(t, "drained", s.Drained().Total.Nominal, 773, 0.6)
		near(t, "too much", found(t, s, verdict.FarAboveStated).ML, 173, 0.6)
		s = d.until(job.LoadedAmount)
		found(t, s, row.kind)
		near(t, row.cause+": target", planFor(t, s, 0).Target.Nominal, 600, 0)
	}
}

// Case 3: 1150 in a 2 L jug with 100 ml marks, froth on it; 905 g on the scale
// are 1023 ± 4, 127 apart and more than 2 U. The scale is trusted, the jug read
// again (1030), the first reading struck out with a reason and kept. The scale
// is ± 13 here, not ± 4: what is weighed is the old oil, whose density is not
// on the sheet.
func TestCaseJugMisread(t *testing.T) {
	d := newDrive(t, sheet.with(script{
		job.Capacity: {"1050"}, job.ContainerGraduation: {"100"}, job.DrainedWith: {"c0", "scale"}, job.DrainedAmount: {"1150", "905 g"},
		job.DrainedTemperature: {"20"}, job.DrainedMore: {"again", "done"}, job.StruckWhy: {"froth"},
	}))
	s := d.until(job.MeasureTrusted)
	w := s.Drained().Measures
	near(t, "on the scale", w[1].Nominal, 1023.8, 0.5) // 1022.6, and 0.12 % that the air carries
	f := found(t, s, verdict.MeasuresApart)
	near(t, "gap", f.ML, 126.2, 0.6)
	if e := entryOf(s, f.Seq); e.Value.Number != 1150 {
		t.Errorf("to be read again: %v, want the jug", e.Value)
	}
	s = d.correct(job.DrainedAmount, 0, 0, "1030")
	notFound(t, s, verdict.MeasuresApart)
	near(t, "drained", s.Drained().Total.Nominal, 1024, 1)
	asked(t, d.until(job.StruckWhy), job.StruckWhy)
	s = d.until(job.LoadedAmount)
	ledger, stands := s.Ledger()
	if e := ledger[f.Seq-1]; e.Value.Number != 1150 || stands[f.Seq-1] {
		t.Errorf("the first reading is not kept struck out: %v, stands %v", e.Value, stands[f.Seq-1])
	}
	if s.Text(job.StruckWhy) != "froth" {
		t.Error("no reason is kept")
	}
}

// Case 4: 660 passed, the pan knocked over. Guess 70 ± 49: 590, not proven.
// Pads 42 g dry, 118 g wet: 76 g are 86, net 574: not proven either, add 26. A
// small push brings it in. The case takes 600 for certain; here it is known to
// ± 22, which is too little to prove ± 25.
func TestCaseSpillUnmeasured(t *testing.T) {
	d := newDrive(t, sheet.with(script{
		job.Capacity: {"600"}, job.ToleranceTopic: {"25"}, job.DrainedAmount: {"600@20"}, job.HoseBefore: {"primed", "primed"},
		job.LoadedAmount: {"660", "105"},
		job.EscapedHow:   {"guess", "pads"}, job.EscapedAmount: {"70"}, job.PadsBefore: {"42", "42"}, job.PadsAfter: {"118", "108"},
		job.LeftInVessel: {"0", "0"}, job.EscapedAtCap: {"0", "0"}, job.Decision: {"add", "accept"},
	}))
	s := d.until(job.Decision)
	v := verdictOf(t, s, 0)
	near(t, "net by the guess", s.NetFill(0).Nominal, 590, 0)
	if v.Conformity != verdict.NotProven || v.Act != verdict.Remeasure {
		t.Errorf("by the guess: %v, %v; want not proven, re-measure", v.Conformity, v.Act)
	}
	f := found(t, s, verdict.SpillDominates)
	if entryOf(s, f.Seq).Topic != job.EscapedHow {
		t.Errorf("to be answered again: %v", entryOf(s, f.Seq).Topic)
	}
	d.correct(job.EscapedHow, 0, 0, "pads")
	s = d.until(job.Decision)
	v = verdictOf(t, s, 0)
	near(t, "net by the pads", s.NetFill(0).Nominal, 574, 0.5)
	if v.Conformity != verdict.NotProven || v.Act != verdict.AddOil {
		t.Errorf("by the pads: %v, %v; want not proven, add", v.Conformity, v.Act)
	}
	near(t, "to add", v.ActML, 26, 0.5)
	for _, o := range asked(t, s, job.Decision).Choices(s) {
		if o.Token == "accept" {
			t.Error("it can be accepted although it is not proven")
		}
	}
	s = d.until(job.AdapterIn)
	near(t, "small push, two swaps of 50", planFor(t, s, 1).Charge.Nominal, 26+100, 0.5)
	s = d.until(job.LeakCheck)
	near(t, "net at the end", s.NetFill(1).Nominal, 574+105-66/0.885, 0.5)
	wantUnit(t, s, verdict.Accepted, ToRecheck)
	if v := verdictOf(t, s, 1); v.Conformity != verdict.LikelyWithin {
		t.Errorf("at the end: %v", v.Conformity)
	}
}

// Case 5: dry 680, an ordinary residual of 80, 600 drained; left overnight, 35
// more. To add is 635: 600 is not proven, 635 is inside.
func TestCaseInterruptedAfterDraining(t *testing.T) {
	night := sheet.with(script{
		job.CapacityMeans: {"dry"}, job.Capacity: {"680"}, job.ToleranceTopic: {"30"}, job.ResidualExpected: {"70-90"},
		job.ContainerError: {"1"},
		job.DrainedAmount:  {"600@20", "35@20"}, job.HoseBefore: {"primed"}, job.LoadedAmount: {"700"}, job.EscapedAmount: {"100"},
	})
	d := newDrive(t, night)
	s := d.until(job.PlanAccepted)
	near(t, "target before the night", planFor(t, s, 0).Target.Nominal, 600, 0.01)
	d.at = d.at.Add(11 * time.Hour)
	resumed := s.ResumePrompts()
	if len(resumed) != 3 {
		t.Fatalf("on resuming with the plug out %d questions are asked, want stands, tag and port", len(resumed))
	}
	wantUnit(t, s, verdict.Empty, Open)
	for _, p := range resumed {
		s = d.state()
		line := ""
		if p.Kind == job.Choose {
			line = "open"
		}
		d.add(answered(s, p, line, d.at))
	}
	shut := d.job
	shut.Entries = append([]job.Entry{}, d.job.Entries...)
	shut.Entries[len(shut.Entries)-1].Value.Choice = "plug"
	notFound(t, Fold(shut, d.offers), verdict.StoodOpen) // the plug was in all the time

	f := found(t, d.state(), verdict.StoodOpen)
	if !strings.Contains(f.Text, "11 h") || d.job.Entries[f.Seq-1].Topic != job.DrainedMore {
		t.Errorf("%q, to correct: %v", f.Text, d.job.Entries[f.Seq-1].Topic)
	}
	d.correct(job.DrainedMore, 0, 0, "late")
	s = d.until(job.Decision)
	notFound(t, s, verdict.StoodOpen)
	near(t, "target after the night", planFor(t, s, 0).Target.Nominal, 635, 0.01)
	if v := verdictOf(t, s, 0); v.Conformity != verdict.NotProven || s.NetFill(0).Nominal != 600 {
		t.Errorf("%.0f against 635 is %v, want 600, not proven", s.NetFill(0).Nominal, v.Conformity)
	}
	s = d.correct(job.LoadedAmount, 0, 0, "735")
	if v := verdictOf(t, s, 0); v.Conformity != verdict.Within || s.NetFill(0).Nominal != 635 {
		t.Errorf("%.0f against 635 is %v, want 635, within", s.NetFill(0).Nominal, v.Conformity)
	}
}
