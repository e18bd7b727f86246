package hydraulics

// Checks of the flow laws against worked examples, and of the closed integral.

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

func TestHagenPoiseuillePublished(t *testing.T) {
	for _, row := range []struct {
		source                          string
		boreMM, lengthM, muPaS, flowM3S float64
		wantPa, tolPa                   float64
	}{
		// P1 is 8.00 mmHg = 1.066e3 Pa, so P2 = 1.62e4 Pa means a drop of 1.5134e4.
		{"OpenStax College Physics 12.4, pressure for an infusion", 0.300, 0.025, 1e-3, 0.120e-6, 1.62e4 - 1.066e3, 50},
		{"needle, justaaa.com physics 224862", 0.35, 0.0314, 1e-3, 1e-6, 85254.55, 0.01},
		// The answer went on with the speed rounded to 0.064 m/s.
		{"SAE 30 in a 20 mm tube, policylink.org 13109630 (a forum answer)", 20, 1, 0.15531, 0.064 * math.Pi / 4 * 0.02 * 0.02,
			795.18, 0.01},
	} {
		got := resistancePaSM3([]Piece{{row.boreMM, row.lengthM}}, row.muPaS) * row.flowM3S
		if math.Abs(got-row.wantPa) > row.tolPa {
			t.Errorf("%s: %.3f Pa, want %.2f", row.source, got, row.wantPa)
		}
	}
}

// The needle above is not laminar, though the formula gives the printed pressure.
func TestReynolds(t *testing.T) {
	for _, row := range []struct {
		source                string
		flowM3S, boreM, kvM2S float64
		want, tol             float64
		laminar               bool
	}{
		{"needle, computed", 1e-6, 0.35e-3, 1e-3 / 1000, 3637.8, 0.1, false},
		{"SAE 30, policylink.org 13109630, speed rounded", 0.064 * math.Pi / 4 * 0.02 * 0.02, 0.02, 0.15531 / 872.5, 7.18, 0.02, true},
	} {
		got := reynolds(row.flowM3S, row.boreM, row.kvM2S)
		if math.Abs(got-row.want) > row.tol || (PushResult{Reynolds: got}).IsLowerBound() == row.laminar {
			t.Errorf("%s: %.2f, want %g", row.source, got, row.want)
		}
	}
}

// Cengel and Cimbala, Fluid Mechanics, example 8-1 (data seen in print, results from memory):
// oil in a pipe that lies level, rises by 15° and falls by 15°.
func TestInclinedPipe(t *testing.T) {
	const rhoKgM3, muPaS, dropPa, lengthM, g = 888, 0.800, 745e3 - 97e3, 40.0, 9.81
	resistance := resistancePaSM3([]Piece{{50, lengthM}}, muPaS)
	for _, row := range []struct{ degrees, wantM3S, reynolds float64 }{
		{0, 0.00311, 87.8}, {15, 0.00267, 75.6}, {-15, 0.00354, 100.0},
	} {
		liftPa := rhoKgM3 * g * lengthM * math.Sin(row.degrees*math.Pi/180)
		flowM3S := 1 / (resistance * charge{startKPa: dropPa, liftKPa: liftPa}.integral(1)) // Pa for kPa
		if math.Abs(flowM3S-row.wantM3S) > 5e-6 {
			t.Errorf("%g°: %.6f m³/s, want %g", row.degrees, flowM3S, row.wantM3S)
		}
		if re := reynolds(flowM3S, 0.05, muPaS/rhoKgM3); math.Abs(re-row.reynolds) > 0.05 {
			t.Errorf("%g°: Reynolds %.2f, want %g", row.degrees, re, row.reynolds)
		}
	}
}

// Computed by the law of Boyle: 0.8 L of air at 1.0 bar are at 0.10 bar when 0.65 L of oil
// have left, and 1 m of oil weighs 0.09 bar.
func TestAirRunsOutOfPush(t *testing.T) {
	c := charge{startKPa: 100, liftKPa: 9, airML: 800}
	if got := c.pressureKPa(650); math.Abs(got-10) > 0.5 {
		t.Errorf("%.2f kPa are left, want about 10", got)
	}
	if reachML := c.reachML(); math.Abs(c.pressureKPa(reachML)-c.liftKPa) > 1e-9 {
		t.Errorf("at its reach of %.1f ml it has %.3f kPa, the lift is %g", reachML, c.pressureKPa(reachML), c.liftKPa)
	}
}

func genCharge(t *rapid.T) charge {
	return charge{
		startKPa: rapid.Float64Range(20, 300).Draw(t, "start"),
		liftKPa:  rapid.Float64Range(-15, 18).Draw(t, "lift"),
		airML:    rapid.Float64Range(50, 5000).Draw(t, "air"),
	}
}

func TestClosedFormAgainstQuadrature(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := genCharge(t)
		outML := c.reachML() * rapid.Float64Range(0.001, 0.95).Draw(t, "part of reach")
		numerical := quad.Fixed(func(x float64) float64 {
			return 1 / (c.pressureKPa(x) - c.liftKPa)
		}, 0, outML, 200, nil, 0)
		if got := c.integral(outML); !scalar.EqualWithinRel(got, numerical, 1e-9) {
			t.Fatalf("%+v, %v ml: %v, numerically %v", c, outML, got, numerical)
		}
	})
}

// With a huge air space the pressure is as good as held, and the closed form must not lose
// its digits there.
func TestHugeAirIsHeldPressure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := genCharge(t)
		outML := rapid.Float64Range(50, 2000).Draw(t, "out")
		held := charge{startKPa: c.startKPa, liftKPa: c.liftKPa}.integral(outML)
		c.airML = 1e9
		if got := c.integral(outML); !scalar.EqualWithinRel(got, held, 1e-3) {
			t.Fatalf("%v with huge air, %v held", got, held)
		}
	})
}
