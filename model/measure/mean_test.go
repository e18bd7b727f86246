// Combining values: the mean of two, and the scale factor of inconsistent ones.

package measure

import (
	"errors"
	"math"
	"testing"
)

// TestWeightedMeanOfTwoWitnesses: hand-worked. 830 out of a jug with 10 ml graduation and
// 2 % scale error, prior level trusted to 45; against 900 of capacity less 72 ± 36.
// u² = 10²/12 + (0.02·830)²/3 + 45² = 2125.2 and 36² = 1296; so
// (830/2125.2 + 828/1296)/(1/2125.2 + 1/1296) = 828.76, u = 28.37.
func TestWeightedMeanOfTwoWitnesses(t *testing.T) {
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
	for _, w := range []Value{Exact(5), shared.Shift(1)} {
		if _, z, err := WeightedMean(w.Shift(1), w); !errors.Is(err, ErrExactContradiction) || !math.IsInf(z, 1) {
			t.Errorf("certain difference: z %v, %v", z, err)
		}
	}
}

// TestBirgeScale: published inputs and results.
func TestBirgeScale(t *testing.T) {
	kaonMeV := []float64{493.691, 493.657, 493.670, 493.640, 493.636, 493.696}
	kaonU := []float64{0.040, 0.020, 0.029, 0.054, 0.011, 0.007}
	for _, row := range []struct {
		name          string // and source
		xs, us        []float64
		rule          ScaleRule
		mean, s, u    float64
		tMean, tS, tU float64
	}{
		{"charged kaon mass, pdglive.lbl.gov S010: 493.677 ± 0.013, S = 2.4", kaonMeV, kaonU, ParticleDataGroup,
			493.677, 2.4, 0.013, 0.0005, 0.05, 0.0005},
		{"the same by every input, computed, not published", kaonMeV, kaonU, BirgeRatio,
			493.6766, 2.1403, 0.01172, 0.0001, 0.0001, 0.00001},
		{"10 ± 4 and 30 ± 5, T. Dorigo, What PDG weighted average means: 17.80; S² = χ²/(N-1)", []float64{10, 30}, []float64{4, 5}, BirgeRatio,
			17.80, 3.123, 9.756, 0.005, 0.005, 0.005},
		{"Omega_b mass, Review of Particle Physics: 6071 ± 40, S = 6.2 (from memory)",
			[]float64{6165, 6054.4}, []float64{math.Hypot(10, 13), math.Hypot(6.8, 0.9)}, ParticleDataGroup,
			6071, 6.2, 39.4, 0.5, 0.05, 0.6},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := BirgeScale(row.xs, row.us, row.rule)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "mean", got.Mean, row.mean, row.tMean)
			near(t, "S", got.Scale, row.s, row.tS)
			near(t, "scaled u", got.ScaledU, row.u, row.tU)
		})
	}
}

func TestBirgeScaleNeverNarrows(t *testing.T) {
	got, err := BirgeScale([]float64{10, 10.1}, []float64{4, 5}, BirgeRatio)
	if err != nil {
		t.Fatal(err)
	}
	if got.Scale >= 1 || got.ScaledU != got.U {
		t.Errorf("S = %v, scaled u %v of %v: agreement must not narrow", got.Scale, got.ScaledU, got.U)
	}
	got, err = BirgeScale([]float64{10}, []float64{4}, ParticleDataGroup)
	if err != nil || got.Mean != 10 || got.ScaledU != 4 || got.Scale != 0 {
		t.Errorf("one result: %+v, %v", got, err)
	}
}

func TestBirgeScaleRefusals(t *testing.T) {
	for _, row := range []struct{ xs, us []float64 }{
		{nil, nil},
		{[]float64{1, 2}, []float64{1}},
		{[]float64{1, 2}, []float64{1, 0}},
		{[]float64{1, 2}, []float64{-1, 1}},
		{[]float64{1, math.NaN()}, []float64{1, 1}},
		{[]float64{1, 2}, []float64{1, math.Inf(1)}},
	} {
		if _, err := BirgeScale(row.xs, row.us, BirgeRatio); err == nil {
			t.Errorf("%v ± %v accepted", row.xs, row.us)
		}
	}
}
