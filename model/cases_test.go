package model

// This file holds troubled jobs: what an experienced hand decides in each, and
// the millilitres. The jobs are invented; the decisions are common practice,
// no source. Volumes are at 20 °C unless a row says otherwise, of oil of
// 0.885 kg/L at 20 °C, which is 888.15 kg/m³ at 15 °C (API MPMS 11.1,
// lubricating oils).

import (
	"strings"
	"testing"
	"time"

	"garage/tundish/model/flow"
	"garage/tundish/model/learn"
	"garage/tundish/model/measure"
	"garage/tundish/model/oil"
)

// sheet is a refill job with a good jug, a scale and an oil with a data sheet.
var sheet = script{
	CapacityMeans:  {"refill"},
	PriorLevel:     {"verified"},
	OilDensity:     {"888.15"},
	ScaleDivision:  {"1"},
	HoseBore:       {"6"},
	OilTemperature: {"40"},
	DrainedWith:    {"c0"},
	LoadedWith:     {"c0"},
	LeftWith:       {"c0"},
	LeftInVessel:   {"0"},
	EscapedAtCap:   {"0"},
	LeakCheck:      {"dry"},
	WasherRecheck:  {"dry"},
}

// found is the finding of a kind, or a failure.
func found(t *testing.T, s *State, k FindingKind) Finding {
	t.Helper()
	for _, f := range s.Findings() {
		if f.Kind == k {
			return f
		}
	}
	t.Fatalf("nothing found of the kind %v; found %+v", k, s.Findings())
	return Finding{}
}

func notFound(t *testing.T, s *State, k FindingKind) {
	t.Helper()
	for _, f := range s.Findings() {
		if f.Kind == k {
			t.Errorf("found %v: %s", k, f.Text)
		}
	}
}

func asked(t *testing.T, s *State, want Topic) Prompt {
	t.Helper()
	p, ok := s.Next()
	if !ok || p.Topic != want {
		t.Fatalf("asked is %v (%v), want %v", p.Place.Topic, ok, want)
	}
	return p
}

func verdictOf(t *testing.T, s *State, round int) Verdict {
	t.Helper()
	v, err := s.Verdict(round)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func planFor(t *testing.T, s *State, round int) Plan {
	t.Helper()
	p, err := s.Plan(round)
	if err != nil || p.Undecided {
		t.Fatalf("no plan: undecided %v, %v", p.Undecided, err)
	}
	return p
}

func wantUnit(t *testing.T, s *State, unit UnitState, phase Phase) {
	t.Helper()
	if s.UnitState() != unit || s.Phase() != phase {
		t.Errorf("%v, %v; want %v, %v", s.UnitState(), s.Phase(), unit, phase)
	}
}

// Case 1: 1500 ± 75 stated, 640 at 45 °C = 629 came out, 871 short; 15 more on
// waiting. Never copied: filled to 1500, and a leak hunt.
func TestCaseDrainedFarBelow(t *testing.T) {
	far := sheet.with(script{
		Capacity: {"1500"}, ToleranceTopic: {"75"}, DrainedAmount: {"640", "15"}, DrainedTemperature: {"45", "45"},
		LookedAgain: {"more", "nothing_more"}, BasisWhy: {"leak at the pinion seal"},
	})
	d := newDrive(t, far)
	s := d.until(LookedAgain)
	near(t, "drained", s.Drained().Total.Nominal, 629, 0.6)
	near(t, "short by", found(t, s, FarBelowStated).ML, 871, 0.6)
	if p := asked(t, s, LookedAgain); !strings.HasPrefix(p.AskText(s), "STOP") || !p.Safety {
		t.Errorf("no stop before filling: %q", p.AskText(s))
	}
	s = d.until(Basis)
	near(t, "drained after waiting", s.Drained().Total.Nominal, 629+14.7, 0.6)
	if v, _ := asked(t, s, Basis).DefaultValue(s); v.Choice != "capacity" {
		t.Errorf("on offer as a basis: %v", v)
	}
	s = d.until(LoadedAmount)
	near(t, "target", planFor(t, s, 0).Target.Nominal, 1500, 0)
	if f := found(t, s, LeakSuspected); !strings.Contains(f.Do, "500 km") {
		t.Errorf("no second look after 500 km: %q", f.Do)
	}

	s = newDrive(t, far.with(script{MagnetLook: {"chips"}})).until(NoTopic)
	found(t, s, ChipsFound)
	wantUnit(t, s, Empty, Stopped)
	if s.MayDrive() {
		t.Error("slivers on the magnet, and the car may be driven")
	}
}

// Case 2: 600 ± 30 stated, 790 at 50 °C = 773 came out, 173 too much. Whatever
// the cause, the target stays 600.
func TestCaseDrainedAbove(t *testing.T) {
	for _, row := range []struct {
		cause string
		kind  FindingKind
	}{
		{"neighbour", NeighbourOil}, {"water", WaterIn}, {"overfilled", OverfilledBefore}, {"nothing_more", FarAboveStated},
	} {
		d := newDrive(t, sheet.with(script{
			Capacity: {"600"}, ToleranceTopic: {"30"}, DrainedAmount: {"790"}, DrainedTemperature: {"50"},
			LookedAgain: {row.cause}, BasisWhy: {"checked the manual twice"},
		}))
		s := d.until(LookedAgain)
		near(t, "drained", s.Drained().Total.Nominal, 773, 0.6)
		near(t, "too much", found(t, s, FarAboveStated).ML, 173, 0.6)
		s = d.until(LoadedAmount)
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
		Capacity: {"1050"}, ContainerGraduation: {"100"}, DrainedWith: {"c0", "scale"}, DrainedAmount: {"1150", "905 g"},
		DrainedTemperature: {"20"}, DrainedMore: {"again", "done"}, StruckWhy: {"froth"},
	}))
	s := d.until(WitnessTrusted)
	w := s.Drained().Witnesses
	near(t, "on the scale", w[1].Nominal, 1023, 0.5)
	f := found(t, s, WitnessesApart)
	near(t, "gap", f.ML, 127, 0.6)
	if e := s.entries[f.Seq-1]; e.Value.Number != 1150 {
		t.Errorf("to be read again: %v, want the jug", e.Value)
	}
	s = d.correct(DrainedAmount, 0, 0, "1030")
	notFound(t, s, WitnessesApart)
	near(t, "drained", s.Drained().Total.Nominal, 1023, 1)
	asked(t, s, StruckWhy)
	s = d.until(LoadedAmount)
	ledger, stands := s.Ledger()
	if e := ledger[f.Seq-1]; e.Value.Number != 1150 || stands[f.Seq-1] {
		t.Errorf("the first reading is not kept struck out: %v, stands %v", e.Value, stands[f.Seq-1])
	}
	if s.text(StruckWhy) != "froth" {
		t.Error("no reason is kept")
	}
}

// Case 4: 660 passed, the pan knocked over. Guess 70 ± 49: 590, not proven.
// Pads 42 g dry, 118 g wet: 76 g are 86, net 574: not proven either, add 26. A
// small push brings it in. The case takes 600 for certain; here it is known to
// ± 20, which decides nothing.
func TestCaseSpillUnmeasured(t *testing.T) {
	d := newDrive(t, sheet.with(script{
		Capacity: {"600"}, ToleranceTopic: {"30"}, DrainedAmount: {"600@20"}, HoseBefore: {"primed", "primed"}, LoadedAmount: {"660", "105"},
		EscapedHow: {"guess", "pads"}, EscapedAmount: {"70"}, PadsBefore: {"42", "42"}, PadsAfter: {"118", "108"},
		LeftInVessel: {"0", "0"}, EscapedAtCap: {"0", "0"}, Decision: {"add", "accept"},
	}))
	s := d.until(Decision)
	v := verdictOf(t, s, 0)
	near(t, "net by the guess", v.InUnit.Nominal, 590, 0)
	if v.Word != NotProven || v.Act != Remeasure {
		t.Errorf("by the guess: %v, %v; want not proven, re-measure", v.Word, v.Act)
	}
	f := found(t, s, SpillDominates)
	if s.entries[f.Seq-1].Topic != EscapedHow {
		t.Errorf("to be answered again: %v", s.entries[f.Seq-1].Topic)
	}
	d.correct(EscapedHow, 0, 0, "pads")
	s = d.until(Decision)
	v = verdictOf(t, s, 0)
	near(t, "net by the pads", v.InUnit.Nominal, 574, 0.5)
	if v.Word != NotProven || v.Act != AddOil {
		t.Errorf("by the pads: %v, %v; want not proven, add", v.Word, v.Act)
	}
	near(t, "to add", v.ActML, 26, 0.5)
	for _, o := range asked(t, s, Decision).Choices(s) {
		if o.Token == "accept" {
			t.Error("it can be accepted although it is not proven")
		}
	}
	s = d.until(AdapterIn)
	near(t, "small push, two swaps of 50", planFor(t, s, 1).Charge.Nominal, 26+100, 0.5)
	s = d.until(LeakCheck)
	near(t, "net at the end", verdictOf(t, s, 1).InUnit.Nominal, 574+105-66/0.885, 0.5)
	wantUnit(t, s, Proven, ToRecheck)
}

// Case 5: dry 680, an ordinary residual of 80, 600 drained; left overnight, 35
// more. To add is 635: 600 is not proven, 635 is inside.
func TestCaseInterruptedAfterDraining(t *testing.T) {
	night := sheet.with(script{
		CapacityMeans: {"dry"}, Capacity: {"680"}, ToleranceTopic: {"30"}, ResidualExpected: {"70-90"}, ContainerError: {"1"},
		DrainedAmount: {"600@20", "35@20"}, HoseBefore: {"primed"}, LoadedAmount: {"700"}, EscapedAmount: {"100"},
	})
	d := newDrive(t, night)
	s := d.until(PlanAccepted)
	near(t, "target before the night", planFor(t, s, 0).Target.Nominal, 600, 0.01)
	d.at = d.at.Add(11 * time.Hour)
	resumed := s.ResumePrompts()
	if len(resumed) != 2 {
		t.Fatalf("on resuming with the plug out %d questions are asked, want stands and port", len(resumed))
	}
	wantUnit(t, s, Empty, Open)
	for _, p := range resumed {
		s = d.state()
		v := p.AckValue(s)
		if p.Kind == Choose {
			v = p.ChoiceValue(s, Option{Token: "open"})
		}
		d.add(p.Entry(s, v, "", d.at))
	}
	f := found(t, d.state(), StoodOpen)
	if !strings.Contains(f.Text, "11 h") || d.job.Entries[f.Seq-1].Topic != DrainedMore {
		t.Errorf("%q, to correct: %v", f.Text, d.job.Entries[f.Seq-1].Topic)
	}
	d.correct(DrainedMore, 0, 0, "late")
	s = d.until(Decision)
	notFound(t, s, StoodOpen)
	near(t, "target after the night", planFor(t, s, 0).Target.Nominal, 635, 0.01)
	if v := verdictOf(t, s, 0); v.Word != NotProven || v.InUnit.Nominal != 600 {
		t.Errorf("%.0f against 635 is %v, want 600, not proven", v.InUnit.Nominal, v.Word)
	}
	s = d.correct(LoadedAmount, 0, 0, "735")
	if v := verdictOf(t, s, 0); v.Word != Within || v.InUnit.Nominal != 635 {
		t.Errorf("%.0f against 635 is %v, want 635, within", v.InUnit.Nominal, v.Word)
	}
}

// Case 6: 600 through 2 m of 6 mm hose at 0.5 bar takes 22 minutes at 3 °C and
// 95 s at 40 °C (the case leaves out lift and falling pressure, as here); 2 bar
// is refused above the vessel's limit. 600 at 20 °C read 606 at 35 °C. The oil
// is an 80W-90 with 140 and 14.5 mm²/s (typical, from memory).
func TestCaseColdOil(t *testing.T) {
	gear := oil.Oil{Rho15KgM3: 888.15, KV40CSt: 140, KV100CSt: 14.5}
	for _, row := range []struct{ tempC, minutes, tolerance float64 }{{3, 22, 3}, {40, 95.0 / 60, 0.15}} {
		r, err := flow.Push(flow.PushPlan{
			Pieces: []flow.Piece{{BoreMM: 6, LengthM: 2}}, Oil: gear, TempC: row.tempC, VolumeML: 600, PressureKPa: 50,
		})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "minutes", r.Minutes, row.minutes, row.tolerance)
	}
	warm, err := gear.VolumeFrom20(600, 35)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "600 at 35 °C", warm, 606, 0.6)

	pressed := sheet.with(script{Capacity: {"600"}, Filler: {"pressurised"}, VesselRating: {"100 kPa"}})
	s := newDrive(t, pressed).until(PushPressure)
	_, err = asked(t, s, PushPressure).Parse(s, "2 bar")
	if err == nil || !strings.Contains(err.Error(), "100 kPa") || !strings.Contains(err.Error(), "warm the oil") {
		t.Errorf("2 bar in a vessel for 100 kPa: %v", err)
	}
	s = newDrive(t, pressed.with(script{VesselRating: {"-"}})).until(AtHand)
	found(t, s, VesselUnrated)
}

// adapter leaks 130 of 720, the vessel keeps 60, the hose 42.
var leakyAdapter = sheet.with(script{
	Capacity: {"600"}, DrainedAmount: {"600@20"}, HoseLength: {"1.48545"}, VesselHeel: {"60"}, EscapeExpected: {"30"},
	LoadedAmount: {"720", "280"}, LeftInVessel: {"60", "60"}, EscapedAtCap: {"130", "0"}, EscapedHow: {"none", "caught"},
	EscapedAmount: {"60"}, HoseBefore: {"dry", "dry"}, Decision: {"add", "accept"},
})

// Case 7: 488 entered, 112 short. The plug goes back in, the tag stays, and
// with the right adapter 112 are pushed besides hose and spill (60 for the two
// swaps), without draining again.
func TestCaseWrongAdapter(t *testing.T) {
	d := newDrive(t, leakyAdapter)
	s := d.until(Decision)
	f := found(t, s, AdapterLeaks)
	if near(t, "leaked", f.ML, 130, 0.001); f.Step != Cap || !strings.Contains(f.Do, "tag stays") {
		t.Errorf("%v: %q", f.Step, f.Do)
	}
	v := verdictOf(t, s, 0)
	near(t, "entered", v.InUnit.Nominal, 488, 0.01)
	near(t, "short", v.ActML, 112, 0.5)
	if v.Act != AddOil || v.MayDrive {
		t.Errorf("%v, may drive %v; want add, and not to be driven", v.Act, v.MayDrive)
	}
	s = d.until(HoseBefore) // of the second round: plug in, the day is over
	wantUnit(t, s, Unproven, Open)
	if s.has(TagOff) || s.MayDrive() {
		t.Error("the tag is off")
	}
	d.at = d.at.Add(48 * time.Hour)
	s = d.until(AdapterIn)
	plan := planFor(t, s, 1)
	near(t, "second charge", plan.Charge.Nominal, 112+42+60+60, 0.5) // with the heel
	s = d.until(LeakCheck)
	near(t, "in the unit", verdictOf(t, s, 1).InUnit.Nominal, 488+280-60-42-60, 0.5)
	wantUnit(t, s, Proven, ToRecheck)
	if s.Drained().Total.Nominal != 600 {
		t.Error("drained again")
	}
}

// A round that is given up before anything went in leaves the unit empty, and
// the next goes on from there.
func TestRoundGivenUp(t *testing.T) {
	d := newDrive(t, leakyAdapter.with(script{
		LeftInVessel: {"720", "60"}, EscapedAtCap: {"0", "0"}, HoseAfter: {"cleared", "full"}, LoadedAmount: {"720", "820"},
	}))
	s := d.until(Decision)
	if v := verdictOf(t, s, 0); v.InUnit.Nominal != 0 || v.Word != Low {
		t.Errorf("nothing went in: %v, %v", v.InUnit.Nominal, v.Word)
	}
	wantUnit(t, s, Empty, Open)
	s = d.until(AdapterIn)
	wantUnit(t, s, Empty, Open)
	s = d.until(Decision)
	near(t, "in the unit", verdictOf(t, s, 1).InUnit.Nominal, 820-60-42-60, 0.01)
}

// Case 8: air at three quarters. 168 g = 190 left in the vessel, planned 40;
// the hose keeps 38: 472 entered, 128 short. 28 strokes of 25 say 700: ignored.
func TestCaseAirEarly(t *testing.T) {
	d := newDrive(t, sheet.with(script{
		Capacity: {"600"}, DrainedAmount: {"600@20"}, HoseLength: {"1.344"}, VesselHeel: {"40"}, StrokeVolume: {"25"},
		LoadedAmount: {"700"}, StrokesCounted: {"28"}, AirInLine: {"air"}, LeftWith: {"scale"}, LeftInVessel: {"168 g"},
		EscapedHow: {"none"}, Decision: {"add"},
	}))
	s := d.until(Decision)
	f := found(t, s, AirEarly)
	if !strings.Contains(f.Text, "190 ml") || !strings.Contains(f.Do, "Strokes") {
		t.Errorf("%q %q", f.Text, f.Do)
	}
	v := verdictOf(t, s, 0)
	near(t, "entered", v.InUnit.Nominal, 472, 0.3)
	near(t, "short", v.ActML, 128, 0.5)
	s = d.until(LoadedAmount)
	near(t, "reload: 128 and two swaps of 50 and the heel; the hose is full", planFor(t, s, 1).Charge.Nominal, 128+100+40, 0.5)
}

// twoLoads are two vessels of 1300 by the vessel's marks, out of three bottles
// of 1 L with 221 g left; heel and escape come to 100.
var twoLoads = sheet.with(script{
	Capacity: {"2500"}, ToleranceTopic: {"125"}, DrainedAmount: {"2500@20"}, VesselGraduation: {"50"}, VesselHeel: {"40"},
	LoadedWith: {"vessel", "vessel"}, LoadedAmount: {"1300", "1300"}, LoadedMore: {"another", "done"}, HoseBefore: {"primed"},
	BottlesOpened: {"1000+1000+1000"}, LeftInVessel: {"40"}, BottlesLeftWith: {"scale"}, BottlesLeft: {"221 g"}, EscapedAmount: {"60"},
})

// Case 9: used 2726 by the bottles (24 of film), 2600 by the marks. The marks
// are the weaker witness; 2626 is not proven, may be over; the verdict waits
// until the marks are checked with 1000 g of water. That they read 955 of its
// 1003 is invented: then both agree.
func TestCaseBottlesAgainstVessel(t *testing.T) {
	d := newDrive(t, twoLoads)
	s := d.until(BalanceSuspect)
	f := found(t, s, BalanceOff)
	near(t, "gap", f.ML, 126, 0.5)
	if d.job.Entries[f.Seq-1].Topic != LoadedAmount || !strings.Contains(f.Do, "1000 g") {
		t.Errorf("suspect: %v, %q", d.job.Entries[f.Seq-1].Topic, f.Do)
	}
	v := verdictOf(t, s, 0)
	near(t, "net by the bottles", v.InUnit.Nominal, 2626, 0.5)
	if v.Word != NotProven || v.PHigh < v.PLow {
		t.Errorf("%v, P(high) %.2f; want not proven, may be over", v.Word, v.PHigh)
	}
	d.correct(VesselWater, 0, 0, "1000")
	s = d.until(VesselWaterReading)
	p := asked(t, s, VesselWaterReading)
	value, err := p.Parse(s, "955")
	if err != nil {
		t.Fatal(err)
	}
	d.add(p.Entry(s, value, "955", d.at))
	s = d.until(Decision)
	notFound(t, s, BalanceOff)
	near(t, "net by both", verdictOf(t, s, 0).InUnit.Nominal, 2626, 5)
}

// Case 10: residuals of 88, 85, 91; 897 in, 740 out, expected 809 ± 21: 69 are
// gone, a slow leak. Not learned from; the target stays 897 - 88 = 809.
func TestCaseResidualKnown(t *testing.T) {
	read := func(name string, ml float64) measure.Value { return measure.Gaussian(name, ml, 7.5) } // U = 15 each
	history, err := learn.Follow(learn.ResidualPrior(measure.Exact(900), 0.08, 0.04), []learn.Drain{
		{InML: read("in 1", 900), OutML: read("out 1", 812)},
		{InML: read("in 2", 903), OutML: read("out 2", 818)},
		{InML: read("in 3", 897), OutML: read("out 3", 806)},
		{InML: read("in 4", 897), OutML: read("out 4", 740)},
	})
	if err != nil {
		t.Fatal(err)
	}
	today := history.Steps[3]
	near(t, "expected out", 897-today.Residual.MeanML(), 809, 2) // 88 drawn a little to the default of 72
	near(t, "missing", today.Missing.ML.Nominal, 69, 2)
	if today.Missing.Sign() != learn.Leak || today.Learned {
		t.Errorf("sign %v, learned from %v; want a leak, not learned from", today.Missing.Sign(), today.Learned)
	}

	d := newDrive(t, sheet.with(script{
		CapacityMeans: {"dry"}, Capacity: {"897"}, DrainedAmount: {"740@20"}, LookedAgain: {"nothing_more"}, BasisWhy: {"slow leak"},
	}))
	d.offers.Residual = Learned{ML: 88, UML: 3, Jobs: 3}
	s := d.until(LoadedAmount)
	near(t, "target", planFor(t, s, 0).Target.Nominal, 809, 0.01)
	near(t, "missing", found(t, s, LeakSuspected).ML, 69, 0.01)
	if p := planFor(t, s, 0); p.Basis != ByCapacity {
		t.Errorf("basis %v", p.Basis)
	}
	d.offers = Offers{} // what was accepted is the job's own, whatever later jobs teach
	near(t, "target later", planFor(t, d.state(), 0).Target.Nominal, 809, 0.01)
}

// Extra 11: 600 expected, 1900 thin and red came out: stop, that unit first.
func TestCaseWrongBox(t *testing.T) {
	d := newDrive(t, sheet.with(script{Capacity: {"600"}, OilLook: {"foreign"}, DrainedAmount: {"1900@20"}}))
	s := d.until(WrongBoxDecision)
	found(t, s, WrongBoxDrained)
	if v, _ := asked(t, s, WrongBoxDecision).DefaultValue(s); v.Choice != boxStop {
		t.Errorf("on offer: %v", v)
	}
	s = d.until(NoTopic)
	wantUnit(t, s, Empty, Stopped)
	if s.MayDrive() {
		t.Error("may be driven")
	}
}

// Extra 12: 1500 in all with 100 of additive: 1400 of oil.
func TestCaseAdditive(t *testing.T) {
	d := newDrive(t, sheet.with(script{
		Capacity: {"1500"}, AdditiveVolume: {"100"}, DrainedAmount: {"1500@20"}, HoseBefore: {"primed"}, EscapeExpected: {"0"},
	}))
	s := d.until(PlanAccepted)
	if ask := asked(t, s, PlanAccepted).AskText(s); ask != "Pre-load 1500 ml: oil 1400 ml, additive 100 ml" {
		t.Errorf("%q", ask)
	}
	if list := strings.Join(s.AtHandList(), "\n"); !strings.Contains(list, "additive: 100 ml") {
		t.Errorf("not at hand: %s", list)
	}
}

// Extra 13: everything inside, the breather left shut: not to be closed.
func TestCaseBreatherLeftShut(t *testing.T) {
	d := newDrive(t, small)
	s := d.until(LeakCheck)
	wantUnit(t, s, Proven, ToRecheck)
	notFound(t, s, BreatherShut)
	e, _ := s.Answer(Place{Topic: BreatherReopened})
	strike, ok := s.StrikeEntry(e.Seq, d.at)
	if !ok {
		t.Fatal("cannot be taken back")
	}
	d.add(strike)
	s = d.state()
	found(t, s, BreatherShut)
	asked(t, s, BreatherReopened)
	if s.Phase() != Open || s.MayDrive() {
		t.Errorf("%v, may drive %v; want open, not to be driven", s.Phase(), s.MayDrive())
	}
	wantUnit(t, d.until(NoTopic), Proven, Done)
}

// Extra 14: it weeps after the drive: two washers. 40 g were caught with the
// change: 45 are gone, the verdict is given again, and so is the check.
func TestCaseDoubleWasher(t *testing.T) {
	d := newDrive(t, sheet.with(script{
		Capacity: {"600"}, DrainedAmount: {"600@20"}, HoseBefore: {"primed", "primed"}, LoadedAmount: {"650", "145"}, LeftInVessel: {"0", "0"},
		EscapedAtCap: {"0", "0"}, EscapedWith: {"c0", "c0"}, EscapedAmount: {"50", "100"}, LeakCheck: {"weeps", "dry"},
		LeakedWith: {"scale"}, LeakedAmount: {"40 g"}, Decision: {"accept", "add", "accept"},
	}))
	s := d.until(WasherRenewed)
	found(t, s, PlugWeeps)
	if s.UnitState() != Unproven || s.MayDrive() {
		t.Errorf("it weeps, and is %v, may drive %v", s.UnitState(), s.MayDrive())
	}
	s = d.until(Decision) // asked again
	notFound(t, s, PlugWeeps)
	v := verdictOf(t, s, 0)
	near(t, "left in the unit", v.InUnit.Nominal, 600-40/0.885, 0.3)
	s = d.until(BackUp)
	wantUnit(t, s, Unproven, Open)
	s = d.until(LeakCheck)
	near(t, "after the second push", verdictOf(t, s, 1).InUnit.Nominal, 600-40/0.885+145-100, 0.3)
	wantUnit(t, s, Proven, ToRecheck)
	wantUnit(t, d.until(NoTopic), Proven, Done)
}
