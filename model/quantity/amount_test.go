// Tests of ParseAmount, ParseVolume and ParseMass: what is taken, what is
// refused and in which words. The texts are forms in use in a garage (common
// practice, no source); the factors behind the numbers have their sources in
// units_test.go.

package quantity

import (
	"math"
	"reflect"
	"strings"
	"testing"
)

// Exact sizes used below, as published (see units_test.go).
const (
	usFlOzML  = 29.5735295625
	usQuartML = 946.352946
	impFlOzML = 28.4130625
	ounceG    = 28.349523125
)

// sameAmount reports whether two amounts agree but for rounding.
func sameAmount(a, b Amount) bool {
	if a.Kind != b.Kind || a.HasTemp != b.HasTemp || len(a.Parts) != len(b.Parts) {
		return false
	}
	for i := range a.Parts {
		if math.Abs(a.Parts[i]-b.Parts[i]) > 1e-9 {
			return false
		}
	}
	return math.Abs(a.Total-b.Total) < 1e-9 && math.Abs(a.AtC-b.AtC) < 1e-9
}

// ml and g are amounts with the given readings.
func ml(parts ...float64) Amount { return amountOf(Volume, parts) }
func g(parts ...float64) Amount  { return amountOf(Mass, parts) }

func amountOf(kind Kind, parts []float64) Amount {
	a := Amount{Kind: kind, Parts: parts}
	for _, part := range parts {
		a.Total += part
	}
	return a
}

// at is the amount with the temperature of the oil.
func (a Amount) at(tempC float64) Amount {
	a.AtC, a.HasTemp = tempC, true
	return a
}

// amountRow is a text, the units it is typed in, and the amount it means.
type amountRow struct {
	typed string
	bare  Units
	want  Amount
}

// checkAmounts runs a parser over what it takes.
func checkAmounts(t *testing.T, parse func(string, Units) (Amount, error), rows []amountRow) {
	t.Helper()
	for _, row := range rows {
		got, err := parse(row.typed, row.bare)
		if err != nil {
			t.Errorf("%q is refused: %v", row.typed, err)
		} else if !sameAmount(got, row.want) {
			t.Errorf("%q is %+v, want %+v", row.typed, got, row.want)
		}
	}
}

func TestParseAmountOneReading(t *testing.T) {
	checkAmounts(t, ParseAmount, []amountRow{
		// One reading.
		{"830", Metric(), ml(830)},
		{"830ml", Metric(), ml(830)},
		{"830 ML", Metric(), ml(830)},
		{"  830   ml  ", Metric(), ml(830)},
		{"830 cc", Metric(), ml(830)},
		{"830 cm3", Metric(), ml(830)},
		{"0.83 L", Metric(), ml(830)},
		{"0.83l", Metric(), ml(830)},
		{"0.83 litres", Metric(), ml(830)},
		{".83 L", Metric(), ml(830)},
		{"0", Metric(), ml(0)},
		{"0830", Metric(), ml(830)},
		{"830.000", Metric(), ml(830)},
		{"0.83", Units{Volume: Litre}, ml(830)},
		// Decimal comma, where it can be nothing else.
		{"0,83l", Metric(), ml(830)},
		{"0,830 L", Metric(), ml(830)},
		{"2,35 L", Metric(), ml(2350)},
		{",83 L", Metric(), ml(830)},
		{"1234,567", Metric(), ml(1234.567)},
		// US and imperial measures.
		{"28.1 floz", Metric(), ml(28.1 * usFlOzML)},
		{"28.1 fl oz", Metric(), ml(28.1 * usFlOzML)},
		{"28.1 fl. oz.", Metric(), ml(28.1 * usFlOzML)},
		{"28.1 US fl oz", Imperial(), ml(28.1 * usFlOzML)},
		{"28.1 us floz", Imperial(), ml(28.1 * usFlOzML)},
		{"28.1 U.S. fl oz", Imperial(), ml(28.1 * usFlOzML)},
		{"28.1 floz", Imperial(), ml(28.1 * impFlOzML)},
		{"28.1 imp fl oz", US(), ml(28.1 * impFlOzML)},
		{"28.1 uk floz", Metric(), ml(28.1 * impFlOzML)},
		{"28.1 imperial fluid ounces", Metric(), ml(28.1 * impFlOzML)},
		{"28.1", US(), ml(28.1 * usFlOzML)},
		{"28.1", Imperial(), ml(28.1 * impFlOzML)},
		{"1.5 qt", Metric(), ml(1.5 * usQuartML)},
		{"1.5 qt", Imperial(), ml(1.5 * 1136.5225)},
		{"2 pints", US(), ml(usQuartML)},
		{"2 imp pt", US(), ml(1136.5225)},
		{"1 gal", US(), ml(3785.411784)},
		{"1 uk gallon", US(), ml(4546.09)},
		// Fractions.
		{"1 1/2 qt", Metric(), ml(1.5 * usQuartML)},
		{"1/2 qt", Metric(), ml(0.5 * usQuartML)},
		{"1½ qt", Metric(), ml(1.5 * usQuartML)},
		{"¾ qt", Metric(), ml(0.75 * usQuartML)},
		{"1 / 4 qt", Metric(), ml(0.25 * usQuartML)},
	})
}

func TestParseAmountSums(t *testing.T) {
	checkAmounts(t, ParseAmount, []amountRow{
		// Sums and differences: every reading is kept.
		{"500+330", Metric(), ml(500, 330)},
		{"500 + 330 + 12.5", Metric(), ml(500, 330, 12.5)},
		{"500+330ml", Metric(), ml(500, 330)},
		{"500ml+330", Metric(), ml(500, 330)},
		{"500ml+330ml", Metric(), ml(500, 330)},
		{"830-12", Metric(), ml(830, -12)},
		{"1 qt + 4 floz", Metric(), ml(usQuartML, 4*usFlOzML)},
		{"1 1/2 qt - 1/2 qt", Metric(), ml(1.5*usQuartML, -0.5*usQuartML)},
		{"0.1+0.2-0.3", Metric(), ml(0.1, 0.2, -0.3)},
		{"0.3-0.1-0.2", Metric(), ml(0.3, -0.1, -0.2)}, // not below zero
		{"5-0", Metric(), ml(5, 0)},
		{"1+1/2", Metric(), ml(1, 0.5)},
		{"0.5-1/4", Metric(), ml(0.5, -0.25)},
		{"1 1/2 - 1/2", Metric(), ml(1.5, -0.5)},
		{"2 - 1 1/2", Metric(), ml(2, -1.5)},
		{"1 qt - 1/2 qt", Metric(), ml(usQuartML, -0.5*usQuartML)},
		{"500+330=830", Metric(), ml(500, 330)},
		{"500 + 330 = 830 ml", Metric(), ml(500, 330)},
		{"500+331=830", Metric(), ml(500, 331)}, // three numbers, each rounded to 1 ml
		{"16.9 + 11.2 = 28.1 US fl oz", US(), ml(16.9*usFlOzML, 11.2*usFlOzML)},
	})
}

func TestParseAmountTemperaturesAndWeights(t *testing.T) {
	checkAmounts(t, ParseAmount, []amountRow{
		// Temperature of the oil.
		{"830@60C", Metric(), ml(830).at(60)},
		{"830 @ 140F", Metric(), ml(830).at(60)},
		{"830@60", Metric(), ml(830).at(60)},
		{"28@140", US(), ml(28 * usFlOzML).at(60)},
		{"830 ml at 60 °C", Metric(), ml(830).at(60)},
		{"500+330 ml @ -5C", Metric(), ml(500, 330).at(-5)},
		// Weights.
		{"905g", Metric(), g(905)},
		{"905 grams", Metric(), g(905)},
		{"1.235kg", Metric(), g(1235)},
		{"1,2345 kg", Metric(), g(1234.5)},
		{"1235-330 g", Metric(), g(1235, -330)},
		{"1235-330 g", US(), g(1235, -330)},
		{"1.235 kg - 330 g", Metric(), g(1235, -330)},
		{"905g@60C", Metric(), g(905).at(60)},
		{"32 oz wt", Metric(), g(32 * ounceG)},
		{"2 lb + 3 oz wt", Metric(), g(32*ounceG, 3*ounceG)},
	})
}

func TestParseAmountOtherSigns(t *testing.T) {
	checkAmounts(t, ParseAmount, []amountRow{
		// Other scripts and signs for the same.
		{"８３０ ｍｌ", Metric(), ml(830)},
		{"830\u00a0ml", Metric(), ml(830)},
		{"830\u202fml", Metric(), ml(830)},
		{"1235−330 g", Metric(), g(1235, -330)},
		{"1235–330 g", Metric(), g(1235, -330)},
		{"1235—330 g", Metric(), g(1235, -330)},
		{"1235‐330 g", Metric(), g(1235, -330)},
		{"1235‑330 g", Metric(), g(1235, -330)},
		{"1235‒330 g", Metric(), g(1235, -330)},
		{"５００＋３３０", Metric(), ml(500, 330)},
		{"830 @ 60º C", Metric(), ml(830).at(60)},
		{"830 @ 60℃", Metric(), ml(830).at(60)},
		{"⅓ qt + ⅔ qt", Metric(), ml(usQuartML/3, usQuartML*2/3)},
		{"1¼ qt + 2¾ qt", Metric(), ml(usQuartML*1.25, usQuartML*2.75)},
		{"⅛ qt + ⅜ qt", Metric(), ml(usQuartML*0.125, usQuartML*0.375)},
		{"⅝ qt + ⅞ qt", Metric(), ml(usQuartML*0.625, usQuartML*0.875)},
		{"1⁄2 qt", Metric(), ml(usQuartML / 2)},
		{"0.83 ℓ", Metric(), ml(830)},
		{"830 @ 140℉", Metric(), ml(830).at(60)},
		// The largest amount.
		{"1000 L", Metric(), ml(1e6)},
	})
}

// refusal is a text, the units it is typed in, and the refusal it must meet.
type refusal struct {
	typed string
	bare  Units
	want  string
}

const (
	anAmount = ": type an amount such as 830 ml, 0.83 L, 500+330 ml or 905 g"
	aVolume  = ": type a volume such as 830 ml, 0.83 L or 500+330 ml"
	aWeight  = ": type a weight such as 905 g, 1.235 kg or 1235-330 g"
)

// checkRefusals runs a parser over refusals; a refusal must be one line, and
// the result zero.
func checkRefusals[T any](t *testing.T, parse func(string, Units) (T, error), rows []refusal) {
	t.Helper()
	var zero T
	for _, row := range rows {
		got, err := parse(row.typed, row.bare)
		if err == nil {
			t.Errorf("%q is taken for %+v", row.typed, got)
			continue
		}
		if err.Error() != row.want {
			t.Errorf("%q: %q, want %q", row.typed, err, row.want)
		}
		if !reflect.DeepEqual(got, zero) {
			t.Errorf("%q gives %+v beside its error", row.typed, got)
		}
	}
}

func TestParseAmountRefuses(t *testing.T) {
	checkRefusals(t, ParseAmount, []refusal{
		// Nothing, or no number.
		{"", Metric(), "nothing typed" + anAmount},
		{"   ", Metric(), "nothing typed" + anAmount},
		{"ml", Metric(), "a number is missing before 'm'" + anAmount},
		{"500+", Metric(), "a number is missing at the end" + anAmount},
		{"500++330", Metric(), "a number is missing before '+'" + anAmount},
		{"-830", Metric(), "a number below zero is not allowed here" + anAmount},
		{"@60", Metric(), "a number is missing before '@'" + anAmount},
		{"830@", Metric(), "a number is missing at the end" + anAmount},
		{"NaN", Metric(), "a number is missing before 'N'" + anAmount},
		{"Inf", Metric(), "a number is missing before 'I'" + anAmount},
		// Numbers that are none.
		{"1.2.3", Metric(), `"1.2.3" has more than one point or comma` + anAmount},
		{"1,234.5 ml", Metric(), `"1,234.5" has more than one point or comma` + anAmount},
		{"83.", Metric(), `"83." ends in a point or comma` + anAmount},
		{"1e5", Metric(), `"e" is not a known unit` + anAmount},
		{"0x10", Metric(), `"x" is not a known unit` + anAmount},
		{"1 500 ml", Metric(), `"1 500 ml" has a space inside a number` + anAmount},
		{"20/50", Metric(), `"20/50" is not a fraction such as 1/2, 3/4 or 5/16` + anAmount},
		{"3/2 qt", Metric(), `"3/2" is not a fraction such as 1/2, 3/4 or 5/16` + anAmount},
		{"2/2 qt", Metric(), `"2/2" is not a fraction such as 1/2, 3/4 or 5/16` + anAmount},
		{"3/7 qt", Metric(), `"3/7" is not a fraction such as 1/2, 3/4 or 5/16` + anAmount},
		{"1/0 qt", Metric(), `"1/0" is not a fraction such as 1/2, 3/4 or 5/16` + anAmount},
		{"0/2 qt", Metric(), `"0/2" is not a fraction such as 1/2, 3/4 or 5/16` + anAmount},
		{"1 3/2 qt", Metric(), `"3/2" is not a fraction such as 1/2, 3/4 or 5/16` + anAmount},
		// What can be read in two ways.
		{"1,500 ml", Metric(), `the comma in "1,500" is ambiguous: type 1500 ml or 1.5 L`},
		{"1,500", Metric(), `the comma in "1,500" is ambiguous: type 1500 ml or 1.5 L`},
		{"2,000 L", Metric(), `the comma in "2,000" is ambiguous: type 2000 ml or 2 L`},
		{"1,235 kg", Metric(), `the comma in "1,235" is ambiguous: type 1235 g or 1.235 kg`},
		{"1,500 qt", Metric(), `the comma in "1,500" is ambiguous: type 1500 qt or 1.5 qt`},
		{"1,500 " + strings.Repeat("x", 20), Metric(), `the comma in "1,500" is ambiguous: type 1500 ml or 1.5 L`},
		{"1-1/2 qt", Metric(), `"1-1/2" is ambiguous: type 1 1/2 or a unit behind each number`},
		{"28 oz", US(), `"oz" is ambiguous: type fl oz for a volume or oz wt for a weight`},
		{"500 + 1 L", Metric(), `the unit of "500" is not clear: type a unit behind each number such as 500 ml + 1 L`},
		{"28 + 500 ml", US(), `the unit of "28" is not clear: type a unit behind each number such as 500 ml + 1 L`},
		{"1 qt + 4", Metric(), `the unit of "4" is not clear: type a unit behind each number such as 500 ml + 1 L`},
		{"1 qt + 4 + 2 floz", Metric(), `the unit of "4" is not clear: type a unit behind each number such as 500 ml + 1 L`},
		// Units.
		{"830 foo", Metric(), `"foo" is not a known unit` + anAmount},
		{"830 us ml", Metric(), `"us ml" is not a known unit` + anAmount},
		{"830 °C", Metric(), `"°C" is not a known unit` + anAmount},
		{"500 ml + 330 g", Metric(), "volume and weight cannot be added: type one kind such as 500 ml + 330 ml or 1235 g - 330 g"},
		// Sums.
		{"330-500", Metric(), "the total is below zero: type the larger number first such as 1235-330"},
		{"330 g - 500 g", Metric(), "the total is below zero: type the larger number first such as 1235-330"},
		{"500+332=830", Metric(), "the readings add up to 832 ml, not 830 ml: type the readings alone, or the right total"},
		{"0.500+0.332=0.830 L", Metric(), "the readings add up to 0.832 L, not 0.830 L: type the readings alone, or the right total"},
		{"500+330=840", Metric(), "the readings add up to 830 ml, not 840 ml: type the readings alone, or the right total"},
		{"1 L + 1 qt = 2 L", Metric(), "the readings add up to 1.946 L, not 2 L: type the readings alone, or the right total"},
		{"1+1=3 L", Metric(), "the readings add up to 2 L, not 3 L: type the readings alone, or the right total"},
		{"830=", Metric(), "a number is missing at the end" + anAmount},
		// Temperatures.
		{"830@60K", Metric(), `"K" is not a temperature scale: type C or F behind the temperature`},
		{"830@300C", Metric(), "the temperature is out of range, allowed are -60 to 150 °C (-76 to 302 °F)" + anAmount},
		{"830@60C ml", Metric(), `"C ml" is not a temperature scale: type C or F behind the temperature`},
		{"830@60@70", Metric(), `"@70" is not understood` + anAmount},
		// Too much.
		{"1001 L", Metric(), `"1001 L" is too much, at most 1000000 ml` + anAmount},
		{"1001 kg", Metric(), `"1001 kg" is too much, at most 1000000 g` + anAmount},
		{"9999 1/2 L", Metric(), `"9999 1/2 L" is too much, at most 1000000 ml` + anAmount},
		{"600 L + 600 L", Metric(), `"1200000 ml" is too much, at most 1000000 ml` + anAmount},
		{"9" + strings.Repeat("0", 150), Metric(), `"900000000000000000000000…" is too much, at most 1000000 ml` + anAmount},
		{strings.Repeat("1", 201), Metric(), "too long: at most 200 characters" + anAmount},
		// Leftovers and what does not show.
		{"830 ml ?", Metric(), `"?" is not understood` + anAmount},
		{"830; 2", Metric(), `"; 2" is not understood` + anAmount},
		{"830\x1b[31m", Metric(), `"830\x1b[31m" holds the control character '\x1b'` + anAmount},
		{"830\tml", Metric(), `"830\tml" holds the control character '\t'` + anAmount},
		{"830\nml", Metric(), `"830\nml" holds the control character '\n'` + anAmount},
		{"8\u202e30", Metric(), `"8\u202e30" holds the control character '\u202e'` + anAmount},
		{"83\u200b0", Metric(), `"83\u200b0" holds the control character '\u200b'` + anAmount},
		{"830\xff", Metric(), `"830\xff" is not readable text` + anAmount},
	})
}

func TestParseVolumeRefusesWeights(t *testing.T) {
	checkRefusals(t, ParseVolume, []refusal{
		{"905 g", Metric(), `"g" is a weight, a volume is wanted` + aVolume},
		{"1235 - 330 g", Metric(), `"g" is a weight, a volume is wanted` + aVolume},
		{"2 lb", US(), `"lb" is a weight, a volume is wanted` + aVolume},
		{"28 oz", US(), `"oz" is ambiguous: type fl oz for a volume or oz wt for a weight`},
	})
	if got, err := ParseVolume("500+330 @ 60C", Metric()); err != nil || !sameAmount(got, ml(500, 330).at(60)) {
		t.Errorf("500+330 @ 60C is %+v, %v", got, err)
	}
}

func TestParseMass(t *testing.T) {
	checkAmounts(t, ParseMass, []amountRow{
		{"905", Metric(), g(905)},
		{"1235-330", Metric(), g(1235, -330)},
		{"32", US(), g(32 * ounceG)},
		{"32 oz", US(), g(32 * ounceG)},
		{"1.235", Units{Mass: Kilogram}, g(1235)},
		{"1235-330 g", US(), g(1235, -330)},  // gross and tare of one scale
		{"1235 + 330 g", US(), g(1235, 330)}, // 1235 oz is no reading
	})
	checkRefusals(t, ParseMass, []refusal{
		{"830 ml", Metric(), `"ml" is a volume, a weight is wanted` + aWeight},
		{"28 fl oz", US(), `"fl oz" is a volume, a weight is wanted` + aWeight},
		{"1,235", Metric(), `the comma in "1,235" is ambiguous: type 1235 g or 1.235 kg`},
	})
}

// A bare number in front of a unit: in the bare unit, in that unit, or not
// clear.
func TestUnitAtTheEnd(t *testing.T) {
	for _, row := range []struct {
		typed string
		bare  Units
		want  Amount // zero: refused
	}{
		{"500+330 ml", Metric(), ml(500, 330)},
		{"500+330 ml", US(), ml(500, 330)},           // 500 fl oz is 15 L
		{"1+1+0.5 L", Metric(), ml(1000, 1000, 500)}, // 1 ml is below any mark
		{"1.2+0.8 L", Metric(), ml(1200, 800)},
		{"28+14 ml", US(), Amount{}}, // 28 fl oz are 828 ml: possible
		{"20+1 L", Metric(), Amount{}},
		{"500+1 L", Metric(), Amount{}},
		{"1.2-0.8 L", Metric(), ml(1200, -800)},
		{"28-14 ml", US(), ml(28, -14)}, // gross and tare of one scale
		{"1235-330 g", US(), g(1235, -330)},
		{"500+330 g", Metric(), g(500, 330)},
		{"500 ml+330", US(), Amount{}},
		{"16 fl oz+12", US(), ml(16*usFlOzML, 12*usFlOzML)},
		{"500+1 qt+330 ml", Metric(), Amount{}},
	} {
		got, err := ParseAmount(row.typed, row.bare)
		if refused := len(row.want.Parts) == 0; refused != (err != nil) || !sameAmount(got, row.want) {
			t.Errorf("%q with bare %v is %+v (%v), want %+v", row.typed, row.bare.Volume, got, err, row.want)
		}
	}
}

// Rounding in binary must not leave crumbs where a person expects zero.
func TestZeroIsZero(t *testing.T) {
	for _, typed := range []string{"0", "5-5", "0.1+0.2-0.3", "0.3-0.1-0.2", "1 qt - 1 qt", "0-0"} {
		got, err := ParseAmount(typed, Metric())
		if err != nil || got.Total != 0 || math.Signbit(got.Total) {
			t.Errorf("%q is %g, %v", typed, got.Total, err)
		}
		for i, part := range got.Parts {
			if part == 0 && math.Signbit(part) {
				t.Errorf("%q: reading %d is minus zero", typed, i)
			}
		}
	}
}
