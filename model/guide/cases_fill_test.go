package guide

// This file holds the troubled jobs of the push and after it; see cases_test.go.

import (
	"strings"
	"testing"
	"time"

	"garage/tundish/model/hydraulics"
	"garage/tundish/model/job"
	"garage/tundish/model/oil"
	"garage/tundish/model/verdict"
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

	pressed := sheet.with(script{job.Capacity: {"600"}, job.Filler: {"pressurised"}, job.VesselRating: {"100 kPa"}})
	s := newDrive(t, pressed).until(job.PushPressure)
	_, err = asked(t, s, job.PushPressure).Parse(s, "2 bar")
	if err == nil || !strings.Contains(err.Error(), "1.0 bar") || !strings.Contains(err.Error(), "warm the oil") {
		t.Errorf("2 bar in a vessel for 100 kPa: %v", err)
	}
	s = newDrive(t, pressed.with(script{job.VesselRating: {"-"}})).until(job.AtHand)
	found(t, s, verdict.VesselUnrated)
}

// leakyAdapter leaks 130 of 720; the vessel keeps 60, the hose 42.
var leakyAdapter = sheet.with(script{
	job.Capacity: {"600"}, job.DrainedAmount: {"600@20"}, job.HoseLength: {"1.48545"}, job.VesselHeel: {"60"}, job.EscapeExpected: {"30"},
	job.LoadedAmount: {"720", "280"}, job.LeftInVessel: {"60", "60"}, job.EscapedAtCap: {"130", "0"}, job.EscapedHow: {"none", "caught"},
	job.EscapedAmount: {"60"}, job.HoseBefore: {"dry", "dry"}, job.Decision: {"add", "accept"},
})

// Case 7: 488 entered, 112 short. The plug goes back in, the tag stays, and
// with the right adapter 112 are pushed besides hose and spill (60 for the two
// swaps), without draining again.
func TestCaseWrongAdapter(t *testing.T) {
	d := newDrive(t, leakyAdapter)
	s := d.until(job.Decision)
	f := found(t, s, verdict.AdapterLeaks)
	if near(t, "leaked", f.ML, 130, 0.001); f.Step != job.Cap || !strings.Contains(f.Do, "tag stays") {
		t.Errorf("%v: %q", f.Step, f.Do)
	}
	v := verdictOf(t, s, 0)
	near(t, "entered", s.NetFill(0).Nominal, 488, 0.01)
	near(t, "short", v.ActML, 112, 1)
	if v.Act != verdict.AddOil || v.MayDrive {
		t.Errorf("%v, may drive %v; want add, and not to be driven", v.Act, v.MayDrive)
	}
	s = d.until(job.HoseBefore) // of the second round: plug in, the day is over
	wantUnit(t, s, verdict.Unproven, Open)
	if s.Has(job.TagOff) || s.MayDrive() {
		t.Error("the tag is off")
	}
	d.at = d.at.Add(48 * time.Hour)
	s = d.until(job.AdapterIn)
	plan := planFor(t, s, 1)
	near(t, "second charge", plan.Charge.Nominal, 112+42+60+60, 0.5) // with the heel
	s = d.until(job.LeakCheck)
	near(t, "in the unit", s.NetFill(1).Nominal, 488+280-60-42-60, 0.5)
	wantUnit(t, s, verdict.Proven, ToRecheck)
	if s.Drained().Total.Nominal != 600 {
		t.Error("drained again")
	}
}

// A round that is given up before anything went in leaves the unit empty, and
// the next goes on from there.
func TestRoundGivenUp(t *testing.T) {
	d := newDrive(t, leakyAdapter.with(script{
		job.LeftInVessel: {"720", "60"}, job.EscapedAtCap: {"0", "0"}, job.HoseAfter: {"cleared", "full"}, job.LoadedAmount: {"720", "820"},
	}))
	s := d.until(job.Decision)
	if v := verdictOf(t, s, 0); s.NetFill(0).Nominal != 0 || v.Conformity != verdict.Low {
		t.Errorf("nothing went in: %v, %v", s.NetFill(0).Nominal, v.Conformity)
	}
	wantUnit(t, s, verdict.Empty, Open)
	s = d.until(job.AdapterIn)
	wantUnit(t, s, verdict.Empty, Open)
	s = d.until(job.Decision)
	near(t, "in the unit", s.NetFill(1).Nominal, 820-60-42-60, 0.01)
}

// Case 8: air at three quarters. 168 g = 190 left in the vessel, planned 40;
// the hose keeps 38: 472 entered, 128 short. 28 strokes of 25 say 700: ignored.
func TestCaseAirEarly(t *testing.T) {
	d := newDrive(t, sheet.with(script{
		job.Capacity: {"600"}, job.DrainedAmount: {"600@20"}, job.HoseLength: {"1.344"}, job.VesselHeel: {"40"}, job.StrokeVolume: {"25"},
		job.LoadedAmount: {"700"}, job.StrokesCounted: {"28"}, job.AirInLine: {"air"}, job.LeftWith: {"scale"}, job.LeftInVessel: {"168 g"},
		job.EscapedHow: {"none"}, job.Decision: {"add"},
	}))
	s := d.until(job.Decision)
	f := found(t, s, verdict.AirEarly)
	if !strings.Contains(f.Text, "190 ml") || !strings.Contains(f.Do, "Strokes") {
		t.Errorf("%q %q", f.Text, f.Do)
	}
	v := verdictOf(t, s, 0)
	near(t, "entered", s.NetFill(0).Nominal, 472, 0.3)
	near(t, "short", v.ActML, 128, 1)
	s = d.until(job.LoadedAmount)
	near(t, "reload: 128 and two swaps of 50 and the heel; the hose is full", planFor(t, s, 1).Charge.Nominal, 128+100+40, 0.5)
}

// twoLoads are two vessels of 1300 by the vessel's marks, out of three bottles
// of 1 L with 221 g left; heel and escape come to 100.
var twoLoads = sheet.with(script{
	job.Capacity: {"2500"}, job.ToleranceTopic: {"125"}, job.DrainedAmount: {"2500@20"}, job.VesselGraduation: {"50"},
	job.VesselHeel: {"40"},
	job.LoadedWith: {"vessel", "vessel"}, job.LoadedAmount: {"1300", "1300"}, job.LoadedMore: {"another", "done"},
	job.HoseBefore:    {"primed"},
	job.BottlesOpened: {"1000+1000+1000"}, job.LeftInVessel: {"40"}, job.BottlesLeftWith: {"scale"}, job.BottlesLeft: {"221 g"},
	job.EscapedAmount: {"60"},
})

// Case 9: used 2726 by the bottles (24 of film), 2600 by the marks. Nothing tells
// the two apart: what is in lies between 2500 and 2626, as far off as both are
// apart; it is not proven, may be over; the verdict waits until the marks are checked with 1000 g of water. That they read 955 of its
// 1003 is invented: then both agree.
func TestCaseBottlesAgainstVessel(t *testing.T) {
	d := newDrive(t, twoLoads)
	s := d.until(job.BalanceSuspect)
	f := found(t, s, verdict.BalanceOff)
	near(t, "gap", f.ML, 126, 0.5)
	if d.job.Entries[f.Seq-1].Topic != job.LoadedAmount || !strings.Contains(f.Do, "1000 g") {
		t.Errorf("suspect: %v, %q", d.job.Entries[f.Seq-1].Topic, f.Do)
	}
	v := verdictOf(t, s, 0)
	near(t, "net between the two", s.NetFill(0).Nominal, 2563, 15)
	near(t, "and anywhere between them", s.NetFill(0).U(), 63, 10)
	if v.Conformity != verdict.NotProven || v.PHigh < v.PLow {
		t.Errorf("%v, P(high) %.2f; want not proven, may be over", v.Conformity, v.PHigh)
	}
	d.tell(job.VesselWater, "1000")
	s = d.until(job.VesselWaterReading)
	p := asked(t, s, job.VesselWaterReading)
	value, err := p.Parse(s, "955")
	if err != nil {
		t.Fatal(err)
	}
	d.add(p.Entry(s, value, "955", d.at))
	s = d.until(job.Decision)
	notFound(t, s, verdict.BalanceOff)
	near(t, "net by both", s.NetFill(0).Nominal, 2626, 5)
}

// Extra 11: 600 expected, 1900 thin and red came out: stop, that unit first.
func TestCaseWrongBox(t *testing.T) {
	d := newDrive(t, sheet.with(script{job.Capacity: {"600"}, job.OilLook: {"foreign"}, job.DrainedAmount: {"1900@20"}}))
	s := d.until(job.WrongBoxDecision)
	found(t, s, verdict.WrongBoxDrained)
	if v, ok := asked(t, s, job.WrongBoxDecision).DefaultValue(s); ok {
		t.Errorf("on offer: %v", v)
	}
	s = d.until(job.NoTopic)
	wantUnit(t, s, verdict.Empty, Stopped)
	if s.MayDrive() {
		t.Error("may be driven")
	}
}

// Extra 12: 1500 in all with 100 of additive: 1400 of oil.
func TestCaseAdditive(t *testing.T) {
	d := newDrive(t, sheet.with(script{
		job.Capacity: {"1500"}, job.AdditiveVolume: {"100"}, job.DrainedAmount: {"1500@20"}, job.HoseBefore: {"primed"},
		job.EscapeExpected: {"0"},
	}))
	s := d.until(job.PlanAccepted)
	if ask := asked(t, s, job.PlanAccepted).AskText(s); ask != "Pour 1500 ml into the vessel: oil 1400, additive 100" {
		t.Errorf("%q", ask)
	}
	if list := strings.Join(s.AtHandList(), "\n"); !strings.Contains(list, "additive: 100 ml") {
		t.Errorf("not at hand: %s", list)
	}
}

// Extra 13: everything inside, the breather left shut: not to be closed.
func TestCaseBreatherLeftShut(t *testing.T) {
	d := newDrive(t, small)
	s := d.until(job.LeakCheck)
	wantUnit(t, s, verdict.Proven, ToRecheck)
	notFound(t, s, verdict.BreatherShut)
	e, _ := s.Answer(job.Place{Topic: job.BreatherReopened})
	strike, ok := s.StrikeEntry(e.Seq, d.at)
	if !ok {
		t.Fatal("cannot be taken back")
	}
	d.add(strike)
	s = d.state()
	found(t, s, verdict.BreatherShut)
	asked(t, s, job.BreatherReopened)
	if s.Phase() != Open || s.MayDrive() {
		t.Errorf("%v, may drive %v; want open, not to be driven", s.Phase(), s.MayDrive())
	}
	wantUnit(t, d.until(job.NoTopic), verdict.Proven, Done)
}

// Extra 14: it weeps after the drive: two washers. 40 g were caught with the
// change: 45 are gone, the verdict is given again, and so is the check.
func TestCaseDoubleWasher(t *testing.T) {
	d := newDrive(t, sheet.with(script{
		job.Capacity: {"600"}, job.DrainedAmount: {"600@20"}, job.HoseBefore: {"primed", "primed"}, job.LoadedAmount: {"650", "145"},
		job.LeftInVessel: {"0", "0"},
		job.EscapedAtCap: {"0", "0"}, job.EscapedWith: {"c0", "c0"}, job.EscapedAmount: {"50", "100"}, job.LeakCheck: {"weeps", "dry"},
		job.LeakedWith: {"scale"}, job.LeakedAmount: {"40 g"}, job.Decision: {"accept", "add", "accept"},
	}))
	s := d.until(job.WasherRenewed)
	found(t, s, verdict.PlugWeeps)
	if s.UnitState() != verdict.Unproven || s.MayDrive() {
		t.Errorf("it weeps, and is %v, may drive %v", s.UnitState(), s.MayDrive())
	}
	s = d.until(job.Decision) // asked again
	notFound(t, s, verdict.PlugWeeps)
	near(t, "left in the unit", s.NetFill(0).Nominal, 600-40/0.885, 0.3)
	s = d.until(job.BackUp)
	wantUnit(t, s, verdict.Unproven, Open)
	s = d.until(job.LeakCheck)
	near(t, "after the second push", s.NetFill(1).Nominal, 600-40/0.885+145-100, 0.3)
	wantUnit(t, s, verdict.Proven, ToRecheck)
	wantUnit(t, d.until(job.NoTopic), verdict.Proven, Done)
}
