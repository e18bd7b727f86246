// The units that a person chose, and printing in them.

package quantity

import (
	"fmt"
	"math"
	"strings"
)

// Units are the units that a person chose. The zero value is Metric.
type Units struct {
	Volume      Unit[volume]
	Mass        Unit[mass]
	Temperature Unit[temperature]
	Distance    DistanceUnit
	Pressure    Unit[pressure]
	Torque      Unit[torque]
}

// Metric is ml, g, °C, km, bar and N·m.
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

// Large has the larger units of volume and mass of the same system: L and kg, or
// quarts and pounds.
func (u Units) Large() Units {
	u.Mass = Pound
	switch {
	case u.Volume <= Litre:
		u.Volume, u.Mass = Litre, Kilogram
	case u.isImperial():
		u.Volume = ImperialQuart
	default:
		u.Volume = USQuart
	}
	return u
}

// FormatVolume prints ml in the unit chosen: 830 ml, 2.35 L, 28.1 US fl oz.
func (u Units) FormatVolume(volumeML float64) string { return u.Volume.format(volumeML, fixed) }

// BareVolume prints ml in the unit chosen, without its symbol, as an example of
// what can be typed: 500, 16.9.
func (u Units) BareVolume(volumeML float64) string { return u.Volume.bare(volumeML) }

// VolumeStep is the smallest step that a volume of so many ml is printed in, ml.
func (u Units) VolumeStep(volumeML float64) float64 {
	info := u.Volume.info()
	return info.factor * math.Pow10(-info.digits.of(volumeML/info.factor))
}

// BareVolumes prints several ml in the unit chosen, without its symbol, all in
// the steps of the largest, so that sums of them add up in print.
func (u Units) BareVolumes(volumesML ...float64) []string {
	info, largest, texts := u.Volume.info(), 0.0, make([]string, len(volumesML))
	for _, ml := range volumesML {
		largest = max(largest, math.Abs(ml)/info.factor)
	}
	for i, ml := range volumesML {
		if texts[i] = fixed(ml/info.factor, info.digits.of(largest)); !finite(ml) {
			texts[i] = noNumber
		}
	}
	return texts
}

// BareMass is BareVolume for g.
func (u Units) BareMass(massG float64) string { return u.Mass.bare(massG) }

// FormatVolumeU prints ml with a standard uncertainty in ml, which decides the
// digits: 806 ± 12 ml.
func (u Units) FormatVolumeU(volumeML, uML float64) string {
	info := u.Volume.info()
	value, uncertainty := volumeML/info.factor, uML/info.factor
	switch decimals := uncertaintyDecimals(uncertainty); {
	case !finite(value):
		return noNumber
	case !finite(uncertainty) || uncertainty < 0:
		return info.format(value, fixed) + " ± " + noNumber
	case uncertainty == 0 || decimals > 6: // as good as exact
		return info.format(value, fixed)
	default:
		return fixed(value, decimals) + " ± " + fixed(uncertainty, decimals) + " " + info.symbol
	}
}

// FormatMass prints g in the unit chosen.
func (u Units) FormatMass(massG float64) string { return u.Mass.format(massG, fixed) }

// FormatTemperature prints °C on the scale chosen: 60 °C, 62.8 °C, 140 °F.
func (u Units) FormatTemperature(tempC float64) string {
	return u.Temperature.info().format(fromC(u.Temperature, tempC), trimmed)
}

// FormatTemperatureDifference prints a difference of °C on the scale chosen, in
// whole degrees: 2 °C, 4 °F.
func (u Units) FormatTemperatureDifference(diffC float64) string {
	diff := fromC(u.Temperature, diffC) - fromC(u.Temperature, 0)
	return u.Temperature.info().format(math.Round(diff), trimmed)
}

// FormatDistance prints km in the unit chosen, five digits and more grouped by
// spaces: 123 456 km, 9500 mi.
func (u Units) FormatDistance(distanceKm float64) string {
	return u.Distance.format(distanceKm, grouped)
}

// FormatPressure prints kPa in the unit chosen, a bar with one decimal at least:
// 2.0 bar, 29 psi, 200 kPa.
func (u Units) FormatPressure(pressureKPa float64) string {
	return u.Pressure.format(pressureKPa, func(x float64, decimals int) string {
		text := trimmed(x, decimals)
		if u.Pressure == Bar && !strings.Contains(text, ".") {
			text += ".0"
		}
		return text
	})
}

// FormatTorque prints N·m in the unit chosen: 35 N·m, 25.8 lbf·ft.
func (u Units) FormatTorque(torqueNm float64) string { return u.Torque.format(torqueNm, trimmed) }

// FormatTorques prints N·m in the unit chosen and in the other one: 29 N·m = 21.4 lbf·ft. A figure of the one unit that
// was typed as of the other shows only beside its pair.
func (u Units) FormatTorques(torqueNm float64) string {
	other := PoundFoot
	if u.Torque != NewtonMetre {
		other = NewtonMetre
	}
	return u.FormatTorque(torqueNm) + " = " + other.format(torqueNm, trimmed)
}

// lengthUnit is the unit for a length of so many mm: mm, and m from 1 m on,
// where volumes are metric; else in, and ft from 2 ft on.
func (u Units) lengthUnit(lengthMM float64) Unit[length] {
	short, long, from := Inch, Foot, 2*Foot.Factor()
	if u.Volume <= Litre {
		short, long, from = Millimetre, Metre, Metre.Factor()
	}
	if math.Abs(lengthMM) >= from {
		return long
	}
	return short
}

// FormatLength prints mm in the unit that lengthUnit chooses: 8 mm, 1.5 m,
// 0.3125 in, 4.92 ft.
func (u Units) FormatLength(lengthMM float64) string {
	return u.lengthUnit(lengthMM).format(lengthMM, trimmed)
}

// FormatShare prints a fraction in percent without claiming certainty.
func FormatShare(share float64) string {
	switch x := 100 * share; {
	case x > 99 && x < 100:
		return "> 99 %"
	case x > 0 && x < 1:
		return "< 1 %"
	default:
		return fmt.Sprintf("%.0f %%", x)
	}
}
