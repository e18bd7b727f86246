package model

// This file holds the small functions that specs are made of: answers on offer
// and limits of numbers.

import (
	"fmt"
	"unicode/utf8"
)

func offerChoice(token string) offer {
	return func(*State, Place) (Value, bool) { return Value{Choice: token}, true }
}

func offerText(text string) offer {
	return func(*State, Place) (Value, bool) { return Value{Text: text}, true }
}

func offerNumber(x float64, d Dim) offer {
	return func(*State, Place) (Value, bool) { return Value{Number: x, Unit: d}, true }
}

func offerML(ml float64) offer { return offerNumber(ml, DimML) }

func offerUnknown(*State, Place) (Value, bool) { return Value{Unknown: true}, true }

// between refuses numbers outside low..high, in the unit of the entry. The
// limits are shown in the owner's units.
func between(low, high float64) func(*State, Place, Value) error {
	return func(s *State, _ Place, v Value) error {
		if !(v.Number >= low && v.Number <= high) {
			return fmt.Errorf("must be %s to %s", s.show(low, v.Unit), s.show(high, v.Unit))
		}
		return nil
	}
}

// show is a number in the owner's units.
func (s *State) show(x float64, d Dim) string {
	u := s.Units()
	switch d {
	case DimML:
		return u.FormatVolume(x)
	case DimG:
		return u.FormatMass(x)
	case DimC:
		return u.FormatTemperature(x)
	case DimKm:
		return u.FormatDistance(x)
	case DimKPa:
		return u.FormatPressure(x)
	case DimNm:
		return u.FormatTorque(x)
	case DimShare:
		return fmt.Sprintf("%g %%", 100*x)
	case DimMM:
		return fmt.Sprintf("%g mm", x)
	case DimM:
		return fmt.Sprintf("%g m", x)
	case DimKgM3:
		return fmt.Sprintf("%g kg/m³", x)
	case DimCSt:
		return fmt.Sprintf("%g mm²/s", x)
	case DimMonths:
		return fmt.Sprintf("%g months", x)
	}
	return fmt.Sprintf("%g", x)
}

// longest refuses a text of more letters than a line has room for.
func longest(letters int) func(*State, Place, Value) error {
	return func(_ *State, _ Place, v Value) error {
		if utf8.RuneCountInString(v.Text) > letters {
			return fmt.Errorf("%d letters at most", letters)
		}
		return nil
	}
}
