// Parsers of one number with one unit: temperature, length, pressure, torque,
// percentage, count, and any other number.

package quantity

import (
	"fmt"
	"strconv"
	"strings"
)

// ParseTemperature reads a temperature such as 60, 60C, 140 °F or -5 in °C; a
// number without unit is on the bare scale.
func ParseTemperature(typed string, bare TemperatureUnit) (tempC float64, err error) {
	s, err := scan(typed, grammar{like: "a temperature such as 60, 60 C or 140 F"})
	if err != nil {
		return 0, err
	}
	tempC, err = s.temperature(bare)
	if err != nil {
		return 0, err
	}
	return onlyIfAll(s, tempC)
}

// onlyIfAll returns the value where nothing is left over, else zero.
func onlyIfAll(s *scanner, value float64) (float64, error) {
	if err := s.end(); err != nil {
		return 0, err
	}
	return value, nil
}

// The temperatures oil and air can have here, in °C: no gear oil is measured
// that is hotter (common practice, no source).
const (
	minTempC = -60
	maxTempC = 150
)

// temperature takes a signed temperature off the front, in °C.
func (s *scanner) temperature(bare TemperatureUnit) (float64, error) {
	sign := s.take("-", "+")
	number, err := s.number()
	if err != nil {
		return 0, err
	}
	reading := number.value
	if sign == "-" {
		reading = 0 - reading // never a negative zero
	}
	unit := bare
	if word, shown := s.word(); word != "" && word != "°" {
		named, ok := temperatureNamed(word)
		if !ok {
			return 0, advise("C or F behind the temperature", "%s is not a temperature scale", quoted(shown))
		}
		unit = named
	}
	tempC := unit.ToC(reading)
	if !(tempC >= minTempC && tempC <= maxTempC) {
		return 0, s.errorf("the temperature is out of range, allowed are %.0f to %.0f °C (%.0f to %.0f °F)",
			float64(minTempC), float64(maxTempC), Fahrenheit.FromC(minTempC), Fahrenheit.FromC(maxTempC))
	}
	return tempC, nil
}

// measure is a kind of number with one unit: how its units are called, how many
// base units they hold, and the largest value, in the base unit.
type measure[U fmt.Stringer] struct {
	named  func(word string) (U, bool)
	factor func(U) float64
	max    float64
	base   U
}

// read takes the whole text as one number in the base unit.
func (m measure[U]) read(s *scanner, bare U) (float64, error) {
	number, err := s.number()
	if err != nil {
		return 0, err
	}
	unit := bare
	if word, shown := s.word(); word != "" {
		found, ok := m.named(word)
		if !ok {
			return 0, s.errorf("%s is not a known unit", quoted(shown))
		}
		unit = found
	}
	value := number.value * m.factor(unit)
	if !(value <= m.max) {
		return 0, s.errorf("%s is too much, at most %.0f %s", quoted(withUnit(number.text, unit.String())), m.max, m.base)
	}
	return onlyIfAll(s, value)
}

// ParseLength reads a length such as 8mm, 1.5 m, 5/16 in or 2 ft in mm.
func ParseLength(typed string, bare LengthUnit) (lengthMM float64, err error) {
	s, err := scan(typed, grammar{like: "a length such as 8 mm, 1.5 m or 5/16 in", small: "mm", big: "m"})
	if err != nil {
		return 0, err
	}
	return measure[LengthUnit]{lengthNamed, LengthUnit.MM, 1e6, Millimetre}.read(s, bare)
}

// ParsePressure reads a gauge pressure such as 100 kPa, 1 bar or 15 psi in kPa.
func ParsePressure(typed string, bare PressureUnit) (pressureKPa float64, err error) {
	s, err := scan(typed, grammar{like: "a pressure such as 100 kPa, 1 bar or 15 psi"})
	if err != nil {
		return 0, err
	}
	return measure[PressureUnit]{pressureNamed, PressureUnit.KPa, 1e4, Kilopascal}.read(s, bare)
}

// ParseTorque reads a torque such as 35 Nm, 26 lbf·ft or 310 lbf in in N·m.
func ParseTorque(typed string, bare TorqueUnit) (torqueNm float64, err error) {
	s, err := scan(typed, grammar{like: "a torque such as 35 Nm, 26 lb-ft or 310 lb-in"})
	if err != nil {
		return 0, err
	}
	s.rest = joinHyphens(s.rest)
	return measure[TorqueUnit]{torqueNamed, TorqueUnit.Nm, 1e4, NewtonMetre}.read(s, bare)
}

// joinHyphens turns the hyphen of lb-ft into the dot of lbf·ft.
func joinHyphens(text string) string {
	runes := []rune(text)
	for i := 1; i+1 < len(runes); i++ {
		if runes[i] == '-' && isUnitRune(runes[i-1]) && isUnitRune(runes[i+1]) {
			runes[i] = '·'
		}
	}
	return string(runes)
}

// ParsePercent reads a percentage such as 2%, 2 or 0.5 % as a fraction: 0.02
// for 2 %. Allowed are 0 to 100 %.
func ParsePercent(typed string) (fraction float64, err error) {
	s, err := scan(typed, grammar{like: "a percentage such as 2 or 0.5 %"})
	if err != nil {
		return 0, err
	}
	number, err := s.number()
	if err != nil {
		return 0, err
	}
	s.take("%")
	if number.value > 100 {
		return 0, s.errorf("%s is too much, at most 100 %%", quoted(number.text+" %"))
	}
	return onlyIfAll(s, number.value/100)
}

// maxPlain is the largest number without a unit of its own.
const maxPlain = 1e9

// ParsePlain reads a number of which only one unit is in use, such as 870,
// 14,5 or 870 kg/m³: what may stand behind it is given, as it is spelled.
func ParsePlain(typed string, units ...string) (float64, error) {
	for _, unit := range units {
		if number, found := strings.CutSuffix(strings.TrimSpace(typed), unit); found {
			typed = number
			break
		}
	}
	s, err := scan(typed, grammar{like: "a plain number such as 870 or 14.5"})
	if err != nil {
		return 0, err
	}
	number, err := s.number()
	if err != nil {
		return 0, err
	}
	if number.value > maxPlain {
		return 0, s.errorf("%s is too much, at most %.0f", quoted(number.text), maxPlain)
	}
	return onlyIfAll(s, number.value)
}

// maxCount is the largest count, of strokes, drops or bottles.
const maxCount = 1_000_000

// ParseCount reads a whole number from 0 to a million.
func ParseCount(typed string) (int, error) {
	s, err := scan(typed, grammar{like: "a whole number such as 12"})
	if err != nil {
		return 0, err
	}
	count := s.digitRun()
	if count == "" || s.rest != "" {
		return 0, s.errorf("%s is not a whole number", quoted(typed))
	}
	n, err := strconv.Atoi(count)
	if err != nil || n > maxCount {
		return 0, s.errorf("%s is too much, at most %d", quoted(count), maxCount)
	}
	return n, nil
}
