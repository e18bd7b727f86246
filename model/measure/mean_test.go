// The mean of two values of the same quantity.

package measure

import (
	"errors"
	"math"
	"testing"
)

// TestWeightedMeanOfTwoEstimates: hand-worked. 830 out of a jug with 10 ml graduation and
// 2 % scale error, prior level trusted to 45; against 900 of capacity less 72 ± 36.
// u² = 10²/12 + (0.02·830)²/3 + 45² = 2125.2 and 36² = 1296; so
// (830/2125.2 + 828/1296)/(1/2125.2 + 1/1296) = 828.76, u = 28.37.
func TestWeightedMeanOfTwoEstimates(t *testing.T) {
	drained := Rectangular("reading", 830, 5).Mul(Rectangular("jug scale", 1, 0.02)).Add(Gaussian("prior level", 0, 45))
	stated := Exact(900).Sub(Gaussian("residual", 72, 36))
	mean, z, err := WeightedMean(drained, stated)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean", mean.Nominal, 828.76, 0.005)
	near(t, "u", mean.U(), 28.37, 0.005)
	near(t, "z", z, 2/math.Sqrt(2125.2+1296), 1e-4)
	near(t, "covariance with the residual is kept", Covariance(mean, Gaussian("residual", 0, 36)), -mean.Variance(), 1e-9)
}

// TestWeightedMeanOfCorrelatedPair: the pair that W. A. Peelle put, with 10 % own and 20 %
// shared error of 1.5 and 1.0: least squares gives 0.88 ± 0.22, below both (from memory,
// R. W. Peelle 1987; the arithmetic agrees).
func TestWeightedMeanOfCorrelatedPair(t *testing.T) {
	shared := func(x float64) Value { return Gaussian("normalisation", x, 0.2*x) }
	v := shared(1.5).Add(Gaussian("v", 0, 0.15))
	w := shared(1.0).Add(Gaussian("w", 0, 0.10))
	mean, _, err := WeightedMean(v, w)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean", mean.Nominal, 0.88, 0.005)
	near(t, "u", mean.U(), 0.22, 0.005)
}

func TestWeightedMeanOfExactValues(t *testing.T) {
	mean, z, err := WeightedMean(Exact(5), Gaussian("a", 9, 2))
	if err != nil || mean.Nominal != 5 || mean.U() != 0 {
		t.Errorf("exact with uncertain: %v ± %v, %v, want the exact one", mean.Nominal, mean.U(), err)
	}
	near(t, "z", z, 2, 1e-12)

	shared := Gaussian("a", 5, 2)
	if mean, z, err := WeightedMean(shared, shared); err != nil || mean.U() != 2 || z != 0 {
		t.Errorf("value with itself: %v ± %v, z %v, %v", mean.Nominal, mean.U(), z, err)
	}
	for _, w := range []Value{Exact(5), shared, Exact(5e-6)} {
		if _, z, err := WeightedMean(w.Add(Exact(1e-6)), w); !errors.Is(err, ErrExactContradiction) || !math.IsInf(z, 1) {
			t.Errorf("certain difference: z %v, %v", z, err)
		}
	}
}

// TestNearlyAllShared: two readings of 0.1 each in one jug of 10 leave 0.1·√2 between them,
// so 1 ml is 7.07 standard uncertainties.
func TestNearlyAllShared(t *testing.T) {
	jug := Gaussian("jug", 0, 10)
	v, w := Gaussian("v", 830, 0.1).Add(jug), Gaussian("w", 831, 0.1).Add(jug)
	mean, z, err := WeightedMean(v, w)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "z", z, 1/(0.1*math.Sqrt2), 1e-9)
	near(t, "mean", mean.Nominal, 830.5, 1e-9)
	near(t, "variance", mean.Variance(), 100+0.01/2, 1e-9)
}

// Two values whose own errors are beyond the rounding of the shared one have no room for a
// difference: 1e-10 beside a shared 10 is 1e-22 of the variance; 1e-8 is 1e-18 and counts.
func TestWeightedMeanOfErrorsInCommon(t *testing.T) {
	shared := Gaussian("shared", 10, 10)
	if _, _, err := WeightedMean(shared, shared.Add(Gaussian("own", 1, 1e-10))); !errors.Is(err, ErrExactContradiction) {
		t.Errorf("own error of 1e-10: %v", err)
	}
	if _, z, err := WeightedMean(shared, shared.Add(Gaussian("own", 1, 1e-8))); err != nil || math.Abs(z-1e8) > 1 {
		t.Errorf("own error of 1e-8: z %v, %v", z, err)
	}
}
