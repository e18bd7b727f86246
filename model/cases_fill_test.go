package model

// This file holds the troubled jobs of the push and after it; see cases_test.go.

import (
	"strings"
	"testing"
	"time"

	"garage/tundish/model/hydraulics"
	"garage/tundish/model/learn"
	"garage/tundish/model/measure"
	"garage/tundish/model/oil"
)

// Case 6: 600 through 2 m of 6 mm hose at 0.5 bar takes 22 minutes at 3 °C and
// 95 s at 40 °C (the case leaves out lift and falling pressure, as here); 2 bar
// is refused above the vessel's limit. 600 at 20 °C read 606 at 35 °C. The oil
// is an 80W-90 with 140 and 14.5 mm²/s (typical, from memory).
func TestCaseColdOil(t *testing.T) {
	gear := oil.Oil{Rho15KgM3: 888.15, KV40CSt: 140, KV100CSt: 14.5}
	for _, row := range []struct{ tempC, minutes, tolerance float64 }{{3, 22, 3}, {40, 95.0 / 60, 0.15}} {
		r, err := hydraulics.Push(hydraulics.PushPlan{
			Pieces: []hydraulics.Piece{{BoreMM: 6, LengthM: 2}}, Oil: gear, TempC: row.tempC, VolumeML: 600, PressureKPa: 50,
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

// leakyAdapter leaks 130 of 720; the vessel keeps 60, the hose 42.
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

// Case 9: used 2726 by the bottles (24 of film), 2600 by the marks. Nothing tells
// the two apart: what is in lies between 2500 and 2626, as far off as both are
// apart; it is not proven, may be over; the verdict waits until the marks are checked with 1000 g of water. That they read 955 of its
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
	near(t, "net between the two", v.InUnit.Nominal, 2563, 15)
	near(t, "and anywhere between them", v.InUnit.U(), 63, 10)
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
	history, err := learn.Follow(DefaultResidual(900), []learn.Drain{
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
	if v, ok := asked(t, s, WrongBoxDecision).DefaultValue(s); ok {
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
