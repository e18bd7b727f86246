package verdict

// This file judges a fill by what the level hole tells beside the sums.

import (
	"math"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// withLevel lets the level at the lip have its say in how far off the fill is.
func (s *Assessment) withLevel(bySums Verdict, plan estimate.Plan, round int) Verdict {
	level := s.LevelAtLip()
	both, z, err := measure.WeightedMean(bySums.Error, level)
	if err != nil || z > estimate.ConflictZ {
		return s.levelContradicted(bySums, plan, round, z)
	}
	return judgeWith(bySums, both, plan, z)
}

// WithBelow lets a level below the hole have its say: the fill is short of the
// lip, by whatever. Unless that contradicts the sums, oil is added until it weeps.
func (s *Assessment) WithBelow(bySums Verdict, plan estimate.Plan, round int) Verdict {
	e := bySums.Error
	z := math.Max(0, e.Nominal/math.Hypot(e.U(), s.LevelU()))
	if z > estimate.ConflictZ {
		return s.levelContradicted(bySums, plan, round, z)
	}
	v := judgeWith(bySums, e, plan, z)
	if below := s.levelBelow(e); below.Finite() {
		if both, _, err := measure.WeightedMean(e, below); err == nil {
			v = judgeWith(bySums, both, plan, z)
		}
	}
	if v.Word != High {
		v.Act, v.ActML = AddOil, math.Round(math.Max(-v.Error.Nominal, 0)+estimate.SurplusML(v.Error))
	}
	return v
}

// levelContradicted is the verdict where the level hole and the sums are further
// apart than both explain: neither proves the other, and the doubt of that
// stands. What the sums say is missing or too much is the measured way out, once
// the level was looked at again.
func (s *Assessment) levelContradicted(bySums Verdict, plan estimate.Plan, round int, z float64) Verdict {
	v := judgeWith(bySums, bySums.Error.Add(estimate.StandingDoubt(bySums.Error, s.LevelAtLip())), plan, z)
	v.Word, v.Act, v.ActML = NotProven, Remeasure, 0
	if s.Choice(job.At(job.LevelLookedAgain, round, 0)) == job.LevelHolds {
		v.Act, v.ActML = correction(v.Error.Nominal)
	} else {
		v.MayDrive = false
	}
	return v
}

// judgeWith judges anew by how far off the fill is when the level has had its
// say.
func judgeWith(bySums Verdict, off measure.Value, plan estimate.Plan, z float64) Verdict {
	v := Judge(off, measure.Exact(0), plan.Low-plan.Target.Nominal, plan.High-plan.Target.Nominal)
	v.InUnit, v.LevelZ = bySums.InUnit, z
	v.MayDrive = mayDrive(v, plan.Target.Nominal)
	return v
}

// levelBelow is what a level below the hole says of a fill that is off by e, as
// an observation of it. With y = level noise − e > 0, a normal distribution cut
// off at 0 has, by its first two moments,
//
//	t² = u² + σ²   a = −e/t   λ = φ(a)/Φ(a)   m' = −e + u²λ/t   u'² = u²(1 − u²λ(λ + a)/t²)
//
// It is not finite where the fill is so far below that it says nothing.
func (s *Assessment) levelBelow(e measure.Value) measure.Value {
	m, u2 := -e.Nominal, e.Variance()
	t := math.Sqrt(u2 + s.LevelU()*s.LevelU())
	a := m / t
	lambda := math.Exp(-a*a/2) / math.Sqrt(2*math.Pi) / (math.Erfc(-a/math.Sqrt2) / 2)
	left := u2 * (1 - u2*lambda*(lambda+a)/(t*t))
	const tells = 1e-6 // of the variance: less is rounding
	if !(u2-left > tells*u2) {
		return measure.Gaussian(estimate.BelowSource, math.Inf(1), 1)
	}
	g := left * u2 / (u2 - left)
	return measure.Gaussian(estimate.BelowSource, -(m + u2*lambda/t*(1+g/u2)), math.Sqrt(g))
}

// decidedByOlderRule reports whether a decision was taken on an error that an
// earlier form of this program said of the same readings: with a weep told to
// 10 ml, and nothing made of a level below the hole. Such a decision stands.
func (s *Assessment) decidedByOlderRule(round int, errorML float64) bool {
	plan, err := s.Plan(0)
	if err != nil || s.LevelSaid(round) == "" {
		return false
	}
	bySums := s.NetFill(round).Sub(plan.Target)
	if s.BelowHole(round) {
		return !estimate.MovedOn(errorML, bySums.Nominal)
	}
	lip := measure.Gaussian(estimate.LevelSource, 0, math.Max(10, 0.015*s.CapacityML()))
	both, _, err := measure.WeightedMean(bySums, lip)
	return err == nil && !estimate.MovedOn(errorML, both.Nominal)
}
