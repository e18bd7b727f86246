// Tests of printing. How many digits a unit gets is this project's choice: fine
// enough that the last digit is below what a garage can read. The rule for
// uncertainties is published.

package quantity

import (
	"math"
	"strings"
	"testing"
)

// litres are metric units with the volume in L and the mass in kg.
func litres() Units {
	return Units{Volume: Litre, Mass: Kilogram, Pressure: Bar}
}

// printed is what a number prints as, in some units.
type printed struct {
	units Units
	value float64
	want  string
}

func checkPrinted(t *testing.T, format func(Units, float64) string, rows []printed) {
	t.Helper()
	for _, row := range rows {
		if got := format(row.units, row.value); got != row.want {
			t.Errorf("%g prints as %q, want %q", row.value, got, row.want)
		}
	}
}

func TestFormatVolume(t *testing.T) {
	checkPrinted(t, Units.FormatVolume, []printed{
		{Metric(), 830, "830 ml"},
		{Metric(), 829.6, "830 ml"},
		{Metric(), 2350, "2350 ml"},
		{Metric(), 3.24, "3.2 ml"},
		{Metric(), 0, "0.0 ml"},
		{Metric(), -0.01, "0.0 ml"},
		{Metric(), math.Copysign(0, -1), "0.0 ml"},
		{Metric(), -25.4, "-25 ml"},
		{litres(), 2350, "2.35 L"},
		{litres(), 830, "0.830 L"},
		{litres(), 12, "0.012 L"},
		{US(), 831, "28.1 US fl oz"},
		{US(), 100, "3.38 US fl oz"},
		{Imperial(), 831, "29.2 imp fl oz"},
		{Units{Volume: USQuart}, 1420, "1.50 US qt"},
		{Units{Volume: USQuart}, 830, "0.877 US qt"},
		{Units{Volume: USPint}, 830, "1.75 US pt"},
		{Units{Volume: USGallon}, 830, "0.2193 US gal"},
		{Units{Volume: ImperialPint}, 830, "1.46 imp pt"},
		{Units{Volume: ImperialQuart}, 830, "0.730 imp qt"},
		{Units{Volume: ImperialGallon}, 5000, "1.100 imp gal"},
		{Metric(), math.NaN(), "—"},
		{Metric(), math.Inf(1), "—"},
		{Metric(), math.Inf(-1), "—"},
		{Metric(), 1e300, "1.00e+300 ml"},
	})
}

// Source of the rule: JCGM 100:2008 (GUM), 7.2.6: an uncertainty is quoted with
// at most two significant digits, and the estimate rounded to agree with it. Its
// example, u = 27 mΩ with 10.057 62 Ω gives 10.058 Ω, is among the rows.
func TestFormatVolumeU(t *testing.T) {
	for _, row := range []struct {
		units    Units
		value, u float64
		want     string
	}{
		{Units{Volume: Litre}, 10057.62, 27, "10.058 ± 0.027 L"}, // GUM 7.2.6
		{Metric(), 806.3, 12.2, "806 ± 12 ml"},
		{Metric(), 828.8, 28.4, "829 ± 28 ml"},
		{Metric(), 806.34, 3.44, "806.3 ± 3.4 ml"},
		{Metric(), 806.345, 0.034, "806.345 ± 0.034 ml"},
		{Metric(), 806, 123, "810 ± 120 ml"},
		{Metric(), 806, 1234, "800 ± 1200 ml"},
		{Metric(), 806, 9.96, "806 ± 10 ml"},
		{Metric(), 806, 99.6, "810 ± 100 ml"},
		{Metric(), -3, 12, "-3 ± 12 ml"},
		{Metric(), -0.3, 12, "0 ± 12 ml"},
		{litres(), 806, 12, "0.806 ± 0.012 L"},
		{US(), 806, 12, "27.25 ± 0.41 US fl oz"},
		{Metric(), 806, 0.000012, "806.000000 ± 0.000012 ml"},
		{Metric(), 806, 0, "806 ml"},
		{Metric(), 806, 1e-12, "806 ml"},
		{Metric(), 806, math.NaN(), "806 ml ± —"},
		{Metric(), 806, math.Inf(1), "806 ml ± —"},
		{Metric(), 806, -1, "806 ml ± —"},
		{Metric(), math.NaN(), 12, "—"},
	} {
		if got := row.units.FormatVolumeU(row.value, row.u); got != row.want {
			t.Errorf("%g, u %g prints as %q, want %q", row.value, row.u, got, row.want)
		}
	}
}

func TestFormatOthers(t *testing.T) {
	checkPrinted(t, Units.FormatMass, []printed{
		{Metric(), 905, "905 g"},
		{Metric(), 2.54, "2.5 g"},
		{litres(), 1235, "1.235 kg"},
		{US(), 905, "31.9 oz wt"},
		{Units{Mass: Pound}, 905, "1.995 lb"},
		{Metric(), math.NaN(), "—"},
	})
	checkPrinted(t, Units.FormatTemperature, []printed{
		{Metric(), 60, "60 °C"},
		{Metric(), 62.84, "62.8 °C"},
		{Metric(), -0.04, "0 °C"},
		{Metric(), -5, "-5 °C"},
		{US(), 60, "140 °F"},
		{US(), -17.78, "0 °F"},
		{Metric(), math.Inf(1), "—"},
	})
	checkPrinted(t, Units.FormatDistance, []printed{
		{Metric(), 123456, "123 456 km"},
		{Metric(), 1234567, "1 234 567 km"},
		{Metric(), 9500, "9500 km"},
		{Metric(), 10000, "10 000 km"},
		{Metric(), 5.25, "5.2 km"},
		{Metric(), 0, "0 km"},
		{US(), 122310.144, "76 000 mi"},
		{Metric(), -12345, "-12 345 km"},
		{Metric(), math.NaN(), "—"},
	})
	checkPrinted(t, Units.FormatPressure, []printed{
		{Metric(), 200, "2.0 bar"}, // 2 bar are 29 psi: factor in units_test.go
		{Metric(), 125, "1.25 bar"},
		{Metric(), 7.5, "0.075 bar"},
		{litres(), 50, "0.5 bar"},
		{US(), 100, "14.5 psi"},
		{US(), 200, "29 psi"},
		{Units{Pressure: Kilopascal}, 100, "100 kPa"},
		{Metric(), math.NaN(), "—"},
	})
	checkPrinted(t, Units.FormatTorque, []printed{
		{Metric(), 35, "35 N·m"},
		{Metric(), 24.5, "24.5 N·m"},
		{US(), 35, "25.8 lbf·ft"},
		{Units{Torque: PoundInch}, 35, "310 lbf·in"},
		{Metric(), 1e300, "1.00e+300 N·m"},
		{Metric(), math.NaN(), "—"},
	})
	checkPrinted(t, Units.FormatLength, []printed{
		{Metric(), 8, "8 mm"},
		{Metric(), 6.35, "6.35 mm"},
		{Metric(), 999, "999 mm"},
		{Metric(), 1000, "1 m"},
		{Metric(), 1500, "1.5 m"},
		{litres(), 1500, "1.5 m"},
		{US(), 7.9375, "0.3125 in"},
		{US(), 609.5, "24 in"},
		{US(), 609.6, "2 ft"},
		{US(), 1500, "4.921 ft"},
		{Imperial(), 3048, "10 ft"},
		{Metric(), math.NaN(), "—"},
	})
}

func TestEcho(t *testing.T) {
	for _, row := range []struct {
		amount Amount
		units  Units
		want   string
	}{
		{ml(830), Metric(), "830 ml"},
		{ml(830), litres(), "0.83 L"},
		{ml(12.5), Metric(), "12.5 ml"},
		{ml(500, 330), Metric(), "500 + 330 = 830 ml"},
		{ml(500, 330), litres(), "0.5 + 0.33 = 0.83 L"},
		{ml(500, -12.5), Metric(), "500 - 12.5 = 487.5 ml"},
		{ml(500, 330).at(60), Metric(), "500 + 330 = 830 ml at 60 °C"},
		{ml(830).at(60), US(), "28.1 US fl oz at 140 °F"},
		{g(1235, -330), Metric(), "1235 - 330 = 905 g"},
		{g(905), US(), "31.9 oz wt"},
		// 16.9 + 11.2 = 28.1 adds up with one decimal, 946 + 118 = 1065 with three.
		{ml(500, 330), US(), "16.9 + 11.2 = 28.1 US fl oz"},
		{ml(usQuartML, 4*usFlOzML), Metric(), "946.353 + 118.294 = 1064.647 ml"},
		{ml(usQuartML, 4*usFlOzML), US(), "32 + 4 = 36 US fl oz"},
		{ml(0), Metric(), "0 ml"},
		{Amount{Total: 830}, Metric(), "830 ml"},
		{ml(math.NaN()), Metric(), "—"},
		{ml(830), Units{Volume: 99}, "—"},
		{ml(math.Inf(1), 5), Metric(), "—"},
	} {
		if got := Echo(row.amount, row.units); got != row.want {
			t.Errorf("%+v is echoed as %q, want %q", row.amount, got, row.want)
		}
	}
}

// The volumes of a sum have the decimals of the largest of them.
func TestVolumesOfASumHaveTheSameDecimals(t *testing.T) {
	for _, row := range []struct {
		units Units
		ml    []float64
		want  string
	}{
		{litres(), []float64{905, 42, -900}, "0.905 0.042 -0.900"}, {litres(), []float64{907, -1042}, "0.91 -1.04"},
		{Metric(), []float64{905, 4.2}, "905 4"}, {Metric(), []float64{9.5, 4.2}, "9.5 4.2"},
		{Metric(), []float64{math.NaN(), 4.2, math.Inf(1)}, "— 4 —"},
	} {
		if got := strings.Join(row.units.BareVolumes(row.ml...), " "); got != row.want {
			t.Errorf("%v in %v print as %q, want %q", row.ml, row.units.Volume, got, row.want)
		}
	}
}

// A step is one of the last decimal printed.
func TestVolumeStep(t *testing.T) {
	for _, row := range []struct {
		units    Units
		ml, want float64
	}{{Metric(), 42, 1}, {Metric(), 9, 0.1}, {litres(), 905, 1}, {litres(), 1042, 10}, {US(), 42, usGallonML / 128 / 100}} {
		if got := row.units.VolumeStep(row.ml); math.Abs(got-row.want) > 1e-9 {
			t.Errorf("%g ml are printed in steps of %g ml in %v, want %g", row.ml, got, row.units.Volume, row.want)
		}
	}
}

func TestShares(t *testing.T) {
	for _, tt := range []struct {
		share float64
		want  string
	}{{0, "0 %"}, {0.004, "< 1 %"}, {0.01, "1 %"}, {0.62, "62 %"}, {0.99, "99 %"}, {0.9999, "> 99 %"}, {1, "100 %"}} {
		if got := FormatShare(tt.share); got != tt.want {
			t.Errorf("%v prints %q, want %q", tt.share, got, tt.want)
		}
	}
}

// No number may print as minus zero, whatever its unit.
func TestNothingPrintsAsMinusZero(t *testing.T) {
	for _, units := range []Units{Metric(), litres(), US(), Imperial()} {
		for _, tiny := range []float64{math.Copysign(0, -1), -1e-9, -1e-300} {
			for _, text := range []string{
				units.FormatVolume(tiny), units.FormatMass(tiny), units.FormatDistance(tiny),
				units.FormatPressure(tiny), units.FormatTorque(tiny), units.FormatLength(tiny),
				units.FormatVolumeU(tiny, 1), Celsius.String() + units.FormatTemperature(toC(Fahrenheit, 32+tiny)),
				Echo(ml(5, tiny), units),
			} {
				if strings.Contains(text, "-") {
					t.Errorf("%g prints as %q", tiny, text)
				}
			}
		}
	}
}

// sizes are a number of a unit just below the size at which it loses decimals, and at that size.
type sizes struct {
	below, at string
	value     [2]float64
}

func checkSizes[D dimension](t *testing.T, want map[Unit[D]]sizes) {
	t.Helper()
	if len(want) != len(unitsOf[D]()) {
		t.Errorf("%d of %d units are checked", len(want), len(unitsOf[D]()))
	}
	for unit, row := range want {
		for i, text := range []string{row.below, row.at} {
			if got := unit.format(row.value[i]*unit.Factor(), fixed); got != text {
				t.Errorf("%g %v prints as %q, want %q", row.value[i], unit, got, text)
			}
		}
	}
}

// The digits are a choice (common practice, no source).
func TestEveryUnitHasItsDigits(t *testing.T) {
	ten, one, hundred := [2]float64{9.87654, 10}, [2]float64{0.987654, 1}, [2]float64{98.7654, 100}
	checkSizes(t, map[Unit[volume]]sizes{
		Millilitre: {"9.9 ml", "10 ml", ten}, Centilitre: {"9.88 cl", "10.0 cl", ten},
		Decilitre: {"0.988 dl", "1.00 dl", one}, Litre: {"0.988 L", "1.00 L", one},
		USFluidOunce: {"9.88 US fl oz", "10.0 US fl oz", ten}, USPint: {"0.988 US pt", "1.00 US pt", one},
		USQuart: {"0.988 US qt", "1.00 US qt", one}, USGallon: {"0.9877 US gal", "1.000 US gal", one},
		ImperialFluidOunce: {"9.88 imp fl oz", "10.0 imp fl oz", ten}, ImperialPint: {"0.988 imp pt", "1.00 imp pt", one},
		ImperialQuart: {"0.988 imp qt", "1.00 imp qt", one}, ImperialGallon: {"0.9877 imp gal", "1.000 imp gal", one},
	})
	checkSizes(t, map[Unit[mass]]sizes{
		Gram: {"9.9 g", "10 g", ten}, Kilogram: {"0.988 kg", "1.000 kg", one},
		Ounce: {"9.88 oz wt", "10.0 oz wt", ten}, Pound: {"0.988 lb", "1.000 lb", one},
	})
	checkSizes(t, map[Unit[distance]]sizes{Kilometre: {"9.9 km", "10 km", ten}, Mile: {"9.9 mi", "10 mi", ten}})
	checkSizes(t, map[Unit[length]]sizes{
		Millimetre: {"9.88 mm", "10.0 mm", ten}, Centimetre: {"9.88 cm", "10.0 cm", ten}, Metre: {"9.877 m", "10.00 m", ten},
		Inch: {"9.8765 in", "10.00 in", ten}, Foot: {"9.877 ft", "10.00 ft", ten},
	})
	checkSizes(t, map[Unit[pressure]]sizes{
		Kilopascal: {"9.9 kPa", "10 kPa", ten}, Bar: {"0.988 bar", "1.00 bar", one}, PSI: {"9.88 psi", "10.0 psi", ten},
	})
	checkSizes(t, map[Unit[torque]]sizes{
		NewtonMetre: {"98.8 N·m", "100 N·m", hundred}, PoundFoot: {"98.8 lbf·ft", "100 lbf·ft", hundred},
		PoundInch: {"98.8 lbf·in", "100 lbf·in", hundred},
	})
	for units, want := range map[Units]string{Metric(): "905", Metric().Large(): "0.905", US(): "31.9", US().Large(): "1.995"} {
		if got := units.BareMass(905); got != want {
			t.Errorf("905 g in %v are %q, want %q", units.Mass, got, want)
		}
	}
}

// The widest range that one capacity can have is three times its low end.
func TestWidestRange(t *testing.T) {
	if low, high, err := ParseRange("300-900 ml", Metric()); low != 300 || high != 900 || err != nil {
		t.Errorf("%g to %g ml, %v", low, high, err)
	}
}
