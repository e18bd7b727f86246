package model

import (
	"math"
	"slices"
	"testing"
)

// Two facts contradict each other, one is overruled: the gap stays in the ± of
// what is needed, nothing is on offer at the question, and the fill is not
// proven however good its readings.
func TestFalseWord07OverruledContradictionStays(t *testing.T) {
	t.Parallel()
	d := newDrive(t, small.with(script{
		Capacity: {"560"}, CapacityMeans: {"refill"}, PriorLevel: {"verified"}, DrainedAmount: {"450@20"}, LookedAgain: {"nothing_more"},
		Basis: {"capacity"}, BasisWhy: {"manual"}, LoadedAmount: {"635"}, Decision: {"leave"}, LeftWhy: {"as it is"},
	}))
	s := d.until(Basis)
	if v, ok := asked(t, s, Basis).DefaultValue(s); ok {
		t.Errorf("on offer: %+v", v)
	}
	s = d.until(Decision)
	plan := planFor(t, s, 0)
	gap := plan.FromCapacity.Sub(plan.FromDrained)
	// τ² = u²(gap)·(z² − 1) = gap² − u²(gap), beside the figure's own doubt
	tau := math.Sqrt(gap.Nominal*gap.Nominal - gap.Variance())
	near(t, "u of the target", plan.Target.U(), math.Hypot(plan.FromCapacity.U(), tau), 1e-6)
	v := verdictOf(t, s, 0)
	if v.Word == Within || v.Word == LikelyWithin {
		t.Errorf("%v, right %d in 100, although the two are %.0f ml apart", v.Word, v.Odds(), gap.Nominal)
	}
	if forbids := s.forbidsProven(); !slices.Contains(forbids, ForbidsOverruled) {
		t.Errorf("forbidden by %v", forbids)
	}
}

// The same of two measures of the oil that came out; with so wide a tolerance
// that the fill is within, it is accepted, and not proven.
func TestFalseWord07TrustedWitnessIsNotProof(t *testing.T) {
	t.Parallel()
	d := newDrive(t, small.with(script{
		Capacity: {"1500"}, CapacityMeans: {"refill"}, ToleranceTopic: {"150"}, DrainedWith: {"c0", "c0"}, DrainedAmount: {"1500@20", "1580@20"},
		DrainedMore: {"again", "done"}, WitnessTrusted: {"first"}, LoadedAmount: {"1580"}, EscapedAmount: {"50"}, Decision: {"accept"},
	}))
	s := d.until(WitnessTrusted)
	if v, ok := asked(t, s, WitnessTrusted).DefaultValue(s); ok {
		t.Errorf("on offer: %+v", v)
	}
	s = d.until(LeakCheck)
	if s.Drained().Total.U() < 60 {
		t.Errorf("80 ml apart, and ± %.0f", 2*s.Drained().Total.U())
	}
	wantUnit(t, s, Accepted, ToRecheck)
}
