package model

// This file checks what a correction asks again, and that it never asks again
// for what was done.

import (
	"slices"
	"strings"
	"testing"
	"time"
)

// openTopics lists what is to be answered again.
func openTopics(s *State) []Topic {
	var topics []Topic
	for p, open := range s.prompts() {
		if open && p.Strikes != 0 {
			topics = append(topics, p.Topic)
		}
	}
	return topics
}

func TestCorrectionAsksAgainWhatItVoids(t *testing.T) {
	far := small.with(script{DrainedAmount: {"300"}, LookedAgain: {"nothing_more"}, Basis: {"capacity"}, BasisWhy: {"leak"}, CapacityMeans: {"refill"}})
	for _, row := range []struct {
		name    string
		sc      script
		at      Topic // correct while this is asked
		topic   Topic
		line    string
		again   []Topic
		nowNext Topic
	}{
		{"plan before the push", small, LoadedAmount, DrainedAmount, "590", []Topic{PlanAccepted}, PlanAccepted},
		{"nothing moves by half a ml", small, LoadedAmount, DrainedAmount, "550.5", nil, LoadedAmount},
		{"plan is done with once the plug is out", small, AirInLine, DrainedAmount, "590", nil, AirInLine},
		{"basis and second look", far, LoadedAmount, DrainedAmount, "280", []Topic{LookedAgain, Basis}, LookedAgain},
		{"no basis where nothing contradicts any more", far, LoadedAmount, DrainedAmount, "565", []Topic{PlanAccepted}, PlanAccepted},
		{"decision, by a reading of the fill", small, TagOff, LeftInVessel, "20", []Topic{Decision}, Decision},
		{"decision, by the capacity", small, TagOff, Capacity, "615", []Topic{Decision}, Decision},
		{"decision, by what the capacity means", small, TagOff, CapacityMeans, "refill", []Topic{Decision}, Decision},
		{"left over, by a load that is below it", small.with(script{LeftInVessel: {"300"}}), HoseAfter, LoadedAmount, "200", nil, HoseAfter},
		{"left over, later", small.with(script{LoadedAmount: {"900"}, LeftInVessel: {"300"}}), EscapedAtCap, LoadedAmount, "200", []Topic{LeftInVessel}, LeftInVessel},
	} {
		d := newDrive(t, row.sc)
		d.until(row.at)
		s := d.correct(row.topic, 0, 0, row.line)
		if got := openTopics(s); !slices.Equal(got, row.again) {
			t.Errorf("%s: asked again are %v, want %v", row.name, got, row.again)
		}
		if p, _ := s.Next(); p.Topic != row.nowNext {
			t.Errorf("%s: next is %v, want %v", row.name, p.Topic, row.nowNext)
		}
	}
}

// The new answer to a question that was asked again strikes out the old one.
func TestAnswerGivenAgainStrikesTheOldOne(t *testing.T) {
	d := newDrive(t, small)
	d.until(LoadedAmount)
	s := d.correct(DrainedAmount, 0, 0, "590")
	old, _ := s.Answer(Place{Topic: PlanAccepted})
	s = d.until(LoadedAmount)
	_, stands := s.Ledger()
	if now, _ := s.Answer(Place{Topic: PlanAccepted}); now.Strikes != old.Seq || stands[old.Seq-1] {
		t.Errorf("line %d strikes out %d, want %d", now.Seq, now.Strikes, old.Seq)
	}
}

// "That is all" cuts off what was entered after "there is more".
func TestItemsThatAreCutOffDoNotCount(t *testing.T) {
	d := newDrive(t, small.with(script{
		DrainedAmount: {"400", "150"}, DrainedMore: {"another", "done"}, ContainerMore: {"another", "done"}, ContainerName: {"jug", "can"},
		DrainedWith: {"c0", "c1"}, HoseMore: {"another", "done"}, HoseBore: {"4.6066", "4.6066"}, HoseLength: {"1.5", "1.5"},
	}))
	s := d.until(PlanAccepted)
	near(t, "both", s.Drained().Total.Nominal, 550, 0.01)
	near(t, "both hoses", s.HoldUp().Nominal, 50, 0.01)
	s = d.correct(DrainedMore, 0, 0, "done")
	near(t, "the first alone", s.Drained().Total.Nominal, 400, 0.01)
	s = d.correct(HoseMore, 0, 0, "done")
	near(t, "one hose", s.HoldUp().Nominal, 25, 0.01)
	s = d.correct(DrainedMore, 0, 0, "another")
	near(t, "both again, as they stand in the ledger", s.Drained().Total.Nominal, 550, 0.01)
	s = d.correct(ContainerMore, 0, 0, "done")
	if len(s.Devices()) != 1 {
		t.Errorf("%d devices are left", len(s.Devices()))
	}
}

// A jug's reading is not taken for grams when it turns out that the scale was
// meant: it is asked again.
func TestReadingOfAnotherDeviceIsAskedAgain(t *testing.T) {
	d := newDrive(t, small.with(script{ScaleDivision: {"1"}, DrainedWith: {"c0"}, LoadedWith: {"c0"}, LeftWith: {"c0"}}))
	d.until(PlanAccepted)
	s := d.correct(DrainedWith, 0, 0, "scale")
	near(t, "until then", s.Drained().Total.Nominal, 550, 0.01)
	p := asked(t, s, DrainedAmount)
	if p.Strikes == 0 {
		t.Error("the old reading is not struck out by the new one")
	}
	if _, err := p.Parse(s, "550 ml"); err == nil {
		t.Error("a volume is taken from a scale")
	}
	if v, err := p.Parse(s, "487"); err != nil || v.Unit != DimG {
		t.Errorf("bare number on a scale: %+v, %v", v, err)
	}
	// A scale that is named later did not measure what was read before.
	d = newDrive(t, small)
	d.until(PlanAccepted)
	if s := d.correct(ScaleDivision, 0, 0, "1"); s.has(DrainedWith) || !slices.Equal(openTopics(s), nil) {
		t.Error("a scale named later has measured already")
	}
	asked(t, d.state(), PlanAccepted)
}

// Oil that was pushed in counts, whatever becomes of the decision before it.
func TestRoundThatWasBegunStays(t *testing.T) {
	d := newDrive(t, small.with(script{
		LoadedAmount: {"560", "165"}, LeftInVessel: {"0", "0"}, EscapedAtCap: {"0", "0"}, EscapedAmount: {"60", "80"}, Decision: {"add"},
	}))
	d.until(Decision)
	s := d.until(LoadedAmount)
	if s.Round() != 1 {
		t.Fatalf("round %d", s.Round())
	}
	s = d.correct(Decision, 0, 0, "leave") // nothing done yet: the round falls away
	if s.Round() != 0 {
		t.Errorf("round %d, nothing was done in it", s.Round())
	}
	d.correct(Decision, 0, 0, "add")
	d.until(AirInLine)
	s = d.correct(Decision, 0, 0, "leave")
	if s.Round() != 1 || s.UnitState() != Unproven {
		t.Errorf("round %d, %v: the second push is forgotten", s.Round(), s.UnitState())
	}
	s = d.until(Decision)
	near(t, "both pushes", verdictOf(t, s, 1).InUnit.Nominal, 475+165-80, 0.01)
}

// A decision to add is asked again when a reading turns out wrong before the
// unit was opened for it, and stays once it was.
func TestDecisionToAdd(t *testing.T) {
	d := newDrive(t, small.with(script{LoadedAmount: {"560"}, EscapedAmount: {"60"}, Decision: {"add"}}))
	d.until(LoadedAmount)
	d.until(PlanAccepted)
	s := d.state()
	if s.Round() != 1 {
		t.Fatalf("round %d", s.Round())
	}
	s = d.correct(LoadedAmount, 0, 0, "635")
	if p := asked(t, s, Decision); p.Place.Round != 0 || p.Strikes == 0 {
		t.Errorf("asked: %+v", p.Place)
	}
}

func TestUndoWalksBack(t *testing.T) {
	d := newDrive(t, small)
	d.until(LoadedAmount)
	d.correct(DrainedAmount, 0, 0, "590")
	undo := func() *State {
		e, ok := d.state().UndoEntry(d.at)
		if !ok {
			t.Fatal("nothing to undo")
		}
		d.add(e)
		return d.state()
	}
	near(t, "undone correction", undo().Drained().Total.Nominal, 550, 0.01)
	asked(t, undo(), LoadedWith)
	asked(t, undo(), PlanAccepted)
	asked(t, undo(), HoseBefore)
	for range len(d.job.Entries) {
		if e, ok := d.state().UndoEntry(d.at); ok {
			d.add(e)
		}
	}
	if p := asked(t, d.state(), DisplayUnits); p.Strikes != 0 {
		t.Error("an undone answer is struck out once more")
	}
	if _, ok := d.state().UndoEntry(d.at); ok {
		t.Error("there is always something to undo")
	}
}

func TestEntriesThatCannotBeAskedAgain(t *testing.T) {
	d := newDrive(t, small)
	d.until(Vehicle)
	d.correct(DisplayUnits, 0, 0, "us")
	s := d.state()
	for _, seq := range []int{-1, 0, 1, 99} { // 1 is struck out
		if _, ok := s.Correcting(seq); ok {
			t.Errorf("line %d can be corrected", seq)
		}
		if _, ok := s.StrikeEntry(seq, d.at); ok {
			t.Errorf("line %d can be struck out", seq)
		}
	}
	if len(s.Standing()) != 1 {
		t.Errorf("%d entries stand", len(s.Standing()))
	}
	if _, ok := PromptOf(Entry{Topic: Undo}); ok {
		t.Error("undo answers a question")
	}
}

// A weep is measured, the verdict given again; when it stays inside, the check
// is asked once more.
func TestWeepThatMattersLittle(t *testing.T) {
	d := newDrive(t, small.with(script{LeakCheck: {"dry", "dry"}, WasherRecheck: {"weeps", "dry"}, LeakedHow: {"damp"}}))
	s := d.until(WasherRenewed)
	if s.Phase() != Open {
		t.Errorf("%v while it weeps", s.Phase())
	}
	s = d.until(Decision)
	near(t, "a few drops", s.Leaked(0).Nominal, 2.5, 0)
	s = d.until(LeakCheck)
	if p := asked(t, s, LeakCheck); p.Place.Item != 1 {
		t.Errorf("asked: %v", p.Place)
	}
	wantUnit(t, s, Proven, ToRecheck)
	wantUnit(t, d.until(NoTopic), Proven, Done)
}

func TestResumeAsksWhatMayHaveChanged(t *testing.T) {
	d := newDrive(t, small)
	if d.until(Capacity).ResumePrompts() != nil {
		t.Error("asked before the car is up")
	}
	if n := len(d.until(PlugOut).ResumePrompts()); n != 1 {
		t.Errorf("%d questions with the plug in", n)
	}
	d.at = d.at.Add(time.Hour)
	if n := len(d.until(PlanAccepted).ResumePrompts()); n != 2 {
		t.Errorf("%d questions with the plug out", n)
	}
	if d.until(LeakCheck).ResumePrompts() != nil {
		t.Error("asked although the job is done but for the check")
	}
}

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

// The finding of a weep names the look that found it.
func TestWeepNamesTheLookThatFoundIt(t *testing.T) {
	s := newDrive(t, small.with(script{LeakCheck: {"dry"}, WasherRecheck: {"weeps"}})).until(WasherRenewed)
	if f := found(t, s, PlugWeeps); entryOf(s, f.Seq).Topic != WasherRecheck {
		t.Errorf("names %v", entryOf(s, f.Seq).Topic)
	}
	d := newDrive(t, small.with(script{LeakCheck: {"weeps", "weeps"}, LeakedHow: {"damp"}}))
	d.until(LeakedHow)
	d.until(LeakCheck)
	d.answer(d.state(), asked(t, d.state(), LeakCheck))
	s = d.state()
	if f := found(t, s, PlugWeeps); entryOf(s, f.Seq).Item != 1 {
		t.Errorf("names look %d", entryOf(s, f.Seq).Item)
	}
}

// A verdict stands until the unit is opened again for a correction, whatever is
// loaded for that, and there is none until the plug is back in: what is in the
// vessel is not in the unit.
func TestVerdictThatStands(t *testing.T) {
	d := newDrive(t, small.with(script{
		LoadedAmount: {"560", "165"}, LeftInVessel: {"0", "0"}, EscapedAtCap: {"0", "0"}, EscapedAmount: {"60", "80"}, Decision: {"add"},
	}))
	if _, ok := d.until(PlugSeated).Judged(); ok {
		t.Error("judged with the plug out")
	}
	first := verdictOf(t, d.until(Decision), 0)
	for _, row := range []struct {
		at     Topic
		stands bool
	}{{HoseBefore, true}, {AdapterIn, true}, {FillReading, false}, {PlugSeated, false}} {
		if v, ok := d.until(row.at).Judged(); ok != row.stands || ok && v.Error.Nominal != first.Error.Nominal {
			t.Errorf("at %v: judged %v, off by %v; want %v, %v", row.at, ok, v.Error.Nominal, row.stands, first.Error.Nominal)
		}
	}
	s := d.until(Decision)
	if v, ok := s.Judged(); s.Round() != 1 || !ok || v.Error.Nominal != verdictOf(t, s, 1).Error.Nominal {
		t.Errorf("after the correction: %v, %v", v.Error.Nominal, ok)
	}
}
