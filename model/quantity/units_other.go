// Units of distance, length, pressure, torque and temperature.

package quantity

import "math"

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

// LengthUnit is a unit of length, for bores, hoses and lifts.
type LengthUnit uint8

// Lengths.
const (
	Millimetre LengthUnit = iota
	Centimetre
	Metre
	Inch
	Foot
)

var lengthTable = []unitInfo{
	Millimetre: {"mm", 1, digits{10, 2, 1}},
	Centimetre: {"cm", 10, digits{10, 2, 1}},
	Metre:      {"m", 1000, digits{10, 3, 2}},
	Inch:       {"in", inchMM, digits{10, 4, 2}},
	Foot:       {"ft", 12 * inchMM, digits{10, 3, 2}},
}

// MM is the millimetres in one unit; NaN for an unknown unit.
// Source: NIST SP 811, appendix B.8 (inch, foot).
func (u LengthUnit) MM() float64 { return factorOf(lengthTable, u) }

// String is the symbol as printed.
func (u LengthUnit) String() string { return symbolOf(lengthTable, u) }

// PressureUnit is a unit of pressure, gauge as on a pump.
type PressureUnit uint8

// Pressures.
const (
	Kilopascal PressureUnit = iota
	Bar
	PSI
)

var pressureTable = []unitInfo{
	Kilopascal: {"kPa", 1, digits{10, 1, 0}},
	Bar:        {"bar", 100, digits{1, 3, 2}},
	PSI:        {"psi", psiKPa, digits{10, 2, 1}},
}

// KPa is the kilopascals in one unit; NaN for an unknown unit.
// Source: NIST SP 811, appendix B.8 (bar; pound-force per square inch).
func (u PressureUnit) KPa() float64 { return factorOf(pressureTable, u) }

// String is the symbol as printed.
func (u PressureUnit) String() string { return symbolOf(pressureTable, u) }

// TorqueUnit is a unit of tightening torque.
type TorqueUnit uint8

// Torques.
const (
	NewtonMetre TorqueUnit = iota
	PoundFoot
	PoundInch
)

var torqueTable = []unitInfo{
	NewtonMetre: {"N·m", 1, digits{100, 1, 0}},
	PoundFoot:   {"lbf·ft", poundFootNm, digits{100, 1, 0}},
	PoundInch:   {"lbf·in", poundFootNm / 12, digits{100, 1, 0}},
}

// Nm is the newton metres in one unit; NaN for an unknown unit.
// Source: NIST SP 811, appendix B.8 (pound-force foot, pound-force inch).
func (u TorqueUnit) Nm() float64 { return factorOf(torqueTable, u) }

// String is the symbol as printed.
func (u TorqueUnit) String() string { return symbolOf(torqueTable, u) }

// TemperatureUnit is a scale of temperature.
type TemperatureUnit uint8

// Temperatures.
const (
	Celsius TemperatureUnit = iota
	Fahrenheit
)

// The factor is the size of one degree; the zero is in ToC and FromC.
var temperatureTable = []unitInfo{
	Celsius:    {"°C", 1, digits{0, 1, 1}},
	Fahrenheit: {"°F", 5.0 / 9, digits{0, 1, 1}},
}

// ToC turns a reading on this scale into °C:
//
//	t/°C = (t/°F − 32) · 5/9
//
// NaN for an unknown unit. Source: NIST SP 811, appendix B.8.
func (u TemperatureUnit) ToC(temp float64) float64 {
	switch u {
	case Celsius:
		return temp
	case Fahrenheit:
		return (temp - 32) * 5 / 9
	}
	return math.NaN()
}

// FromC turns °C into a reading on this scale; NaN for an unknown unit.
func (u TemperatureUnit) FromC(tempC float64) float64 {
	switch u {
	case Celsius:
		return tempC
	case Fahrenheit:
		return tempC*9/5 + 32
	}
	return math.NaN()
}

// String is the symbol as printed.
func (u TemperatureUnit) String() string { return symbolOf(temperatureTable, u) }
