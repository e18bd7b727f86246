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
		"inch/m":       Inch.MM() / 1000,
		"foot/m":       Foot.MM() / 1000,
		"mile/km":      Mile.Km(),
		"ounce/g":      Ounce.G(),
		"pound/kg":     Pound.G() / 1000,
		"us-fl-oz/mL":  USFluidOunce.ML(),
		"us-pint/L":    USPint.ML() / 1000,
		"us-quart/L":   USQuart.ML() / 1000,
		"us-gallon/L":  USGallon.ML() / 1000,
		"imp-fl-oz/m3": ImperialFluidOunce.ML() / 1e6,
		"imp-gallon/L": ImperialGallon.ML() / 1000,
		"bar/kPa":      Bar.KPa(),
		"psi/kPa":      PSI.KPa(),
		"lbf-ft/Nm":    PoundFoot.Nm(),
		"lbf-in/Nm":    PoundInch.Nm(),
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
		{"pound", Pound.G(), 453.59237, "NIST SP 811, footnote 22"},
		{"ounce", Ounce.G(), 28.349523125, "NIST Handbook 44, appendix C: 0.028 349 523 125 kg"},
		{"US gallon", USGallon.ML(), 231 * 16.387064, "NIST Handbook 44, appendix C: 231 in³; SP 811, footnote 13: in³"},
		{"US quart", USQuart.ML(), 57.75 * 16.387064, "NIST Handbook 44, appendix C: 57.75 in³"},
		{"US pint", USPint.ML(), 28.875 * 16.387064, "NIST Handbook 44, appendix C: 28.875 in³"},
		{"US fluid ounce", USFluidOunce.ML(), 29.5735295625, "NIST Handbook 44, appendix C: gallon / 128"},
		{"imperial gallon", ImperialGallon.ML(), 4546.09, "NIST SP 811, appendix B.8, bold"},
		{"imperial quart", ImperialQuart.ML(), 1136.5225, "the same: gallon / 4"},
		{"imperial pint", ImperialPint.ML(), 568.26125, "the same: gallon / 8"},
		{"imperial fluid ounce", ImperialFluidOunce.ML(), 28.4130625, "the same: gallon / 160"},
		{"lbf·ft", PoundFoot.Nm(), lbfN * 0.3048, "derived from SP 811, footnote 23 and the foot"},
		{"lbf·in", PoundInch.Nm(), lbfN * 0.0254, "derived from SP 811, footnote 23 and the inch"},
		{"psi", PSI.KPa(), lbfN / (0.0254 * 0.0254) / 1000, "derived from SP 811, footnote 23 and the inch"},
		{"litre", Litre.ML(), 1000, "SI brochure, table 8"},
		{"kilogram", Kilogram.G(), 1000, "SI prefix"},
		{"centimetre", Centimetre.MM(), 10, "SI prefix"},
		{"metre", Metre.MM(), 1000, "SI prefix"},
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
		{"US fl oz in a pt", USFluidOunce.ML(), USPint.ML(), 16},
		{"US fl oz in a qt", USFluidOunce.ML(), USQuart.ML(), 32},
		{"US pt in a qt", USPint.ML(), USQuart.ML(), 2},
		{"US qt in a gal", USQuart.ML(), USGallon.ML(), 4},
		{"imp fl oz in a pt", ImperialFluidOunce.ML(), ImperialPint.ML(), 20},
		{"imp fl oz in a gal", ImperialFluidOunce.ML(), ImperialGallon.ML(), 160},
		{"imp pt in a qt", ImperialPint.ML(), ImperialQuart.ML(), 2},
		{"imp qt in a gal", ImperialQuart.ML(), ImperialGallon.ML(), 4},
		{"oz in a lb", Ounce.G(), Pound.G(), 16},
		{"in in a ft", Inch.MM(), Foot.MM(), 12},
		{"ft in a mi", Foot.MM(), Mile.Km() * 1e6, 5280},
		{"lbf·in in a lbf·ft", PoundInch.Nm(), PoundFoot.Nm(), 12},
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
		if got := Fahrenheit.ToC(row.f); math.Abs(got-row.c) > 1e-12*300 {
			t.Errorf("%g °F = %.15g °C, want %g", row.f, got, row.c)
		}
		if got := Fahrenheit.FromC(row.c); math.Abs(got-row.f) > 1e-12*500 {
			t.Errorf("%g °C = %.15g °F, want %g", row.c, got, row.f)
		}
		if Celsius.ToC(row.c) != row.c || Celsius.FromC(row.c) != row.c {
			t.Errorf("%g °C is not itself", row.c)
		}
	}
}

func TestUnknownUnitsHaveNoFactor(t *testing.T) {
	for name, factor := range map[string]float64{
		"volume": VolumeUnit(99).ML(), "mass": MassUnit(99).G(), "distance": DistanceUnit(99).Km(),
		"length": LengthUnit(99).MM(), "pressure": PressureUnit(99).KPa(), "torque": TorqueUnit(99).Nm(),
		"to C": TemperatureUnit(99).ToC(1), "from C": TemperatureUnit(99).FromC(1),
	} {
		if !math.IsNaN(factor) {
			t.Errorf("an unknown unit of %s has the factor %g", name, factor)
		}
	}
	if got := (Units{Volume: 99}).FormatVolume(830); got != "—" {
		t.Errorf("830 ml in an unknown unit prints as %q", got)
	}
}
