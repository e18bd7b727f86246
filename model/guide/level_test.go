package guide

import (
	"math"
	"slices"
	"testing"

	"garage/tundish/model/ask"
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// weeper is a unit of 984 ml to the level hole of which 1000 came out: the sums
// say about 984 are needed.
var weeper = small.with(script{
	job.FillPath: {"level_port"}, job.CapacityMeans: {"level"}, job.Capacity: {"984"}, job.DrainedAmount: {"984@20"},
	job.LeftWith: {"c0", "c0"},
})

func offersAccept(t *testing.T, s *Guide) bool {
	t.Helper()
	return slices.ContainsFunc(asked(t, s, job.Decision).Choices(s), func(o ask.Option) bool { return o.Token == "accept" })
}

// 984 needed, 500 in, and it is said to weep: whatever is said on the second
// look, it is not proven, the cause is asked for, and the way out is measured.
func TestFalseWord01LevelThatTheSumsContradict(t *testing.T) {
	t.Parallel()
	short := weeper.with(script{job.LoadedAmount: {"1100", "600"}, job.LeftInVessel: {"600", "100"}, job.LevelWeeps: {"weeps"},
		job.OverflowCaught: {"0"}})
	d := newDrive(t, short)
	s := d.until(job.LevelLookedAgain)
	if v := verdictOf(t, s, 0); v.Conformity != verdict.Disputed || v.Act != verdict.Remeasure || v.MayDrive {
		t.Errorf("before a second look: %v, %v, may drive %v", v.Conformity, v.Act, v.MayDrive)
	}
	for _, token := range []string{job.LevelHolds, job.LevelGone, job.LevelTilted, job.LevelWrongHole, job.LevelFroth, job.LevelShut} {
		d := newDrive(t, short.with(script{job.LevelLookedAgain: {token}}))
		s := d.until(job.Decision)
		v := verdictOf(t, s, 0)
		if (v.Conformity != verdict.Disputed && v.Conformity != verdict.Low) || v.Act != verdict.AddOil || v.MayDrive || v.ActML < 450 {
			t.Errorf("%s: %v, %v %.0f, may drive %v; want disputed or low, add what is missing", token, v.Conformity, v.Act, v.ActML,
				v.MayDrive)
		}
		if offersAccept(t, s) {
			t.Errorf("%s: it can be accepted", token)
		}
	}
}

// Standing below the hole is evidence: a surplus by the sums is contradicted by
// it, and a fill that is right by the sums is a little lower for it. Going on
// until it weeps is on offer.
func TestFalseWord01BelowTheHoleIsEvidence(t *testing.T) {
	t.Parallel()
	over := newDrive(t,
		weeper.with(script{job.LoadedAmount: {"1300"}, job.LeftInVessel: {"100"}, job.LevelWeeps: {"not_yet"}, job.OverflowCaught: {"0"}}))
	s := over.until(job.LevelLookedAgain)
	if v := verdictOf(t, s, 0); v.Conformity != verdict.Disputed || v.LevelZ <= estimate.ConflictZ {
		t.Errorf("200 over and below the hole: %v, z %.1f", v.Conformity, v.LevelZ)
	}
	right := newDrive(t,
		weeper.with(script{job.LoadedAmount: {"1084"}, job.LeftInVessel: {"100"}, job.LevelWeeps: {"not_yet"}, job.OverflowCaught: {"0"}}))
	s = right.until(job.Decision)
	v := verdictOf(t, s, 0)
	if v.Error.Nominal >= s.SumsErrorML(job.Place{}) {
		t.Errorf("off by %.1f with the level, %.1f without: below the hole should tell", v.Error.Nominal, s.SumsErrorML(job.Place{}))
	}
	if to := advised(s, job.Place{}); to != "add" || v.ActML <= 0 {
		t.Errorf("advised: %v; want to go on until it weeps", to)
	}
}

// The load of a level port has a surplus, so that it can weep.
func TestFalseWord01LoadMakesItWeep(t *testing.T) {
	t.Parallel()
	s := newDrive(t, weeper.with(script{job.VesselHeel: {"40"}})).until(job.LoadedAmount)
	plan := planFor(t, s, 0)
	doubt := math.Sqrt(plan.Target.Variance() + 30*30 + 6.5*6.5) // of the need, the lip and the heel
	if want := plan.Target.Nominal + 2*doubt + 40; plan.Charge.Nominal < want || plan.Charge.Nominal > want+1 {
		t.Errorf("charge %.1f, want need + twice the doubt + heel = %.1f", plan.Charge.Nominal, want)
	}
}
