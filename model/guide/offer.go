package guide

// This file holds what is on offer: what other units of the car bring, and the small
// functions that specs are made of, answers on offer and limits of numbers.

import (
	"fmt"
	"unicode/utf8"

	"garage/tundish/model/job"
	"garage/tundish/model/quantity"
	"garage/tundish/model/verdict"
)

// OpenUnit is a unit of the car, of another job, that the engine must not be started
// with, and what is known of its oil.
type OpenUnit struct {
	Name  string
	State verdict.UnitState
}

// OpenUnits are the other units of the car that are open, ToCome those that are still to be
// begun in the same session.
func (s *Guide) OpenUnits() []OpenUnit { return s.offers.OpenUnits }
func (s *Guide) ToCome() []string      { return s.offers.ToCome }

// offering offers a value.
func offering(v job.Value) offer {
	return func(*Guide, job.Place) (job.Value, bool) { return v, true }
}

// between refuses numbers outside low..high, in the unit of the entry. The
// limits are shown in the owner's units.
func between(low, high float64) check {
	return func(s *Guide, _ job.Place, v job.Value) error {
		if !(v.Number >= low && v.Number <= high) {
			return fmt.Errorf("must be %s to %s", s.Show(low, v.Unit), s.Show(high, v.Unit))
		}
		return nil
	}
}

// longest refuses a text of more letters than a line has room for.
func longest(letters int) check {
	return func(_ *Guide, _ job.Place, v job.Value) error {
		if utf8.RuneCountInString(v.Text) > letters {
			return fmt.Errorf("%d letters at most", letters)
		}
		return nil
	}
}

// inUnits words something with figures in the owner's units.
func inUnits(text func(quantity.Units) string) wording {
	return func(s *Guide, _ job.Place) string { return text(s.Units()) }
}

// PickedOption is the option that was chosen at a place; false where nothing
// stands there. One that is no longer on offer is shown by its token.
func (s *Guide) PickedOption(p job.Place) (Option, bool) {
	e, ok := s.Answer(p)
	prompt, known := PromptOf(e)
	if !ok || !known {
		return Option{}, false
	}
	if o, ok := prompt.wordedOption(s, e.Value.Choice); ok {
		return o, true
	}
	return Option{Token: e.Value.Choice, Label: e.Value.Choice}, true
}
