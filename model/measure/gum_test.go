// The worked examples of the Guide to the expression of uncertainty in measurement
// (GUM, JCGM 100:2008) and of its supplement on Monte Carlo (JCGM 101:2008).

package measure

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// The five simultaneous observations of GUM H.2, table H.2: volts, milliamperes,
// radians.
var (
	gumVoltsV       = []float64{5.007, 4.994, 5.005, 4.990, 4.999}
	gumCurrentMA    = []float64{19.663, 19.639, 19.640, 19.685, 19.678}
	gumPhaseRadians = []float64{1.0456, 1.0438, 1.0468, 1.0428, 1.0433}
)

// TestGUMH2CorrelatedInputs: GUM H.2, tables H.2 to H.4. Resistance, reactance and
// impedance from three input means, whose correlation makes u(R) 0.071 ohm; without it
// u(R) would be 0.195 ohm (computed, not published).
func TestGUMH2CorrelatedInputs(t *testing.T) {
	means, cov := meansWithCovariance(gumVoltsV, gumCurrentMA, gumPhaseRadians)
	near(t, "u(V)", math.Sqrt(cov[0][0]), 0.0032, 0.00005)
	near(t, "u(I)", math.Sqrt(cov[1][1]), 0.0095, 0.00005)
	near(t, "u(phi)", math.Sqrt(cov[2][2]), 0.00075, 0.000005)

	inputs, err := Correlated([]string{"V", "I", "phi"}, means, cov)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "r(V, I)", Correlation(inputs[0], inputs[1]), -0.36, 0.005)
	near(t, "r(V, phi)", Correlation(inputs[0], inputs[2]), 0.86, 0.005)
	near(t, "r(I, phi)", Correlation(inputs[1], inputs[2]), -0.65, 0.005)

	r, x, z := impedance(t, inputs[0], inputs[1], inputs[2])
	for _, row := range []struct {
		name       string
		got        Value
		ohm, u     float64
		uTolerance float64
	}{
		{"R", r, 127.732, 0.071, 0.0005},
		{"X", x, 219.847, 0.295, 0.001}, // the GUM prints 0.295 where full precision gives 0.2956
		{"Z", z, 254.260, 0.236, 0.0005},
	} {
		near(t, row.name, row.got.Nominal, row.ohm, 0.0005)
		near(t, "u("+row.name+")", row.got.U(), row.u, row.uTolerance)
	}
	near(t, "r(R, X)", Correlation(r, x), -0.588, 0.001)
	near(t, "r(R, Z)", Correlation(r, z), -0.485, 0.001)
	near(t, "r(X, Z)", Correlation(x, z), 0.993, 0.001)

	r, _, _ = impedance(t,
		Gaussian("V", means[0], math.Sqrt(cov[0][0])),
		Gaussian("I", means[1], math.Sqrt(cov[1][1])),
		Gaussian("phi", means[2], math.Sqrt(cov[2][2])))
	near(t, "u(R) ignoring correlation", r.U(), 0.195, 0.001)
}

// impedance returns R = V/I·cos φ, X = V/I·sin φ and Z = V/I in ohm.
func impedance(t *testing.T, volts, milliamps, phase Value) (r, x, z Value) {
	t.Helper()
	z, err := volts.Div(milliamps.Scale(1e-3))
	if err != nil {
		t.Fatal(err)
	}
	sin, cos := math.Sincos(phase.Nominal)
	return z.Mul(phase.Apply(cos, -sin)), z.Mul(phase.Apply(sin, cos)), z
}

// meansWithCovariance returns the means of simultaneous series and the covariance of
// those means (GUM 4.2 and 5.2.3).
func meansWithCovariance(series ...[]float64) ([]float64, [][]float64) {
	means, cov := make([]float64, len(series)), make([][]float64, len(series))
	for i, s := range series {
		for _, x := range s {
			means[i] += x / float64(len(s))
		}
	}
	for i, s := range series {
		cov[i] = make([]float64, len(series))
		for j, other := range series {
			for k := range s {
				cov[i][j] += (s[k] - means[i]) * (other[k] - means[j])
			}
			cov[i][j] /= float64(len(s) * (len(s) - 1))
		}
	}
	return means, cov
}

// TestGUMH1EndGauge: GUM H.1, table H.1 (nanometres): first-order u_c 32, from contributions
// 25, 9.7, 2.9 and 16.6; effective degrees of freedom 16; U99 93.
func TestGUMH1EndGauge(t *testing.T) {
	const lsNM = 50_000_623
	ls := Gaussian("standard", lsNM, 25)
	d := Sum(Gaussian("comparison", 215, 5.8), Gaussian("comparator random", 0, 3.9), Gaussian("comparator systematic", 0, 6.7))
	expansionGap := Rectangular("difference of expansion", 0, 1e-6)
	temperatureGap := Rectangular("difference of temperature", 0, 0.05)
	alpha := Rectangular("expansion", 11.5e-6, 2e-6)
	theta := Gaussian("bed mean", -0.1, 0.2).Add(Gaussian("bed cycle", 0, math.Sqrt(0.25/2)))

	drift := expansionGap.Mul(theta).Add(alpha.Mul(temperatureGap))
	l := ls.Add(d).Sub(ls.Mul(drift))
	near(t, "l", l.Nominal, 50_000_838, 0.5)
	near(t, "u_c first order", l.U(), 32, 0.5)
	near(t, "u_c first order, GTC library", l.U(), 31.66, 0.01)
	budget := l.Contributions()
	for i, want := range []struct {
		source string
		c      float64
	}{{"standard", 25}, {"difference of temperature", -16.6}, {"comparator systematic", 6.7}} {
		if budget[i].Source.Name != want.source {
			t.Errorf("contribution %d is %q, want %q", i, budget[i].Source.Name, want.source)
		}
		near(t, want.source, budget[i].C, want.c, 0.05)
	}
	near(t, "u(d)", d.U(), 9.7, 0.05)

	dofD := mustDoF(t, []DoFContribution{{5.8, 24}, {3.9, 5}, {6.7, 8}})
	near(t, "dof of d", dofD, 25.6, 0.2) // the GUM puts its rounded 9.7 into the formula
	dof := mustDoF(t, []DoFContribution{{25, 18}, {d.U(), dofD}, {2.88675, 50}, {16.5988, 2}})
	near(t, "effective dof, GTC library", dof, 16.7521475, 0.001)
	if math.Floor(dof) != 16 {
		t.Errorf("effective dof = %g, want 16 after rounding down", dof)
	}
	k, err := CoverageFactor(0.99, math.Floor(dof))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "t99(16)", k, 2.92, 0.005)
	near(t, "U99 from the rounded u_c", k*32, 93, 0.5)
}

// TestGUMG41EffectiveDoF: GUM G.4.1, example (from memory; its arithmetic agrees): relative
// u 0.25 %, 0.57 %, 0.82 % with 9, 4, 14 degrees of freedom give 1.03 %, 19.0 and U95 2.2 %.
func TestGUMG41EffectiveDoF(t *testing.T) {
	product := Gaussian("x1", 1, 0.0025).Mul(Gaussian("x2", 1, 0.0057)).Mul(Gaussian("x3", 1, 0.0082))
	near(t, "u_c", product.U(), 0.0103, 0.00005)
	dof := mustDoF(t, []DoFContribution{{0.25, 9}, {0.57, 4}, {0.82, 14}})
	near(t, "effective dof", dof, 19.0, 0.05)
	k, err := CoverageFactor(0.95, 19)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "t95(19)", k, 2.09, 0.005)
	near(t, "U95", k*product.U(), 0.022, 0.0005)
}

func mustDoF(t *testing.T, contributions []DoFContribution) float64 {
	t.Helper()
	dof, err := EffectiveDoF(contributions)
	if err != nil {
		t.Fatal(err)
	}
	return dof
}

const trials = 1_000_000

// standardised draws an error of mean 0 and standard deviation 1.
func standardised(rng *rand.Rand) func(Source) float64 {
	return func(s Source) float64 {
		if s.Shape == ShapeRectangular {
			return math.Sqrt(3) * (2*rng.Float64() - 1)
		}
		return rng.NormFloat64()
	}
}

// TestMonteCarloOfAdditiveModel: JCGM 101:2008, 9.2 (from memory; re-derived): Y = X1 + X2
// + X3 + X4, each of mean 0 and u 1. u(y) = 2.00; the 95 % interval is ± 3.92
// for normal and ± 3.88 for rectangular inputs, exactly 2√3·(2 - (3/5)^¼).
func TestMonteCarloOfAdditiveModel(t *testing.T) {
	for _, row := range []struct {
		name      string
		make      func(string) Value
		coverage  float64
		tolerance float64
	}{
		{"gaussian", func(s string) Value { return Gaussian(s, 0, 1) }, 3.92, 0.015},
		{"rectangular", func(s string) Value { return Rectangular(s, 0, math.Sqrt(3)) }, 3.88, 0.01},
	} {
		t.Run(row.name, func(t *testing.T) {
			y := Sum(row.make("x1"), row.make("x2"), row.make("x3"), row.make("x4"))
			near(t, "u(y)", y.U(), 2.00, 1e-12)
			draw := standardised(rand.New(rand.NewPCG(9, 2)))
			ys := make([]float64, trials)
			for i := range ys {
				ys[i] = math.Abs(y.At(draw))
			}
			slices.Sort(ys)
			near(t, "95 % interval", ys[trials*95/100], row.coverage, row.tolerance)
		})
	}
}

// TestMonteCarloShowsLimitOfFirstOrder: JCGM 101:2008, 9.4 (from memory; arithmetic
// re-done): Y = X1² + X2², x1 = 0.050, x2 = 0, u = 0.005 each. First order gives y =
// 2500e-6, u = 500e-6; in truth the mean is 2550e-6 and u 502e-6 (exactly 502.49e-6).
func TestMonteCarloShowsLimitOfFirstOrder(t *testing.T) {
	x1, x2 := Gaussian("x1", 0.050, 0.005), Gaussian("x2", 0, 0.005)
	y := x1.Mul(x1).Add(x2.Mul(x2))
	near(t, "y", y.Nominal, 2500e-6, 1e-12)
	near(t, "u(y) first order", y.U(), 500e-6, 1e-12)

	draw := standardised(rand.New(rand.NewPCG(9, 4)))
	sum, squares := 0.0, 0.0
	for range trials {
		a, b := x1.At(draw), x2.At(draw)
		d := a*a + b*b - y.Nominal
		sum, squares = sum+d, squares+d*d
	}
	mean := sum / trials
	// Four standard errors of a million draws.
	near(t, "mean", y.Nominal+mean, 2550e-6, 2e-6)
	near(t, "u", math.Sqrt(squares/trials-mean*mean), 502.5e-6, 1.5e-6)
}
