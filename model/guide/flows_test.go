package guide

// This file drives whole jobs of each kind: both fill paths, corrections both
// ways, jobs that are left, other units, several containers.

import (
	"math"
	"slices"
	"testing"
	"time"

	"garage/tundish/model/ask"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// level is a job on a unit with a level port: 550 out, 560 in of 600, wept.
var level = small.with(script{
	job.FillPath: {"level_port"}, job.CapacityMeans: {"level"}, job.Capacity: {"560"}, job.LoadedAmount: {"700"}, job.LeftInVessel: {"130"},
	job.LeftWith: {"c0"}, job.OverflowCaught: {"10"},
})

// topicsIn lists what was asked of a job, in order.
func topicsIn(j job.Job) []job.Topic {
	var topics []job.Topic
	for _, e := range j.Entries {
		topics = append(topics, e.Topic)
	}
	return topics
}

func TestLevelPortFromStartToFinish(t *testing.T) {
	d := newDrive(t, level)
	s := d.until(job.DrainPlugIn)
	wantUnit(t, s, verdict.Empty, Open)
	s = d.until(job.Decision)
	v := verdictOf(t, s, 0)
	near(t, "in the unit", s.NetFill(0).Nominal, 560, 0)
	if v.Conformity != verdict.Within || v.Error.U() > 20 {
		t.Errorf("%v ± %.1f: a level at the lip tells it to 30 ml, the sums to 16", v.Conformity, v.Error.U())
	}
	s = d.until(job.LeakCheck)
	wantUnit(t, s, verdict.Proven, ToRecheck)
	wantUnit(t, d.until(job.NoTopic), verdict.Proven, Done)
	topics := topicsIn(d.job)
	for _, never := range []job.Topic{job.HoseBore, job.EscapeExpected, job.HoseBefore, job.AdapterIn, job.HoseAfter, job.PressureOff,
		job.Capped, job.EscapedAtCap, job.EscapedHow, job.BreatherReopened} {
		if slices.Contains(topics, never) {
			t.Errorf("%v was asked of a unit that is filled at the top", never)
		}
	}
	order := []job.Topic{job.WayInProved, job.PlugOut, job.DrainPlugIn, job.LoadedAmount, job.FillEnded, job.LevelWeeps, job.OverflowCaught,
		job.PlugSeated, job.Decision, job.TagOff}
	at := -1
	for _, topic := range order {
		i := slices.Index(topics, topic)
		if i <= at {
			t.Errorf("%v comes at %d, not after what goes before it", topic, i)
		}
		at = i
	}
}

// The level says full, the sums 160 short: nothing is proven until it was
// looked at again, nor then: what is missing by the sums is to be added.
func TestLevelAgainstSums(t *testing.T) {
	short := level.with(script{job.LeftInVessel: {"290"}})
	d := newDrive(t, short)
	s := d.until(job.LevelLookedAgain)
	if v := verdictOf(t, s, 0); v.Conformity != verdict.Disputed || v.Act != verdict.Remeasure || v.MayDrive {
		t.Errorf("%v, %v, may drive %v", v.Conformity, v.Act, v.MayDrive)
	}
	near(t, "apart", found(t, s, verdict.LevelAgainstSums).ML, 400-planFor(t, s, 0).Target.Nominal, 1)
	for token, want := range map[string]verdict.Conformity{job.LevelHolds: verdict.Disputed, job.LevelGone: verdict.Low} {
		d := newDrive(t, short.with(script{job.LevelLookedAgain: {token}}))
		s := d.until(job.Decision)
		if v := verdictOf(t, s, 0); v.Conformity != want || v.Act != verdict.AddOil {
			t.Errorf("level %s: %v, %v; want %v, add", token, v.Conformity, v.Act, want)
		}
		for _, o := range asked(t, s, job.Decision).Choices(s) {
			if o.Token == job.DecideAccept.String() {
				t.Errorf("level %s: it can be accepted", token)
			}
		}
	}
	s = d.correct(job.LeftInVessel, 0, 0, "130") // it was the reading: nothing is left to look at
	if p := asked(t, s, job.Decision); p.Place.Round != 0 {
		t.Errorf("asked: %v", p.Place)
	}
}

// A level seen once is not there any more after oil was let out.
func TestLevelAfterLettingOut(t *testing.T) {
	d := newDrive(t, level.with(script{
		job.LevelWeeps: {"not_yet", "not_yet"}, job.LeftInVessel: {"20"}, job.LetOutAmount: {"110"}, job.LevelLookedAgain: {"holds"},
		job.Decision: {"let_out", "accept"},
	}))
	s := d.until(job.Decision)
	if v := verdictOf(t, s, 0); v.Act != verdict.LetOut {
		t.Errorf("670 of 560: %v", v.Act)
	}
	s = d.until(job.TagOff)
	if p := asked(t, s, job.TagOff); p.Place.Round != 1 || !slices.Contains(topicsIn(d.job), job.LevelWeeps) {
		t.Errorf("asked: %v", p.Place)
	}
	near(t, "in the unit", s.NetFill(1).Nominal, 670-110, 0)
	if s.LevelSeen(1) {
		t.Error("a level is seen that nobody saw")
	}
}

func TestCorrectionsBothWays(t *testing.T) {
	low := newDrive(t, small.with(script{
		job.LoadedAmount: {"560", "165"}, job.LeftInVessel: {"0", "0"}, job.EscapedAtCap: {"0", "0"}, job.EscapedAmount: {"60", "80"},
		job.Decision: {"add", "accept"},
	}))
	s := low.until(job.Decision)
	near(t, "first push", s.NetFill(0).Nominal, 560-25-60, 0.01)
	s = low.until(job.PlanAccepted)
	if p := asked(t, s, job.PlanAccepted); p.Place.Round != 1 {
		t.Fatalf("asked: %v", p.Place)
	}
	plan := planFor(t, s, 1)
	near(t, "to add", plan.Target.Nominal, planFor(t, s, 0).Target.Nominal-475, 0.01)
	near(t, "charge: two swaps, the hose is full already", plan.Charge.Nominal, plan.Target.Nominal+100, 0.01)
	s = low.until(job.LeakCheck)
	near(t, "both pushes", s.NetFill(1).Nominal, 475+165-80, 0.01)
	wantUnit(t, s, verdict.Proven, ToRecheck)

	high := newDrive(t, small.with(script{job.LoadedAmount: {"760"}, job.LetOutAmount: {"130"}, job.Decision: {"let_out", "accept"}}))
	s = high.until(job.LetOutAmount)
	if v := verdictOf(t, s, 0); v.Conformity != verdict.High {
		t.Errorf("685 of 551 is %v", v.Conformity)
	}
	s = high.until(job.LeakCheck)
	near(t, "after letting out", s.NetFill(1).Nominal, 760-25-50-130, 0.01)
	wantUnit(t, s, verdict.Proven, ToRecheck)
}

func TestLeftUnproven(t *testing.T) {
	for _, row := range []struct {
		loaded string
		drive  bool
	}{
		{"580", true},  // some 46 short of 551, less than a tenth
		{"480", false}, // some 146 short
	} {
		d := newDrive(t,
			small.with(script{job.LoadedAmount: {row.loaded}, job.Decision: {"leave"}, job.LeftWhy: {"the shop is shut"},
				job.ContainerError: {"0.5"}}))
		s := d.until(job.WasteOil)
		if s.UnitState() != verdict.LeftOff || s.MayDrive() != row.drive {
			t.Errorf("%s loaded: %v, may drive %v", row.loaded, s.UnitState(), s.MayDrive())
		}
		s = d.until(job.NoTopic)
		wantUnit(t, s, verdict.LeftOff, Done)
		if s.Has(job.TagOff) != row.drive || s.Has(job.WheelsTurned) {
			t.Errorf("%s loaded: tag off %v", row.loaded, s.Has(job.TagOff))
		}
	}
}

// Two containers and a scale, sums, gross less tare; typed in US units: 487 g
// in ounces, 20 °C as 68 °F. By hand: 1500 g gross less 1013 g.
func TestContainersScaleAndUSUnits(t *testing.T) {
	d := newDrive(t, small.with(script{
		job.DisplayUnits: {"us"}, job.Capacity: {"600 ml"}, job.OilDensity: {"885"}, job.ScaleDivision: {"1 g"},
		job.ContainerName: {"jug", "can"},
		job.ContainerMore: {"another", "done"}, job.OilTemperature: {"68"}, job.DrainedWith: {"scale", "c1"},
		job.DrainedAmount: {"1500-1013 g", "200 ml+340 ml"},
		job.DrainedMore:   {"again", "done"}, job.DrainedTemperature: {"68"}, job.LoadedWith: {"c0"}, job.LoadedAmount: {"500 ml+125 ml"},
		job.LoadedTemperature: {"68F"},
		job.LeftWith:          {"c0"}, job.LeftInVessel: {"0"}, job.EscapedAtCap: {"0"}, job.EscapedWith: {"c1"},
		job.EscapedAmount: {"1.7 floz"},
	}))
	s := d.until(job.Decision)
	w := s.Drained().Measures
	near(t, "on the scale", w[0].Nominal, 487*1.00121/(885*0.99645)*1000, 0.05)
	near(t, "in the can", w[1].Nominal, 540, 0.01)
	near(t, "escaped", s.Escaped(0).Nominal, 1.7*29.5735, 0.01)
	near(t, "loaded", s.Loaded(0).Nominal, 625, 0.01)
	e, _ := s.Answer(job.Place{Topic: job.DrainedAmount})
	if e.Value.Unit != job.DimG || len(e.Value.Parts) != 2 || e.Value.Parts[1] != -1013 {
		t.Errorf("gross less tare is kept as %+v", e.Value)
	}
	// ± 2·√(2·((10/√12)² + 1.5²) + (0.02·540/√3)² + 0.39²) = 15.5 ml
	if got := s.FormatU(w[1]); got != "18.26 ± 0.52 US fl oz" {
		t.Errorf("shown as %q", got)
	}
}

func TestHotOilIsWaitedFor(t *testing.T) {
	d := newDrive(t, small.with(script{job.OilTemperature: {"70", "55", "54", "45"}, job.HotOilGoOn: {"wait", "wait"}}))
	s := d.until(job.TagAndKey)
	if n := s.Items(job.OilTemperature, 0); n != 4 || s.OilTempC() != 45 {
		t.Errorf("%d temperatures, last %v", n, s.OilTempC())
	}
	d = newDrive(t, small.with(script{job.OilTemperature: {"55"}, job.HotOilGoOn: {"go_on"}}))
	if s := d.until(job.TagAndKey); s.Items(job.OilTemperature, 0) != 1 {
		t.Error("asked again although the owner goes on")
	}
}

func TestElectricCarsAreIsolated(t *testing.T) {
	for drive, want := range map[string]bool{"combustion": false, "hybrid": true, "electric": true} {
		d := newDrive(t, small.with(script{job.DriveKind: {drive}}))
		d.until(job.PlugOut)
		if got := slices.Contains(topicsIn(d.job), job.ElectricOff); got != want {
			t.Errorf("%s: high voltage asked %v", drive, got)
		}
	}
}

// A step that has been gone through has nothing open, whatever was ended early.
func TestNothingIsOpenInTheEnd(t *testing.T) {
	for _, sc := range []script{small, level, small.with(script{job.DripReading: {"300", "400", ""}, job.FillReading: {"300", ""}})} {
		d := newDrive(t, sc)
		s := d.until(job.NoTopic)
		for p, open := range s.Prompts() {
			if open && p.Asked(s) {
				t.Errorf("%v is open", p.Topic)
			}
		}
	}
}

// What an earlier job was told is on offer, but not what changes from job to
// job; what would be refused is not.
func TestOffersOfAnEarlierJob(t *testing.T) {
	past := newDrive(t,
		small.with(script{job.Odometer: {"100000"}, job.PriorLevel: {"verified"}, job.WasherKind: {"18 x 22"}, job.Capacity: {"600"}}))
	past.job.ID = "earlier"
	past.until(job.NoTopic)
	facts := past.state().Facts()
	for _, never := range []job.Topic{job.Odometer, job.PriorLevel, job.ResidualExpected, job.EscapeExpected, job.AtHand} {
		if _, ok := facts[job.Place{Topic: never}]; ok {
			t.Errorf("%v is handed on", never)
		}
	}
	facts[job.Place{Topic: job.UnitKind}] = job.Value{Choice: "spaceship"}
	d := newDrive(t, nil)
	d.offers = Offers{Offers: ask.Offers{Answers: facts}, Before: past.state()}
	s := d.until(job.AtHand)
	if s.CapacityML() != 600 || s.Units() != past.state().Units() {
		t.Errorf("capacity on offer: %v", s.CapacityML())
	}
	if s.Choice(job.Place{Topic: job.UnitKind}) != "final_drive" {
		t.Error("an answer that does not exist was on offer")
	}
	for _, told := range []job.Topic{job.PriorLevel, job.ResidualExpected, job.EscapeExpected} {
		if s.Has(told) {
			t.Errorf("%v is asked, though the job before tells it better", told)
		}
	}
}

// Found marks make readings right: 1000 g of water are 1002.9 ml at 20 °C (ISO
// 8655-6, Z = 1.0029 at 101.3 kPa); marks that say 980 read 2.3 % low.
func TestContainerCheckedWithWater(t *testing.T) {
	checked := small.with(script{job.ContainerError: {"5"}, job.ContainerWater: {"1000"}, job.ContainerWaterReading: {"980"},
		job.DrainedAmount: {"540"}})
	s := newDrive(t, checked).until(job.LoadedAmount)
	jug := s.Devices()[0]
	if jug.Check == nil || jug.Check.Contradicts {
		t.Fatalf("check %+v", jug.Check)
	}
	near(t, "error of the marks", jug.Check.Error, 1002.9/980-1, 0.0005)
	near(t, "drained", s.Drained().Total.Nominal, 540*(1+jug.Check.Error), 0.01)
	plain := newDrive(t, checked.with(script{job.ContainerWater: {"-"}})).until(job.LoadedAmount)
	if s.Drained().Total.U() > plain.Drained().Total.U()/2 {
		t.Errorf("checked ± %.1f, unchecked ± %.1f", s.Drained().Total.U(), plain.Drained().Total.U())
	}

	s = newDrive(t, checked.with(script{job.ContainerError: {"0.5"}})).until(job.LoadedAmount)
	found(t, s, verdict.MarksOff)
}

// Two containers of one name do not share their error.
func TestContainersOfOneName(t *testing.T) {
	s := newDrive(t, twoJugs.with(script{job.ContainerName: {"jug", "Jug"}})).until(job.Decision)
	if d := s.Devices(); d[0].Name == d[1].Name || s.SharedJugNote() != "" {
		t.Errorf("%q and %q, %q", d[0].Name, d[1].Name, s.SharedJugNote())
	}
}

// 14 months after 18 April 2026, and 20 000 km on.
func TestDue(t *testing.T) {
	s := newDrive(t, small.with(script{job.Odometer: {"100000"}, job.IntervalKm: {"20000"}, job.IntervalMonths: {"14"}})).until(job.NoTopic)
	h := s.Head()
	if h.Due == nil || !h.Due.Equal(time.Date(2027, 6, 18, 9, 0, 0, 0, time.UTC)) || h.DueKm != 120000 {
		t.Errorf("due %v, %v km", h.Due, h.DueKm)
	}
}

// A published range is the window, exactly, and counts once: what belongs in is
// its middle with the doubt of any stated quantity, 3 % of a refill. Even a
// perfect fill cannot be proven within so narrow a one, and that is said.
func TestRangeAsTolerance(t *testing.T) {
	sc := small.with(script{job.Capacity: {"4.3-4.5 L"}, job.DrainedAmount: {"4.1 L"}})
	s := newDrive(t, sc).until(job.PlanAccepted)
	p := planFor(t, s, 0)
	near(t, "window", p.High-p.Low, 200, 1e-9)
	near(t, "middle", s.CapacityML(), 4400, 1e-9)
	found(t, s, verdict.BeyondProof)
	s = newDrive(t, sc.with(script{job.CapacityMeans: {"refill"}, job.DrainedAmount: {"4.4 L"}})).until(job.PlanAccepted)
	near(t, "u of the middle", planFor(t, s, 0).FromCapacity.U(), math.Hypot(0.022, 0.02/(1-0.08))*4400, 1e-9)
	found(t, s, verdict.BeyondProof)
}

func TestLoadFarFromThePlanIsNoticed(t *testing.T) {
	d := newDrive(t, small.with(script{job.LoadedAmount: {"65"}}))
	s := d.until(job.AdapterIn)
	f := found(t, s, verdict.LoadOffPlan)
	if d.job.Entries[f.Seq-1].Topic != job.LoadedAmount {
		t.Errorf("to be read again: %v", d.job.Entries[f.Seq-1].Topic)
	}
	if at := s.FindingsAt(job.Preload, 0); len(at) != 1 || at[0] != f || len(s.FindingsAt(job.Fill, 0)) != 0 {
		t.Errorf("at the pre-load: %+v", at)
	}
	notFound(t, d.correct(job.LoadedAmount, 0, 0, "625"), verdict.LoadOffPlan)
}
