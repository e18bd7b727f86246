// Parsers of one number with one unit: temperature, distance, length, pressure,
// torque, percentage, count, and any other number.

package quantity

import (
	"errors"
	"math"
	"strconv"
	"strings"
)

// ParseTemperature reads a temperature such as 60, 60C, 140 °F or -5 in °C; a
// number without unit is on the bare scale.
func ParseTemperature(typed string, bare Unit[temperature]) (tempC float64, err error) {
	return parse(typed, grammar{like: "a temperature such as 60, 60 C or 140 F"},
		func(s *scanner) (float64, error) { return s.temperature(bare) })
}

// The temperatures oil and air can have here, in °C: no gear oil is measured
// that is hotter (common practice, no source).
const (
	minTempC = -60.0
	maxTempC = 150.0
)

// temperature takes a signed temperature off the front, in °C.
func (s *scanner) temperature(bare Unit[temperature]) (float64, error) {
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
		known := false
		if unit, known = named[temperature](strings.TrimPrefix(word, "°")); !known {
			return 0, advise("C or F behind the temperature", "%s is not a temperature scale", quoted(shown))
		}
	}
	tempC := toC(unit, reading)
	if !(tempC >= minTempC && tempC <= maxTempC) {
		return 0, s.errorf("the temperature is out of range, allowed are %.0f to %.0f °C (%.0f to %.0f °F)",
			minTempC, maxTempC, fromC(Fahrenheit, minTempC), fromC(Fahrenheit, maxTempC))
	}
	return tempC, nil
}

// inBase takes a number and a unit off the front, in the base unit: at most most.
func inBase[D dimension](s *scanner, bare Unit[D], most float64) (float64, error) {
	number, err := s.number()
	if err != nil {
		return 0, err
	}
	unit := bare
	if word, shown := s.word(); word != "" {
		known := false
		if unit, known = named[D](word); !known {
			return 0, s.errorf("%s is not a known unit", quoted(shown))
		}
	}
	value := number.value * unit.Factor()
	if !(value <= most) {
		return 0, s.errorf("%s is too much, at most %s", quoted(withUnit(number.text, unit.String())),
			withUnit(trimmed(most/unit.Factor(), 0), unit.String()))
	}
	return value, nil
}

// ParseLength reads a length such as 8mm, 1.5 m, 5/16 in or 2 ft in mm.
func ParseLength(typed string, bare Unit[length]) (lengthMM float64, err error) {
	return parse(typed, grammar{like: "a length such as 8 mm, 1.5 m or 5/16 in", small: "mm", big: "m"},
		func(s *scanner) (float64, error) { return inBase(s, bare, 1e6) })
}

// maxPressureKPa is far beyond any vessel: what is meant in another unit than it is
// read in can still be asked for.
const maxPressureKPa = 1e5

// ParsePressure reads a gauge pressure such as 2 bar, 29 psi or 200 kPa in kPa.
func ParsePressure(typed string, bare Unit[pressure]) (pressureKPa float64, err error) {
	return parse(typed, grammar{like: "a pressure such as 2 bar or 29 psi"},
		func(s *scanner) (float64, error) { return inBase(s, bare, maxPressureKPa) })
}

// ParseTorque reads a torque such as 35 Nm, 26 lbf·ft or 310 lbf in in N·m.
func ParseTorque(typed string, bare Unit[torque]) (torqueNm float64, err error) {
	return parse(typed, grammar{like: "a torque such as 35 Nm, 26 lb-ft or 310 lb-in"}, func(s *scanner) (float64, error) {
		s.rest = joinHyphens(s.rest)
		return inBase(s, bare, 1e4)
	})
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

// maxDistanceKm is beyond what any odometer shows.
const maxDistanceKm = 1e7

// ParseDistance reads an odometer such as 123456, 123 456 km or 76,000 mi in
// km. A space, comma, point or apostrophe in front of every group of three
// digits groups thousands, as on the dial and on paper; any other comma or point
// is the decimal one.
func ParseDistance(typed string, bare DistanceUnit) (distanceKm float64, err error) {
	return parse(typed, grammar{like: "a distance such as 123456 km or 76,000 mi"}, func(s *scanner) (float64, error) {
		s.rest = ungroup(s.rest)
		return inBase(s, bare, maxDistanceKm)
	})
}

// ungroup removes the separators of thousands from the number at the front.
func ungroup(text string) string {
	rest := strings.TrimLeft(text, decimalDigits+" .,'")
	number := strings.TrimSuffix(text, rest)
	for _, separator := range []string{" ", ",", ".", "'"} {
		whole, decimals := number, ""
		if i := strings.LastIndexAny(number, ".,"); i >= 0 && number[i:i+1] != separator {
			whole, decimals = number[:i], number[i:]
		}
		groups := strings.Split(strings.TrimRight(whole, " "), separator)
		if isGrouped(groups) {
			return strings.Join(groups, "") + decimals + rest
		}
	}
	return text
}

// isGrouped reports whether the groups are 1 to 3 digits and then threes.
func isGrouped(groups []string) bool {
	if len(groups) < 2 || !looksGrouped(groups[0]) {
		return false
	}
	for _, group := range groups[1:] {
		if len(group) != 3 {
			return false
		}
	}
	return strings.Trim(strings.Join(groups, ""), decimalDigits) == ""
}

// plainNumber reads a number of one unit, which may stand behind it.
func plainNumber(typed, like, unit string, most float64) (float64, error) {
	return parse(typed, grammar{like: like}, func(s *scanner) (float64, error) {
		number, err := s.number()
		if err != nil {
			return 0, err
		}
		if unit != "" {
			s.take(unit)
		}
		if number.value > most {
			return 0, s.errorf("%s is too much, at most %s", quoted(withUnit(number.text, unit)), withUnit(trimmed(most, 0), unit))
		}
		return number.value, nil
	})
}

// ParsePercent reads a percentage such as 2%, 2 or 0.5 % as a fraction: 0.02
// for 2 %. Allowed are 0 to 100 %.
func ParsePercent(typed string) (fraction float64, err error) {
	value, err := plainNumber(typed, "a percentage such as 2 or 0.5 %", percent, 100)
	return value / 100, err
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
	return plainNumber(typed, "a plain number such as 870 or 14.5", "", maxPlain)
}

// maxCount is the largest count, of strokes, drops or bottles.
const maxCount = 1_000_000

// ParseCount reads a whole number from 0 to a million.
func ParseCount(typed string) (int, error) {
	return parse(typed, grammar{like: "a whole number such as 12"}, func(s *scanner) (int, error) {
		count := s.rest
		if s.rest = strings.Trim(s.rest, decimalDigits); s.rest != "" {
			return 0, s.errorf("%s is not a whole number", quoted(typed))
		}
		n, err := strconv.Atoi(count)
		if err != nil || n > maxCount {
			return 0, s.errorf("%s is too much, at most %d", quoted(count), maxCount)
		}
		return n, nil
	})
}

// ParseSigned reads a plain number that can be below 0, such as -2 or +4.5.
func ParseSigned(typed string, units ...string) (float64, error) {
	rest := strings.TrimSpace(typed)
	below := strings.HasPrefix(rest, "-") || strings.HasPrefix(rest, "−")
	x, err := ParsePlain(strings.TrimLeft(rest, "+-− "), units...)
	if below {
		x = -x
	}
	return x, err
}

// ParseTilt reads how far a car is off level: an angle such as 1.5, 1.5°, or the
// difference of height over a length, both in mm, such as 50/2700. The result is
// in degrees, from 0 up.
func ParseTilt(typed string) (degrees float64, err error) {
	rise, run, ratio := strings.Cut(typed, "/")
	if !ratio {
		return ParsePlain(typed, "°", "deg")
	}
	var h, l float64
	if h, err = ParsePlain(rise, "mm"); err == nil {
		l, err = ParsePlain(run, "mm")
	}
	if err == nil && l <= 0 {
		err = errors.New("a length above 0 stands behind the stroke, such as 50/2700")
	}
	if err != nil {
		return 0, err
	}
	return math.Atan(h/l) * 180 / math.Pi, nil
}
