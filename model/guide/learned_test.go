package guide

import (
	"math"
	"testing"

	"garage/tundish/model/job"
	"garage/tundish/model/learn"
	"garage/tundish/model/verdict"
)

// Before the leak the three jobs teach. By hand, with the default 72 ± 36 of
// which a quarter of the variance is scatter (18² from one job):
//
//	mean 88; scatter² (18² + 0)/(1 + 2) = 108, as the readings explain all of the jobs' own
//	u²(mean) = 108/3 + what the readings share: the level 30² and the marks (2 % of 812/√3)² ≈ 36 + 900 + 75
//	weight 31.2²/(31.2² + 1011) ≈ 0.49, so 72 + 0.49·16 ≈ 80, u ≈ √(496 + 108) ≈ 24.6
func TestCaseTenTeachesTheResidual(t *testing.T) {
	got := verdict.Learn(Assessments(caseTen(t)[1:]), Assessments(nil)).Residual
	if got.Jobs != 3 {
		t.Fatalf("%d jobs, want 3", got.Jobs)
	}
	near(t, "residual", got.ML, 80, 1.5)
	near(t, "its u", got.UML, 24.6, 1.5)
}

// Where nothing but the drains is known, what stays behind cannot be told from
// them: only its default comes out again. A loss can.
func TestDrainPortJobsAloneTeachNoResidual(t *testing.T) {
	unit := visits(t, pushUnit, visit{outML: 550, inML: 550}, visit{outML: 548, inML: 550}, visit{outML: 551, inML: 550})
	if got := verdict.Learn(Assessments(unit), Assessments(nil)).Residual; got.Jobs != 0 {
		t.Errorf("%d jobs teach %v ± %v", got.Jobs, got.ML, got.UML)
	}
	if l := verdict.Leaks(verdict.History(Assessments(unit))); l.Sign != learn.NoSign || l.Jobs != 2 {
		t.Errorf("%v from %d jobs", l.Sign, l.Jobs)
	}
	leaking := visits(t, pushUnit, visit{outML: 550, inML: 550}, visit{outML: 490, stop: job.PlanAccepted})
	points := verdict.History(Assessments(leaking))
	near(t, "missing", points[0].LossML.Nominal, 60, 0.2)
	if points[0].Sign != learn.Leak || points[0].PerKm {
		t.Errorf("%v, per distance %v", points[0].Sign, points[0].PerKm)
	}
}

// A slow loss looks like oil that stays behind, so it must not be taught.
func TestSlowLossIsNotTaughtAsResidual(t *testing.T) {
	list := []visit{{outML: 828, inML: 828, with: script{job.LevelWeeps: {"weeps"}}}}
	for range 4 {
		list = append(list, visit{outML: 800, inML: 828})
	}
	unit := visits(t, levelUnit, list...)
	if got := verdict.Learn(Assessments(unit), Assessments(nil)).Residual; got.Jobs != 0 {
		t.Errorf("%d jobs teach %v ± %v ml, with 28 ml missing each time", got.Jobs, got.ML, got.UML)
	}
}

// By hand, default 50 ± 20 of which a quarter of the variance is scatter (10²
// from one job): mean of 30, 34 and 32 is 32; scatter² 100/3 = 33.3; u²(mean) =
// 33.3/3 + 8.4/3 = 13.9; weight 300/(300 + 13.9) = 0.956; 50 − 0.956·18 = 32.8;
// u = √(0.956·13.9 + 33.3) = 6.83.
func TestEscapeIsLearnedFromTheRig(t *testing.T) {
	escaped := func(ml string) script { return script{job.EscapedAmount: {ml}} }
	rig := visits(t, pushUnit,
		visit{outML: 550, inML: 530, with: escaped("30")},
		visit{outML: 550, inML: 534, with: escaped("34")},
		visit{outML: 550, inML: 532, with: escaped("32")},
		visit{outML: 550, inML: 540, with: script{job.EscapedHow: {"guess"}, job.EscapedAmount: {"40"}}},
		visit{outML: 550, inML: 590, with: escaped("90"), stop: job.Decision})
	got := verdict.Learn(Assessments(nil), Assessments(rig)).Escape
	if got.Jobs != 3 {
		t.Fatalf("%d pushes teach, want 3: a guess and a job not proven do not", got.Jobs)
	}
	near(t, "escape", got.ML, 32.8, 0.2)
	near(t, "its u", got.UML, 6.83, 0.1)
	if verdict.Learn(Assessments(nil), Assessments(visits(t, levelUnit, visit{outML: 828, inML: 828}))).Escape.Jobs != 0 {
		t.Error("a fill through a level port teaches what escapes at a swap")
	}
}

// What is learned is on offer in the next job, and once taken stands in its
// entries: the plan is the same without what earlier jobs teach.
func TestWhatIsTaughtBecomesTheJobsOwn(t *testing.T) {
	lessons := verdict.Learn(Assessments(caseTen(t)[1:]), Assessments(nil))
	d := newDrive(t, levelUnit.with(script{job.DrainedAmount: {"812"}}))
	d.offers = Offers{Residual: lessons.Residual, Escape: lessons.Escape}
	d.until(job.PlanAccepted)
	with, err := d.state().Plan(0)
	if err != nil {
		t.Fatal(err)
	}
	without, err := Fold(d.job, Offers{}).Plan(0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "needed without the earlier jobs", without.Target.Nominal, with.Target.Nominal, 1e-9)
	near(t, "what stays behind in the plan", 900-with.FromCapacity.Nominal, lessons.Residual.ML, 0.5)
}

// The escape of a correction is that of two swaps: adapter in and plug in. By
// hand, 60 at the first swap and 80 at the two of the second push are 60 and 40
// a swap.
func TestEscapeIsLearnedASwap(t *testing.T) {
	d := newDrive(t, small.with(script{
		job.LoadedAmount: {"560", "165"}, job.LeftInVessel: {"0", "0"}, job.EscapedAtCap: {"0", "0"}, job.EscapedAmount: {"60", "80"},
		job.Decision: {"add", "accept"},
	}))
	d.until(job.Decision)
	got := verdict.Learn(Assessments(nil), Assessments([]*Guide{d.until(job.NoTopic)})).Escape
	if got.Jobs != 2 || got.ML < 49 || got.ML > 51 { // the default is 50, and so is the mean of the two
		t.Errorf("%v ml from %d swaps", got.ML, got.Jobs)
	}
}

// A swap at which nothing escaped teaches too. By hand, default 50 ± 20 of which a
// quarter of the variance is scatter (10² from one job): 50 - 50·300/(300 + 100 + 3²), the look
// at the dry pan being good to 3.
func TestSwapWithoutEscapeTeaches(t *testing.T) {
	s := newDrive(t, small.with(script{job.LoadedAmount: {"575"}, job.EscapedHow: {"none"}})).until(job.NoTopic)
	if got := verdict.Learn(Assessments(nil), Assessments([]*Guide{s})).Escape; got.Jobs != 1 || math.Abs(got.ML-13.3) > 0.5 {
		t.Errorf("%v ml from %d swaps", got.ML, got.Jobs)
	}
}
