package guide

// This file checks the swap against what can be: cases of the trade, worked there.

import (
	"strings"
	"testing"

	"garage/tundish/model/ask"
	"garage/tundish/model/job"
	"garage/tundish/model/thread"
	"garage/tundish/model/verdict"
)

// Case G1: an M18 port is open for 1.5 s with 75W-90 at 20 °C: 235 ml are to be expected. 20 entered is asked about; so is
// far more than a free port lets out, nobody having timed it. The grade is the middle of what it allows, a little
// thinner than the case's oil.
func TestCaseSpillThatThePortCannotLetOut(t *testing.T) {
	t.Parallel()
	base := small.with(script{job.OilGrade: {"75W-90"}, job.PlugThread: {"M18x1.5"}, job.LoadedTemperature: {"20"}})
	for _, row := range []struct {
		name, spilled, openS string
		asks                 bool
	}{
		{"G1", "20", "1.5", true}, {"as expected", "230", "1.5", false}, {"not timed, little", "20", "", false},
		{"not timed, more than free", "450", "", true}, {"a thumb", "40", "0.3", false},
	} {
		lines := base.with(script{job.EscapedAmount: {row.spilled}, job.SpillLooked: {job.SpillStands}})
		if row.openS != "" {
			lines = lines.with(script{job.PortOpenFor: {row.openS}})
		}
		d := newDrive(t, lines)
		d.until(job.Decision)
		s := d.state()
		if got := s.Has(job.SpillLooked); got != row.asks {
			expected, spilled, misfit := s.SwapMisfit(0)
			t.Errorf("%s: asked %v, want %v (%g against %g, %v)", row.name, got, row.asks, spilled, expected, misfit)
		}
		if row.name == "G1" {
			expected, _, _ := s.SwapMisfit(0)
			near(t, "expected", expected, 235, 15)
			rate, _ := s.PortMLPerS(0)
			near(t, "a second", rate, 157, 10)
		}
	}
}

// Case G2: 900 spilled where 700 went in are refused.
func TestCaseMoreSpilledThanWentIn(t *testing.T) {
	t.Parallel()
	d := newDrive(t, small.with(script{job.Capacity: {"700"}, job.DrainedAmount: {"700"}, job.LoadedAmount: {"700"},
		job.LeftInVessel: {"0"}}))
	s := d.until(job.EscapedAmount)
	if _, err := asked(t, s, job.EscapedAmount).Parse(s, "900"); err == nil {
		t.Error("900 ml are taken")
	}
}

// Cases G3 to G6: 2.3 and 204 on an M14 are refused, with the unit that may be meant; 180 on an M18 is asked about; 29
// lbf·ft typed as N·m shows only beside its pair.
func TestCaseTorqueInAnotherUnit(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ thread, typed, refused, asked string }{
		{"M14x1.5", "2.3", "2.3 kgf·m = 23 N·m", ""},
		{"M14x1.5", "204", "204 kgf·cm = 20 N·m, or 204 lbf·in = 23 N·m", ""},
		{"M18x1.5", "180", "", "180 kgf·cm = 18 N·m, or 180 lbf·in = 20 N·m"},
		{"M18x1.5", "29", "", ""},
		{"M18x1.5", "29 lbf ft", "", ""},
	} {
		d := newDrive(t, small.with(script{job.PlugThread: {row.thread}, job.TorqueFigure: {row.typed}}))
		s := d.until(job.TorqueFigure)
		v, err := asked(t, s, job.TorqueFigure).Parse(s, row.typed)
		if row.refused != "" {
			if err == nil || !strings.Contains(err.Error(), row.refused) {
				t.Errorf("%s at %s: %v, want %q", row.typed, row.thread, err, row.refused)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s at %s: %v", row.typed, row.thread, err)
			continue
		}
		if finding, _ := s.TorqueFinding(v.Number); (finding == thread.Doubted) != (row.asked != "") {
			t.Errorf("%s at %s: finding %d", row.typed, row.thread, finding)
		}
		if row.asked == "" {
			continue
		}
		d = newDrive(t, small.with(script{job.PlugThread: {row.thread}, job.TorqueFigure: {row.typed},
			job.TorqueLooked: {job.TorqueStands}}))
		s = d.until(job.TorqueLooked)
		if text := asked(t, s, job.TorqueLooked).AskText(s); !strings.Contains(text, "lbf·in") {
			t.Errorf("%s at %s asks %q", row.typed, row.thread, text)
		}
		d.until(job.TightenedHow)
	}
	s := newDrive(t, small.with(script{job.TorqueFigure: {"29"}})).until(job.TightenedHow)
	if label := asked(t, s, job.TightenedHow).Choices(s)[0].Label; !strings.Contains(label, "29 N·m = 21.4 lbf·ft") {
		t.Errorf("G6: %q does not show the pair", label)
	}
}

// Case G7: two washers leak 6 ml in a day. A new single one costs a swap more, 30 say: both come off what is in it, and it is
// judged again.
func TestCaseTwoWashers(t *testing.T) {
	t.Parallel()
	d := newDrive(t, small.with(script{job.WasherRecheck: {job.CheckWeeps, job.CheckDry},
		job.LeakedHow: {job.EscapeCaught}, job.LeakedAmount: {"36"},
		job.LeakCheck: {job.CheckDry, job.CheckDry}, job.Decision: {"accept", "leave"}, job.LeftWhy: {"late"}}))
	before := d.until(job.WasherRenewed).NetFill(0).Nominal
	s := d.until(job.NoTopic)
	near(t, "in it after the new washer", before-s.NetFill(0).Nominal, 36, 0.5)
	if ask := ask.SpecOf(job.WasherRenewed).Ask; !strings.Contains(ask, "ONE new one") {
		t.Errorf("%q", ask)
	}
}

// Case F4: 185 caught and the hose said to be full still: short by just what the hose holds. In the pan, it is 738 or so.
func TestCaseHoseBookedTwice(t *testing.T) {
	t.Parallel()
	lines := drainedHose.with(script{job.HoseAfter: {"full"}, job.LeftInVessel: {"60"}, job.EscapedAtCap: {"0"}, job.EscapedAmount: {"185"},
		job.HoseLooked: {job.HoseRan}})
	d := newDrive(t, lines)
	s := d.until(job.HoseLooked)
	near(t, "in it, as it was said", s.NetFill(0).Nominal, 598, 1)
	ml, twice := s.HoseTwiceML(0)
	near(t, "the giveaway", ml, 140, 3)
	if !twice {
		t.Error("not asked")
	}
	s = d.until(job.Decision)
	near(t, "in it, once it is in the pan", s.NetFill(0).Nominal, 738, 3)
	if v := verdictOf(t, s, 0); v.Conformity != verdict.Within {
		t.Errorf("%v", v.Conformity)
	}
	still := newDrive(t, lines.with(script{job.HoseLooked: {job.HoseStill}})).until(job.Decision)
	near(t, "looked, and it is in it", still.NetFill(0).Nominal, 598, 1)
	usual := newDrive(t, lines.with(script{job.EscapedAmount: {"45"}})).until(job.Decision)
	if usual.Has(job.HoseLooked) {
		t.Error("asked of an ordinary swap")
	}
}

// Case F7: a hose of 6 mm by 2 m that is said to have run out into the pan keeps its 57 ml by itself: it is asked.
func TestCaseNarrowHoseSaidToBeDry(t *testing.T) {
	t.Parallel()
	lines := drainedHose.with(script{job.HoseBore: {"6"}, job.HoseAfter: {"pan"}, job.LeftInVessel: {"60"}, job.EscapedAtCap: {"0"},
		job.EscapedAmount: {"102"}, job.LoadedAmount: {"900"}, job.HoseLooked: {job.HoseStill}})
	d := newDrive(t, lines)
	s := d.until(job.HoseLooked)
	ml, holds := s.HoseHoldsOn(0)
	near(t, "it holds", ml, 57, 1)
	if !holds {
		t.Error("not asked")
	}
	if took := d.until(job.Decision).Put(0).Hose.Nominal; took < 56 {
		t.Errorf("still in it: %g ml", took)
	}
	if newDrive(t, lines.with(script{job.HoseBore: {"10"}, job.EscapedAmount: {"185"}})).until(job.Decision).Has(job.HoseLooked) {
		t.Error("a hose of 10 mm is asked about")
	}
}

// Case F5: a jug of 2 L that was read as 321 and emptied for a minute gives 300: what clings in it is read as poured.
// Both readings of one jug have it, so that it cancels; alone, it is the film that the jug keeps.
// Case F6, of bottles: their film is taken off in the reading by bottles.
func TestCaseFilmOfFiveBottles(t *testing.T) {
	t.Parallel()
	lines := drainedHose.with(script{job.OilGrade: {"80W-90"}, job.BottlesOpened: {"1000+1000+1000+1000+1000"}, job.LoadedAmount: {"4925"},
		job.Capacity: {"4700"}, job.DrainedAmount: {"4700@20"}, job.LeftInVessel: {"60@20"}, job.BottlesLeft: {"0"}})
	s := newDrive(t, lines).until(job.Decision)
	for _, stream := range s.Balance(0).Streams {
		if strings.Contains(stream.Name, "bottles") {
			near(t, "used of five bottles", stream.Value.Nominal+s.Left(0).Nominal, 4925, 8)
			return
		}
	}
	t.Error("the bottles are no second reading")
}
