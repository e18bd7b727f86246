package model

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"garage/tundish/model/measure"
)

// A load that was made for a push, and then oil is let out instead, never left
// the vessel.
func TestLoadForAPushThatBecameALetOut(t *testing.T) {
	d := newDrive(t, small.with(script{
		LoadedAmount: {"560", "165"}, LeftInVessel: {"0"}, EscapedAtCap: {"0"}, EscapedAmount: {"60"}, Decision: {"add", "let_out"}, LetOutAmount: {"100"},
	}))
	d.until(Decision)
	s := d.until(AdapterIn)
	if s.Round() != 1 {
		t.Fatalf("round %d", s.Round())
	}
	d.correct(LoadedAmount, 0, 0, "760") // 675 and not 475 are in it
	s = d.until(PlugSeated)
	near(t, "in the unit", s.NetFill(1).Nominal, 675-100, 0.01)
}

// A push that was begun is no let-out, whatever is decided afterwards.
func TestPushThatWasBegunIsNoLetOut(t *testing.T) {
	d := newDrive(t, small.with(script{
		LoadedAmount: {"560", "165"}, LeftInVessel: {"0", "0"}, EscapedAtCap: {"0", "0"}, EscapedAmount: {"60", "80"}, Decision: {"add"},
	}))
	d.until(Decision)
	d.until(BreatherBeforePush)
	s := d.until(FillReading)
	e, _ := s.Answer(Place{Topic: Decision})
	d.add(Entry{Seq: s.Count + 1, At: d.at, Topic: Decision, Strikes: e.Seq, Value: Value{Choice: "let_out"}})
	if s = d.state(); s.RoundKind(1) != RoundAdds {
		t.Error("the adapter is in, and the round lets out")
	}
}

// A plug that weeps after oil was let out: 760 - 25 - 50 - 120 - 20. That its sum
// adds up, jobs_test.go sees to.
func TestWeepAfterLettingOut(t *testing.T) {
	s := Fold(driven(t, "let out, then a plug that weeps"), Offers{})
	near(t, "in the unit", s.NetFill(1).Nominal, 545, 0.02)
}

// A guess of 60 g is no guess of 60 ml. By hand 60/(870·0.99638) = 69.2 ml.
func TestGuessInGrams(t *testing.T) {
	s := newDrive(t, twoJugs.with(script{EscapedHow: {"guess"}, EscapedAmount: {"60 g"}})).until(TightenedHow)
	e, _ := s.Answer(Place{Topic: EscapedAmount})
	shown, ok := s.EntryAt20(e)
	near(t, "as shown", shown.Nominal, 69.2, 0.1)
	if counted := s.Escaped(0); !ok || math.Abs(shown.U()-counted.U()) > 1e-9 || math.Abs(shown.Nominal-counted.Nominal) > 1e-9 {
		t.Errorf("shown is %v ± %v, counted %v ± %v", shown.Nominal, shown.U(), counted.Nominal, counted.U())
	}
}

// 300 letters are 300 letters in any script.
func TestLettersAreNotBytes(t *testing.T) {
	s := newDrive(t, small).until(Remark)
	p := asked(t, s, Remark)
	for text, ok := range map[string]bool{
		strings.Repeat("ж", 300): true, strings.Repeat("ж", 301): false, "caf\xe9": false, "café": true,
	} {
		if _, err := p.Parse(s, text); (err == nil) != ok {
			t.Errorf("%d bytes: %v", len(text), err)
		}
	}
}

// In US units a temperature is told in °F.
func TestEchoOfAMassInUSUnits(t *testing.T) {
	s := newDrive(t, inML(small).with(script{DisplayUnits: {"us"}, ScaleDivision: {"1 g"}, DrainedWith: {"scale"}})).until(DrainedAmount)
	p := asked(t, s, DrainedAmount)
	v, err := p.Parse(s, "480 g")
	if err != nil {
		t.Fatal(err)
	}
	if got := p.Echo(s, v); !strings.HasSuffix(got, " at 68 °F") {
		t.Errorf("%q", got)
	}
}

func TestNumbersOutOfSense(t *testing.T) {
	s := newDrive(t, small).until(Odometer)
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if asked(t, s, Odometer).Accept(s, Value{Number: x, Unit: DimKm}) == nil {
			t.Errorf("an odometer of %v is taken", x)
		}
	}
	nan, inf := measure.Exact(math.NaN()), measure.Exact(math.Inf(1))
	for name, change := range map[string]func(*PlanInput){
		"what came out":       func(in *PlanInput) { in.Drained = nan },
		"what stays behind":   func(in *PlanInput) { in.Residual, in.DrainedVoid = nan, true },
		"late drips":          func(in *PlanInput) { in.LateDrips = inf },
		"what the hose takes": func(in *PlanInput) { in.HoseTakes = inf },
		"heel":                func(in *PlanInput) { in.Heel = nan },
		"escape":              func(in *PlanInput) { in.Escape = nan },
		"graduation":          func(in *PlanInput) { in.RoundUpToML = math.Inf(1) },
		"tolerance":           func(in *PlanInput) { in.Tolerance.PlusML = math.Inf(1) },
		"capacity":            func(in *PlanInput) { in.Capacity = inf },
	} {
		in := worked()
		change(&in)
		if _, err := MakePlan(in); err == nil || !strings.HasPrefix(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A hose that gives more than is needed leaves nothing to load; nothing is 0,
// not -0.
func TestNothingToLoad(t *testing.T) {
	in := worked()
	in.HoseTakes = measure.Exact(-2000)
	p := made(t, in)
	if text, _ := json.Marshal(p.PreloadML); string(text) != "0" {
		t.Errorf("pre-load %s", text)
	}
}

// 300 ml at 40 °C in the pan are 300·exp(...)/... = 295.7 at 20 °C, and what is
// left of warm oil in the vessel is as warm as what was loaded: 600 less 300 of
// 35 °C are 300·0.9892 = 296.8 (API MPMS 11.1, table 54D).
func TestLooksAreTakenAsWarmAsTheyWere(t *testing.T) {
	d := newDrive(t, small.with(script{OilTemperature: {"20"}, DripReading: {"300@40C"}}))
	d.until(DripReading)
	d.answer(d.state(), asked(t, d.state(), DripReading))
	v, _ := d.state().DrainedNow()
	near(t, "in the pan", v.Nominal, 300*to20(870, 40), 0.01)

	d = newDrive(t, small.with(script{HoseBefore: {"primed"}, LoadedAmount: {"600"}, LoadedTemperature: {"35"}, FillReading: {"300"}}))
	d.until(FillReading)
	toPush := d.state().ToPushML(0)
	d.answer(d.state(), asked(t, d.state(), FillReading))
	v, _ = d.state().InUnitNow()
	near(t, "gone in", v.Nominal, 300*to20(870, 35), 0.01)
	near(t, "still to go", d.state().ToPushML(0), toPush-300*to20(870, 35), 0.01)
	e, _ := d.state().Answer(Place{Topic: FillReading})
	v, _ = d.state().EntryAt20(e)
	near(t, "left, in the record", v.Nominal, 300*to20(870, 35), 0.01)
}

// The finding of a weep names the look that found it.
func TestWeepNamesTheLookThatFoundIt(t *testing.T) {
	s := newDrive(t, small.with(script{LeakCheck: {"dry"}, WasherRecheck: {"weeps"}})).until(WasherRenewed)
	if f := found(t, s, PlugWeeps); s.entries[f.Seq-1].Topic != WasherRecheck {
		t.Errorf("names %v", s.entries[f.Seq-1].Topic)
	}
	d := newDrive(t, small.with(script{LeakCheck: {"weeps", "weeps"}, LeakedHow: {"damp"}}))
	d.until(LeakedHow)
	d.until(LeakCheck)
	d.answer(d.state(), asked(t, d.state(), LeakCheck))
	s = d.state()
	if f := found(t, s, PlugWeeps); s.entries[f.Seq-1].Item != 1 {
		t.Errorf("names look %d", s.entries[f.Seq-1].Item)
	}
}

// The escape of a correction is that of two swaps: adapter in and plug in. By
// hand, 60 at the first swap and 80 at the two of the second push are 60 and 40
// a swap.
func TestEscapeIsLearnedASwap(t *testing.T) {
	d := newDrive(t, small.with(script{
		LoadedAmount: {"560", "165"}, LeftInVessel: {"0", "0"}, EscapedAtCap: {"0", "0"}, EscapedAmount: {"60", "80"}, Decision: {"add", "accept"},
	}))
	d.until(Decision)
	got := Learn(nil, []*State{d.until(NoTopic)}).Escape
	if got.Jobs != 2 || got.ML < 49 || got.ML > 51 { // the default is 50, and so is the mean of the two
		t.Errorf("%v ml from %d swaps", got.ML, got.Jobs)
	}
}

// A swap at which nothing escaped teaches too. By hand, default 50 ± 20 of which a
// quarter of the variance is scatter (10² from one job): 50 - 50·300/(300 + 100).
func TestSwapWithoutEscapeTeaches(t *testing.T) {
	s := newDrive(t, small.with(script{LoadedAmount: {"575"}, EscapedHow: {"none"}})).until(NoTopic)
	if got := Learn(nil, []*State{s}).Escape; got.Jobs != 1 || math.Abs(got.ML-12.5) > 0.5 {
		t.Errorf("%v ml from %d swaps", got.ML, got.Jobs)
	}
}

// Four readings of one jug are one thing, and most of the doubt, though none of
// them is the largest single source.
func TestDoubtIsNamedByThing(t *testing.T) {
	v := measure.Sum(measure.Gaussian("what stays behind", 500, 5), measure.Gaussian("reading of the jug (line 1.1)", 0, 4),
		measure.Gaussian("reading of the jug (line 2.1)", 0, 4))
	if got := DoubtName(v.Contributions()); got != "reading of the jug" {
		t.Errorf("most of the doubt: %q", got)
	}
	if got := DoubtName(nil); got != "none" {
		t.Errorf("no doubt: %q", got)
	}
}

// More left in the bottles than was in them is no reading.
func TestMoreLeftThanOpened(t *testing.T) {
	s := newDrive(t, small.with(script{BottlesOpened: {"500+500"}})).until(BottlesLeft)
	p := asked(t, s, BottlesLeft)
	if _, err := p.Parse(s, "1200"); err == nil || !strings.Contains(err.Error(), "1000 ml") {
		t.Errorf("%v", err)
	}
	if _, err := p.Parse(s, "1010"); err != nil {
		t.Errorf("bottles are filled to 1.5 %% over: %v", err)
	}
}

// Before it is known what is left in the vessel, nothing is compared with what
// left it.
func TestNothingIsComparedBeforeTheRestIsMeasured(t *testing.T) {
	s := newDrive(t, small.with(script{StrokeVolume: {"25"}, StrokesCounted: {"12"}, LeftInVessel: {"320"}})).until(LeftInVessel)
	if b := s.Balance(0); b.Streams != 1 || b.Fails() {
		t.Errorf("%d streams, suspect %q", b.Streams, b.Suspect)
	}
}

// A leak that was not measured before the next push is asked for after it:
// what leaked is not forgotten, and nothing is proven until it is told.
func TestLeakBeforeTheNextPushIsNotForgotten(t *testing.T) {
	d := newDrive(t, small.with(script{
		LoadedAmount: {"625", "90"}, LeftInVessel: {"0", "0"}, EscapedAtCap: {"0", "0"}, EscapedAmount: {"50", "80"},
		LeakCheck: {"weeps", "dry"}, Decision: {"accept", "accept"}, LeakedAmount: {"60"},
	}))
	d.until(WasherRenewed)
	s := d.correct(Decision, 0, 0, "add")
	if s.Round() != 1 {
		t.Fatalf("round %d", s.Round())
	}
	s = d.until(Decision)
	near(t, "in the unit, the leak not told", s.NetFill(1).Nominal, 550+90-80, 0.01)
	s = d.until(WasherRenewed)
	if s.Phase() != Open || s.UnitState() == Proven {
		t.Errorf("%v, %v", s.Phase(), s.UnitState())
	}
	found(t, s, PlugWeeps)
	s = d.until(Decision) // asked again, now that it is told what leaked
	near(t, "leaked", s.Leaked(0).Nominal, 60, 0.01)
	near(t, "in the unit", s.NetFill(1).Nominal, 550+90-80-60, 0.01)
}

// After a new washer the car has to come down again before it can be driven.
func TestTagComesOffAgainAfterANewWasher(t *testing.T) {
	d := newDrive(t, small.with(script{LeakCheck: {"weeps", "dry"}, LeakedHow: {"damp"}}))
	s := d.until(LeakCheck)
	first := asked(t, s, LeakCheck).AskText(s)
	d.until(WasherRenewed)
	s = d.until(LeakCheck)
	if again := asked(t, s, LeakCheck).AskText(s); again == first || !strings.HasPrefix(again, "Tag off") {
		t.Errorf("%q", again)
	}
}
