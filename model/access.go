package model

// This file lets a record of the job be made outside the package: what stands
// where, what measured it, and each reading at 20 °C.

import "garage/tundish/model/measure"

// Measured says whether all that came out has been measured.
func (s *State) Measured() bool { return s.measured() }

// PushBegun says whether oil has gone in or out in a round.
func (s *State) PushBegun(round int) bool { return s.pushBegun(round) }

// PickedOption is the option that was chosen at a place; false where nothing
// stands there. One that is no longer on offer is shown by its token.
func (s *State) PickedOption(p Place) (Option, bool) {
	e, ok := s.at(p)
	prompt, known := PromptOf(e)
	if !ok || !known {
		return Option{}, false
	}
	for _, o := range prompt.Choices(s) {
		if o.Token == e.Value.Choice {
			return o, true
		}
	}
	return Option{Token: e.Value.Choice, Label: e.Value.Choice}, true
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
	d, ok := s.device(with, Place{e.Topic, e.Round, e.Item})
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
	tempC, tempUC := s.temperatureOf(e, tempOf(e.Topic), Place{e.Topic, e.Round, e.Item})
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
	chosen, ok := s.at(Place{how, e.Round, e.Item})
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
