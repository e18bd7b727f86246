package guide

import (
	"math"
	"strings"
	"testing"

	"garage/tundish/model/job"
	"garage/tundish/model/learn"
	"garage/tundish/model/verdict"
)

// A level seen at first, of a unit whose dry quantity is stated, and three drains
// of known fills: 88, 85 and 91 stayed behind. By the readings alone that is 88;
// the trade's 72 ± 31 for the unit, each drain's own ± 18 and the level's ± 30
// draw it to between.
func TestDrainsOfAKnownLevelTeachTheResidual(t *testing.T) {
	weeps := script{job.LevelWeeps: {"weeps"}}
	got := visits(t, levelUnit, visit{outML: 812, inML: 812, with: weeps}, visit{outML: 812, inML: 815, with: weeps},
		visit{outML: 818, inML: 812, with: weeps}, visit{outML: 806, inML: 806, with: weeps})[0].Lessons().Residual
	if got.Jobs != 4 {
		t.Fatalf("%d jobs, want 4", got.Jobs)
	}
	if got.ML < 76 || got.ML > 88 || got.UML < 15 || got.UML > 28 {
		t.Errorf("%v ± %v, want between 72 and 88, surer than 31", got.ML, got.UML)
	}
}

// A unit that started dry and was never looked at since is said to need a look.
func TestReckonedSinceItWasDry(t *testing.T) {
	list := []visit{{inML: 600, with: script{job.DryStart: {"dry"}}}}
	for range 3 {
		list = append(list, visit{outML: 552, inML: 552})
	}
	unit := visits(t, pushUnit, list...)
	for i, want := range []bool{true, false} {
		sum, err := unit[i].VerdictBreakdown(0)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(strings.Join(sum.Facts, "\n"), "a level seen would put that right"); got != want {
			t.Errorf("%s: said %v, want %v: %q", unit[i].ID, got, want, sum.Facts)
		}
	}
}

// Two cars may be typed by the same name: a job whose quantity cannot be of the
// unit before goes on from nothing; one whose quantity is hardly another does.
func TestAnotherUnitOfTheSameNameIsNotGoneOnFrom(t *testing.T) {
	for capacity, follows := range map[string]bool{"600": true, "604": true, "900": false} {
		out := map[string]string{"600": "550", "604": "550", "900": "830"}[capacity]
		d := newDrive(t, small.with(script{job.Capacity: {capacity}, job.DrainedAmount: {out}}))
		d.offers.Before = earlierJob(t)
		s := d.until(job.PlanAccepted)
		alone := Fold(d.job, Offers{})
		if s.Follows() != follows {
			t.Errorf("%s: follows %v, want %v", capacity, s.Follows(), follows)
		}
		same := planFor(t, s, 0).Target.Nominal == planFor(t, alone, 0).Target.Nominal
		if same == follows {
			t.Errorf("%s: needed %v, alone %v", capacity, planFor(t, s, 0).Target.Nominal, planFor(t, alone, 0).Target.Nominal)
		}
	}
}

// Where nothing but the drains is known, what stays behind cannot be told from
// them: only its default comes out again. A loss can.
func TestDrainPortJobsAloneTeachNoResidual(t *testing.T) {
	refill := pushUnit.with(script{job.CapacityMeans: {"refill"}, job.Capacity: {"550"}})
	unit := visits(t, refill, visit{outML: 550, inML: 550}, visit{outML: 548, inML: 550}, visit{outML: 551, inML: 550})
	if got := unit[0].Lessons().Residual; got.Jobs != 0 {
		t.Errorf("%d jobs teach %v ± %v", got.Jobs, got.ML, got.UML)
	}
	if l := verdict.Leaks(verdict.History(Assessments(unit))); l.Sign != learn.NoSign || l.Jobs != 2 {
		t.Errorf("%v from %d jobs", l.Sign, l.Jobs)
	}
	leaking := visits(t, pushUnit, visit{outML: 550, inML: 550}, visit{outML: 490, stop: job.PlanAccepted})
	points := verdict.History(Assessments(leaking))
	near(t, "missing", points[0].LossML.Nominal, 60, 3)
	if points[0].Sign != learn.Leak || points[0].PerKm {
		t.Errorf("%v, per distance %v", points[0].Sign, points[0].PerKm)
	}
}

// What escaped and was measured teaches what escapes with the rig: 50 ± 8, each
// swap 24 of its own. By hand, three swaps of 32 on average: weight 8²/(8² +
// 24²/3) = 0.25, so 50 - 0.25·18 = 45.5 ± 6.9. A guess of 40 ± 16 adds little.
func TestEscapeIsLearnedFromTheRig(t *testing.T) {
	escaped := func(ml string) script { return script{job.EscapedAmount: {ml}} }
	rig := visits(t, pushUnit,
		visit{outML: 550, inML: 530, with: escaped("30")},
		visit{outML: 550, inML: 534, with: escaped("34")},
		visit{outML: 550, inML: 532, with: escaped("32")})
	got := rig[0].Lessons().Escape
	if got.Jobs != 3 {
		t.Fatalf("%d jobs teach, want 3", got.Jobs)
	}
	near(t, "escape", got.ML, 45.5, 0.5)
	near(t, "its u, of one swap more", got.UML, math.Hypot(6.9, 24), 0.1)
	// Of all jobs with the rig, newest first, the one that most swaps have taught is offered to another unit.
	if offers := OffersOf(nil, rig); offers.Escape != got {
		t.Errorf("%+v is offered, want %+v", offers.Escape, got)
	}
	if offers := OffersOf(nil, []*Guide{rig[2], rig[1]}); offers.Escape.Jobs != 2 {
		t.Errorf("of %d swaps is offered, want 2", offers.Escape.Jobs)
	}
	if visits(t, levelUnit, visit{outML: 828, inML: 828})[0].Lessons().Escape.Jobs != 0 {
		t.Error("a fill through a level port teaches what escapes at a swap")
	}
}
