// Tests of the units: factors against published tables.

package quantity

import (
	"bufio"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// near reports whether two numbers agree to a relative tolerance.
func near(got, want, relative float64) bool {
	return math.Abs(got-want) <= relative*math.Abs(want)
}

// factors are the factors of this package under the names of the published
// table, in the units that it prints.
func factors() map[string]float64 {
	return map[string]float64{
		"inch/m":       Inch.Factor() / 1000,
		"foot/m":       Foot.Factor() / 1000,
		"mile/km":      Mile.Factor(),
		"ounce/g":      Ounce.Factor(),
		"pound/kg":     Pound.Factor() / 1000,
		"us-fl-oz/mL":  USFluidOunce.Factor(),
		"us-pint/L":    USPint.Factor() / 1000,
		"us-quart/L":   USQuart.Factor() / 1000,
		"us-gallon/L":  USGallon.Factor() / 1000,
		"imp-fl-oz/m3": ImperialFluidOunce.Factor() / 1e6,
		"imp-gallon/L": ImperialGallon.Factor() / 1000,
		"bar/kPa":      Bar.Factor(),
		"psi/kPa":      PSI.Factor(),
		"lbf-ft/Nm":    PoundFoot.Factor(),
		"lbf-in/Nm":    PoundInch.Factor(),
	}
}

// Source: NIST SP 811, appendix B.8, in testdata/published/sp811_b8.txt. A
// rounded factor has to agree to half a unit of its last digit.
func TestFactorsAgreeWithTheSP811Table(t *testing.T) {
	file, err := os.Open("testdata/published/sp811_b8.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	ours := factors()
	rows := 0
	for lines := bufio.NewScanner(file); lines.Scan(); {
		fields := strings.Fields(lines.Text())
		if len(fields) == 0 || fields[0] == "#" {
			continue
		}
		rows++
		name := fields[0] + "/" + fields[1]
		got, known := ours[name]
		want, errW := strconv.ParseFloat(fields[2]+"e"+fields[3], 64)
		exponent, errE := strconv.Atoi(fields[3])
		if !known || errW != nil || errE != nil {
			t.Fatalf("row %q is not understood", lines.Text())
		}
		tolerance := 1e-12 * want
		if fields[len(fields)-1] != "exact" {
			_, decimals, _ := strings.Cut(fields[2], ".")
			tolerance = 0.5 * math.Pow10(exponent-len(decimals)) * (1 + 1e-9)
		}
		if math.Abs(got-want) > tolerance {
			t.Errorf("%s = %.12g, published %s E%s", name, got, fields[2], fields[3])
		}
	}
	if rows != len(ours) {
		t.Errorf("%d rows read, %d factors to check", rows, len(ours))
	}
}

func TestFactorsAreExact(t *testing.T) {
	const lbfN = 4.4482216152605 // NIST SP 811, footnote 23: exact
	for _, row := range []struct {
		name      string
		got, want float64
		source    string
	}{
		{"pound", Pound.Factor(), 453.59237, "NIST SP 811, footnote 22"},
		{"ounce", Ounce.Factor(), 28.349523125, "NIST Handbook 44, appendix C: 0.028 349 523 125 kg"},
		{"US gallon", USGallon.Factor(), 231 * 16.387064, "NIST Handbook 44, appendix C: 231 in³; SP 811, footnote 13: in³"},
		{"US quart", USQuart.Factor(), 57.75 * 16.387064, "NIST Handbook 44, appendix C: 57.75 in³"},
		{"US pint", USPint.Factor(), 28.875 * 16.387064, "NIST Handbook 44, appendix C: 28.875 in³"},
		{"US fluid ounce", USFluidOunce.Factor(), 29.5735295625, "NIST Handbook 44, appendix C: gallon / 128"},
		{"imperial gallon", ImperialGallon.Factor(), 4546.09, "NIST SP 811, appendix B.8, bold"},
		{"imperial quart", ImperialQuart.Factor(), 1136.5225, "the same: gallon / 4"},
		{"imperial pint", ImperialPint.Factor(), 568.26125, "the same: gallon / 8"},
		{"imperial fluid ounce", ImperialFluidOunce.Factor(), 28.4130625, "the same: gallon / 160"},
		{"lbf·ft", PoundFoot.Factor(), lbfN * 0.3048, "derived from SP 811, footnote 23 and the foot"},
		{"lbf·in", PoundInch.Factor(), lbfN * 0.0254, "derived from SP 811, footnote 23 and the inch"},
		{"psi", PSI.Factor(), lbfN / (0.0254 * 0.0254) / 1000, "derived from SP 811, footnote 23 and the inch"},
		{"litre", Litre.Factor(), 1000, "SI brochure, table 8"},
		{"kilogram", Kilogram.Factor(), 1000, "SI prefix"},
		{"centimetre", Centimetre.Factor(), 10, "SI prefix"},
		{"metre", Metre.Factor(), 1000, "SI prefix"},
	} {
		if !near(row.got, row.want, 1e-12) {
			t.Errorf("%s = %.16g, want %.16g (%s)", row.name, row.got, row.want, row.source)
		}
	}
}

// Source: NIST Handbook 44, appendix C (US and lengths); UK Weights and Measures
// Act 1985, schedule 1 (imperial; from memory).
func TestMeasuresFitIntoEachOther(t *testing.T) {
	for _, row := range []struct {
		name       string
		small, big float64
		count      float64
	}{
		{"US fl oz in a pt", USFluidOunce.Factor(), USPint.Factor(), 16},
		{"US fl oz in a qt", USFluidOunce.Factor(), USQuart.Factor(), 32},
		{"US pt in a qt", USPint.Factor(), USQuart.Factor(), 2},
		{"US qt in a gal", USQuart.Factor(), USGallon.Factor(), 4},
		{"imp fl oz in a pt", ImperialFluidOunce.Factor(), ImperialPint.Factor(), 20},
		{"imp fl oz in a gal", ImperialFluidOunce.Factor(), ImperialGallon.Factor(), 160},
		{"imp pt in a qt", ImperialPint.Factor(), ImperialQuart.Factor(), 2},
		{"imp qt in a gal", ImperialQuart.Factor(), ImperialGallon.Factor(), 4},
		{"oz in a lb", Ounce.Factor(), Pound.Factor(), 16},
		{"in in a ft", Inch.Factor(), Foot.Factor(), 12},
		{"ft in a mi", Foot.Factor(), Mile.Factor() * 1e6, 5280},
		{"lbf·in in a lbf·ft", PoundInch.Factor(), PoundFoot.Factor(), 12},
	} {
		if !near(row.count*row.small, row.big, 1e-12) {
			t.Errorf("%s: %.16g, want %g", row.name, row.big/row.small, row.count)
		}
	}
}

// Source: NIST SP 811, appendix B.9: t/°C = (t/°F − 32)/1.8; T/K = t/°C + 273.15
// = (t/°F + 459.67)/1.8, which gives absolute zero as a row.
func TestTemperatureScales(t *testing.T) {
	for _, row := range []struct{ f, c float64 }{
		{32, 0}, {212, 100}, {-40, -40}, {140, 60}, {-459.67, -273.15}, {68, 20},
	} {
		if got := toC(Fahrenheit, row.f); math.Abs(got-row.c) > 1e-12*300 {
			t.Errorf("%g °F = %.15g °C, want %g", row.f, got, row.c)
		}
		if got := fromC(Fahrenheit, row.c); math.Abs(got-row.f) > 1e-12*500 {
			t.Errorf("%g °C = %.15g °F, want %g", row.c, got, row.f)
		}
		if toC(Celsius, row.c) != row.c || fromC(Celsius, row.c) != row.c {
			t.Errorf("%g °C is not itself", row.c)
		}
	}
}

func TestUnknownUnitsHaveNoFactor(t *testing.T) {
	for name, factor := range map[string]float64{
		"volume": Unit[volume](99).Factor(), "mass": Unit[mass](99).Factor(), "distance": DistanceUnit(99).Factor(),
		"length": Unit[length](99).Factor(), "pressure": Unit[pressure](99).Factor(), "torque": Unit[torque](99).Factor(),
		"to C": toC(99, 1), "from C": fromC(99, 1),
	} {
		if !math.IsNaN(factor) {
			t.Errorf("an unknown unit of %s has the factor %g", name, factor)
		}
	}
	if got := (Units{Volume: 99}).FormatVolume(830); got != "—" {
		t.Errorf("830 ml in an unknown unit prints as %q", got)
	}
}
