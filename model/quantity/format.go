// The choice of units to show, and the printing of every kind of number in it.

package quantity

import (
	"math"
	"strings"
)

// Units is the choice of units, made once. The zero value is Metric.
type Units struct {
	Volume      VolumeUnit
	Mass        MassUnit
	Temperature TemperatureUnit
	Distance    DistanceUnit
	Pressure    PressureUnit
	Torque      TorqueUnit
}

// Metric is ml, g, °C, km, kPa and N·m.
func Metric() Units { return Units{} }

// US is US fluid ounces, ounces, °F, miles, psi and lbf·ft.
func US() Units {
	return Units{USFluidOunce, Ounce, Fahrenheit, Mile, PSI, PoundFoot}
}

// Imperial is imperial fluid ounces, ounces, °C, miles, psi and lbf·ft, as a
// British garage has them.
func Imperial() Units {
	return Units{ImperialFluidOunce, Ounce, Celsius, Mile, PSI, PoundFoot}
}

// Large is the choice with the larger unit of volume and of mass that the same
// hands use: L and kg, or quarts and pounds.
func (u Units) Large() Units {
	u.Mass = Pound
	switch {
	case u.Volume.metric():
		u.Volume, u.Mass = Litre, Kilogram
	case u.Volume.imperial():
		u.Volume = ImperialQuart
	default:
		u.Volume = USQuart
	}
	return u
}

// FormatVolume prints ml in the unit chosen: 830 ml, 2.35 L, 28.1 US fl oz.
func (u Units) FormatVolume(volumeML float64) string {
	info, _ := infoOf(volumeTable, u.Volume)
	return sensible(volumeML/info.factor, info.symbol, info.digits)
}

// BareVolume prints ml in the unit chosen, without its name, as an example of
// what can be typed: 500, 16.9.
func (u Units) BareVolume(volumeML float64) string {
	info, _ := infoOf(volumeTable, u.Volume)
	return bare(volumeML/info.factor, info.digits)
}

// BareMass is BareVolume for g.
func (u Units) BareMass(massG float64) string {
	info, _ := infoOf(massTable, u.Mass)
	return bare(massG/info.factor, info.digits)
}

// FormatVolumeU prints ml with a standard uncertainty in ml, which decides the
// digits: 806 ± 12 ml.
func (u Units) FormatVolumeU(volumeML, uML float64) string {
	info, _ := infoOf(volumeTable, u.Volume)
	return withUncertainty(volumeML/info.factor, uML/info.factor, info.symbol, info.digits)
}

// FormatMass prints g in the unit chosen.
func (u Units) FormatMass(massG float64) string {
	info, _ := infoOf(massTable, u.Mass)
	return sensible(massG/info.factor, info.symbol, info.digits)
}

// FormatTemperature prints °C on the scale chosen: 60 °C, 62.8 °C, 140 °F.
func (u Units) FormatTemperature(tempC float64) string {
	info, _ := infoOf(temperatureTable, u.Temperature)
	return short(u.Temperature.FromC(tempC), info.symbol, info.digits)
}

// FormatTemperatureDifference prints a difference of °C on the scale chosen, in
// whole degrees: 2 °C, 4 °F.
func (u Units) FormatTemperatureDifference(diffC float64) string {
	info, _ := infoOf(temperatureTable, u.Temperature)
	return short(math.Round(u.Temperature.FromC(diffC)-u.Temperature.FromC(0)), info.symbol, info.digits)
}

// FormatDistance prints km in the unit chosen, five digits and more grouped by
// spaces: 123 456 km, 9500 mi.
func (u Units) FormatDistance(distanceKm float64) string {
	info, _ := infoOf(distanceTable, u.Distance)
	value := distanceKm / info.factor
	if !finite(value) {
		return noNumber
	}
	return grouped(trimmed(value, info.digits.of(value))) + " " + info.symbol
}

// grouped puts a space in front of every three digits of a number of five
// digits or more.
func grouped(number string) string {
	sign := ""
	if rest, negative := strings.CutPrefix(number, "-"); negative {
		sign, number = "-", rest
	}
	whole, decimals, hasDecimals := strings.Cut(number, ".")
	if len(whole) >= 5 {
		for i := len(whole) - 3; i > 0; i -= 3 {
			whole = whole[:i] + " " + whole[i:]
		}
	}
	if hasDecimals {
		whole += "." + decimals
	}
	return sign + whole
}

// FormatPressure prints kPa in the unit chosen: 100 kPa, 1.00 bar, 14.5 psi.
func (u Units) FormatPressure(pressureKPa float64) string {
	info, _ := infoOf(pressureTable, u.Pressure)
	return sensible(pressureKPa/info.factor, info.symbol, info.digits)
}

// FormatTorque prints N·m in the unit chosen: 35 N·m, 25.8 lbf·ft.
func (u Units) FormatTorque(torqueNm float64) string {
	info, _ := infoOf(torqueTable, u.Torque)
	return short(torqueNm/info.factor, info.symbol, info.digits)
}

// lengthUnit is the unit for a length of so many mm: mm, and m from 1 m on,
// where volumes are metric; else in, and ft from 2 ft on.
func (u Units) lengthUnit(lengthMM float64) LengthUnit {
	short, long, from := Inch, Foot, 2*Foot.MM()
	if u.Volume.metric() {
		short, long, from = Millimetre, Metre, Metre.MM()
	}
	if math.Abs(lengthMM) >= from {
		return long
	}
	return short
}

// FormatLength prints mm in the unit that lengthUnit chooses: 8 mm, 1.5 m,
// 0.3125 in, 4.92 ft.
func (u Units) FormatLength(lengthMM float64) string {
	info, _ := infoOf(lengthTable, u.lengthUnit(lengthMM))
	return short(lengthMM/info.factor, info.symbol, info.digits)
}
