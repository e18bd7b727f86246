package job

// This file holds the dimensions of numbers: the one unit in which each is kept,
// how it is typed and how it is shown.

import (
	"fmt"

	"garage/tundish/model/quantity"
)

// Dim is the dimension of a number in an entry, with the one unit in which it
// is kept.
type Dim uint8

// The dimensions, each with its unit.
const (
	NoDim     Dim = iota
	DimML         // volume, ml at the temperature of the reading
	DimG          // mass, g as shown by the scale
	DimC          // temperature, °C
	DimMM         // bore, mm
	DimM          // length, m
	DimKm         // distance, km
	DimKPa        // pressure, kPa gauge
	DimNm         // torque, N·m
	DimShare      // a fraction of one
	DimKgM3       // density at 15 °C, kg/m³
	DimCSt        // kinematic viscosity, mm²/s
	DimCount      // a count
	DimMonths     // months
	NumDims
)

var dimTokens = [NumDims]string{"", "ml", "g", "C", "mm", "m", "km", "kPa", "Nm", "share", "kg_m3", "cSt", "count", "months"}

// String is the unit's name in files.
func (d Dim) String() string {
	if d < NumDims {
		return dimTokens[d]
	}
	return fmt.Sprintf("dim %d", uint8(d))
}

// MarshalText writes the unit's name in files.
func (d Dim) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads a unit's name.
func (d *Dim) UnmarshalText(text []byte) error {
	for i, token := range dimTokens {
		if token == string(text) {
			*d = Dim(i)
			return nil
		}
	}
	return fmt.Errorf("unit %q is not one this program knows", text)
}

// Show is a number in the owner's units.
func (s *State) Show(x float64, d Dim) string {
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

func ParseNumber(s *State, typed string, d Dim) (float64, error) {
	u := s.Units()
	switch d {
	case DimC:
		return quantity.ParseTemperature(typed, u.Temperature)
	case DimKm:
		return quantity.ParseDistance(typed, u.Distance)
	case DimKPa:
		return quantity.ParsePressure(typed, u.Pressure)
	case DimNm:
		return quantity.ParseTorque(typed, u.Torque)
	case DimShare:
		return quantity.ParsePercent(typed)
	case DimMM:
		return quantity.ParseLength(typed, quantity.Millimetre)
	case DimM:
		mm, err := quantity.ParseLength(typed, quantity.Metre)
		return mm / 1000, err
	case DimG:
		a, err := quantity.ParseMass(typed, u)
		return a.Total, err
	case DimCount, DimMonths:
		n, err := quantity.ParseCount(typed)
		return float64(n), err
	}
	x, err := quantity.ParsePlain(typed)
	if d == DimKgM3 && x > 0 && x < 2 {
		x *= 1000 // 0.885 on a data sheet is kg/L
	}
	return x, err
}

func BareUnitOf(d Dim, u quantity.Units) string {
	switch d {
	case DimC:
		return u.Temperature.String()
	case DimKm:
		return u.Distance.String()
	case DimKPa:
		return u.Pressure.String()
	case DimNm:
		return u.Torque.String()
	case DimShare:
		return "%"
	case DimG:
		return u.Mass.String()
	case DimKgM3:
		return "kg/m³"
	case DimCSt:
		return "mm²/s"
	case DimMM, DimM, DimMonths:
		return d.String()
	}
	return ""
}
