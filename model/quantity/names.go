// How units are spelled when typed. A word comes here in lower case, without
// spaces, points or dots: "fl. oz" is "floz", "N·m" is "nm".

package quantity

import "strings"

// volumeNamed finds the volume unit a word means. Pints, quarts, gallons and
// fluid ounces without a country are imperial where imperial is true, else US.
func volumeNamed(word string, imperial bool) (VolumeUnit, bool) {
	switch word {
	case "ml", "mls", "cc", "ccm", "cm3", "millilitre", "millilitres", "milliliter", "milliliters":
		return Millilitre, true
	case "cl", "cls", "centilitre", "centilitres", "centiliter", "centiliters":
		return Centilitre, true
	case "dl", "dls", "decilitre", "decilitres", "deciliter", "deciliters":
		return Decilitre, true
	case "l", "lt", "ltr", "ltrs", "litre", "litres", "liter", "liters":
		return Litre, true
	}
	measure := word
	for _, country := range []struct {
		name     string
		imperial bool
	}{{"us", false}, {"imperial", true}, {"imp", true}, {"uk", true}} {
		if rest, found := strings.CutPrefix(word, country.name); found {
			measure, imperial = rest, country.imperial
			break
		}
	}
	us, ok := customary(measure)
	if ok && imperial {
		us += ImperialFluidOunce - USFluidOunce
	}
	return us, ok
}

// customary finds the US unit of a measure that both systems have.
func customary(measure string) (VolumeUnit, bool) {
	switch measure {
	case "floz", "flozs", "fluidounce", "fluidounces":
		return USFluidOunce, true
	case "pt", "pts", "pint", "pints":
		return USPint, true
	case "qt", "qts", "quart", "quarts":
		return USQuart, true
	case "gal", "gals", "gallon", "gallons":
		return USGallon, true
	}
	return 0, false
}

func massNamed(word string) (MassUnit, bool) {
	switch word {
	case "g", "gm", "gram", "grams", "gramme", "grammes":
		return Gram, true
	case "kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes":
		return Kilogram, true
	case "ozwt", "ozav", "ozavdp":
		return Ounce, true
	case "lb", "lbs", "pound", "pounds":
		return Pound, true
	}
	return 0, false
}

// bareOunce reports whether a word says ounce without saying weight or fluid.
func bareOunce(word string) bool {
	return word == "oz" || word == "ozs" || word == "ounce" || word == "ounces"
}

func temperatureNamed(word string) (TemperatureUnit, bool) {
	switch strings.TrimPrefix(word, "°") {
	case "c", "degc", "celsius", "centigrade":
		return Celsius, true
	case "f", "degf", "fahrenheit":
		return Fahrenheit, true
	}
	return 0, false
}

func distanceNamed(word string) (DistanceUnit, bool) {
	switch word {
	case "km", "kms", "kilometre", "kilometres", "kilometer", "kilometers":
		return Kilometre, true
	case "mi", "mile", "miles":
		return Mile, true
	}
	return 0, false
}

func lengthNamed(word string) (LengthUnit, bool) {
	switch word {
	case "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return Millimetre, true
	case "cm", "centimetre", "centimetres", "centimeter", "centimeters":
		return Centimetre, true
	case "m", "metre", "metres", "meter", "meters":
		return Metre, true
	case "in", "ins", "inch", "inches", `"`:
		return Inch, true
	case "ft", "foot", "feet", "'":
		return Foot, true
	}
	return 0, false
}

func pressureNamed(word string) (PressureUnit, bool) {
	switch word {
	case "kpa", "kpag", "kilopascal", "kilopascals":
		return Kilopascal, true
	case "bar", "bars", "barg":
		return Bar, true
	case "psi", "psig":
		return PSI, true
	}
	return 0, false
}

func torqueNamed(word string) (TorqueUnit, bool) {
	switch word {
	case "nm", "newtonmetre", "newtonmetres", "newtonmeter", "newtonmeters":
		return NewtonMetre, true
	case "lbfft", "lbft", "lbsft", "ftlb", "ftlbs", "ftlbf", "poundfoot", "poundfeet", "footpound", "footpounds":
		return PoundFoot, true
	case "lbfin", "lbin", "lbsin", "inlb", "inlbs", "inlbf", "poundinch", "poundinches", "inchpound", "inchpounds":
		return PoundInch, true
	}
	return 0, false
}
