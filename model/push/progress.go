// Package push says how far the work has come: the best figure of each quantity as
// things stand, not only once a step is complete; and how long a push takes.
package push

import (
	"math"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// Progress is the figures of a job with how far its work has come.
type Progress struct {
	*estimate.Figures
	drips *job.Lazy[dripsTold]
}

// New is the progress of a job by its figures.
func New(f *estimate.Figures) Progress { return Progress{f, new(job.Lazy[dripsTold])} }

// DrainedNow is the best figure of what came out so far: what was measured,
// else the last look at the pan.
func (s Progress) DrainedNow() (measure.Value, bool) {
	if s.Has(job.DrainedAmount) {
		return s.Drained().Total, true
	}
	n := s.Items(job.DripReading, 0)
	if n == 0 {
		return measure.Value{}, false
	}
	e, _ := s.Answer(job.At(job.DripReading, 0, n-1))
	return s.EntryAt20(e)
}

// InUnitNow is the best figure of what is in the unit by the ledger; false
// before anything was put in.
func (s Progress) InUnitNow() (measure.Value, bool) {
	r := s.Round()
	if s.HasIn(job.LeftInVessel, r) || s.HasIn(job.LetOutAmount, r) {
		return s.NetFill(r), true
	}
	var before measure.Value
	if r > 0 {
		before = s.NetFill(r - 1)
	}
	left, ok := s.lastLook(r)
	if !ok {
		return before, r > 0
	}
	in := s.Loaded(r).Sub(left).Sub(s.HoseWillTake(r))
	if in.Nominal < 0 { // the hose is not full yet
		return before, true
	}
	return before.Add(in), true
}

// lastLook is what was left in the vessel at the last look of a push.
func (s Progress) lastLook(round int) (measure.Value, bool) {
	e, ok := s.Answer(job.At(job.FillReading, round, s.Items(job.FillReading, round)-1))
	if !ok {
		return measure.Value{}, false
	}
	return s.EntryAt20(e)
}

// ToLeaveML is what is to leave the vessel in a round, ml: the plan's charge less
// the heel; false where there is no plan.
func (s Progress) ToLeaveML(round int) (float64, bool) {
	_, plan, err := s.PlansOf(round)
	return plan.Charge.Nominal - plan.Heel.Nominal, err == nil
}

// ToPushML is what of it has not left yet, ml; never more than is in the vessel.
func (s Progress) ToPushML(round int) float64 {
	toLeave, ok := s.ToLeaveML(round)
	if !ok {
		return 0
	}
	left := s.Loaded(round).Nominal
	toLeave -= left
	if look, ok := s.lastLook(round); ok {
		left = look.Nominal
	}
	return min(toLeave+left, left)
}

// EndReadingML is what should be left in the vessel when it has, ml; not below
// nothing.
func (s Progress) EndReadingML(round int) float64 {
	toLeave, ok := s.ToLeaveML(round)
	if !ok {
		return 0
	}
	return max(s.Loaded(round).Nominal-toLeave, 0)
}

// NewShare is what share of the oil in the unit is new after a round, or by now
// in the round that is on, 0 to 1; false where nothing is known to be in, or it
// is not known what stayed behind. What escaped or was let out counts as new oil.
func (s Progress) NewShare(round int) (measure.Value, bool) {
	net, told := s.NetFill(round), true
	if round == s.Round() {
		net, told = s.InUnitNow()
	}
	stays, known := s.StaysBehind(round)
	automatic := s.Choice(job.Place{Topic: job.UnitKind}) == job.AutomaticBox // its converter stays full
	if !told || automatic || !known {
		return measure.Value{}, false
	}
	return NewShare(net, stays)
}

// NewShare is what share of the oil in a unit is new, 0 to 1, where stays of
// what was in it has stayed behind and net of new oil is in:
//
//	net / (net + stays)
//
// false where nothing is in.
func NewShare(net, stays measure.Value) (measure.Value, bool) {
	n, r := net.Nominal, math.Max(stays.Nominal, 0)
	all := n + r
	if !(n > 0) || math.IsInf(all, 0) {
		return measure.Value{}, false
	}
	share, err := measure.Combine(n/all, []float64{r / (all * all), -n / (all * all)}, []measure.Value{net, stays})
	return share, err == nil
}

// AfterChanges is the share of new oil after a number of changes that each
// bring the share fresh:
//
//	1 − (1 − fresh)ⁿ
func AfterChanges(fresh float64, n int) float64 { return 1 - math.Pow(1-fresh, float64(n)) }

// StopMarkML is what the vessel should read where the push ends, its heel in it, ml:
// by what was poured in, before that by the plan. False where there is no plan.
func (s Progress) StopMarkML(round int) (float64, bool) {
	if s.HasIn(job.LoadedAmount, round) {
		return s.EndReadingML(round), true
	}
	toLeave, ok := s.ToLeaveML(round)
	plan, err := s.Plan(round)
	return max(plan.PreloadML-toLeave, 0), ok && err == nil
}

// StopMassG is what the vessel should weigh where the push ends, g; false where it was
// not weighed after the oil was poured in.
func (s Progress) StopMassG(round int) (float64, bool) {
	full, weighed := s.Num(job.At(job.VesselWeighedFull, round, 0))
	toLeave, ok := s.ToLeaveML(round)
	return full - toLeave*s.Oil().Rho15KgM3/1000, weighed && ok
}
