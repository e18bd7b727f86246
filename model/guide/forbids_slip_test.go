package guide

import (
	"slices"
	"testing"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// What one slip can hide is not proven, however good the odds; a clean job is.
func TestOneSlipForbidsProven(t *testing.T) {
	t.Parallel()
	tiny := small.with(script{job.Capacity: {"300"}, job.DrainedAmount: {"276"}, job.LoadedAmount: {"350"}})
	for name, row := range map[string]struct {
		sc   script
		want []verdict.Forbids
	}{
		"a clean job":   {small, nil},
		"bottles noted": {small.with(script{job.BottlesOpened: {"1000"}, job.BottlesLeft: {"367"}}), nil},
		"nobody knows the level before": {small.with(script{job.PriorLevel: {"unknown"}}),
			[]verdict.Forbids{verdict.ForbidsOneMeasure}},
		"it leaked: what came out is no witness": {small.with(script{job.OilHistory: {"leaked"}}),
			[]verdict.Forbids{verdict.ForbidsOneMeasure}},
		"it leaked, but a level is seen": {level.with(script{job.OilHistory: {"leaked"}}), nil},
		"far more came out, and it is the unit": {small.with(script{job.DrainedAmount: {"1000"}, job.BasisWhy: {"sticker"}}),
			[]verdict.Forbids{verdict.ForbidsOverruled, verdict.ForbidsOneMeasure}},
		"a mark of 100 ml, and the load read once": {small.with(script{job.VesselGraduation: {"100"}, job.LoadedWith: {"vessel"},
			job.LeftWith: {"vessel"}}), []verdict.Forbids{verdict.ForbidsSlip}},
		"a hose that holds a quarter of the fill": {small.with(script{job.HoseBore: {"10"}, job.HoseLength: {"2"},
			job.LoadedAmount: {"757"}}), []verdict.Forbids{verdict.ForbidsSlip}},
		"nothing escaped from a small unit, it is said": {tiny.with(script{job.EscapedHow: {"none"}, job.LoadedAmount: {"300"}}),
			[]verdict.Forbids{verdict.ForbidsSlip}},
	} {
		s := newDrive(t, row.sc.with(script{job.WrongBoxDecision: {"right_unit"}})).until(job.Decision)
		if v := verdictOf(t, s, 0); v.Conformity != verdict.Within && v.Conformity != verdict.LikelyWithin {
			t.Errorf("%s: %v: nothing would be accepted anyway", name, v.Conformity)
		}
		if got := s.ForbidsProven(); !slices.Equal(got, row.want) {
			t.Errorf("%s: %v, want %v", name, got, row.want)
		}
	}
}

// Pushes that add nothing put the sums in more doubt, mark by mark. That does
// not reconcile them with a level that they contradicted.
func TestLevelContradictedOnceStaysSo(t *testing.T) {
	t.Parallel()
	d := newDrive(t, level.with(script{
		job.VesselGraduation: {"100"}, job.LoadedWith: {"vessel", "vessel", "vessel", "vessel"},
		job.LeftWith:     {"vessel", "vessel", "vessel", "vessel"},
		job.LoadedAmount: {"700", "200", "200", "200"}, job.LeftInVessel: {"300", "200", "200", "200"},
		job.LevelWeeps:       {"weeps", "weeps", "weeps", "weeps"},
		job.LevelLookedAgain: {"holds", "holds", "holds", "holds"}, job.Decision: {"add", "add", "add", "accept"},
		job.OverflowCaught: {"0", "0", "0", "0"},
	}))
	s := d.until(job.Decision)
	if first := verdictOf(t, s, 0); !(first.LevelZ > estimate.ConflictZ) {
		t.Fatalf("the sums agree with the level: z %.1f", first.LevelZ)
	}
	for range 30 {
		p, _ := s.Next()
		if p.Topic == job.Decision && p.Place.Round == 3 {
			break
		}
		d.answer(s, p)
		s = d.until(job.Decision)
	}
	if last := verdictOf(t, s, 3); last.LevelZ > estimate.ConflictZ {
		t.Fatalf("the sums contradict the level still: z %.1f", last.LevelZ)
	}
	if s.Round() != 3 || !slices.Contains(s.ForbidsProven(), verdict.ForbidsLevel) {
		t.Errorf("round %d: %v", s.Round(), s.ForbidsProven())
	}
}
