package vessel

// Checks of the density of water and of weighing in air.

import (
	"math"
	"testing"
)

// Handbook densities and how far the formula may be from each, as in the tests of chempy
// (properties/tests/test_water_density_tanaka_2001.py); the last row is chempy's own value.
func TestWaterDensityPublished(t *testing.T) {
	for _, row := range []struct{ tempC, kgM3, tol float64 }{
		{0, 999.8395, 0.004}, {4, 999.9720, 0.003}, {10, 999.7026, 0.0003}, {15, 999.1026, 0.0001},
		{20, 998.2071, 0.0005}, {22, 997.7735, 0.0007}, {25, 997.0479, 0.0009}, {30, 995.6502, 0.0016},
		{40, 992.2, 0.02}, {25, 997.047021671824, 1e-8},
	} {
		if got := waterKgM3(row.tempC); math.Abs(got-row.kgM3) > row.tol {
			t.Errorf("at %g °C %.6f kg/m³, want %g ± %g", row.tempC, got, row.kgM3, row.tol)
		}
	}
}

// G. S. Kell's formula of 1975, as restated by F. E. Jones and G. L. Harris, Journal of
// Research of NIST 97 (1992) 335, equation 1, is another fit to other measurements, on a
// temperature scale that differs by up to 0.01 °C. The restatement transposes two digits in the
// denominator (16.897850); Kell's 16.879850 is from memory, and the only one that gives water.
func TestWaterDensityAgainstKell(t *testing.T) {
	for c := 0.0; c <= 40; c += 2.5 {
		kell := (999.83952 + c*(16.945176+c*(-7.9870401e-3+c*(-46.170461e-6+c*(105.56302e-9-c*280.54253e-12))))) / (1 + 16.879850e-3*c)
		if got := waterKgM3(c); math.Abs(got-kell) > 0.006 {
			t.Errorf("at %g °C %.5f kg/m³, Kell %.5f", c, got, kell)
		}
	}
}

// Published: the table of ISO 8655 in a pipette manual (easymanua.ls, sartorius picus, page
// 34), in µl/mg, rounded to 4 decimals. Two of its rows are 5e-6 off the rounding.
func TestZPublished(t *testing.T) {
	pressuresKPa := [...]float64{95, 100, 101.3, 105}
	for _, row := range []struct {
		tempC float64
		z     [4]float64
	}{
		{20.0, [4]float64{1.0028, 1.0028, 1.0029, 1.0029}},
		{20.5, [4]float64{1.0029, 1.0029, 1.0030, 1.0030}},
		{21.0, [4]float64{1.0030, 1.0031, 1.0031, 1.0031}},
		{21.5, [4]float64{1.0031, 1.0032, 1.0032, 1.0032}},
		{22.0, [4]float64{1.0032, 1.0033, 1.0033, 1.0033}},
		{22.5, [4]float64{1.0033, 1.0034, 1.0034, 1.0034}},
		{23.0, [4]float64{1.0034, 1.0035, 1.0035, 1.0036}},
		{23.5, [4]float64{1.0036, 1.0036, 1.0036, 1.0037}},
	} {
		for i, airKPa := range pressuresKPa {
			if got := zMLPerG(row.tempC, airKPa); math.Abs(got-row.z[i]) > 6e-5 {
				t.Errorf("Z(%g, %g) = %.6f, want %.4f", row.tempC, airKPa, got, row.z[i])
			}
		}
	}
}

// The density of air by the full formula of the CIPM (2007) at 20 °C, 101.325 kPa and 50 %
// humidity is 1.1992 kg/m³, and dry 1.2046 (from memory). OIML R 111-1 gives the simplified
// one for 2e-4 of it.
func TestAirDensity(t *testing.T) {
	if got := airKgM3(20, 101.325); math.Abs(got-1.1992) > 4e-4 {
		t.Errorf("%.5f kg/m³, want 1.1992", got)
	}
}
