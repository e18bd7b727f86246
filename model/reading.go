package model

// This file turns readings into volumes at 20 °C that know what they may be
// wrong by.

import (
	"garage/tundish/model/measure"
	"garage/tundish/model/oil"
)

// temperatureOf is the temperature of a reading with its standard uncertainty:
// typed with it, asked for beside it, or, as long as it is not, that of the oil
// as it ran out, else a garage's. One that nobody said the taking of counts as
// felt.
func (s *State) temperatureOf(e Entry, temp Topic, p Place) (tempC, tempUC float64) {
	tempUC = tempFeltUC
	if s.choice(Place{Topic: TemperatureHow}) == howMeasured {
		tempUC = tempMeasuredUC
	}
	if e.Value.AtC != nil {
		return *e.Value.AtC, tempUC
	}
	if t, ok := s.num(p.of(temp)); ok {
		return t, tempUC
	}
	if temp == DrainedTemperature {
		return s.oilTempC(), tempFeltUC
	}
	return 20, tempFeltUC
}

// reading is an amount as a volume at 20 °C:
//
//	container: V20 = Σ parts · (1 ± error of its marks) · VCF(T)/VCF(20)
//	scale:     V20 = Σ parts / ρ20, whatever the temperature
//
// Each part is a reading of its own, rectangular over one graduation or
// division. The marks of a container, the density and a temperature are one
// source each, however often they are used.
func (s *State) reading(e Entry, d Device, tempC, tempUC float64) measure.Value {
	parts := e.Value.Parts
	if len(parts) == 0 {
		parts = []float64{e.Value.Number}
	}
	step, kind := d.GraduationML, readSource
	if d.Scale {
		step, kind = d.DivisionG, scaleSource
	}
	var looks []measure.Value
	for i, x := range parts {
		if x != 0 { // an empty jug is seen to be empty
			looks = append(looks, measure.Rectangular(measure.Source{Kind: kind, Name: d.Name, Reading: e.Seq, Part: i + 1}, x, step/2))
		}
	}
	sum := measure.Sum(looks...)
	if d.Scale {
		return s.weighed(sum)
	}
	return s.at20(sum.Mul(d.factor()), measure.Source{Name: temperature, Reading: e.Seq}, tempC, tempUC)
}

// at20 corrects a volume to 20 °C. A temperature out of sense corrects
// nothing: it cannot get past the entry's check.
func (s *State) at20(v measure.Value, source measure.Source, tempC, tempUC float64) measure.Value {
	c, err := oil.CorrectionTo20(s.Oil().Rho15KgM3, tempC)
	if err != nil {
		return v
	}
	u := c.DLnPerC * tempUC
	return v.Mul(measure.Gaussian(source, c.Ratio, c.Ratio*u))
}

// weighed turns grams into ml at 20 °C.
func (s *State) weighed(massG measure.Value) measure.Value {
	per, dLn, err := s.Oil().WeighedAt20(1)
	if err != nil {
		return measure.Exact(0)
	}
	return massG.Mul(measure.Gaussian(aboutOil, per, per*dLn*s.densityU()))
}

// amount is the reading at a place, with its device and temperature.
func (s *State) amount(with, amount, temp Topic, p Place) measure.Value {
	e, ok := s.Answer(p.of(amount))
	if !ok || e.Value.Unknown {
		return measure.Exact(0)
	}
	d, ok := s.device(with, p)
	if !ok || d.Scale != (e.Value.Unit == DimG) {
		d = s.stand(e)
	}
	tempC, tempUC := s.temperatureOf(e, temp, p)
	return s.reading(e, d, tempC, tempUC)
}

// roughML is an amount in ml, whatever measured it, for checks of sense.
func (s *State) roughML(v Value) float64 {
	if v.Unit != DimG {
		return v.Number
	}
	return s.weighed(measure.Exact(v.Number)).Nominal
}

// DeviceOf is what measures an entry's amount of oil, as things stand; false
// where the entry is no such amount. A mass and a volume are never taken for
// the other's.
func (s *State) DeviceOf(e Entry) (Device, bool) {
	switch e.Topic {
	case FillReading:
		return s.vesselDevice(), true
	case DripReading:
		return s.stand(e), true
	}
	with := e.Topic.Info().With
	if with == NoTopic {
		return Device{}, false
	}
	d, ok := s.device(with, at(e.Topic, e.Round, e.Item))
	if !ok || d.Scale != (e.Value.Unit == DimG) {
		return s.stand(e), true
	}
	return d, true
}

// EntryAt20 is an entry's amount of oil at 20 °C, ml, whether the entry stands
// or was struck out; false where it is no such amount.
func (s *State) EntryAt20(e Entry) (measure.Value, bool) {
	d, ok := s.DeviceOf(e)
	if !ok || e.Value.Unknown {
		return measure.Value{}, false
	}
	if s.Guessed(e) {
		return s.guess(e), true
	}
	tempC, tempUC := s.temperatureOf(e, tempOf(e.Topic), at(e.Topic, e.Round, e.Item))
	switch {
	case e.Value.AtC != nil:
	case e.Topic == DripReading:
		tempC, tempUC = s.oilTempC(), tempFeltUC
	case e.Topic == FillReading:
		tempC, tempUC = s.NewOilTempC(e.Round), tempFeltUC
	}
	return s.reading(e, d, tempC, tempUC).Mul(s.oldOil(e)), true
}

// Guessed says whether an amount that got out was guessed, not measured.
func (s *State) Guessed(e Entry) bool {
	how := NoTopic
	switch e.Topic {
	case EscapedAmount:
		how = EscapedHow
	case LeakedAmount:
		how = LeakedHow
	}
	chosen, ok := s.Answer(at(how, e.Round, e.Item))
	return ok && chosen.Value.Choice == escapeGuess
}

// tempOf says which topic holds the temperature of an amount.
func tempOf(amount Topic) Topic {
	switch amount {
	case DrainedAmount:
		return DrainedTemperature
	case LoadedAmount, LeftInVessel:
		return LoadedTemperature
	}
	return NoTopic
}

// NewOilTempC is the temperature of the new oil in a round, °C; 20 where it
// was not taken.
func (s *State) NewOilTempC(round int) float64 {
	if t, ok := s.num(at(FillOilTemperature, round, 0)); ok {
		return t
	}
	if t, ok := s.num(at(LoadedTemperature, round, 0)); ok {
		return t
	}
	return 20
}

// oilTempC is the temperature of the drained oil last taken, °C; 20 where none
// was.
func (s *State) oilTempC() float64 {
	n := s.items(OilTemperature, 0)
	if t, ok := s.num(at(OilTemperature, 0, n-1)); ok {
		return t
	}
	return 20
}

// guess is an amount that was guessed.
func (s *State) guess(e Entry) measure.Value {
	ml := s.roughML(e.Value)
	return measure.Rectangular(measure.Source{Name: guessSource, Reading: e.Seq}, ml, guessHalfWidth*ml)
}

// weighing is one look at the scale, g.
func (s *State) weighing(e Entry, what string) measure.Value {
	stepG, ok := s.ScaleDivisionG()
	if !ok {
		stepG = kitchenStepG
	}
	return measure.Rectangular(measure.Source{Kind: weighSource, Name: what, Reading: e.Seq}, e.Value.Number, stepG/2)
}

// Standard uncertainties of a temperature, °C (common practice, no source).
const (
	tempMeasuredUC = 1.0
	tempFeltUC     = 5.0
)
