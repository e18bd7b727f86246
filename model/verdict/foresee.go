package verdict

// This file says, before the plug is out and again at the load, how well a fill
// can be proven at all, and what would make it surer.

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// foreseen is what the best fill is judged from.
type foreseen struct {
	plan  estimate.PlanInput
	level bool // a level is seen at the end
	scale bool // what goes in is weighed
}

// Foresee is the job as it stands; what came out counts as it will if all goes
// well, until it is measured. False where nothing can be told.
func (s *Assessment) Foresee() (foreseen, bool) {
	in, err := s.PlanInput()
	if err != nil {
		return foreseen{}, false
	}
	if !s.Measured() {
		in.Drained, in.LateDrips = measure.Exact(estimate.FromCapacity(in).Nominal), measure.Exact(0)
		in.DrainedVoid = s.Past() != job.PastUndisturbed
	}
	_, scale := s.ScaleDivisionG()
	return foreseen{in, s.Path() == job.LevelPort, scale}, true
}

// BestFill is how probably a fill without any slip would be right; false where
// it is not known yet what it needs.
func (s *Assessment) BestFill(f foreseen) (p float64, ok bool) {
	plan, err := estimate.MakePlan(f.plan)
	if err != nil || plan.Undecided {
		return 0, false
	}
	u := math.Hypot(plan.Target.U(), correctionUML)
	if plan.DrainedVoid { // else the marks cancel: the same jug can measure out and in
		u = math.Hypot(u, s.marksU(f.scale, plan.Target.Nominal))
	}
	if level := s.LevelU(); f.level {
		u = u * level / math.Hypot(u, level)
	}
	_, p, _ = measure.Probability(measure.Gaussian("best", plan.Target.Nominal, u), plan.Low, plan.High)
	return p, true
}

// marksU is how well the best that is at hand measures an amount, ml.
func (s *Assessment) marksU(scale bool, ml float64) float64 {
	if scale {
		return ml * s.DensityU() / s.Oil().Rho15KgM3
	}
	best := math.Inf(1)
	for _, d := range s.LoadDevices() {
		if !d.Scale {
			best = math.Min(best, ml*d.Factor().U())
		}
	}
	if math.IsInf(best, 1) {
		return 0
	}
	return best
}

// help is something that would make a fill surer, and how sure.
type help struct {
	What string
	P    float64
}

// Helps lists what would make the best fill surer, most first.
func (s *Assessment) Helps(now foreseen, p float64) []help {
	var list []help
	try := func(what string, change func(*foreseen)) {
		then := now
		change(&then)
		if q, ok := s.BestFill(then); ok && q-p >= leastGain/2 {
			list = append(list, help{what, q})
		}
	}
	if now.plan.Means == estimate.MeansUnknown {
		try("what the quantity means", func(f *foreseen) { f.plan.Means = estimate.MeansRefill })
	}
	if !now.level {
		try("a level seen", func(f *foreseen) { f.level = true })
	}
	if !now.plan.DryStart && !now.plan.DrainedVoid && now.plan.Prior != estimate.Verified {
		try("the level before", func(f *foreseen) { f.plan.Prior = estimate.Verified })
	}
	if !now.scale {
		try("a scale", func(f *foreseen) { f.scale = true })
	}
	slices.SortStableFunc(list, func(a, b help) int { return cmp.Compare(b.P, a.P) })
	return list
}

// beyondProof finds that no fill, however well it is measured, can be proven.
func (s *Assessment) beyondProof() (Finding, bool) {
	step := job.Preload
	if !s.Measured() && !s.DryStart() {
		if step = job.Isolate; !s.Has(job.AtHand) {
			return Finding{}, false // more is to come
		}
	}
	now, ok := s.Foresee()
	if !ok {
		return Finding{}, false
	}
	p, ok := s.BestFill(now)
	if !ok || p >= probablyWithin {
		return Finding{}, false
	}
	var words []string
	for _, h := range s.Helps(now, p) {
		if words = append(words, fmt.Sprintf("%s (%d)", h.What, oddsOf(h.P))); len(words) == 3 {
			break
		}
	}
	f := Finding{
		Kind: BeyondProof, Step: step, Seq: s.SeqOf(job.Place{Topic: job.CapacityMeans}),
		Text: fmt.Sprintf("No fill can be proven better than %d in 100.", oddsOf(p)),
		Do:   "Would help: " + strings.Join(words, ", ") + ".",
	}
	if len(words) == 0 {
		f.Do = "Nothing that can be measured here helps: accept that, or do not begin."
		if step == job.Preload {
			f.Do = "Nothing that can be measured now helps."
		}
	}
	return f, true
}
