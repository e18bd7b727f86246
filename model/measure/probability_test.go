// Conformance probability.

package measure

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestConformanceProbability: the examples of JCGM 106:2012, 7.3 and 7.4 (from memory), and
// quantiles of the normal distribution (GUM table G.1).
func TestConformanceProbability(t *testing.T) {
	inf := math.Inf(1)
	for _, row := range []struct {
		name              string
		x, u, low, high   float64
		within, tolerance float64
	}{
		{"breakdown voltage, at most -5.40 V", -5.47, 0.05, -inf, -5.40, 0.92, 0.005},
		{"burst pressure, at least 490 kPa", 509.7, 8.6, 490, inf, 0.989, 0.0005},
		{"oil viscosity, 12.5 to 16.3 mm2/s", 13.6, 1.8, 12.5, 16.3, 0.66, 0.005},
		{"± 1.960 u", 0, 1, -1.960, 1.960, 0.95, 0.00005},
		{"± 1 u", 10, 2, 8, 12, 0.6827, 0.00005},
		{"± 3 u", 10, 2, 4, 16, 0.9973, 0.00005},
		{"anything goes", 10, 2, -inf, inf, 1, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, within, _ := Probability(Gaussian("a", row.x, row.u), row.low, row.high)
			near(t, "within", within, row.within, row.tolerance)
		})
	}
}

// TestFarTails: Φ(−10) = 7.619853e-24 (computed with 40 digits), on either side.
func TestFarTails(t *testing.T) {
	inf := math.Inf(1)
	below, _, _ := Probability(Gaussian("a", 10, 1), 0, inf)
	_, _, above := Probability(Gaussian("a", -10, 1), -inf, 0)
	near(t, "below", below, 7.619853e-24, 1e-29)
	near(t, "above", above, 7.619853e-24, 1e-29)
}

func TestProbabilityOfExactValue(t *testing.T) {
	for _, row := range []struct{ x, below, within, above float64 }{
		{778, 1, 0, 0}, {779, 0, 1, 0}, {829, 0, 1, 0}, {879, 0, 1, 0}, {880, 0, 0, 1},
	} {
		below, within, above := Probability(Exact(row.x), 779, 879)
		if below != row.below || within != row.within || above != row.above {
			t.Errorf("%v: %v %v %v, want %v %v %v", row.x, below, within, above, row.below, row.within, row.above)
		}
	}
}

func TestProbabilityOfInvalidLimitsIsNaN(t *testing.T) {
	nan := math.NaN()
	for _, row := range []struct{ x, u, low, high float64 }{
		{0, 1, 1, -1}, {0, 1, nan, 1}, {0, 1, -1, nan}, {nan, 1, -1, 1}, {nan, 0, -1, 1}, {0, nan, -1, 1},
	} {
		below, within, above := Probability(Gaussian("a", row.x, row.u), row.low, row.high)
		if !math.IsNaN(below) || !math.IsNaN(within) || !math.IsNaN(above) {
			t.Errorf("%+v: %v %v %v, want three NaN", row, below, within, above)
		}
	}
}

// One value is an interval without width: half below it, half above.
func TestProbabilityOfLimitsThatAreEqual(t *testing.T) {
	if below, within, above := Probability(Gaussian("a", 5, 1), 5, 5); below != 0.5 || within != 0 || above != 0.5 {
		t.Errorf("%v %v %v, want 0.5 0 0.5", below, within, above)
	}
}

// TestProbabilityIdentities: JCGM 106:2012, 7: the three add up to 1; mirrored limits swap
// below and above; moving up never makes below more probable.
func TestProbabilityIdentities(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-50, 50).Draw(t, "x")
		u := rapid.Float64Range(0.01, 20).Draw(t, "u")
		low := rapid.Float64Range(-50, 50).Draw(t, "low")
		high := low + rapid.Float64Range(0, 50).Draw(t, "width")
		below, within, above := Probability(Gaussian("a", x, u), low, high)
		sameWithin(t, below+within+above, 1, 1e-12)
		above2, within2, below2 := Probability(Gaussian("a", -x, u), -high, -low)
		sameWithin(t, below2, below, 1e-12)
		sameWithin(t, within2, within, 1e-12)
		sameWithin(t, above2, above, 1e-12)
		if up, _, _ := Probability(Gaussian("a", x+1, u), low, high); up > below {
			t.Fatalf("below grew from %v to %v", below, up)
		}
	})
}
