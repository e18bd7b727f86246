package model

// This file turns readings into volumes at 20 °C that know what they may be
// wrong by, and adds them up: drained, loaded, passed, escaped, net.

import (
	"fmt"

	"garage/tundish/model/measure"
	"garage/tundish/model/oil"
)

// Standard uncertainties of a temperature, °C (common practice, no source).
const (
	tempMeasuredUC = 1.0
	tempFeltUC     = 5.0
)

// reading is an amount as a volume at 20 °C:
//
//	container: V20 = Σ parts · (1 ± scale error) · VCF(T)/VCF(20)
//	scale:     V20 = Σ parts / ρ20, whatever the temperature
//
// Each part is a reading of its own, rectangular over one graduation or
// division. The scale error of a container, the density and a temperature are
// one source each, however often they are used.
func (s *State) reading(e Entry, d Device, tempC, tempUC float64) ml20 {
	parts := e.Value.Parts
	if len(parts) == 0 {
		parts = []float64{e.Value.Number}
	}
	step := d.GraduationML
	if d.Scale {
		step = d.DivisionG
	}
	var sum measure.Value
	for i, x := range parts {
		name := fmt.Sprintf("reading the %s (line %d.%d)", d.Name, e.Seq, i+1)
		if x == 0 {
			continue // an empty jug is seen to be empty
		}
		sum = sum.Add(measure.Rectangular(name, x, step/2))
	}
	if d.Scale {
		return s.weighed(sum)
	}
	sum = sum.Mul(measure.Rectangular("the "+d.Name+" itself", 1, d.ErrorShare))
	return s.at20(sum, fmt.Sprintf("temperature (line %d)", e.Seq), tempC, tempUC)
}

// at20 corrects a volume to 20 °C. A temperature out of sense corrects
// nothing: it cannot get past the entry's check.
func (s *State) at20(v measure.Value, source string, tempC, tempUC float64) ml20 {
	c, err := oil.CorrectionTo20(s.Oil().Rho15KgM3, tempC)
	if err != nil {
		return v
	}
	u := c.DLnPerC * tempUC
	return v.Mul(measure.Gaussian(source, c.Ratio, c.Ratio*u))
}

// weighed turns grams into ml at 20 °C.
func (s *State) weighed(massG measure.Value) ml20 {
	per, dLn, err := s.Oil().WeighedAt20(1)
	if err != nil {
		return measure.Exact(0)
	}
	return massG.Mul(measure.Gaussian("density of the oil", per, per*dLn*s.densityU()))
}

// amount is the reading at a place, with its device and temperature.
func (s *State) amount(with, amount, temp Topic, p Place) ml20 {
	e, ok := s.at(Place{amount, p.Round, p.Item})
	if !ok || e.Value.Unknown {
		return measure.Exact(0)
	}
	d, ok := s.device(with, p)
	if !ok {
		d = s.stand(e)
	}
	tempC, tempUC := s.temperatureOf(e, temp, p)
	return s.reading(e, d, tempC, tempUC)
}

// stand is the device of a reading whose device is not known: the first
// container, or the scale for a mass.
func (s *State) stand(e Entry) Device {
	for _, d := range s.Devices() {
		if d.Scale == (e.Value.Unit == DimG) {
			return d
		}
	}
	return Device{Name: "jug", GraduationML: 10, ErrorShare: 0.02, Scale: e.Value.Unit == DimG, DivisionG: 5}
}

func (s *State) temperatureOf(e Entry, temp Topic, p Place) (tempC, tempUC float64) {
	how, _ := pick[uint8](s, Place{Topic: TemperatureHow}, howOptions)
	uC := tempMeasuredUC
	if how == 1 {
		uC = tempFeltUC
	}
	if e.Value.AtC != nil {
		return *e.Value.AtC, uC
	}
	if t, ok := s.num(Place{temp, p.Round, p.Item}); ok && temp != NoTopic {
		return t, uC
	}
	return 20, tempFeltUC
}

// Drained is what came out.
type Drained struct {
	Total      ml20
	Late       ml20   // of Total: dripped out long after an ordinary drain
	Witnesses  []ml20 // of the same oil, where it was measured more than once
	Z          float64
	Contradict bool // the witnesses differ by more than they can err
}

// Drained adds up what came out. Items that measure the same oil again make a
// second witness; the two are weighed against each other, or, where they
// contradict, the one that the owner trusts counts.
func (s *State) Drained() Drained {
	sums := []ml20{{}}
	var late ml20
	mode := moreAnother
	for i := range s.items(DrainedAmount, 0) {
		v := s.amount(DrainedWith, DrainedAmount, DrainedTemperature, Place{Item: i})
		switch mode {
		case moreAgain:
			sums = append(sums, v)
		case moreLate:
			late = late.Add(v)
		default:
			sums[len(sums)-1] = sums[len(sums)-1].Add(v)
		}
		if e, ok := s.at(Place{DrainedMore, 0, i}); ok {
			mode = e.Value.Choice
		}
	}
	d := Drained{Total: sums[0].Add(late), Late: late}
	if len(sums) > 1 {
		d.Witnesses = sums
		s.weighWitnesses(&d)
	}
	return d
}

func (s *State) weighWitnesses(d *Drained) {
	mean := d.Witnesses[0]
	for _, w := range d.Witnesses[1:] {
		m, z, err := measure.WeightedMean(mean, w)
		if err != nil || z > ConflictZ {
			d.Contradict = true
			d.Z = max(d.Z, z)
			break
		}
		mean, d.Z = m, max(d.Z, z)
	}
	if d.Contradict {
		mean = d.Witnesses[0]
		if e, ok := s.at(Place{Topic: WitnessTrusted}); ok && e.Value.Choice == trustSecond {
			mean = d.Witnesses[1]
		}
	}
	d.Total = mean.Add(d.Late)
}

func (s *State) measured() bool { return s.has(DrainedAmount) && s.has(DrainedMore) }

// drainedVoid says whether what came out is no witness of what belongs in.
func (s *State) drainedVoid() bool {
	return s.OilLook() == LookMilky || s.OilLook() == LookForeign || s.Past() != PastUndisturbed || s.WrongBox()
}

// wrongBoxShare times capacity is more than any overfill: another unit's oil
// (common practice, no source).
const wrongBoxShare = 1.6

// WrongBox says whether so much came out that it may be another unit's oil.
func (s *State) WrongBox() bool {
	c, ok := s.capacity()
	return ok && s.measured() && s.Drained().Total.Nominal > wrongBoxShare*c.Nominal
}

// Loaded is what was put into the vessel in a round, by the reading of the
// vessel or jug.
func (s *State) Loaded(round int) ml20 {
	var sum ml20
	for i := range s.items(LoadedAmount, round) {
		sum = sum.Add(s.amount(LoadedWith, LoadedAmount, LoadedTemperature, Place{Round: round, Item: i}))
	}
	return sum
}

// left is what was left in the vessel after the push.
func (s *State) left(round int) ml20 {
	return s.amount(LeftWith, LeftInVessel, LoadedTemperature, Place{Round: round})
}

// Passed is what left the vessel in a round, reconciled over all that was
// measured of it.
func (s *State) Passed(round int) ml20 { return s.Balance(round).Passed }

// hoseTook is what the hose kept of a push; negative where it gave.
func (s *State) hoseTook(round int) ml20 {
	if s.Path() == LevelPort || !s.hasIn(HoseAfter, round) {
		return measure.Exact(0)
	}
	before, after := s.hoseBefore(round), s.hoseAfter(round)
	switch {
	case before == after:
		return measure.Exact(0)
	case after == HoseFull:
		return s.HoldUp()
	}
	return s.HoldUp().Scale(-1)
}

func (s *State) hoseBefore(round int) Hose {
	h, _ := pick[Hose](s, Place{HoseBefore, round, 0}, hoseBeforeOptions)
	return h
}

func (s *State) hoseAfter(round int) Hose {
	h, _ := pick[Hose](s, Place{HoseAfter, round, 0}, hoseAfterOptions)
	return h
}

// Escaped is all that escaped in a round, ml at 20 °C.
func (s *State) Escaped(round int) ml20 {
	sum := s.amount(EscapedAtCapWith, EscapedAtCap, NoTopic, Place{Round: round})
	sum = sum.Add(s.amount(OverflowCaughtWith, OverflowCaught, NoTopic, Place{Round: round}))
	for i := range s.items(EscapedHow, round) {
		sum = sum.Add(s.escapedItem(Place{Round: round, Item: i}))
	}
	return sum
}

// guessHalfWidth is how far a guessed escape may be off, as a share of it: 70
// guessed is 20 to 120 (trade judgement).
const guessHalfWidth = 0.7

func (s *State) escapedItem(p Place) ml20 {
	how, _ := s.at(Place{EscapedHow, p.Round, p.Item})
	e, ok := s.at(Place{EscapedAmount, p.Round, p.Item})
	switch how.Value.Choice {
	case escapeCaught:
		return s.amount(EscapedWith, EscapedAmount, NoTopic, p)
	case escapeGuess:
		if ok {
			return measure.Rectangular("guess of what escaped", e.Value.Number, guessHalfWidth*e.Value.Number)
		}
	case escapePads:
		return s.padsSoaked(p)
	}
	return measure.Exact(0)
}

// padsSoaked is the difference of two weighings of the pads.
func (s *State) padsSoaked(p Place) ml20 {
	before, ok1 := s.at(Place{PadsBefore, p.Round, p.Item})
	after, ok2 := s.at(Place{PadsAfter, p.Round, p.Item})
	if !ok1 || !ok2 {
		return measure.Exact(0)
	}
	d, _ := s.ScaleDivisionG()
	if d == 0 {
		d = 5 // a scale was used but none is noted: a kitchen scale's step
	}
	weigh := func(e Entry) measure.Value {
		return measure.Rectangular(fmt.Sprintf("weighing the pads (line %d)", e.Seq), e.Value.Number, d/2)
	}
	return s.weighed(weigh(after).Sub(weigh(before)))
}

// LetOutML is what was let out in a round.
func (s *State) LetOutML(round int) ml20 {
	return s.amount(LetOutWith, LetOutAmount, NoTopic, Place{Round: round})
}

// NetFill is what is in the unit by the ledger after a round, above what the
// drain left behind:
//
//	net = Σ rounds (passed − kept by the hose − escaped − let out)
func (s *State) NetFill(round int) ml20 {
	var net ml20
	for r := range round + 1 {
		net = measure.Sum(net, s.Passed(r), s.hoseTook(r).Scale(-1), s.Escaped(r).Scale(-1), s.LetOutML(r).Scale(-1))
	}
	return net
}

// pushBegun says whether oil has gone in, in a round.
func (s *State) pushBegun(round int) bool {
	return s.hasIn(FillReading, round) || s.hasIn(FillEnded, round) || s.hasIn(LetOutAmount, round)
}
