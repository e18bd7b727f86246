// Units of volume and mass, the two ways to measure oil.

package quantity

// VolumeUnit is a unit of volume.
type VolumeUnit uint8

// Volumes. US and imperial measures of one name differ, so each says which.
const (
	Millilitre VolumeUnit = iota
	Centilitre
	Decilitre
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
	Centilitre:         {"cl", 10, digits{10, 2, 1}},
	Decilitre:          {"dl", 100, digits{1, 3, 2}},
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

// imperial reports whether the unit is one of the imperial measures.
func (u VolumeUnit) imperial() bool { return u >= ImperialFluidOunce && u <= ImperialGallon }

// metric reports whether the unit is one of the metric measures.
func (u VolumeUnit) metric() bool { return u <= Litre }

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
