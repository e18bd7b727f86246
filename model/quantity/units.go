// The units that can be typed and shown, their symbols and their exact factors
// to the base unit. How a unit is spelled when typed is in names.go.

package quantity

import (
	"fmt"
	"math"
)

// The exact definitions all factors are made from. Constant arithmetic in Go
// is exact, so a factor is rounded once, when it becomes a float64.
const (
	inchMM            = 25.4
	poundG            = 453.59237
	cubicInchML       = 2.54 * 2.54 * 2.54
	usGallonML        = 231 * cubicInchML
	imperialGallonML  = 4546.09
	standardGravityMS = 9.80665
	poundForceN       = poundG / 1000 * standardGravityMS
	poundFootNm       = poundForceN * 12 * inchMM / 1000
	psiKPa            = poundForceN / (inchMM * inchMM) * 1000
	mileKm            = 1760 * 36 * inchMM / 1e6
)

// unitInfo describes one unit: its symbol, how many base units it holds, and
// how its numbers are printed.
type unitInfo struct {
	symbol string
	factor float64
	digits digits
}

// infoOf finds a unit in its table; ok is false for a value outside it.
func infoOf[U ~uint8](table []unitInfo, u U) (info unitInfo, ok bool) {
	if int(u) >= len(table) {
		return unitInfo{factor: math.NaN()}, false
	}
	return table[u], true
}

func symbolOf[U ~uint8](table []unitInfo, u U) string {
	if info, ok := infoOf(table, u); ok {
		return info.symbol
	}
	return fmt.Sprintf("unit %d", u)
}

func factorOf[U ~uint8](table []unitInfo, u U) float64 {
	info, _ := infoOf(table, u)
	return info.factor
}

func marshalUnit[U ~uint8](table []unitInfo, u U) ([]byte, error) {
	info, ok := infoOf(table, u)
	if !ok {
		return nil, fmt.Errorf("unit: %d is not a known unit, allowed: %s", u, symbols(table))
	}
	return []byte(info.symbol), nil
}

func unmarshalUnit[U ~uint8](table []unitInfo, u *U, text []byte) error {
	for i, info := range table {
		if info.symbol == string(text) {
			*u = U(i)
			return nil
		}
	}
	return fmt.Errorf("unit: %s is not a known unit, allowed: %s", quoted(string(text)), symbols(table))
}

// symbols lists a table's symbols for an error.
func symbols(table []unitInfo) string {
	list := ""
	for i, info := range table {
		if i > 0 {
			list += ", "
		}
		list += info.symbol
	}
	return list
}

// VolumeUnit is a unit of volume.
type VolumeUnit uint8

// Volumes. US and imperial measures of one name differ, so each says which.
const (
	Millilitre VolumeUnit = iota
	Litre
	USFluidOunce
	USPint
	USQuart
	USGallon
	ImperialFluidOunce
	ImperialPint
	ImperialQuart
	ImperialGallon
)

var volumeTable = []unitInfo{
	Millilitre:         {"ml", 1, digits{10, 1, 0}},
	Litre:              {"L", 1000, digits{1, 3, 2}},
	USFluidOunce:       {"US fl oz", usGallonML / 128, digits{10, 2, 1}},
	USPint:             {"US pt", usGallonML / 8, digits{1, 3, 2}},
	USQuart:            {"US qt", usGallonML / 4, digits{1, 3, 2}},
	USGallon:           {"US gal", usGallonML, digits{1, 4, 3}},
	ImperialFluidOunce: {"imp fl oz", imperialGallonML / 160, digits{10, 2, 1}},
	ImperialPint:       {"imp pt", imperialGallonML / 8, digits{1, 3, 2}},
	ImperialQuart:      {"imp qt", imperialGallonML / 4, digits{1, 3, 2}},
	ImperialGallon:     {"imp gal", imperialGallonML, digits{1, 4, 3}},
}

// ML is the millilitres in one unit; NaN for an unknown unit.
// Source: NIST Handbook 44, appendix C; UK Weights and Measures Act 1985, schedule 1.
func (u VolumeUnit) ML() float64 { return factorOf(volumeTable, u) }

// String is the symbol as printed.
func (u VolumeUnit) String() string { return symbolOf(volumeTable, u) }

// MarshalText writes the symbol; an unknown unit is an error.
func (u VolumeUnit) MarshalText() ([]byte, error) { return marshalUnit(volumeTable, u) }

// UnmarshalText reads a symbol exactly as String prints it.
func (u *VolumeUnit) UnmarshalText(text []byte) error { return unmarshalUnit(volumeTable, u, text) }

// imperial reports whether the unit is one of the imperial measures.
func (u VolumeUnit) imperial() bool { return u >= ImperialFluidOunce && u <= ImperialGallon }

// metric reports whether the unit is one of the metric measures.
func (u VolumeUnit) metric() bool { return u == Millilitre || u == Litre }

// MassUnit is a unit of mass (of weight, as a scale shows it).
type MassUnit uint8

// Masses. Ounce is the avoirdupois ounce of weight, not the fluid ounce.
const (
	Gram MassUnit = iota
	Kilogram
	Ounce
	Pound
)

var massTable = []unitInfo{
	Gram:     {"g", 1, digits{10, 1, 0}},
	Kilogram: {"kg", 1000, digits{1, 3, 3}},
	Ounce:    {"oz wt", poundG / 16, digits{10, 2, 1}},
	Pound:    {"lb", poundG, digits{1, 3, 3}},
}

// G is the grams in one unit; NaN for an unknown unit.
// Source: NIST SP 811, appendix B.8 (pound, ounce avoirdupois).
func (u MassUnit) G() float64 { return factorOf(massTable, u) }

// String is the symbol as printed; "oz wt" keeps apart from "fl oz".
func (u MassUnit) String() string { return symbolOf(massTable, u) }

// MarshalText writes the symbol; an unknown unit is an error.
func (u MassUnit) MarshalText() ([]byte, error) { return marshalUnit(massTable, u) }

// UnmarshalText reads a symbol exactly as String prints it.
func (u *MassUnit) UnmarshalText(text []byte) error { return unmarshalUnit(massTable, u, text) }

// DistanceUnit is a unit of road distance.
type DistanceUnit uint8

// Distances.
const (
	Kilometre DistanceUnit = iota
	Mile
)

var distanceTable = []unitInfo{
	Kilometre: {"km", 1, digits{10, 1, 0}},
	Mile:      {"mi", mileKm, digits{10, 1, 0}},
}

// Km is the kilometres in one unit; NaN for an unknown unit.
// Source: NIST SP 811, appendix B.8 (mile).
func (u DistanceUnit) Km() float64 { return factorOf(distanceTable, u) }

// String is the symbol as printed.
func (u DistanceUnit) String() string { return symbolOf(distanceTable, u) }

// MarshalText writes the symbol; an unknown unit is an error.
func (u DistanceUnit) MarshalText() ([]byte, error) { return marshalUnit(distanceTable, u) }

// UnmarshalText reads a symbol exactly as String prints it.
func (u *DistanceUnit) UnmarshalText(text []byte) error {
	return unmarshalUnit(distanceTable, u, text)
}
