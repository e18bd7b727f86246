// Tests of the parsers of one number with one unit, and of odometers. The forms
// are those in use in a garage (common practice, no source).

package quantity

import (
	"math"
	"testing"
)

// taken is a text and the number it must be read as.
type taken[U any] struct {
	typed string
	bare  U
	want  float64
}

// turned is a text and the refusal it must meet.
type turned[U any] struct {
	typed string
	bare  U
	want  string
}

// checkScalar runs a parser of one number over what it takes and refuses.
func checkScalar[U any](t *testing.T, parse func(string, U) (float64, error), takes []taken[U], refuses []turned[U]) {
	t.Helper()
	for _, row := range takes {
		got, err := parse(row.typed, row.bare)
		if err != nil {
			t.Errorf("%q is refused: %v", row.typed, err)
		} else if math.Abs(got-row.want) > 1e-9*math.Max(1, math.Abs(row.want)) {
			t.Errorf("%q is %.12g, want %.12g", row.typed, got, row.want)
		}
	}
	for _, row := range refuses {
		got, err := parse(row.typed, row.bare)
		switch {
		case err == nil:
			t.Errorf("%q is taken for %g", row.typed, got)
		case err.Error() != row.want:
			t.Errorf("%q: %q, want %q", row.typed, err, row.want)
		case got != 0:
			t.Errorf("%q gives %g beside its error", row.typed, got)
		}
	}
}

func TestParseTemperature(t *testing.T) {
	const like = ": type a temperature such as 60, 60 C or 140 F"
	const limits = "the temperature is out of range, allowed are -60 to 150 °C (-76 to 302 °F)" + like
	checkScalar(t, ParseTemperature, []taken[Unit[temperature]]{
		{"60", Celsius, 60},
		{"60C", Celsius, 60},
		{"60 c", Fahrenheit, 60},
		{"60 °C", Celsius, 60},
		{"60°", Celsius, 60},
		{"60 deg C", Celsius, 60},
		{"60℃", Celsius, 60},
		{"140F", Celsius, 60},
		{"140 °F", Celsius, 60},
		{"140", Fahrenheit, 60},
		{"-5", Celsius, -5},
		{"−5 °C", Celsius, -5},
		{"+5", Celsius, 5},
		{"-40", Fahrenheit, -40},
		{"37,5", Celsius, 37.5},
		{"150", Celsius, 150},
		{"302 F", Celsius, 150},
		{"-60", Celsius, -60},
	}, []turned[Unit[temperature]]{
		{"", Celsius, "nothing typed" + like},
		{"warm", Celsius, "a number is missing before 'w'" + like},
		{"--5", Celsius, "a number below zero is not allowed here" + like},
		{"300", Celsius, limits},
		{"201 C", Celsius, limits},
		{"393 F", Celsius, limits},
		{"-61", Celsius, limits},
		{"333 K", Celsius, `"K" is not a temperature scale: type C or F behind the temperature`},
		{"60 C 5", Celsius, `"5" is not understood` + like},
		{"40-50", Celsius, `"-50" is not understood` + like},
	})
	if tempC, err := ParseTemperature("-0", Celsius); err != nil || math.Signbit(tempC) {
		t.Errorf("-0 is %g, %v", tempC, err)
	}
}

func TestParseDistance(t *testing.T) {
	const like = ": type a distance such as 123456 km or 76,000 mi"
	checkScalar(t, ParseDistance, []taken[DistanceUnit]{
		{"123456", Kilometre, 123456},
		{"123456 km", Mile, 123456},
		{"123 456 km", Kilometre, 123456},
		{"123,456", Kilometre, 123456},
		{"123.456", Kilometre, 123456},
		{"123'456 km", Kilometre, 123456},
		{"1 234 567", Kilometre, 1234567},
		{"76,000 mi", Kilometre, 76000 * 1.609344},
		{"76000", Mile, 76000 * 1.609344},
		{"76,000.5 mi", Kilometre, 76000.5 * 1.609344},
		{"76.000,5 km", Kilometre, 76000.5},
		{"123456.7", Kilometre, 123456.7},
		{"123 456,7 km", Kilometre, 123456.7},
		{"123\u202f456 km", Kilometre, 123456},
		{"0", Kilometre, 0},
		{"0.5 km", Kilometre, 0.5},
		{"0,500 km", Kilometre, 0.5},
		{"1,2345 km", Kilometre, 1.2345}, // four digits are no group
		{"999 km", Kilometre, 999},
	}, []turned[DistanceUnit]{
		{"", Kilometre, "nothing typed" + like},
		{"12 34 km", Kilometre, `"12 34 km" has a space inside a number` + like},
		{"12.5k", Kilometre, `"k" is not a known unit` + like},
		{"123 m", Kilometre, `"m" is not a known unit` + like},
		{"-5 km", Kilometre, "a number below zero is not allowed here" + like},
		{"1,23,456", Kilometre, `"1,23,456" has more than one point or comma` + like},
		{"20000000", Kilometre, `"20000000 km" is too much, at most 10000000 km` + like},
		{"9000000 mi", Kilometre, `"9000000 mi" is too much, at most 6213712 mi` + like},
	})
}

func TestParseLength(t *testing.T) {
	const like = ": type a length such as 8 mm, 1.5 m or 5/16 in"
	checkScalar(t, ParseLength, []taken[Unit[length]]{
		{"8mm", Metre, 8},
		{"8", Millimetre, 8},
		{"1.5 m", Millimetre, 1500},
		{"1,5 m", Millimetre, 1500},
		{"1.5", Metre, 1500},
		{"80 cm", Millimetre, 800},
		{"5/16 in", Millimetre, 7.9375},
		{`5/16"`, Millimetre, 7.9375},
		{"5/16″", Millimetre, 7.9375},
		{"5/16”", Millimetre, 7.9375},
		{"2’", Millimetre, 609.6},
		{"1 1/4 in", Millimetre, 31.75},
		{"3/8", Inch, 9.525},
		{"2 ft", Millimetre, 609.6},
		{"2'", Millimetre, 609.6},
		{"5", Foot, 1524},
		{"0", Millimetre, 0},
	}, []turned[Unit[length]]{
		{"", Millimetre, "nothing typed" + like},
		{"8 miles", Millimetre, `"miles" is not a known unit` + like},
		{"-8 mm", Millimetre, "a number below zero is not allowed here" + like},
		{"1,500", Metre, `the comma in "1,500" is ambiguous: type 1500 mm or 1.5 m`},
		{"1,500 mm", Metre, `the comma in "1,500" is ambiguous: type 1500 mm or 1.5 m`},
		{"1,500 ft", Metre, `the comma in "1,500" is ambiguous: type 1500 ft or 1.5 ft`},
		{`5' 6"`, Millimetre, `"6\"" is not understood` + like},
		{"1001 m", Millimetre, `"1001 m" is too much, at most 1000 m` + like},
		{"8 mm x 1.5 m", Millimetre, `"mm x" is not a known unit` + like},
	})
}

func TestParsePressure(t *testing.T) {
	const like = ": type a pressure such as 2 bar or 29 psi"
	checkScalar(t, ParsePressure, []taken[Unit[pressure]]{
		{"100kPa", Bar, 100},
		{"100 KPA", Bar, 100},
		{"1 bar", Kilopascal, 100},
		{"0,5 bar", Kilopascal, 50},
		{"0.5", Bar, 50},
		{"15psi", Kilopascal, 15 * 6.894757293168361}, // factor: see units_test.go
		{"15", PSI, 15 * 6.894757293168361},
		{"0", Kilopascal, 0},
	}, []turned[Unit[pressure]]{
		{"", Bar, "nothing typed" + like},
		{"1 atm", Bar, `"atm" is not a known unit` + like},
		{"-1 bar", Bar, "a number below zero is not allowed here" + like},
		{"1001 bar", Bar, `"1001 bar" is too much, at most 1000 bar` + like},
		{"1,000 kPa", Bar, `the comma in "1,000" is ambiguous: type 1000 kPa or 1 kPa`},
	})
}

func TestParseTorque(t *testing.T) {
	const like = ": type a torque such as 35 Nm, 26 lb-ft or 310 lb-in"
	const lbfFtNm = 1.3558179483314004 // see units_test.go
	checkScalar(t, ParseTorque, []taken[Unit[torque]]{
		{"35 Nm", PoundFoot, 35},
		{"35nm", PoundFoot, 35},
		{"35 N·m", PoundFoot, 35},
		{"35 N m", PoundFoot, 35},
		{"35 N-m", PoundFoot, 35},
		{"35 N.m", PoundFoot, 35},
		{"35 N*m", PoundFoot, 35},
		{"35", NewtonMetre, 35},
		{"26 lbf·ft", NewtonMetre, 26 * lbfFtNm},
		{"26 lb-ft", NewtonMetre, 26 * lbfFtNm},
		{"26 ft-lb", NewtonMetre, 26 * lbfFtNm},
		{"26 ft lbs", NewtonMetre, 26 * lbfFtNm},
		{"26 lbf ft", NewtonMetre, 26 * lbfFtNm},
		{"26 ft-lbf", NewtonMetre, 26 * lbfFtNm},
		{"26", PoundFoot, 26 * lbfFtNm},
		{"310 lbf in", NewtonMetre, 310 * lbfFtNm / 12},
		{"310 in-lb", NewtonMetre, 310 * lbfFtNm / 12},
		{"310", PoundInch, 310 * lbfFtNm / 12},
	}, []turned[Unit[torque]]{
		{"", NewtonMetre, "nothing typed" + like},
		{"35 N", NewtonMetre, `"N" is not a known unit` + like},
		{"26 lb", NewtonMetre, `"lb" is not a known unit` + like},
		{"35-40 Nm", NewtonMetre, `"-40 Nm" is not understood` + like},
		{"26-lbft", NewtonMetre, `"-lbft" is not understood` + like},
		{"35 Nm-", NewtonMetre, `"-" is not understood` + like},
		{"10001", NewtonMetre, `"10001 N·m" is too much, at most 10000 N·m` + like},
	})
}

func TestParsePercent(t *testing.T) {
	const like = ": type a percentage such as 2 or 0.5 %"
	percent := func(typed string, _ Units) (float64, error) { return ParsePercent(typed) }
	checkScalar(t, percent, []taken[Units]{
		{"2%", Metric(), 0.02},
		{"2", Metric(), 0.02},
		{"0.5 %", Metric(), 0.005},
		{"0,5 %", Metric(), 0.005},
		{"８％", Metric(), 0.08},
		{"0", Metric(), 0},
		{"100 %", Metric(), 1},
	}, []turned[Units]{
		{"", Metric(), "nothing typed" + like},
		{"%", Metric(), "a number is missing before '%'" + like},
		{"-2 %", Metric(), "a number below zero is not allowed here" + like},
		{"101", Metric(), `"101 %" is too much, at most 100 %` + like},
		{"2 %%", Metric(), `"%" is not understood` + like},
		{"2 ml", Metric(), `"ml" is not understood` + like},
	})
}

func TestParseCount(t *testing.T) {
	const like = ": type a whole number such as 12"
	for typed, want := range map[string]int{"12": 12, " 12 ": 12, "0": 0, "007": 7, "１２": 12, "1000000": 1000000} {
		if got, err := ParseCount(typed); err != nil || got != want {
			t.Errorf("%q is %d (%v), want %d", typed, got, err, want)
		}
	}
	for typed, want := range map[string]string{
		"":                     "nothing typed" + like,
		"1.5":                  `"1.5" is not a whole number` + like,
		"-1":                   `"-1" is not a whole number` + like,
		"+1":                   `"+1" is not a whole number` + like,
		"12 x":                 `"12 x" is not a whole number` + like,
		"1,200":                `"1,200" is not a whole number` + like,
		"1000001":              `"1000001" is too much, at most 1000000` + like,
		"99999999999999999999": `"99999999999999999999" is too much, at most 1000000` + like,
	} {
		if got, err := ParseCount(typed); err == nil || err.Error() != want || got != 0 {
			t.Errorf("%q is %d (%v), want the error %q", typed, got, err, want)
		}
	}
}

func TestParsePlain(t *testing.T) {
	const like = ": type a plain number such as 870 or 14.5"
	density := func(typed string, _ Units) (float64, error) { return ParsePlain(typed, "kg/m3", "kg/m³") }
	checkScalar(t, density, []taken[Units]{
		{"870", Metric(), 870},
		{" 870 kg/m3 ", Metric(), 870},
		{"870kg/m³", Metric(), 870},
		{"14.5", Metric(), 14.5},
		{"14,5", Metric(), 14.5},
		{"0,870", Metric(), 0.87},
		{"1234,567", Metric(), 1234.567},
		{"14 1/2", Metric(), 14.5},
		{"０", Metric(), 0},
		{"1000000000", Metric(), 1e9},
	}, []turned[Units]{
		{"", Metric(), "nothing typed" + like},
		{"kg/m3", Metric(), "nothing typed" + like},
		{"1,000", Metric(), `the comma in "1,000" is ambiguous: type 1000 or 1`},
		{"1,650 kg/m3", Metric(), `the comma in "1,650" is ambiguous: type 1650 or 1.65`},
		{"-870", Metric(), "a number below zero is not allowed here" + like},
		{"1e3", Metric(), `"e3" is not understood` + like},
		{"0x10", Metric(), `"x10" is not understood` + like},
		{"1_000", Metric(), `"_000" is not understood` + like},
		{"870 g", Metric(), `"g" is not understood` + like},
		{"1000000001", Metric(), `"1000000001" is too much, at most 1000000000` + like},
		{"Inf", Metric(), "a number is missing before 'I'" + like},
		{"NaN", Metric(), "a number is missing before 'N'" + like},
	})
}

// 50 mm on 2700 mm are 1.06°, as far as a ramp of 1 in 54 rises: computed. 45° is a rise as long as its run.
func TestParseTilt(t *testing.T) {
	const like = ": type a plain number such as 870 or 14.5"
	tilt := func(typed string, _ Units) (float64, error) {
		degrees, err := ParseTilt(typed)
		return math.Round(1e4*degrees) / 1e4, err
	}
	checkScalar(t, tilt, []taken[Units]{
		{"1.5", Metric(), 1.5}, {"1.5°", Metric(), 1.5}, {"2 deg", Metric(), 2}, {"0", Metric(), 0},
		{"50/2700", Metric(), 1.0609}, {"50 mm / 2700 mm", Metric(), 1.0609}, {"7/7", Metric(), 45}, {"0/2700", Metric(), 0},
	}, []turned[Units]{
		{"50/0", Metric(), "a length above 0 stands behind the stroke, such as 50/2700"},
		{"/2700", Metric(), "nothing typed" + like}, {"50/", Metric(), "nothing typed" + like},
		{"-1.5", Metric(), "a number below zero is not allowed here" + like},
	})
}

func TestParseSigned(t *testing.T) {
	signed := func(typed string, _ Units) (float64, error) { return ParseSigned(typed, "ml") }
	checkScalar(t, signed, []taken[Units]{
		{"-2", Metric(), -2}, {"− 2.5 ml", Metric(), -2.5}, {"+4.5", Metric(), 4.5}, {" 3 ml", Metric(), 3}, {"-0", Metric(), 0},
	}, []turned[Units]{{"-2 g", Metric(), `"g" is not understood: type a plain number such as 870 or 14.5`}})
}
