package estimate

// This file predicts how sure the best fill can be, and what one more fact
// would make of it, without a new adjustment.

import (
	"math"

	"garage/tundish/model/device"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// Foreseen is the best fill as things stand.
type Foreseen struct {
	Off  measure.Value // how far off it may be, ml, as it will be said
	off  measure.Value
	unit Unit
	job  *Figures
}

// Foresee is the job as it stands; what came out counts as it will if all goes
// well, until it is measured. False where nothing can be told.
func (s *Figures) Foresee() (Foreseen, bool) {
	in, err := s.planInput()
	if err != nil || in.check() != nil {
		return Foreseen{}, false
	}
	if !s.Measured() {
		unit := in.unit()
		out := unit.known.Of(unit.needed().Add(unit.Level)).Nominal
		in.Drained, in.DrainedVoid = s.asMeasured(out), s.pastUntold()
	}
	made := in.settle()
	if made.err != nil || made.plan.Undecided {
		return Foreseen{}, false
	}
	f := Foreseen{unit: made.unit, job: s}
	off := made.unit.needed().Scale(-1)
	if made.plan.DrainedVoid { // else the marks cancel: the same jug can measure out and in
		off = off.Add(s.asMeasured(made.plan.Target.Nominal))
	}
	f.off = f.unit.known.Of(off)
	if s.Path().ShowsLevel() {
		f.off = f.with(f.off, s.levelU())
	}
	f.Off = AsSaid(f.off)
	return f, true
}

// WorthOfCard is the standard uncertainty of how far off the best fill may be, ml,
// without and with a card, and how far the card is from what is known else, in standard
// uncertainties; false where nothing is told of it.
func (s *Figures) WorthOfCard(out, stays job.Value) (without, with, z float64, ok bool) {
	in, err := s.inputWithoutCard()
	if err != nil || in.check() != nil {
		return 0, 0, 0, false
	}
	if !s.Measured() { // as it will be if all goes well
		u := in.unit()
		in.Drained, in.DrainedVoid = s.asMeasured(u.known.Of(u.needed().Add(u.Level)).Nominal), s.pastUntold()
	}
	off := func(in PlanInput) float64 {
		made := in.settle()
		return AsSaid(made.unit.known.Of(made.unit.needed())).U()
	}
	without = off(in)
	c := s.cardOf(out, stays)
	in.Card = &c
	return without, off(in), in.settle().plan.CardZ, true
}

// with is how far off the fill is once a form of it is known to u ml.
func (f Foreseen) with(form measure.Value, u float64) measure.Value {
	then, _ := known{}.and(form.Sub(measure.Gaussian("one more fact", form.Nominal, u)))
	return then.Of(f.off)
}

// asMeasured is an amount as the best that is at hand measures it.
func (s *Figures) asMeasured(ml float64) measure.Value {
	best := measure.Exact(ml)
	for i, d := range s.LoadDevices() {
		v := measure.Exact(ml).Mul(d.Factor())
		if d.Scale {
			v = s.Weighed(measure.Exact(ml * s.Oil().Rho15KgM3 / 1000).Mul(device.ScaleFactor(d.Name)))
		}
		if i == 0 || v.U() < best.U() {
			best = v
		}
	}
	return best
}

// Candidate is one more fact, and the standard uncertainty of the best fill with
// it, ml.
type Candidate struct {
	What string
	U    float64
}

// Candidates are the facts that could be found out.
func (f Foreseen) Candidates() []Candidate {
	s, c := f.job, f.job.wholeML()
	var list []Candidate
	add := func(what string, form measure.Value, u float64) {
		list = append(list, Candidate{what, AsSaid(f.with(f.unit.known.Of(form), u)).U()})
	}
	for source := range f.unit.Right.Terms() {
		if source.Kind == 0 && source.Name == DryOrRefill {
			add("what the quantity means", measure.Gaussian(source, 0, 1), 1e-3)
		}
	}
	if !s.Path().ShowsLevel() {
		add("a level seen", f.off, s.levelU())
	}
	if f.unit.First && !s.DryStart() && !s.DrainedVoid() && s.Prior() != Verified {
		verified := Verified.Share() * c
		add("the level before", f.unit.Level, 1/math.Sqrt(1/(verified*verified)-1/f.unit.Level.Variance()))
	}
	if _, scale := s.ScaleDivisionG(); !scale {
		add("a scale", f.marks(), s.densityU()/s.Oil().Rho15KgM3*c)
	}
	return list
}

// marks is the part of how far off the fill may be that the marks of containers
// have.
func (f Foreseen) marks() measure.Value {
	var sum measure.Value
	for source, c := range f.off.Terms() {
		if device.IsMarks(source) {
			sum = sum.Add(measure.Gaussian(source, 0, 1).Scale(c))
		}
	}
	return sum
}

// WorthOf is the standard uncertainty of how far off the best fill may be, ml, without
// and with an answer to an optional question; false where it tells nothing of that, or
// less than half a ml.
func (s *Figures) WorthOf(t job.Topic) (without, with float64, ok bool) {
	f, known := s.Foresee()
	if !known {
		return 0, 0, false
	}
	hose := s.HoseWillTake(s.Round())
	without = math.Hypot(f.Off.U(), hose.U())
	with = without
	warmth := func(ml, uC float64) float64 { // what a temperature that is not taken adds
		const perK = 0.00075 // of the volume: mineral gear oil (common practice, 7 to 8e-4)
		return math.Sqrt(math.Max(0, without*without-math.Pow(perK*ml, 2)*(uC*uC-TempMeasuredUC*TempMeasuredUC)))
	}
	switch t {
	case job.HoseHolds, job.HoseBore:
		with = math.Hypot(f.Off.U(), math.Min(hose.U(), 0.05*hose.Nominal))
	case job.ContainerWater:
		with = math.Hypot(AsSaid(f.with(f.marks(), 0.002*s.CapacityML())).U(), hose.U())
	case job.DrainedTemperature:
		_, uC := s.UsualOutTemperature()
		with = warmth(s.CapacityML(), uC)
	case job.LoadedTemperature:
		with = warmth(s.CapacityML(), TempFeltUC)
	}
	return without, with, without-with >= 0.5
}
