package guide

// This file checks what a correction asks again, and that it never asks again
// for what was done.

import (
	"slices"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// openTopics lists what is to be answered again.
func openTopics(s *Guide) []job.Topic {
	var topics []job.Topic
	for p, open := range s.Prompts() {
		if open && p.Strikes != 0 {
			topics = append(topics, p.Topic)
		}
	}
	return topics
}

func TestCorrectionAsksAgainWhatItVoids(t *testing.T) {
	far := small.with(script{job.DrainedAmount: {"300"}, job.LookedAgain: {"nothing_more"}, job.Basis: {"capacity"}, job.BasisWhy: {"leak"},
		job.CapacityMeans: {"refill"}})
	for _, row := range []struct {
		name    string
		sc      script
		at      job.Topic // correct while this is asked
		topic   job.Topic
		line    string
		again   []job.Topic
		nowNext job.Topic
	}{
		{"plan before the push", small, job.LoadedAmount, job.DrainedAmount, "590", []job.Topic{job.PlanAccepted}, job.PlanAccepted},
		{"nothing moves by half a ml", small, job.LoadedAmount, job.DrainedAmount, "550.5", nil, job.LoadedAmount},
		{"plan is done with once the plug is out", small, job.AirInLine, job.DrainedAmount, "590", nil, job.AirInLine},
		{"basis and second look", far, job.LoadedAmount, job.DrainedAmount, "280", []job.Topic{job.LookedAgain, job.Basis},
			job.LookedAgain},
		{"no basis where nothing contradicts any more", far, job.LoadedAmount, job.DrainedAmount, "565", []job.Topic{job.PlanAccepted},
			job.PlanAccepted},
		{"decision, by a reading of the fill", small, job.TagOff, job.LeftInVessel, "20", []job.Topic{job.Decision}, job.Decision},
		{"decision, by the capacity", small, job.TagOff, job.Capacity, "615", []job.Topic{job.Decision}, job.Decision},
		{"decision, by what the capacity means", small, job.TagOff, job.CapacityMeans, "refill", []job.Topic{job.Decision}, job.Decision},
		{"left over, by a load that is below it", small.with(script{job.LeftInVessel: {"300"}}), job.HoseAfter, job.LoadedAmount, "200",
			nil, job.HoseAfter},
		{"left over, later", small.with(script{job.LoadedAmount: {"900"}, job.LeftInVessel: {"300"}}), job.EscapedAtCap, job.LoadedAmount,
			"200", []job.Topic{job.LeftInVessel}, job.LeftInVessel},
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
	d.until(job.LoadedAmount)
	s := d.correct(job.DrainedAmount, 0, 0, "590")
	old, _ := s.Answer(job.Place{Topic: job.PlanAccepted})
	s = d.until(job.LoadedAmount)
	_, stands := s.Ledger()
	if now, _ := s.Answer(job.Place{Topic: job.PlanAccepted}); now.Strikes != old.Seq || stands[old.Seq-1] {
		t.Errorf("line %d strikes out %d, want %d", now.Seq, now.Strikes, old.Seq)
	}
}

// "That is all" cuts off what was entered after "there is more".
func TestItemsThatAreCutOffDoNotCount(t *testing.T) {
	d := newDrive(t, small.with(script{
		job.DrainedAmount: {"400", "150"}, job.DrainedMore: {"another", "done"}, job.ContainerMore: {"another", "done"},
		job.ContainerName: {"jug", "can"},
		job.DrainedWith:   {"c0", "c1"}, job.HoseMore: {"another", "done"}, job.HoseBore: {"4.6066", "4.6066"},
		job.HoseLength: {"1.5", "1.5"},
	}))
	s := d.until(job.PlanAccepted)
	near(t, "both", s.Drained().Total.Nominal, 550, 0.01)
	near(t, "both hoses", s.HoldUp().Nominal, 50, 0.01)
	s = d.correct(job.DrainedMore, 0, 0, "done")
	near(t, "the first alone", s.Drained().Total.Nominal, 400, 0.01)
	s = d.correct(job.HoseMore, 0, 0, "done")
	near(t, "one hose", s.HoldUp().Nominal, 25, 0.01)
	s = d.correct(job.DrainedMore, 0, 0, "another")
	near(t, "both again, as they stand in the ledger", s.Drained().Total.Nominal, 550, 0.01)
	s = d.correct(job.ContainerMore, 0, 0, "done")
	if len(s.Devices()) != 1 {
		t.Errorf("%d devices are left", len(s.Devices()))
	}
}

// A jug's reading is not taken for grams when it turns out that the scale was
// meant: it is asked again.
func TestReadingOfAnotherDeviceIsAskedAgain(t *testing.T) {
	d := newDrive(t, small.with(script{job.ScaleDivision: {"1"}, job.DrainedWith: {"c0"}, job.LoadedWith: {"c0"}, job.LeftWith: {"c0"}}))
	d.until(job.PlanAccepted)
	s := d.correct(job.DrainedWith, 0, 0, "scale")
	near(t, "until then", s.Drained().Total.Nominal, 550, 0.01)
	p := asked(t, s, job.DrainedAmount)
	if p.Strikes == 0 {
		t.Error("the old reading is not struck out by the new one")
	}
	if _, err := p.Parse(s, "550 ml"); err == nil {
		t.Error("a volume is taken from a scale")
	}
	if v, err := p.Parse(s, "487"); err != nil || v.Unit != job.DimG {
		t.Errorf("bare number on a scale: %+v, %v", v, err)
	}
	// A scale that is named later did not measure what was read before.
	d = newDrive(t, small)
	d.until(job.PlanAccepted)
	if s := d.tell(job.ScaleDivision, "1"); s.Has(job.DrainedWith) || !slices.Equal(openTopics(s), nil) {
		t.Error("a scale named later has measured already")
	}
	asked(t, d.state(), job.PlanAccepted)
}

// Oil that was pushed in counts, whatever becomes of the decision before it.
func TestRoundThatWasBegunStays(t *testing.T) {
	d := newDrive(t, small.with(script{
		job.LoadedAmount: {"560", "165"}, job.LeftInVessel: {"0", "0"}, job.EscapedAtCap: {"0", "0"}, job.EscapedAmount: {"60", "80"},
		job.Decision: {"add"},
	}))
	d.until(job.Decision)
	s := d.until(job.LoadedAmount)
	if s.Round() != 1 {
		t.Fatalf("round %d", s.Round())
	}
	s = d.correct(job.Decision, 0, 0, "leave") // nothing done yet: the round falls away
	if s.Round() != 0 {
		t.Errorf("round %d, nothing was done in it", s.Round())
	}
	d.correct(job.Decision, 0, 0, "add")
	d.until(job.AirInLine)
	s = d.correct(job.Decision, 0, 0, "leave")
	if s.Round() != 1 || s.UnitState() != verdict.Unproven {
		t.Errorf("round %d, %v: the second push is forgotten", s.Round(), s.UnitState())
	}
	s = d.until(job.Decision)
	near(t, "both pushes", s.NetFill(1).Nominal, 475+165-80, 0.01)
}

// A decision to add is asked again when a reading turns out wrong before the
// unit was opened for it, and stays once it was.
func TestDecisionToAdd(t *testing.T) {
	d := newDrive(t, small.with(script{job.LoadedAmount: {"560"}, job.EscapedAmount: {"60"}, job.Decision: {"add"}}))
	d.until(job.LoadedAmount)
	d.until(job.PlanAccepted)
	s := d.state()
	if s.Round() != 1 {
		t.Fatalf("round %d", s.Round())
	}
	s = d.correct(job.LoadedAmount, 0, 0, "635")
	if p := asked(t, s, job.Decision); p.Place.Round != 0 || p.Strikes == 0 {
		t.Errorf("asked: %+v", p.Place)
	}
}

func TestUndoWalksBack(t *testing.T) {
	d := newDrive(t, small)
	d.until(job.LoadedAmount)
	d.correct(job.DrainedAmount, 0, 0, "590")
	undo := func() *Guide {
		e, ok := d.state().UndoEntry(d.at)
		if !ok {
			t.Fatal("nothing to undo")
		}
		d.add(e)
		return d.state()
	}
	near(t, "undone correction", undo().Drained().Total.Nominal, 550, 0.01)
	asked(t, undo(), job.LoadedWith)
	asked(t, undo(), job.PlanAccepted)
	asked(t, undo(), job.HoseBefore)
	for range len(d.job.Entries) {
		if e, ok := d.state().UndoEntry(d.at); ok {
			d.add(e)
		}
	}
	if p := asked(t, d.state(), job.MakersManual); p.Strikes != 0 {
		t.Error("an undone answer is struck out once more")
	}
	if _, ok := d.state().UndoEntry(d.at); ok {
		t.Error("there is always something to undo")
	}
}

func TestEntriesThatCannotBeAskedAgain(t *testing.T) {
	d := newDrive(t, small)
	d.until(job.UnitKind)
	d.correct(job.Vehicle, 0, 0, "van")
	s := d.state()
	for _, seq := range []int{-1, 0, 2, 99} { // 2 is struck out
		if _, ok := s.Correcting(seq); ok {
			t.Errorf("line %d can be corrected", seq)
		}
		if _, ok := s.StrikeEntry(seq, d.at); ok {
			t.Errorf("line %d can be struck out", seq)
		}
	}
	if len(s.Standing()) != 2 {
		t.Errorf("%d entries stand", len(s.Standing()))
	}
	if _, ok := PromptOf(job.Entry{Topic: job.Undo}); ok {
		t.Error("undo answers a question")
	}
}

// A weep is measured, the verdict given again; when it stays inside, the check
// is asked once more.
func TestWeepThatMattersLittle(t *testing.T) {
	d := newDrive(t, small.with(script{job.LeakCheck: {"dry", "dry"}, job.WasherRecheck: {"weeps", "dry"}, job.LeakedHow: {"damp"}}))
	s := d.until(job.WasherRenewed)
	if s.Phase() != Open {
		t.Errorf("%v while it weeps", s.Phase())
	}
	s = d.until(job.Decision)
	near(t, "a few drops", leaked(s), 2.5, 0)
	s = d.until(job.LeakCheck)
	if p := asked(t, s, job.LeakCheck); p.Place.Item != 1 {
		t.Errorf("asked: %v", p.Place)
	}
	wantUnit(t, s, verdict.Proven, ToRecheck)
	wantUnit(t, d.until(job.NoTopic), verdict.Proven, Done)
}

func TestResumeAsksWhatMayHaveChanged(t *testing.T) {
	d := newDrive(t, small)
	if d.until(job.Capacity).ResumePrompts() != nil {
		t.Error("asked before the car is up")
	}
	if n := len(d.until(job.PlugOut).ResumePrompts()); n != 1 {
		t.Errorf("%d questions with the plug in", n)
	}
	d.at = d.at.Add(time.Hour)
	if n := len(d.until(job.PlanAccepted).ResumePrompts()); n != 3 {
		t.Errorf("%d questions with the plug out", n)
	}
	if d.until(job.LeakCheck).ResumePrompts() != nil {
		t.Error("asked although the job is done but for the check")
	}
}

// A load that was made for a push, and then oil is let out instead, never left
// the vessel.
func TestLoadForAPushThatBecameALetOut(t *testing.T) {
	d := newDrive(t, small.with(script{
		job.LoadedAmount: {"560", "165"}, job.LeftInVessel: {"0"}, job.EscapedAtCap: {"0"}, job.EscapedAmount: {"60"},
		job.Decision: {"add", "let_out"}, job.LetOutAmount: {"100"},
	}))
	d.until(job.Decision)
	s := d.until(job.AdapterIn)
	if s.Round() != 1 {
		t.Fatalf("round %d", s.Round())
	}
	d.correct(job.LoadedAmount, 0, 0, "760") // 675 and not 475 are in it
	s = d.until(job.PlugSeated)
	near(t, "in the unit", s.NetFill(1).Nominal, 675-100, 0.01)
}

// A push that was begun is no let-out, whatever is decided afterwards.
func TestPushThatWasBegunIsNoLetOut(t *testing.T) {
	d := newDrive(t, small.with(script{
		job.LoadedAmount: {"560", "165"}, job.LeftInVessel: {"0", "0"}, job.EscapedAtCap: {"0", "0"}, job.EscapedAmount: {"60", "80"},
		job.Decision: {"add"},
	}))
	d.until(job.Decision)
	d.until(job.BreatherBeforePush)
	s := d.until(job.FillReading)
	e, _ := s.Answer(job.Place{Topic: job.Decision})
	d.add(job.Entry{Seq: s.Count + 1, At: d.at, Topic: job.Decision, Strikes: e.Seq, Value: job.Value{Choice: "let_out"}})
	if s = d.state(); s.RoundKind(1) != job.RoundAdds {
		t.Error("the adapter is in, and the round lets out")
	}
}

// A leak that was not measured before the next push is asked for after it:
// what leaked is not forgotten, and nothing is proven until it is told.
func TestLeakBeforeTheNextPushIsNotForgotten(t *testing.T) {
	d := newDrive(t, small.with(script{
		job.LoadedAmount: {"625", "90"}, job.LeftInVessel: {"0", "0"}, job.EscapedAtCap: {"0", "0"}, job.EscapedAmount: {"50", "80"},
		job.LeakCheck: {"weeps", "dry"}, job.Decision: {"accept", "accept"}, job.LeakedAmount: {"60"},
	}))
	d.until(job.WasherRenewed)
	s := d.correct(job.Decision, 0, 0, "add")
	if s.Round() != 1 {
		t.Fatalf("round %d", s.Round())
	}
	s = d.until(job.Decision)
	near(t, "in the unit, the leak not told", s.NetFill(1).Nominal, 550+90-80, 0.01)
	s = d.until(job.WasherRenewed)
	if s.Phase() != Open || s.UnitState() == verdict.Proven {
		t.Errorf("%v, %v", s.Phase(), s.UnitState())
	}
	found(t, s, verdict.PlugWeeps)
	s = d.until(job.Decision) // asked again, now that it is told what leaked
	near(t, "leaked", leaked(s), 60, 0.01)
	near(t, "in the unit", s.NetFill(1).Nominal, 550+90-80-60, 0.01)
}

// After a new washer the car has to come down again before it can be driven.
func TestTagComesOffAgainAfterANewWasher(t *testing.T) {
	d := newDrive(t, small.with(script{job.LeakCheck: {"weeps", "dry"}, job.LeakedHow: {"damp"}}))
	s := d.until(job.LeakCheck)
	first := asked(t, s, job.LeakCheck).AskText(s)
	d.until(job.WasherRenewed)
	s = d.until(job.LeakCheck)
	if again := asked(t, s, job.LeakCheck).AskText(s); again == first || !strings.HasPrefix(again, "Once more") {
		t.Errorf("%q", again)
	}
}

// The finding of a weep names the look that found it.
func TestWeepNamesTheLookThatFoundIt(t *testing.T) {
	s := newDrive(t, small.with(script{job.LeakCheck: {"dry"}, job.WasherRecheck: {"weeps"}})).until(job.WasherRenewed)
	if f := found(t, s, verdict.PlugWeeps); entryOf(s, f.Seq).Topic != job.WasherRecheck {
		t.Errorf("names %v", entryOf(s, f.Seq).Topic)
	}
	d := newDrive(t, small.with(script{job.LeakCheck: {"weeps", "weeps"}, job.LeakedHow: {"damp"}}))
	d.until(job.LeakedHow)
	d.until(job.LeakCheck)
	d.answer(d.state(), asked(t, d.state(), job.LeakCheck))
	s = d.state()
	if f := found(t, s, verdict.PlugWeeps); entryOf(s, f.Seq).Item != 1 {
		t.Errorf("names look %d", entryOf(s, f.Seq).Item)
	}
}

// A verdict stands until the unit is opened again for a correction, whatever is
// loaded for that, and there is none until the plug is back in: what is in the
// vessel is not in the unit.
func TestVerdictThatStands(t *testing.T) {
	d := newDrive(t, small.with(script{
		job.LoadedAmount: {"560", "165"}, job.LeftInVessel: {"0", "0"}, job.EscapedAtCap: {"0", "0"}, job.EscapedAmount: {"60", "80"},
		job.Decision: {"add"},
	}))
	if _, ok := d.until(job.PlugSeated).Judged(); ok {
		t.Error("judged with the plug out")
	}
	first := verdictOf(t, d.until(job.Decision), 0)
	for _, row := range []struct {
		at     job.Topic
		stands bool
	}{{job.HoseBefore, true}, {job.AdapterIn, true}, {job.FillReading, false}, {job.PlugSeated, false}} {
		if v, ok := d.until(row.at).Judged(); ok != row.stands || ok && v.Error.Nominal != first.Error.Nominal {
			t.Errorf("at %v: judged %v, off by %v; want %v, %v", row.at, ok, v.Error.Nominal, row.stands, first.Error.Nominal)
		}
	}
	s := d.until(job.Decision)
	if v, ok := s.Judged(); s.Round() != 1 || !ok || v.Error.Nominal != verdictOf(t, s, 1).Error.Nominal {
		t.Errorf("after the correction: %v, %v", v.Error.Nominal, ok)
	}
}

// leaked is what a plug that wept lost after the first push, ml.
func leaked(s *Guide) (ml float64) {
	for _, a := range s.Put(0).Out {
		if a.At.Topic == job.LeakCheck {
			ml += a.Nominal
		}
	}
	return ml
}
