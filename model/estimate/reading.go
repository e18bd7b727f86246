package estimate

// This file turns readings into volumes at 20 °C that know what they may be
// wrong by.

import (
	"math"

	"garage/tundish/model/device"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
	"garage/tundish/model/oil"
)

// TemperatureOf is the temperature of a reading with its standard uncertainty:
// typed with it, asked for beside it, or, as long as it is not, that of the oil
// as it ran out, else a garage's. One that nobody said the taking of counts as
// felt.
func (s *Figures) TemperatureOf(e job.Entry) (tempC, tempUC float64) {
	tempUC = TempFeltUC
	if s.temperatureHow() == job.HowMeasured {
		tempUC = TempMeasuredUC
	}
	if e.Value.AtC != nil {
		return *e.Value.AtC, tempUC
	}
	beside, usual := job.NoTopic, 20.0
	switch e.Topic {
	case job.DripReading:
		usual = s.OilTempC()
	case job.FillReading:
		usual = s.NewOilTempC(e.Round)
	case job.DrainedAmount:
		return s.drainedTemperature(e, tempUC)
	case job.LoadedAmount, job.LeftInVessel, job.AddedRunning:
		beside = job.LoadedTemperature
	}
	if t, ok := s.Num(job.At(beside, e.Round, e.Item)); ok {
		return t, tempUC
	}
	return usual, TempFeltUC
}

// drainedTemperature is that of oil that came out: where it was not taken, somewhere
// between what it was at the plug and the garage's.
func (s *Figures) drainedTemperature(e job.Entry, tempUC float64) (float64, float64) {
	if t, ok := s.Num(job.At(job.DrainedTemperature, e.Round, e.Item)); ok {
		return t, tempUC
	}
	return s.UsualOutTemperature()
}

// UsualOutTemperature is the temperature that oil which came out is taken to have been
// measured at, °C, with its standard uncertainty: anywhere between that at the plug and
// that of a garage.
func (s *Figures) UsualOutTemperature() (tempC, uC float64) {
	middle, half := (s.OilTempC()+20)/2, math.Abs(s.OilTempC()-20)/2
	return middle, math.Hypot(TempFeltUC, half/math.Sqrt(3))
}

// reading is an amount as a volume at 20 °C:
//
//	container: V20 = Σ parts · (1 ± error of its marks) · VCF(T)/VCF(20)
//	scale:     V20 = Σ parts / ρ20, whatever the temperature
//
// Each part is a reading of its own: rectangular over one graduation or
// division, and of a container with the error of the eye. The marks of a container, the density and a temperature are one
// source each, however often they are used.
func (s *Figures) reading(e job.Entry, d device.Device, tempC, tempUC float64) measure.Value {
	parts := e.Value.Parts
	if len(parts) == 0 {
		parts = []float64{e.Value.Number}
	}
	u, kind := math.Hypot(d.GraduationML/math.Sqrt(12), eyeUML), device.ReadSource
	if d.Scale {
		u, kind = d.DivisionG/math.Sqrt(12), device.ScaleSource
	}
	var looks []measure.Value
	for i, x := range parts {
		if x != 0 { // an empty jug is seen to be empty
			looks = append(looks, measure.Gaussian(measure.Source{Kind: kind, Name: d.Name, Reading: e.Seq, Part: i + 1, Job: s.ID}, x, u))
		}
	}
	sum := measure.Sum(looks...)
	if d.Scale {
		return s.Weighed(sum.Mul(device.ScaleFactor(d.Name)))
	}
	return s.at20(sum.Mul(d.Factor()), measure.Source{Name: Temperature, Reading: e.Seq, Job: s.ID}, tempC, tempUC)
}

// at20 corrects a volume to 20 °C. A temperature out of sense corrects
// nothing: it cannot get past the entry's check.
func (s *Figures) at20(v measure.Value, source measure.Source, tempC, tempUC float64) measure.Value {
	c, err := oil.CorrectionTo20(s.Oil().Rho15KgM3, tempC)
	if err != nil {
		return v
	}
	u := c.DLnPerC * tempUC
	return v.Mul(measure.Gaussian(source, c.Ratio, c.Ratio*u))
}

// Weighed turns grams into ml at 20 °C.
func (s *Figures) Weighed(massG measure.Value) measure.Value {
	per, dLn, err := s.Oil().WeighedAt20(1)
	if err != nil {
		return measure.Exact(0)
	}
	return massG.Mul(measure.Gaussian(AboutOil, per, per*dLn*s.densityU()))
}

// Amount is the reading at a place, ml at 20 °C; nothing where none stands.
func (s *Figures) Amount(amount job.Topic, p job.Place) measure.Value {
	e, _ := s.Answer(p.Of(amount))
	v, _ := s.EntryAt20(e)
	return v
}

// clinging is what clings to the catch of oil that escaped and was caught.
func (s *Figures) clinging(e job.Entry) measure.Value {
	if e.Topic != job.EscapedAmount && e.Topic != job.LeakedAmount {
		return measure.Exact(0)
	}
	return s.catchFilm(e)
}

// RoughML is an amount in ml, whatever measured it, for checks of sense.
func (s *Figures) RoughML(v job.Value) float64 {
	if v.Unit != job.DimG {
		return v.Number
	}
	return s.Weighed(measure.Exact(v.Number)).Nominal
}

// DeviceOf is what measures an entry's amount of oil, as things stand; false
// where the entry is no such amount. A mass and a volume are never taken for
// the other's.
func (s *Figures) DeviceOf(e job.Entry) (device.Device, bool) {
	switch e.Topic {
	case job.FillReading:
		return s.VesselDevice(), true
	case job.DripReading:
		return s.StandIn(e), true
	}
	with := e.Topic.Info().With
	if with == job.NoTopic {
		return device.Device{}, false
	}
	d, ok := s.Device(with, job.At(e.Topic, e.Round, e.Item))
	if !ok || d.Scale != (e.Value.Unit == job.DimG) {
		return s.StandIn(e), true
	}
	return d, true
}

// EntryAt20 is an entry's amount of oil at 20 °C, ml, whether the entry stands
// or was struck out; false where it is no such amount.
func (s *Figures) EntryAt20(e job.Entry) (measure.Value, bool) {
	d, ok := s.DeviceOf(e)
	if !ok || e.Value.Unknown {
		return measure.Value{}, false
	}
	if s.Guessed(e) {
		return s.guess(e), true
	}
	tempC, tempUC := s.TemperatureOf(e)
	return s.reading(e, d, tempC, tempUC).Mul(s.oldOil(e)).Add(s.clinging(e)), true
}

// Guessed reports whether an amount that got out was guessed, not measured.
func (s *Figures) Guessed(e job.Entry) bool {
	how := job.NoTopic
	switch e.Topic {
	case job.EscapedAmount:
		how = job.EscapedHow
	case job.LeakedAmount:
		how = job.LeakedHow
	}
	chosen, ok := s.Answer(job.At(how, e.Round, e.Item))
	return ok && chosen.Value.Choice == job.EscapeGuess
}

// NewOilTempC is the temperature of the new oil in a round, °C; 20 where it
// was not taken.
func (s *Figures) NewOilTempC(round int) float64 {
	if t, ok := s.Num(job.At(job.FillOilTemperature, round, 0)); ok {
		return t
	}
	if t, ok := s.Num(job.At(job.LoadedTemperature, round, 0)); ok {
		return t
	}
	return 20
}

// OilTempC is the temperature of the drained oil last taken, °C; 20 where none
// was.
func (s *Figures) OilTempC() float64 {
	n := s.Items(job.OilTemperature, 0)
	if t, ok := s.Num(job.At(job.OilTemperature, 0, n-1)); ok {
		return t
	}
	return 20
}

// temperatureHow is how that was taken. Older jobs say it once, for whichever counts.
func (s *Figures) temperatureHow() string {
	if how := s.Choice(job.At(job.TemperatureHow, 0, s.Items(job.OilTemperature, 0)-1)); how != "" {
		return how
	}
	return s.Choice(job.Place{Topic: job.TemperatureHow})
}

// guess is an amount that was guessed.
func (s *Figures) guess(e job.Entry) measure.Value {
	ml := s.RoughML(e.Value)
	return measure.Rectangular(measure.Source{Name: GuessSource, Reading: e.Seq, Job: s.ID}, ml, guessHalfWidth*ml)
}

// weighing is one look at the scale, g.
func (s *Figures) weighing(e job.Entry, what string) measure.Value {
	source := measure.Source{Kind: device.WeighSource, Name: what, Reading: e.Seq, Job: s.ID}
	return measure.Rectangular(source, e.Value.Number, s.ScaleStepG()/2)
}

// eyeUML is how far off a person reads the marks of a container beside their
// step, ml: parallax, a surface that is not level (trade judgement).
const eyeUML = 1.5

// Standard uncertainties of a temperature, °C (common practice, no source).
const (
	TempMeasuredUC = 1.0
	TempFeltUC     = 5.0
)
