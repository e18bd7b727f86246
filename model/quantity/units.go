// The units: each with its exact factor, its digits and its spellings.

package quantity

import (
	"fmt"
	"math"
	"slices"
	"strings"
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

// The dimensions. Each has its table of units, the metric one first.
type (
	volume      struct{}
	mass        struct{}
	distance    struct{} // on the road
	length      struct{} // of bores, hoses and lifts
	pressure    struct{} // gauge, as on a pump
	torque      struct{}
	temperature struct{}
	dimension   interface {
		volume | mass | distance | length | pressure | torque | temperature
	}
)

// Unit is a unit of one dimension; the zero value is the metric one. That the
// dimension is part of the type makes a unit of another one a compile error.
type Unit[D dimension] uint8

// DistanceUnit is a unit of distance on the road.
type DistanceUnit = Unit[distance]

// Volumes. US and imperial measures of one name differ, so each says which.
const (
	Millilitre Unit[volume] = iota
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

// Masses. Ounce is the avoirdupois ounce of weight, not the fluid ounce.
const (
	Gram Unit[mass] = iota
	Kilogram
	Ounce
	Pound
)

const (
	Kilometre DistanceUnit = iota
	Mile
)

const (
	Millimetre Unit[length] = iota
	Centimetre
	Metre
	Inch
	Foot
)

const (
	Bar Unit[pressure] = iota // as the gauges of pumps have it
	Kilopascal
	PSI
)

const (
	NewtonMetre Unit[torque] = iota
	PoundFoot
	PoundInch
)

const (
	Celsius Unit[temperature] = iota
	Fahrenheit
)

// unitInfo describes one unit. Its names are its spellings when typed, in lower
// case without spaces, points and dots: "fl. oz" is "floz", "N·m" is "nm".
type unitInfo struct {
	symbol string
	factor float64 // how many base units it is; of a temperature, the size of a degree
	digits digits
	names  string
}

// Sources: NIST Handbook 44, appendix C; UK Weights and Measures Act 1985,
// schedule 1 (volumes); NIST SP 811, appendix B.8 (all others).
var (
	volumes = []unitInfo{
		Millilitre:         {"ml", 1, digits{10, 1, 0}, "ml mls cc ccm cm3 millilitre millilitres milliliter milliliters"},
		Centilitre:         {"cl", 10, digits{10, 2, 1}, "cl cls centilitre centilitres centiliter centiliters"},
		Decilitre:          {"dl", 100, digits{1, 3, 2}, "dl dls decilitre decilitres deciliter deciliters"},
		Litre:              {"L", 1000, digits{1, 3, 2}, "l lt ltr ltrs litre litres liter liters"},
		USFluidOunce:       {"US fl oz", usGallonML / 128, digits{10, 2, 1}, "floz flozs fluidounce fluidounces"},
		USPint:             {"US pt", usGallonML / 8, digits{1, 3, 2}, "pt pts pint pints"},
		USQuart:            {"US qt", usGallonML / 4, digits{1, 3, 2}, "qt qts quart quarts"},
		USGallon:           {"US gal", usGallonML, digits{1, 4, 3}, "gal gals gallon gallons"},
		ImperialFluidOunce: {"imp fl oz", imperialGallonML / 160, digits{10, 2, 1}, ""}, // names as in US: see volumeNamed
		ImperialPint:       {"imp pt", imperialGallonML / 8, digits{1, 3, 2}, ""},
		ImperialQuart:      {"imp qt", imperialGallonML / 4, digits{1, 3, 2}, ""},
		ImperialGallon:     {"imp gal", imperialGallonML, digits{1, 4, 3}, ""},
	}
	masses = []unitInfo{
		Gram:     {"g", 1, digits{10, 1, 0}, "g gm gram grams gramme grammes"},
		Kilogram: {"kg", 1000, digits{1, 3, 3}, "kg kgs kilo kilos kilogram kilograms kilogramme kilogrammes"},
		Ounce:    {"oz wt", poundG / 16, digits{10, 2, 1}, "ozwt ozav ozavdp"},
		Pound:    {"lb", poundG, digits{1, 3, 3}, "lb lbs pound pounds"},
	}
	distances = []unitInfo{
		Kilometre: {"km", 1, digits{10, 1, 0}, "km kms kilometre kilometres kilometer kilometers"},
		Mile:      {"mi", mileKm, digits{10, 1, 0}, "mi mile miles"},
	}
	lengths = []unitInfo{
		Millimetre: {"mm", 1, digits{10, 2, 1}, "mm millimetre millimetres millimeter millimeters"},
		Centimetre: {"cm", 10, digits{10, 2, 1}, "cm centimetre centimetres centimeter centimeters"},
		Metre:      {"m", 1000, digits{10, 3, 2}, "m metre metres meter meters"},
		Inch:       {"in", inchMM, digits{10, 4, 2}, `in ins inch inches "`},
		Foot:       {"ft", 12 * inchMM, digits{10, 3, 2}, "ft foot feet '"},
	}
	pressures = []unitInfo{
		Bar:        {"bar", 100, digits{1, 3, 2}, "bar bars barg"},
		Kilopascal: {"kPa", 1, digits{10, 1, 0}, "kpa kpag kilopascal kilopascals"},
		PSI:        {"psi", psiKPa, digits{10, 2, 1}, "psi psig"},
	}
	torques = []unitInfo{
		NewtonMetre: {"N·m", 1, digits{100, 1, 0}, "nm newtonmetre newtonmetres newtonmeter newtonmeters"},
		PoundFoot: {"lbf·ft", poundFootNm, digits{100, 1, 0},
			"lbfft lbft lbsft ftlb ftlbs ftlbf poundfoot poundfeet footpound footpounds"},
		PoundInch: {"lbf·in", poundFootNm / 12, digits{100, 1, 0},
			"lbfin lbin lbsin inlb inlbs inlbf poundinch poundinches inchpound inchpounds"},
	}
	temperatures = []unitInfo{
		Celsius:    {"°C", 1, digits{0, 1, 1}, "c degc celsius centigrade"},
		Fahrenheit: {"°F", 5.0 / 9, digits{0, 1, 1}, "f degf fahrenheit"},
	}
)

func unitsOf[D dimension]() []unitInfo {
	switch any(*new(D)).(type) {
	case volume:
		return volumes
	case mass:
		return masses
	case distance:
		return distances
	case length:
		return lengths
	case pressure:
		return pressures
	case torque:
		return torques
	}
	return temperatures
}

// info finds the unit in its table; one that is not there has no factor.
func (u Unit[D]) info() unitInfo {
	if table := unitsOf[D](); int(u) < len(table) {
		return table[u]
	}
	return unitInfo{symbol: fmt.Sprintf("unit %d", u), factor: math.NaN()}
}

// String is the symbol as printed.
func (u Unit[D]) String() string { return u.info().symbol }

// Factor is how many base units (ml, g, km, mm, kPa, N·m, °C) one is; NaN for an
// unknown unit.
func (u Unit[D]) Factor() float64 { return u.info().factor }

// named finds the unit that a typed word means.
func named[D dimension](word string) (u Unit[D], ok bool) {
	i := slices.IndexFunc(unitsOf[D](), func(info unitInfo) bool {
		return word != "" && strings.Contains(" "+info.names+" ", " "+word+" ")
	})
	return Unit[D](max(i, 0)), i >= 0
}

// volumeNamed finds the volume unit that a typed word means. Pints, quarts,
// gallons and fluid ounces without a country are imperial where imperial is
// true, else US.
func volumeNamed(word string, imperial bool) (Unit[volume], bool) {
	measure := word
	for _, country := range []string{"us", "imperial", "imp", "uk"} {
		if rest, found := strings.CutPrefix(word, country); found {
			measure, imperial = rest, country != "us"
			break
		}
	}
	u, ok := named[volume](measure)
	switch {
	case u <= Litre:
		return u, ok && measure == word
	case imperial:
		return u + ImperialFluidOunce - USFluidOunce, true
	}
	return u, true
}

// isImperial reports whether volumes are in imperial units.
func (u Units) isImperial() bool { return u.Volume >= ImperialFluidOunce && u.Volume <= ImperialGallon }

// toC converts a reading on a scale of temperature to °C, NaN for an unknown one:
//
//	t/°C = (t/°F − 32) · 5/9
//
// Source: NIST SP 811, appendix B.8.
func toC(u Unit[temperature], reading float64) float64 {
	if u == Fahrenheit {
		return (reading - 32) * 5 / 9
	}
	return reading * u.Factor()
}

// fromC is the inverse of toC.
func fromC(u Unit[temperature], tempC float64) float64 {
	if u == Fahrenheit {
		return tempC*9/5 + 32
	}
	return tempC / u.Factor()
}
