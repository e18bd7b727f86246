package guide

import (
	"math"
	"slices"
	"testing"

	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// Two facts contradict each other, one is overruled: the gap stays in the ± of
// what is needed, nothing is on offer at the question, and the fill is not
// proven however good its readings.
func TestFalseWord07OverruledContradictionStays(t *testing.T) {
	t.Parallel()
	d := newDrive(t, small.with(script{
		job.Capacity: {"560"}, job.CapacityMeans: {"refill"}, job.PriorLevel: {"verified"}, job.DrainedAmount: {"450@20"},
		job.LookedAgain: {"nothing_more"},
		job.Basis:       {"capacity"}, job.BasisWhy: {"manual"}, job.LoadedAmount: {"635"}, job.Decision: {"leave"},
		job.LeftWhy: {"as it is"},
	}))
	s := d.until(job.Basis)
	if v, ok := asked(t, s, job.Basis).DefaultValue(s); ok {
		t.Errorf("on offer: %+v", v)
	}
	s = d.until(job.Decision)
	plan := planFor(t, s, 0)
	gap := plan.FromCapacity.Sub(plan.FromDrained)
	// τ² = u²(gap)·(z² − 1) = gap² − u²(gap), beside the figure's own doubt
	tau := math.Sqrt(gap.Nominal*gap.Nominal - gap.Variance())
	near(t, "u of the target", plan.Target.U(), math.Hypot(plan.FromCapacity.U(), tau), 1e-6)
	v := verdictOf(t, s, 0)
	if v.Conformity == verdict.Within || v.Conformity == verdict.LikelyWithin {
		t.Errorf("%v, right %d in 100, although the two are %.0f ml apart", v.Conformity, v.Odds(), gap.Nominal)
	}
	if forbids := s.ForbidsProven(); !slices.Contains(forbids, verdict.ForbidsOverruled) {
		t.Errorf("forbidden by %v", forbids)
	}
}

// The same of two measures of the oil that came out; with so wide a tolerance
// that the fill is within, it is accepted, and not proven.
func TestFalseWord07TrustedMeasureIsNotProof(t *testing.T) {
	t.Parallel()
	d := newDrive(t, small.with(script{
		job.Capacity: {"1500"}, job.CapacityMeans: {"refill"}, job.ToleranceTopic: {"150"}, job.DrainedWith: {"c0", "c0"},
		job.DrainedAmount: {"1500@20", "1580@20"},
		job.DrainedMore:   {"again", "done"}, job.MeasureTrusted: {"first"}, job.LoadedAmount: {"1580"}, job.EscapedAmount: {"50"},
		job.Decision: {"accept"},
	}))
	s := d.until(job.MeasureTrusted)
	if v, ok := asked(t, s, job.MeasureTrusted).DefaultValue(s); ok {
		t.Errorf("on offer: %+v", v)
	}
	s = d.until(job.LeakCheck)
	if s.Drained().Total.U() < 60 {
		t.Errorf("80 ml apart, and ± %.0f", 2*s.Drained().Total.U())
	}
	wantUnit(t, s, verdict.Accepted, ToRecheck)
}
