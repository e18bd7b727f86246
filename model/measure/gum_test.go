// The worked examples of the Guide to the expression of uncertainty in measurement
// (GUM, JCGM 100:2008) and of its supplement on Monte Carlo (JCGM 101:2008).

package measure

import (
	"math"
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

	inputs := correlated([]string{"V", "I", "phi"}, means, cov)
	near(t, "r(V, I)", correlation(inputs[0], inputs[1]), -0.36, 0.005)
	near(t, "r(V, phi)", correlation(inputs[0], inputs[2]), 0.86, 0.005)
	near(t, "r(I, phi)", correlation(inputs[1], inputs[2]), -0.65, 0.005)

	r, x, z := impedance(t, inputs)
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
	near(t, "r(R, X)", correlation(r, x), -0.588, 0.001)
	near(t, "r(R, Z)", correlation(r, z), -0.485, 0.001)
	near(t, "r(X, Z)", correlation(x, z), 0.993, 0.001)

	r, _, _ = impedance(t, []Value{
		Gaussian("V", means[0], math.Sqrt(cov[0][0])),
		Gaussian("I", means[1], math.Sqrt(cov[1][1])),
		Gaussian("phi", means[2], math.Sqrt(cov[2][2])),
	})
	near(t, "u(R) ignoring correlation", r.U(), 0.195, 0.001)
}

// impedance returns R = V/I·cos φ, X = V/I·sin φ and Z = V/I in ohm, from V in volts, I in
// milliamperes and φ in radians, by their partial derivatives.
func impedance(t *testing.T, inputs []Value) (r, x, z Value) {
	t.Helper()
	volts, amps := inputs[0].Nominal, inputs[1].Nominal/1000
	sin, cos := math.Sincos(inputs[2].Nominal)
	ohm := volts / amps
	by := func(share, perRadian float64) Value {
		v, err := Combine(ohm*share, []float64{share / amps, -ohm * share / amps / 1000, ohm * perRadian}, inputs)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	return by(cos, -sin), by(sin, cos), by(1, 0)
}

// correlated returns values with the nominals and the semidefinite covariance matrix
// given: x_i = nominal_i + Σ_j L_ij·source_j with the Cholesky factor L (JCGM 101:2008,
// 6.4.8.4, which draws by the same factor).
func correlated(names []string, nominals []float64, cov [][]float64) []Value {
	factor := make([][]float64, len(names))
	values := make([]Value, len(names))
	for i := range names {
		factor[i] = make([]float64, len(names))
		values[i] = Exact(nominals[i])
		for j := range i + 1 {
			rest := cov[i][j]
			for k := range j {
				rest -= factor[i][k] * factor[j][k]
			}
			switch {
			case i != j && factor[j][j] > 0:
				factor[i][j] = rest / factor[j][j]
			case i == j && rest > 1e-12*cov[i][i]: // less is rounding: those before it determine it
				factor[i][i] = math.Sqrt(rest)
			}
			values[i] = values[i].Add(Gaussian("source "+names[j], 0, 1).Scale(factor[i][j]))
		}
	}
	return values
}

// correlation is the correlation coefficient of two uncertain values.
func correlation(v, w Value) float64 { return Covariance(v, w) / (v.U() * w.U()) }

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
// 25, 9.7, 2.9 and 16.6.
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
			t.Errorf("contribution %d is %+v, want %q", i, budget[i].Source, want.source)
		}
		near(t, want.source, budget[i].C, want.c, 0.05)
	}
	near(t, "u(d)", d.U(), 9.7, 0.05)
}

// TestGUMG41Product: GUM G.4.1, example (from memory; its arithmetic agrees): relative u
// 0.25 %, 0.57 % and 0.82 % of three factors make 1.03 % of their product.
func TestGUMG41Product(t *testing.T) {
	product := Gaussian("x1", 1, 0.0025).Mul(Gaussian("x2", 1, 0.0057)).Mul(Gaussian("x3", 1, 0.0082))
	near(t, "u_c", product.U(), 0.0103, 0.00005)
}

// TestLimitOfFirstOrder: JCGM 101:2008, 9.4 (from memory): Y = X1² + X2², x1 = 0.050, x2 =
// 0, u = 0.005 each. First order gives y = 2500e-6 and u = 500e-6, where the supplement finds
// 2550e-6 and 502e-6.
func TestLimitOfFirstOrder(t *testing.T) {
	x1, x2 := Gaussian("x1", 0.050, 0.005), Gaussian("x2", 0, 0.005)
	y := x1.Mul(x1).Add(x2.Mul(x2))
	near(t, "y", y.Nominal, 2500e-6, 1e-12)
	near(t, "u(y)", y.U(), 500e-6, 1e-12)
}

// TestAdditiveModel: JCGM 101:2008, 9.2 (from memory): the sum of four inputs of mean 0 and
// u 1 has u 2.00, whether they are normal or rectangular.
func TestAdditiveModel(t *testing.T) {
	y := Sum(Gaussian("x1", 0, 1), Rectangular("x2", 0, math.Sqrt(3)), Gaussian("x3", 0, 1), Rectangular("x4", 0, math.Sqrt(3)))
	near(t, "u(y)", y.U(), 2.00, 1e-12)
}
