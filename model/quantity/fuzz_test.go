// Fuzz targets for every parser. What must hold for any text: no panic; on an
// error a zero result and one line that says what to type; otherwise a finite
// number in its limits that reads back from its own print.

package quantity

import (
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

// failer is what checks need of a test.
type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

// presets are the units the targets run in.
func presets() []Units {
	return []Units{Metric(), litres(), US(), Imperial(), {Volume: USQuart, Mass: Pound}, {Volume: ImperialGallon}}
}

// seedWith adds seeds common to all parsers and those of one.
func seedWith(f *testing.F, typed ...string) {
	for _, s := range append(typed, "", " ", "-", "1/", "1 1/", ",", ".", "½", "９", "1,000", "1,5", "±", "\x00", "\xff",
		"\u202e1", "9e999", "NaN", strings.Repeat("9", 200), strings.Repeat("1+", 100)) {
		f.Add(s)
	}
}

// checkError holds an error to its form.
func checkError(t failer, typed string, err error) {
	t.Helper()
	text := err.Error()
	first, _ := utf8.DecodeRuneInString(text)
	switch {
	case !utf8.ValidString(text), strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }):
		t.Fatalf("%q: the error %q holds what does not show", typed, text)
	case unicode.IsUpper(first), strings.HasSuffix(text, "."):
		t.Fatalf("%q: the error %q is a sentence", typed, text)
	case !strings.Contains(text, ": type "):
		t.Fatalf("%q: the error %q does not say what to type", typed, text)
	case len(text) > 250:
		t.Fatalf("%q: the error has %d bytes", typed, len(text))
	}
}

// checkValue holds a number to its limits.
func checkValue(t failer, typed string, value, least, most float64) {
	t.Helper()
	if !(value >= least && value <= most) || value == 0 && math.Signbit(value) {
		t.Fatalf("%q is %g, outside %g to %g", typed, value, least, most)
	}
}

// checkAmount holds an amount or a refusal to what must be true of any.
func checkAmount(t failer, typed string, a Amount, err error) {
	t.Helper()
	if err != nil {
		checkError(t, typed, err)
		if !reflect.DeepEqual(a, Amount{}) {
			t.Fatalf("%q gives %+v beside its error", typed, a)
		}
		return
	}
	checkValue(t, typed, a.Total, 0, maxAmount)
	sum := 0.0
	for _, part := range a.Parts {
		checkValue(t, typed, part, -maxAmount, maxAmount)
		sum += part
	}
	if len(a.Parts) == 0 || math.Abs(sum-a.Total) > 1e-6 {
		t.Fatalf("%q: readings %v do not add up to %g", typed, a.Parts, a.Total)
	}
	if a.HasTemp {
		checkValue(t, typed, a.AtC, minTempC, maxTempC)
	}
}

// checkEcho reads an amount back from its echo.
func checkEcho(t failer, typed string, a Amount, shown Units) {
	t.Helper()
	for _, part := range a.Parts {
		if math.Abs(part) > 0.99*maxAmount {
			return // rounding up may pass the limit
		}
	}
	echo := Echo(a, shown)
	if len(echo) > maxTyped {
		return // longer than anyone types
	}
	back, err := ParseAmount(echo, shown)
	if err != nil {
		t.Fatalf("%q is echoed as %q, which is refused: %v", typed, echo, err)
	}
	if back.Kind != a.Kind || back.HasTemp != a.HasTemp || len(back.Parts) != len(a.Parts) {
		t.Fatalf("%q is %+v, its echo %q is %+v", typed, a, echo, back)
	}
	factor := shown.Volume.Factor()
	if a.Kind == Mass {
		factor = shown.Mass.Factor()
	}
	numbers := strings.FieldsFunc(echo, func(r rune) bool { return r == '+' || r == '-' || r == '=' })
	for i, part := range a.Parts {
		if half := halfDigit(strings.TrimSpace(numbers[i]), factor); math.Abs(back.Parts[i]-part) > half+1e-9*math.Abs(part) {
			t.Fatalf("%q: reading %d is %g, in its echo %q %g", typed, i, part, echo, back.Parts[i])
		}
	}
	if math.Abs(back.AtC-a.AtC) > 0.05001 {
		t.Fatalf("%q is at %g °C, in its echo %q at %g", typed, a.AtC, echo, back.AtC)
	}
}

// fuzzAmount is the target of the three parsers of amounts.
func fuzzAmount(f *testing.F, parse func(string, Units) (Amount, error)) {
	seedWith(f, "830", "830ml", "0.83 L", "0,83l", "28.1 floz", "1 1/2 qt", "500+330", "1 qt + 4 floz", "500+330ml",
		"830@60C", "830 @ 140F", "905g", "1235-330 g", "1.235 kg - 330 g", "1,500 ml", "500+330=830", "1-1/2 qt", "28 oz")
	f.Fuzz(func(t *testing.T, typed string) {
		for _, bare := range presets() {
			a, err := parse(typed, bare)
			checkAmount(t, typed, a, err)
			if err == nil {
				checkEcho(t, typed, a, bare)
			}
		}
	})
}

func FuzzParseAmount(f *testing.F) { fuzzAmount(f, ParseAmount) }
func FuzzParseVolume(f *testing.F) { fuzzAmount(f, ParseVolume) }
func FuzzParseMass(f *testing.F)   { fuzzAmount(f, ParseMass) }

// fuzzScalar is the target of a parser of one number: parse and print are tried
// in every one of the given units.
func fuzzScalar[U any](f *testing.F, units []U, least, most float64,
	parse func(string, U) (float64, error), print func(U, float64) string, factor func(U, float64) float64) {
	f.Fuzz(func(t *testing.T, typed string) {
		for _, unit := range units {
			value, err := parse(typed, unit)
			checkParsed(t, typed, least, most)(value, err)
			if err != nil || math.Abs(value) > 0.99*most {
				continue // rounding up may pass the limit
			}
			text := print(unit, value)
			back, err := parse(text, unit)
			half := halfDigit(strings.ReplaceAll(text, " ", ""), factor(unit, value))
			if err != nil || math.Abs(back-value) > half+1e-9*math.Abs(value) {
				t.Fatalf("%q is %g, prints as %q and reads back as %g (%v)", typed, value, text, back, err)
			}
		}
	})
}

func FuzzParseTemperature(f *testing.F) {
	seedWith(f, "60", "60C", "60 °C", "140F", "-5", "-40F", "300", "60º", "℃")
	fuzzScalar(f, []Unit[temperature]{Celsius, Fahrenheit}, minTempC, maxTempC, ParseTemperature,
		func(u Unit[temperature], tempC float64) string { return Units{Temperature: u}.FormatTemperature(tempC) },
		func(Unit[temperature], float64) float64 { return 1 })
}

func FuzzParseDistance(f *testing.F) {
	seedWith(f, "123456", "123 456 km", "76,000 mi", "12.5k", "76.000,5", "1'234'567", "0,500")
	fuzzScalar(f, []DistanceUnit{Kilometre, Mile}, 0, maxDistanceKm, ParseDistance,
		func(u DistanceUnit, km float64) string { return Units{Distance: u}.FormatDistance(km) },
		func(u DistanceUnit, _ float64) float64 { return u.Factor() })
}

func FuzzParseLength(f *testing.F) {
	seedWith(f, "8mm", "1.5 m", "5/16 in", `5/16"`, "2 ft", "1 1/4 in", "80 cm")
	metricOrInch := func(u Unit[length]) Units {
		if u >= Inch {
			return US()
		}
		return Metric()
	}
	fuzzScalar(f, []Unit[length]{Millimetre, Metre, Inch, Foot}, 0, 1e6, ParseLength,
		func(u Unit[length], mm float64) string { return metricOrInch(u).FormatLength(mm) },
		func(u Unit[length], mm float64) float64 { return metricOrInch(u).lengthUnit(mm).Factor() })
}

func FuzzParsePressure(f *testing.F) {
	seedWith(f, "100kPa", "1 bar", "15psi", "0,5 bar")
	fuzzScalar(f, []Unit[pressure]{Kilopascal, Bar, PSI}, 0, 1e5, ParsePressure,
		func(u Unit[pressure], kPa float64) string { return Units{Pressure: u}.FormatPressure(kPa) },
		func(u Unit[pressure], _ float64) float64 { return u.Factor() })
}

func FuzzParseTorque(f *testing.F) {
	seedWith(f, "35 Nm", "35 N·m", "26 lbf·ft", "26 lb-ft", "310 lbf in")
	fuzzScalar(f, []Unit[torque]{NewtonMetre, PoundFoot, PoundInch}, 0, 1e4, ParseTorque,
		func(u Unit[torque], nm float64) string { return Units{Torque: u}.FormatTorque(nm) },
		func(u Unit[torque], _ float64) float64 { return u.Factor() })
}

func FuzzParsePercent(f *testing.F) {
	seedWith(f, "2%", "2", "0.5 %", "101")
	fuzzScalar(f, []Units{Metric()}, 0, 1,
		func(typed string, _ Units) (float64, error) { return ParsePercent(typed) },
		func(_ Units, fraction float64) string { return trimmed(100*fraction, 6) + " %" },
		func(Units, float64) float64 { return 0.01 })
}

func FuzzParsePlain(f *testing.F) {
	seedWith(f, "870", "14,5", "1e3", "0x10", "14 1/2", "870 kg/m³")
	fuzzScalar(f, []Units{Metric()}, 0, maxPlain,
		func(typed string, _ Units) (float64, error) { return ParsePlain(typed, "kg/m³") },
		func(_ Units, x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) },
		func(Units, float64) float64 { return 1e-9 })
}

func FuzzParseCount(f *testing.F) {
	seedWith(f, "12", "007", "1000001")
	f.Fuzz(func(t *testing.T, typed string) {
		count, err := ParseCount(typed)
		if err != nil {
			checkError(t, typed, err)
		}
		if count < 0 || count > maxCount || err != nil && count != 0 {
			t.Fatalf("%q is %d (%v)", typed, count, err)
		}
	})
}

func FuzzParseRange(f *testing.F) {
	seedWith(f, "4.3-4.5 L", "4.3 to 4.5 L", "4.4 ± 0.1 L", "900", "4.5-4.3", "1-1 1/2 qt", "4.3 L - 4500")
	f.Fuzz(func(t *testing.T, typed string) {
		for _, bare := range presets() {
			low, high, err := ParseRange(typed, bare)
			if err != nil {
				checkError(t, typed, err)
				if low != 0 || high != 0 {
					t.Fatalf("%q gives %g to %g beside its error", typed, low, high)
				}
				continue
			}
			checkValue(t, typed, low, 0, high)
			checkValue(t, typed, high, low, maxAmount)
		}
	})
}

func FuzzParseTolerance(f *testing.F) {
	seedWith(f, "50", "±50 ml", "+20 -50", "-50+20 ml", "-50/+20", "5%", "+2 -5 %", "+/-50", "+-50")
	f.Fuzz(func(t *testing.T, typed string) {
		for _, bare := range presets() {
			tolerance, err := ParseTolerance(typed, bare)
			if err != nil {
				checkError(t, typed, err)
				if tolerance != (Tolerance{}) {
					t.Fatalf("%q gives %+v beside its error", typed, tolerance)
				}
				continue
			}
			for _, limit := range []float64{tolerance.MinusML, tolerance.PlusML} {
				checkValue(t, typed, limit, 0, maxAmount)
			}
			for _, limit := range []float64{tolerance.MinusFraction, tolerance.PlusFraction} {
				checkValue(t, typed, limit, 0, 1)
			}
		}
	})
}
