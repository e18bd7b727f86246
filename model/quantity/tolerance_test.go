// Tests of ranges and tolerances, in the forms that manuals print (common
// practice, no source).

package quantity

import (
	"math"
	"testing"
)

func TestParseRange(t *testing.T) {
	for _, row := range []struct {
		typed     string
		bare      Units
		low, high float64
	}{
		{"4.3-4.5 L", Metric(), 4300, 4500},
		{"4.3 - 4.5 L", Metric(), 4300, 4500},
		{"4,3–4,5 l", Metric(), 4300, 4500},
		{"4.3 to 4.5 L", Metric(), 4300, 4500},
		{"4.3 L to 4.5 L", Metric(), 4300, 4500},
		{"4.3…4.5 L", Metric(), 4300, 4500},
		{"4300-4500", Metric(), 4300, 4500},
		{"4.3-4.5", Units{Volume: Litre}, 4300, 4500},
		{"900 ml - 1.1 L", Metric(), 900, 1100},
		{"4.4 ± 0.1 L", Metric(), 4300, 4500},
		{"4.4 +/- 0.1 L", Metric(), 4300, 4500},
		{"4.4 L", Metric(), 4400, 4400},
		{"900", Metric(), 900, 900},
		{"1-1 1/2 qt", US(), usQuartML, 1.5 * usQuartML},
		{"28-30", US(), 28 * usFlOzML, 30 * usFlOzML},
		{"0", Metric(), 0, 0},
		{"500-1500", Metric(), 500, 1500},
	} {
		low, high, err := ParseRange(row.typed, row.bare)
		if err != nil {
			t.Errorf("%q is refused: %v", row.typed, err)
		} else if math.Abs(low-row.low) > 1e-9 || math.Abs(high-row.high) > 1e-9 {
			t.Errorf("%q is %g to %g, want %g to %g", row.typed, low, high, row.low, row.high)
		}
	}
}

func TestParseRangeRefuses(t *testing.T) {
	const like = ": type a volume or a range such as 4.4 L or 4.3-4.5 L"
	parse := func(typed string, bare Units) ([2]float64, error) {
		low, high, err := ParseRange(typed, bare)
		return [2]float64{low, high}, err
	}
	checkRefusals(t, parse, []refusal{
		{"", Metric(), "nothing typed" + like},
		{"4.5-4.3 L", Metric(), "a range goes from low to high" + like},
		{"1-1/2 qt", US(), "a range goes from low to high" + like},
		{"900-1.1 L", Metric(), "a range goes from low to high" + like},
		{"500-1501", Metric(), "500 to 1501 ml is too wide for one capacity" + like},
		{"4.3-45 L", Metric(), "4300 to 45000 ml is too wide for one capacity" + like},
		{"4.3 L - 4500", Metric(), `the unit of "4500" is not clear: type a unit at the end`},
		{"-4.3 L", Metric(), "a number below zero is not allowed here" + like},
		{"4.3-", Metric(), "a number is missing at the end" + like},
		{"4.3-4.5-4.7 L", Metric(), `"-4.7 L" is not understood` + like},
		{"0.1 ± 0.2 L", Metric(), "the range must lie in 0 to 1000000 ml" + like},
		{"900-1001 L", Metric(), "the range must lie in 0 to 1000000 ml" + like},
		{"4.3-4.5 kg", Metric(), `"kg" is a weight, a volume is wanted` + like},
		{"4.3-4.5 foo", Metric(), `"foo" is not a known unit` + like},
		{"1,500 ml", Metric(), `the comma in "1,500" is ambiguous: type 1500 ml or 1.5 L`},
	})
}

func TestParseTolerance(t *testing.T) {
	for _, row := range []struct {
		typed string
		bare  Units
		want  Tolerance
	}{
		{"50", Metric(), Tolerance{MinusML: 50, PlusML: 50}},
		{"±50 ml", Metric(), Tolerance{MinusML: 50, PlusML: 50}},
		{"+/-50", Metric(), Tolerance{MinusML: 50, PlusML: 50}},
		{"+-50", Metric(), Tolerance{MinusML: 50, PlusML: 50}},
		{"0.05 L", Metric(), Tolerance{MinusML: 50, PlusML: 50}},
		{"2", US(), Tolerance{MinusML: 2 * usFlOzML, PlusML: 2 * usFlOzML}},
		{"+20 -50", Metric(), Tolerance{MinusML: 50, PlusML: 20}},
		{"-50 +20", Metric(), Tolerance{MinusML: 50, PlusML: 20}},
		{"-50+20 ml", Metric(), Tolerance{MinusML: 50, PlusML: 20}},
		{"-50/+20", Metric(), Tolerance{MinusML: 50, PlusML: 20}},
		{"−50 ⁄ +20 ml", Metric(), Tolerance{MinusML: 50, PlusML: 20}},
		{"+0.02 -0.05 L", Metric(), Tolerance{MinusML: 50, PlusML: 20}},
		{"+20 ml -0.05 L", Metric(), Tolerance{MinusML: 50, PlusML: 20}},
		{"-50 +0", Metric(), Tolerance{MinusML: 50}},
		{"5%", Metric(), Tolerance{MinusFraction: 0.05, PlusFraction: 0.05}},
		{"± 5 %", Metric(), Tolerance{MinusFraction: 0.05, PlusFraction: 0.05}},
		{"+2 -5 %", Metric(), Tolerance{MinusFraction: 0.05, PlusFraction: 0.02}},
		{"+20 ml -5 %", Metric(), Tolerance{MinusFraction: 0.05, PlusML: 20}},
		{"0", Metric(), Tolerance{}},
	} {
		got, err := ParseTolerance(row.typed, row.bare)
		if err != nil {
			t.Errorf("%q is refused: %v", row.typed, err)
		} else if !sameTolerance(got, row.want, 1e-9) {
			t.Errorf("%q is %+v, want %+v", row.typed, got, row.want)
		}
	}
}

// sameTolerance reports whether two tolerances agree in all limits.
func sameTolerance(a, b Tolerance, within float64) bool {
	return math.Abs(a.MinusML-b.MinusML) <= within && math.Abs(a.PlusML-b.PlusML) <= within &&
		math.Abs(a.MinusFraction-b.MinusFraction) <= within && math.Abs(a.PlusFraction-b.PlusFraction) <= within
}

func TestParseToleranceRefuses(t *testing.T) {
	const like = ": type a tolerance such as 50 ml, +20 -50 ml or 5%"
	checkRefusals(t, ParseTolerance, []refusal{
		{"", Metric(), "nothing typed" + like},
		{"-50", Metric(), "a lopsided tolerance needs a + and a -" + like},
		{"+20", Metric(), "a lopsided tolerance needs a + and a -" + like},
		{"+20 +50", Metric(), "a lopsided tolerance needs a + and a -" + like},
		{"50 -20", Metric(), `"-20" is not understood` + like},
		{"50/20", Metric(), `"50/20" is not a fraction such as 1/2, 3/4 or 5/16` + like},
		{"+20 -", Metric(), "a number is missing at the end" + like},
		{"+20 ml -50", Metric(), `the unit of "50" is not clear: type a unit at the end`},
		{"50 g", Metric(), `"g" is a weight, a volume is wanted` + like},
		{"101%", Metric(), "the tolerance is too much, at most 1000000 ml or 100 %" + like},
		{"1001 L", Metric(), "the tolerance is too much, at most 1000000 ml or 100 %" + like},
		{"+1001 L -5 L", Metric(), "the tolerance is too much, at most 1000000 ml or 100 %" + like},
		{"-1001 L +5 L", Metric(), "the tolerance is too much, at most 1000000 ml or 100 %" + like},
		{"5 % ml", Metric(), `"ml" is not understood` + like},
	})
}

func TestToleranceOfACapacity(t *testing.T) {
	for _, row := range []struct {
		tolerance   Tolerance
		minus, plus float64
	}{
		{Tolerance{MinusML: 50, PlusML: 20}, 50, 20},
		{Tolerance{MinusFraction: 0.05, PlusFraction: 0.02}, 45, 18}, // of 900 ml
		{Tolerance{MinusFraction: 0.05, PlusML: 20}, 45, 20},
	} {
		if minus, plus := row.tolerance.Of(900); !near(minus, row.minus, 1e-12) || !near(plus, row.plus, 1e-12) {
			t.Errorf("%+v of 900 ml is -%g +%g, want -%g +%g", row.tolerance, minus, plus, row.minus, row.plus)
		}
	}
}
