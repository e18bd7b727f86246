package adjust

import (
	"math"
	"math/rand/v2"
	"testing"

	"garage/tundish/model/measure"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// Two measures of one thing give the inverse-variance mean, by hand:
// (830/2125.2 + 828/1296)/(1/2125.2 + 1/1296) = 828.76 ± 28.37.
func TestTwoMeasuresGiveTheWeightedMean(t *testing.T) {
	v, w := measure.Gaussian("v", 830, math.Sqrt(2125.2)), measure.Gaussian("w", 828, 36)
	s, err := Solve([]measure.Value{v.Sub(w)})
	if err != nil {
		t.Fatal(err)
	}
	for name, x := range map[string]measure.Value{"by the one": s.Of(v), "by the other": s.Of(w)} {
		near(t, name, x.Nominal, 828.76, 0.005)
		near(t, name+", u", x.U(), 28.37, 0.005)
	}
	near(t, "what they have in common", measure.Covariance(s.Of(v), s.Of(w)), s.Of(v).Variance(), 1e-6)
	near(t, "z", new(Solution).Z(v.Sub(w)), 2/math.Sqrt(2125.2+1296), 1e-12)
	chi2, dof := s.Chi2()
	near(t, "χ²", chi2, 4/(2125.2+1296), 1e-9)
	near(t, "degrees of freedom", float64(dof), 1, 0)
}

// Two measures with most of their errors in common: the pair that W. A. Peelle put, with
// 10 % own and 20 % shared error of 1.5 and 1.0, for which least squares gives 0.88 ± 0.22,
// below both (from memory, R. W. Peelle 1987; the arithmetic agrees); and two readings of
// 0.1 each in one jug of 10, which leaves 0.1·√2 between them (by hand).
func TestMeasuresWithErrorsInCommon(t *testing.T) {
	reading := func(name string, x, own, shared float64) measure.Value {
		return measure.Gaussian(name, x, own).Add(measure.Gaussian("shared", 0, shared))
	}
	for name, tt := range map[string]struct {
		v, w         measure.Value
		mean, u, z   float64
		within, near float64
	}{
		"of unequal size": {reading("v", 1.5, 0.15, 0.3), reading("w", 1, 0.1, 0.2), 0.88, 0.22, 0.5 / math.Sqrt(0.0425), 0.005, 1e-12},
		"of one jug": {reading("v", 830, 0.1, 10), reading("w", 831, 0.1, 10), 830.5, math.Sqrt(100.005),
			1 / (0.1 * math.Sqrt2), 1e-9, 1e-9},
	} {
		gap := tt.v.Sub(tt.w)
		s, err := Solve([]measure.Value{gap})
		if err != nil {
			t.Fatal(err)
		}
		near(t, name, s.Of(tt.v).Nominal, tt.mean, tt.within)
		near(t, name+", u", s.Of(tt.w).U(), tt.u, tt.within)
		near(t, name+", z", new(Solution).Z(gap), tt.z, tt.near)
		// Gauss-Markov: the best mean is not correlated with the difference.
		near(t, name+", with the difference", measure.Covariance(s.Of(tt.v), gap), 0, 1e-9)
	}
}

func TestSolveNamesWhatIsWrong(t *testing.T) {
	fine := measure.Gaussian("a", 1, 1)
	for name, bad := range map[string]measure.Value{
		"no number": measure.Gaussian("a", math.NaN(), 1), "infinite": measure.Gaussian("a", math.Inf(-1), 1),
		"u no number": measure.Gaussian("a", 1, math.NaN()), "u infinite": measure.Gaussian("a", 1, math.Inf(1)),
		"too large": measure.Gaussian("a", -1e100, 1), "u too large": measure.Gaussian("a", 1, 1e100),
		"too large, exact": measure.Exact(1e200),
	} {
		s, err := Solve([]measure.Value{fine, bad})
		if err == nil || err.Error() != "condition 2 is not a number below 1e+100" || s != nil {
			t.Errorf("%s: %v, %v", name, s, err)
		}
	}
	if _, err := Solve([]measure.Value{measure.Gaussian("a", -9e99, 9e99)}); err != nil {
		t.Error(err)
	}
}

// What does not count says nothing: exact conditions, and those whose sources
// cancel but for rounding.
func TestWhatSaysNothing(t *testing.T) {
	a := measure.Gaussian("a", 830, 12)
	for name, conditions := range map[string][]measure.Value{
		"none": nil, "exact": {measure.Exact(7)}, "rounding": {a.Add(a.Scale(0.1)).Sub(a.Scale(1.1))},
		"below the floor": {a.Scale(0.99e-9 / 12)},
	} {
		s := solved(t, conditions...)
		if got := s.Of(a); got.Nominal != 830 || got.U() != 12 {
			t.Errorf("%s: %v ± %v", name, got.Nominal, got.U())
		}
	}
	near(t, "above the floor", solved(t, a.Sub(measure.Exact(829)).Scale(1.01e-9/12)).Of(a).Nominal, 829, 1e-9)
	var nothing *Solution
	if got := nothing.Of(a); got.Nominal != 830 || got.U() != 12 {
		t.Errorf("nil: %v", got)
	}
}

// What conditions do not speak of stays as it is, to the bit, also in a value of
// which they know a part; of a condition itself nothing is left, however often
// it was given.
func TestWhatIsLeft(t *testing.T) {
	a, b := measure.Gaussian("a", 830, 12), measure.Gaussian("b", 790, 5)
	own := measure.Gaussian("own", 0.1, 0.3)
	once, often := solved(t, a.Sub(b)), solved(t, a.Sub(b), b.Sub(a), a.Sub(b).Scale(1e-3), a.Sub(b))
	for _, s := range []*Solution{once, often} {
		got := s.Of(a.Add(own))
		for source, c := range got.Terms() {
			if source.Name == "own" && c != 0.3 {
				t.Errorf("own: %v", c)
			}
		}
		near(t, "mean, by hand", got.Nominal, (830*25+790*144)/169.+0.1, 1e-8)
		near(t, "variance, by hand", got.Variance(), 144*25/169.+0.09, 1e-8)
		if rest := s.Of(a.Sub(b)); rest.U() != 0 || math.Abs(rest.Nominal) > 1e-9 {
			t.Errorf("left of a condition: %v ± %v", rest.Nominal, rest.U())
		}
		if alone := s.Of(own); alone.Nominal != 0.1 || alone.U() != 0.3 {
			t.Errorf("own alone: %v ± %v", alone.Nominal, alone.U())
		}
		if chi2, dof := s.Chi2(); dof != 1 || math.Abs(chi2-1600/169.) > 1e-6 {
			t.Errorf("χ² %v with %d degrees of freedom", chi2, dof)
		}
	}
}

// What contradicts itself without any noise is met halfway, and shows in χ².
func TestContradictionWithoutNoise(t *testing.T) {
	a := measure.Gaussian("a", 700, 12)
	s := solved(t, a.Sub(measure.Exact(820)), a.Sub(measure.Exact(840)))
	got := s.Of(a)
	near(t, "mean", got.Nominal, 830, 0.01)
	near(t, "u", got.U(), 0, 0)
	if chi2, dof := s.Chi2(); chi2 < 1e6 || dof != 1 {
		t.Errorf("χ² %v with %d degrees of freedom", chi2, dof)
	}
}

// Two conditions that differ in a 10,000th of their error are two; in a
// hundred-millionth, one.
func TestNearlyTheSameTwice(t *testing.T) {
	a := measure.Gaussian("a", 0, 5)
	for own, want := range map[float64]int{5e-4: 2, 5e-8: 1} {
		if _, dof := solved(t, a, a.Add(measure.Gaussian("own", 0, own))).Chi2(); dof != want {
			t.Errorf("own %v: %d degrees of freedom, want %d", own, dof, want)
		}
	}
}

// A first job, ml: 900 stated as what a refill takes, ± 20, of which nothing else is known;
// 72 ± 31.5 usually stays, this time ± 18 beside it; the level before 0 ± 45; 830
// came out, 1010 were loaded and 40 left, all by one jug of ± 2 %/√3, ± 1.5 a
// look; 50 ± 25 escaped. By conditions, and by 10⁶ draws of the same job: what
// the stated quantity and what came out leave free is drawn and weighted.
func TestFirstJobByDraws(t *testing.T) {
	if testing.Short() {
		t.Skip("a million draws")
	}
	g := func(name string, x, u float64) measure.Value { return measure.Gaussian(name, x, u) }
	scale := 0.02 / math.Sqrt(3)
	jug := func(name string, x float64) measure.Value { return g(name, x, 1.5).Mul(g("jug", 1, scale)) }
	right, usual, own, before := g("right", 900, 900), g("usual", 72, 31.5), g("own", 0, 18), g("before", 0, 45)
	stays, out := usual.Add(own), jug("out", 830)
	s := solved(t, right.Sub(usual).Sub(g("stated", 900, 20)), right.Add(before).Sub(stays).Sub(out))
	off := s.Of(stays.Add(jug("load", 1010)).Sub(jug("left", 40)).Sub(g("escaped", 50, 25)).Sub(right))

	const draws = 1_000_000
	rng := rand.New(rand.NewPCG(9, 9))
	var weight, square, sum, sumSquares float64
	for range draws {
		n := rng.NormFloat64
		usual, own, jug := 72+31.5*n(), 18*n(), 1+scale*n()
		right := 900 + 20*n() + usual
		before := (830+1.5*n())*jug - right + usual + own // what came out says so
		w := math.Exp(-before*before/(2*45*45) - (right-900)*(right-900)/(2*900*900))
		x := usual + own + (1010+1.5*n()-40-1.5*n())*jug - 50 - 25*n() - right
		weight, square, sum, sumSquares = weight+w, square+w*w, sum+w*x, sumSquares+w*x*x
	}
	mean := sum / weight
	u := math.Sqrt(sumSquares/weight - mean*mean)
	effective := weight * weight / square
	if effective < draws/4 {
		t.Errorf("only %.0f draws count", effective)
	}
	near(t, "off", off.Nominal, mean, 4*u/math.Sqrt(effective))
	near(t, "u", off.U(), u, 4*u/math.Sqrt(2*effective))
}
