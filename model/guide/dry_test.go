package guide

// This file drives jobs on a unit that holds nothing when they begin. The
// figures are invented and the sums are done by hand from the defaults of the
// tool, which are common practice without a source.

import (
	"slices"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/ask"
	"garage/tundish/model/device"
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/learn"
	"garage/tundish/model/measure"
	"garage/tundish/model/verdict"
)

// dry is the small job on a unit of 600 ml that was overhauled: 675 loaded, 25
// kept by the hose, 50 escape, so 600 go in.
var dry = small.with(script{job.DryStart: {"dry"}, job.LoadedAmount: {"675"}})

// 600 needed, 600 + 25 + 50 = 675 charged, 680 loaded by the vessel's marks;
// 675 − 25 − 50 = 600 in the unit.
func TestDryStartFromStartToFinish(t *testing.T) {
	d := newDrive(t, dry)
	wantUnit(t, d.until(job.DryStart), verdict.AsFound, Open)
	s := d.until(job.Filler)
	wantUnit(t, s, verdict.Empty, Open)
	if s.MayDrive() {
		t.Error("dry inside, and may be driven")
	}
	s = d.until(job.PlanAccepted)
	wantUnit(t, s, verdict.Empty, Open)
	plan := planFor(t, s, 0)
	near(t, "needed", plan.Target.Nominal, 600, 0)
	near(t, "charge", plan.Charge.Nominal, 675, 0.01)
	near(t, "pre-load", plan.PreloadML, 680, 0)
	if n := len(s.ResumePrompts()); n != 3 {
		t.Errorf("after a break %d questions, want stands, tag and port", n)
	}
	s = d.until(job.Decision)
	near(t, "in the unit", s.NetFill(0).Nominal, 600, 0.01)
	wantUnit(t, d.until(job.LeakCheck), verdict.Accepted, ToRecheck) // the stated quantity is all there is
	wantUnit(t, d.until(job.NoTopic), verdict.Accepted, Done)
	topics := topicsIn(d.job)
	for topic := job.Undo; topic < job.NumTopics; topic++ {
		if sp := ask.SpecOf(topic); sp != nil && sp.OldOil && slices.Contains(topics, topic) {
			t.Errorf("%v was asked of a unit that held nothing", topic)
		}
	}
	for _, must := range []job.Topic{job.StandsAndShake, job.RightUnit, job.BreatherFree, job.WayInProved, job.GlovesAndEyes, job.TagAndKey,
		job.BreatherReopened} {
		if !slices.Contains(topics, must) {
			t.Errorf("%v was not asked", must)
		}
	}
	for _, never := range []job.Topic{job.ResidualExpected, job.MagnetLook} {
		if slices.Contains(topics, never) {
			t.Errorf("%v was asked", never)
		}
	}
}

// 552 stated as a refill, 40 to 60 known to stay behind: 602, and oil for that
// to have at hand: 602 + 25 + 50 + 100 + 50 = 827, so 900.
func TestDryStartOfARefillQuantity(t *testing.T) {
	s := newDrive(t,
		dry.with(script{job.CapacityMeans: {"refill"}, job.Capacity: {"552"}, job.ResidualExpected: {"40-60"}})).until(job.PlanAccepted)
	near(t, "needed", planFor(t, s, 0).Target.Nominal, 602, 0.01)
	near(t, "to buy", s.OilToBuyML(), 900, 0)
}

// With a level port the level decides, as in any other job.
func TestDryStartWithALevelPort(t *testing.T) {
	d := newDrive(t, jobs["dry start, level port"])
	s := d.until(job.DrainPlugIn)
	wantUnit(t, s, verdict.Empty, Open)
	s = d.until(job.Decision)
	if v := verdictOf(t, s, 0); v.Conformity != verdict.Within || v.Error.U() > 20 {
		t.Errorf("%v ± %.1f: a level at the lip proves itself", v.Conformity, v.Error.U())
	}
	s = d.until(job.NoTopic)
	wantUnit(t, s, verdict.Proven, Done)
}

// What was said of oil drained is void once the unit turns out to have been
// dry, and counts again when that is taken back. Chips stay chips.
func TestDryStartFoundOutLate(t *testing.T) {
	d := newDrive(t, small.with(script{job.OilLook: {"milky"}, job.MagnetLook: {"chips"}, job.ChipsDecision: {"keep_from_rust"}}))
	d.until(job.LoadedAmount)
	s := d.correct(job.DryStart, 0, 0, "dry")
	near(t, "came out", s.Drained().Total.Nominal, 0, 0)
	if _, ok := s.DrainedNow(); ok || s.Measured() || s.OilLook() != job.LookClean || !s.DrainedBreakdown().Open {
		t.Error("oil came out of a unit that held none")
	}
	notFound(t, s, verdict.WaterIn)
	found(t, s, verdict.ChipsFound)
	wantUnit(t, s, verdict.Empty, Open)
	asked(t, s, job.PlanAccepted) // 600 instead of 552
	s = d.correct(job.DryStart, 0, 0, "holds_oil")
	near(t, "came out after all", s.Drained().Total.Nominal, 550, 0.01)
	found(t, s, verdict.WaterIn)
}

// A job that is past the question goes on as it was; one that was asked once is
// asked again when the answer is struck out.
func TestJobFromBeforeTheQuestion(t *testing.T) {
	d := newDrive(t, small)
	d.until(job.NoTopic)
	entry, _ := d.state().Answer(job.Place{Topic: job.DryStart})
	old := job.Job{ID: d.job.ID, Started: d.job.Started}
	for _, e := range d.job.Entries {
		if e.Topic != job.DryStart {
			e.Seq = len(old.Entries) + 1
			old.Entries = append(old.Entries, e)
		}
	}
	wantUnit(t, Fold(old, Offers{}), verdict.Proven, Done)
	e, ok := d.state().StrikeEntry(entry.Seq, d.at)
	if !ok {
		t.Fatal("cannot be struck out")
	}
	d.add(e)
	asked(t, d.state(), job.DryStart)
}

// 600 went into the dry unit and 540 came out at the next drain: 60 stayed
// behind. By hand, with the trade's 48 ± 20.8 for the unit:
//
//	lost    in an interval, half of a normal distribution of 2 %, 12: 9.6 ± 7.2
//	u²(50): this drain's own 12², that loss and 0.2 % beside it,
//	        four readings of a jug with 10 ml marks (10²/12 each), its marks on 85
//	        (2 %/√3), the hose 5 % of 25, the temperature of 675 to 5 °C: 144 + 54 + 42
//	weight  20.8²/(20.8² + 240) = 0.643, u = 20.8·√0.357 = 12.4
//	mean    48 + 0.643·(60 - 9.6 - 48) = 49.5
func TestDryStartTeachesTheResidual(t *testing.T) {
	unit := visits(t, pushUnit,
		visit{inML: 600, with: script{job.DryStart: {"dry"}}},
		visit{outML: 540, inML: 552})
	got := unit[0].Lessons().Residual
	if got.Jobs != 1 {
		t.Fatalf("%d jobs teach, want the one after the dry start", got.Jobs)
	}
	near(t, "residual", got.ML, 49.5, 0.3)
	near(t, "its u", got.UML, 12.4, 0.3)

	// 60 less than went in, of which 48 ± 24 were to stay: no leak.
	points := verdict.History(Assessments(unit))
	near(t, "missing", points[0].LossML.Nominal, 12, 0.2)
	if points[0].Sign != learn.NoSign || !points[1].DryStart || points[1].Drained {
		t.Errorf("%v, dry start %v, drained %v", points[0].Sign, points[1].DryStart, points[1].Drained)
	}
}

// 84 of 600 stay behind where 48 ± 24 are usual: that may be so; 120 cannot be,
// and is a leak. From the next drain on this unit is its own measure.
func TestFirstDrainAfterADryStart(t *testing.T) {
	first := visit{inML: 600, with: script{job.DryStart: {"dry"}}}
	for _, row := range []struct {
		outML float64
		sign  learn.Sign
	}{{552, learn.NoSign}, {516, learn.NoSign}, {480, learn.Leak}} {
		unit := visits(t, pushUnit, first,
			visit{outML: row.outML, inML: 552, stop: job.Decision})
		l := verdict.Leaks(verdict.History(Assessments(unit)))
		if l.Sign != row.sign {
			t.Errorf("%v out: %v; want %v", row.outML, l.Sign, row.sign)
		}
	}
	again := visits(t, pushUnit, first, visit{outML: 516, inML: 552, with: script{job.Decision: {"accept"}}}, visit{outML: 552, inML: 552})
	if l := verdict.Leaks(verdict.History(Assessments(again))); l.Sign != learn.NoSign || l.Jobs != 1 {
		t.Errorf("%v from %d jobs", l.Sign, l.Jobs)
	}
	if got := again[0].Lessons().Residual; got.Jobs != 2 {
		t.Errorf("%d jobs teach, want both", got.Jobs)
	}
}

// What leaked before the overhaul leaks no more, and the jobs before it tell
// nothing of what is missing after it.
func TestDryStartEndsALeak(t *testing.T) {
	leaking := []visit{{outML: 550, inML: 550}, {outML: 480, inML: 550, with: script{job.Decision: {"leave"}, job.LeftWhy: {"so"}}}}
	if l := verdict.Leaks(verdict.History(Assessments(visits(t, pushUnit, leaking...)))); l.Sign != learn.Leak {
		t.Fatalf("70 missing are %v", l.Sign)
	}
	unit := visits(t, pushUnit, append(leaking, visit{inML: 600, with: script{job.DryStart: {"dry"}}}, visit{outML: 545, inML: 550})...)
	points := verdict.History(Assessments(unit))
	if l := verdict.Leaks(points); l.Sign != learn.NoSign || l.Jobs != 0 || points[1].Known {
		t.Errorf("%v from %d jobs, loss over the overhaul known: %v", l.Sign, l.Jobs, points[1].Known)
	}
}

// The next job of the unit is not dry because the last one was.
func TestDryStartIsNotHandedOn(t *testing.T) {
	past := newDrive(t, dry)
	s := past.until(job.NoTopic)
	next := newDrive(t, nil)
	next.offers = Offers{Offers: ask.Offers{Answers: s.Facts()}}
	next.at = past.at.Add(time.Hour)
	s = next.until(job.DryStart)
	if v, _ := asked(t, s, job.DryStart).DefaultValue(s); v.Choice != ask.SpecOf(job.DryStart).Options[0].Token {
		t.Errorf("on offer: %q", v.Choice)
	}
}

// Where nothing that came out counts, the same container out and in cancels
// nothing; and it is a dry quantity that would tell what a dry unit takes.
func TestAdviceWhereNothingCameOut(t *testing.T) {
	for name, sc := range map[string]script{
		"dry": dry, "water": small.with(script{job.OilLook: {"milky"}}), "basis chosen": jobs["far below, basis chosen"],
	} {
		s := newDrive(t, sc).until(job.Decision)
		if got := s.Remedy(measure.Source{Kind: device.MarksSource, Name: "jug"}); got != "only a scale helps" {
			t.Errorf("%s: %q", name, got)
		}
	}
	s := newDrive(t, dry.with(script{job.CapacityMeans: {"refill"}, job.Capacity: {"552"}})).until(job.PlanAccepted)
	sum := s.TargetBreakdown()
	if sum.Doubt[0].Name != estimate.StaysBehind || !strings.Contains(sum.Advice, "The figure for a dry fill") {
		t.Errorf("%+v: %q", sum.Doubt, sum.Advice)
	}
	if got := newDrive(t, small).until(job.Decision).Remedy(measure.Source{Name: estimate.StaysBehind}); !strings.Contains(got,
		"figure for an oil change") {
		t.Errorf("after a drain: %q", got)
	}
}
