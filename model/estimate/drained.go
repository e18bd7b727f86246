package estimate

// This file adds up what came out of the unit, and says what it is worth as a
// measure of what belongs in.

import (
	"fmt"
	"math"

	"garage/tundish/model/adjust"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// Drained is what came out, with the amounts that it is made of.
type Drained struct {
	Total      measure.Value
	Late       measure.Value   // of Total: dripped out long after an ordinary drain
	Amounts    []Amount        // one after the other
	Measures   []measure.Value // of the same oil, where it was measured more than once
	Means      []Mean          // of each measure with those before it, from the second on
	Z          float64
	Contradict bool          // the measures differ by more than they can err:
	Trusted    int           // this one counts,
	Stands     measure.Value // with this doubt
}

// Amount is a reading at its place, ml at 20 °C.
type Amount struct {
	measure.Value
	At job.Place
	As string // of what came out: what was said to be more to come before it
}

// total is what amounts come to.
func total(amounts []Amount) measure.Value {
	values := make([]measure.Value, len(amounts))
	for i, a := range amounts {
		values[i] = a.Value
	}
	return measure.Sum(values...)
}

// Mean is the mean of two measures of one thing that is surest, and the weight of the first
// in it.
type Mean struct {
	Weight float64
	measure.Value
}

// meanOf weighs two measures; where nothing can be told of how far they are apart, the first
// is all.
func meanOf(v, w measure.Value) Mean {
	gap := w.Sub(v)
	if gap.U() < 1e-9 { // rounding that is left where all of it cancels
		return Mean{1, v}
	}
	a := measure.Covariance(w, gap) / gap.Variance()
	mean, _ := measure.Combine(v.Nominal+(1-a)*gap.Nominal, []float64{a, 1 - a}, []measure.Value{v, w})
	return Mean{a, mean}
}

// Drained adds up what came out. Items that measure the same oil again make
// another measure; all are weighed against each other, or, where they
// contradict, the one that the owner trusts counts.
func (s *Figures) Drained() Drained { return s.memo.drained.Get(s.addDrained) }

func (s *Figures) addDrained() Drained {
	var d Drained
	sums := []measure.Value{{}}
	var late, further measure.Value
	mode := job.MoreAnother
	for i := range s.Items(job.DrainedAmount, 0) {
		p := job.Place{Item: i}
		v := s.Amount(job.DrainedAmount, p)
		d.Amounts = append(d.Amounts, Amount{v, p, mode})
		switch mode {
		case job.MoreAgain:
			sums = append(sums, v)
		case job.MoreLate:
			late = late.Add(v)
		case job.MoreDone: // a second look brought more
			further = further.Add(v)
		default:
			sums[len(sums)-1] = sums[len(sums)-1].Add(v)
		}
		mode = s.Choice(p.Of(job.DrainedMore))
	}
	d.Total, d.Late = sums[0], late
	if len(sums) > 1 {
		d.Measures = sums
		s.combineMeasures(&d)
	}
	d.Total = measure.Sum(d.Total, late, further)
	return d
}

// oldOilUKgM3 is how far the density of the drained oil may be off that of the
// new: gear oils of one grade lie within ± 10 kg/m³ (common practice, no
// source).
const oldOilUKgM3 = 5.0

// oldOil is 1, with the doubt that weighing another oil than the new brings.
func (s *Figures) oldOil(e job.Entry) measure.Value {
	if e.Topic != job.DrainedAmount || e.Value.Unit != job.DimG {
		return measure.Exact(1)
	}
	return measure.Gaussian(measure.Source{Name: OldOil, Job: s.ID}, 1, oldOilUKgM3/s.Oil().Rho15KgM3)
}

func (s *Figures) combineMeasures(d *Drained) {
	d.Total = d.Measures[0]
	for _, w := range d.Measures[1:] {
		gap := d.Total.Sub(w)
		d.Z = math.Max(d.Z, new(adjust.Solution).Z(gap))
		if !(math.Abs(gap.Nominal) <= ConflictZ*gap.U()) {
			d.choose(s.trusted(len(d.Measures)))
			return
		}
		mean := meanOf(d.Total, w)
		d.Means, d.Total = append(d.Means, mean), mean.Value
	}
}

// choose lets the measure that is trusted count, with the doubt of the contradiction to
// the one furthest from it.
func (d *Drained) choose(trusted int) {
	d.Contradict, d.Trusted = true, trusted
	for _, w := range d.Measures {
		if tau := adjust.StandingU(d.Measures[trusted].Sub(w), ConflictZ); tau > d.Stands.U() {
			d.Stands = measure.Gaussian(ContradictionStands, 0, tau)
		}
	}
	d.Total = d.Measures[trusted].Add(d.Stands)
}

// MeasureToken names a measure of what came out: first, second, third…
func MeasureToken(i int) string {
	if names := []string{"first", "second", "third", "fourth"}; i < len(names) {
		return names[i]
	}
	return fmt.Sprintf("witness %d", i+1)
}

// IsMeasureToken reports whether a token names a measure of what came out.
func IsMeasureToken(token string) bool {
	for i := range job.MaxIndex + 1 {
		if MeasureToken(i) == token {
			return true
		}
	}
	return false
}

// trusted is the measure that the owner trusts, of n; the first until then.
func (s *Figures) trusted(n int) int {
	token := s.Choice(job.Place{Topic: job.MeasureTrusted})
	for i := range n {
		if MeasureToken(i) == token {
			return i
		}
	}
	return 0
}

// SpreadML is how far the measures of what came out are apart, ml.
func (d Drained) SpreadML() float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, w := range d.Measures {
		low, high = math.Min(low, w.Nominal), math.Max(high, w.Nominal)
	}
	return math.Max(high-low, 0)
}

// panShareHalf is how far the marks of a pan may be off (common practice, no
// source), and panReadML how far a look at it.
const (
	panShareHalf = 0.05
	panReadML    = 10.0
)

// PanLook is the largest look at the pan, ml at 20 °C; false where there was
// none.
func (s *Figures) PanLook() (measure.Value, bool) {
	var most measure.Value
	found := false
	for i := range s.Items(job.DripReading, 0) {
		e, _ := s.Answer(job.At(job.DripReading, 0, i))
		ml := s.RoughML(e.Value)
		v := s.at20(measure.Exact(ml), measure.Source{Name: Temperature, Reading: e.Seq}, s.OilTempC(), TempFeltUC)
		if e.Value.Unit == job.DimG {
			v = s.Weighed(measure.Exact(e.Value.Number))
		}
		if !found || v.Nominal > most.Nominal {
			most, found = v, true
		}
	}
	most = most.Add(measure.Rectangular("marks of the pan", 0, panShareHalf*most.Nominal))
	return most.Add(measure.Rectangular("look at the pan", 0, panReadML)), found
}

// panGap is how far the looks at the pan lie above what was measured; false
// where nothing can be compared.
func (s *Figures) panGap() (measure.Value, bool) {
	look, ok := s.PanLook()
	if !ok || !s.Measured() {
		return measure.Value{}, false
	}
	return look.Sub(s.Drained().Total), true
}

// panAbove reports whether the pan held more than was measured of it, by more
// than both can err.
func (s *Figures) panAbove() bool {
	gap, ok := s.panGap()
	return ok && gap.Nominal > ConflictZ*gap.U()
}

// PanInDoubt reports whether that has no answer yet that holds.
func (s *Figures) PanInDoubt() bool {
	p := job.At(job.PanLookedAgain, 0, s.Items(job.DrainedAmount, 0)-1)
	if p.Item < 0 || !s.PanAsks(p) {
		return false
	}
	e, ok := s.Answer(p)
	return !ok || MovedOn(e.Value.Number, s.PanGapML(p))
}

// DrainedVoid reports whether what came out is no measure of what belongs in.
func (s *Figures) DrainedVoid() bool {
	switch s.LookedCause() {
	case job.LookedNeighbour, job.LookedWater, job.LookedOverfilled:
		return true
	}
	if s.Choice(job.Place{Topic: job.PanLookedAgain, Item: s.Items(job.DrainedAmount, 0) - 1}) == job.PanLost {
		return true
	}
	look := s.OilLook()
	return look == job.LookMilky || look == job.LookForeign || look == job.LookNotLooked || s.pastUntold() || s.WrongBox()
}

// LossTold reports whether what came out tells how much is missing. Of a unit that
// is known to leak it tells how much it leaked.
func (s *Figures) LossTold() bool {
	cause, look := s.LookedCause(), s.OilLook()
	return s.Measured() && look != job.LookMilky && look != job.LookForeign && look != job.LookNotLooked && cause != job.LookedWater &&
		cause != job.LookedNeighbour &&
		s.Past() != job.PastToppedUp && s.Past() != job.PastNotKnown && !s.WrongBox()
}

// LookedCause is what the last look for a surplus or a shortage found.
func (s *Figures) LookedCause() string {
	return s.Choice(job.Place{Topic: job.LookedAgain, Item: s.Items(job.DrainedAmount, 0) - 1})
}

// wrongBoxShare times capacity is more than any overfill: another unit's oil
// (common practice, no source).
const wrongBoxShare = 1.6

// WrongBox reports whether so much came out that it may be another unit's oil.
func (s *Figures) WrongBox() bool {
	c, ok := s.Capacity()
	return ok && s.Measured() && s.Drained().Total.Nominal > wrongBoxShare*c.Nominal
}

// Far says on which side of the stated quantity what came out lies far off.
type Far uint8

// The sides.
const (
	FarNot Far = iota
	FarBelow
	FarAbove
)

// FarOff reports whether what came out lies so far from the stated quantity that
// it must be looked into before anything is filled: outside the tolerance and
// further off than both can err.
func (s *Figures) FarOff() (Far, bool) {
	plan, err := s.Plan(0)
	if err != nil || !s.Measured() || s.WrongBox() {
		return FarNot, false
	}
	gap := plan.FromDrained.Sub(plan.FromCapacity)
	tol := s.Tolerance()
	switch {
	case math.Abs(gap.Nominal) <= ConflictZ*gap.U():
		return FarNot, false
	case gap.Nominal < -tol.MinusML:
		return FarBelow, true
	case gap.Nominal > tol.PlusML:
		return FarAbove, true
	}
	return FarNot, false
}

// GapML is how far what came out lies above the stated quantity, as both say
// what belongs in, ml.
func (s *Figures) GapML() float64 {
	plan, err := s.Plan(0)
	if err != nil {
		return 0
	}
	return plan.FromDrained.Nominal - plan.FromCapacity.Nominal
}

// PanAsks asks what is wrong where the pan held more than was measured, once all
// of that has been entered. A job that was past it before it was asked is not
// opened again, unless a reading was changed since.
func (s *Figures) PanAsks(p job.Place) bool {
	if p.Item != s.Items(job.DrainedAmount, 0)-1 || s.SaysMoreDrained(p) || !s.panAbove() {
		return false
	}
	last := 0
	for _, t := range []job.Topic{job.DripReading, job.DrainedAmount} {
		for i := range s.Items(t, 0) {
			last = max(last, s.SeqOf(job.At(t, 0, i)))
		}
	}
	return s.SaidIn(job.PanLookedAgain, 0) || !s.LoadedAfter(last)
}

func (s *Figures) PanGapML(job.Place) float64 { gap, _ := s.panGap(); return gap.Nominal }

// MovedOn reports whether a number has changed by more than a ml.
func MovedOn(thenML, nowML float64) bool { return thenML-nowML > 1 || nowML-thenML > 1 }
