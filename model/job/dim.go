package job

// This file holds the dimensions of numbers: the one unit in which each is kept,
// how it is typed and how it is shown.

import (
	"fmt"
	"strings"
)

// Dim is the dimension of a number in an entry, with the one unit in which it
// is kept.
type Dim uint8

// The dimensions, each with its unit.
const (
	NoDim      Dim = iota
	DimML          // volume, ml at the temperature of the reading
	DimG           // mass, g as shown by the scale
	DimC           // temperature, °C
	DimMM          // bore, mm
	DimM           // length, m
	DimKm          // distance, km
	DimKPa         // pressure, kPa gauge
	DimNm          // torque, N·m
	DimShare       // a fraction of one
	DimKgM3        // density at 15 °C, kg/m³
	DimCSt         // kinematic viscosity, mm²/s
	DimCount       // a count
	DimMonths      // months
	DimOver        // height above a mark, mm; below it negative
	DimCM2         // area, cm²
	DimDeg         // angle, degrees
	DimSeconds     // seconds
	NumDims
)

var dimTokens = [NumDims]string{"", "ml", "g", "C", "mm", "m", "km", "kPa", "Nm", "share", "kg_m3", "cSt", "count", "months", "mm_over",
	"cm2", "deg", "s"}

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
func (d *Dim) UnmarshalText(text []byte) error { return UnmarshalToken(d, dimTokens[:], text, "unit") }

// fixedUnits are the units of the dimensions that everybody has in the same one.
var fixedUnits = [NumDims]string{DimMM: "mm", DimM: "m", DimShare: "%", DimKgM3: "kg/m³", DimCSt: "mm²/s", DimMonths: "months",
	DimOver: "mm", DimCM2: "cm²", DimDeg: "°", DimSeconds: "s"}

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
		return u.FormatTorques(x)
	case DimShare:
		x *= 100
	}
	return strings.TrimSpace(fmt.Sprintf("%g %s", x, fixedUnits[d]))
}
