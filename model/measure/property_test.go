// Properties that the arithmetic must have for any values, whatever they share.

package measure

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// sourcePool is small, so that drawn values often share sources.
var sourcePool = []Source{
	{"jug scale", ShapeRectangular}, {"thermometer", ShapeRectangular}, {"level", ShapeGaussian},
	{"density", ShapeGaussian}, {"density", ShapeRectangular}, {"bore", ShapeGaussian},
}

// values draws a value of up to six sources with nominal and contributions of the
// order of 1.
func values() *rapid.Generator[Value] {
	return rapid.Custom(func(t *rapid.T) Value {
		v := Exact(rapid.Float64Range(-10, 10).Draw(t, "nominal"))
		for _, s := range sourcePool {
			if rapid.Bool().Draw(t, "has "+s.Name) {
				v = v.Add(Value{terms: []term{{s, rapid.Float64Range(-3, 3).Filter(notTiny).Draw(t, "c")}}})
			}
		}
		return v
	})
}

func notTiny(x float64) bool { return math.Abs(x) > 1e-3 }

// contribution returns what a source adds to v, through the public covariance.
func contribution(v Value, s Source) float64 { return Covariance(v, Value{terms: []term{{s, 1}}}) }

func sameValue(t *rapid.T, what string, got, want Value) {
	t.Helper()
	tolerance := 1e-12 * (1 + math.Abs(want.Nominal) + want.U())
	if math.Abs(got.Nominal-want.Nominal) > tolerance {
		t.Fatalf("%s: nominal %v, want %v", what, got.Nominal, want.Nominal)
	}
	for _, s := range sourcePool {
		if g, w := contribution(got, s), contribution(want, s); math.Abs(g-w) > tolerance {
			t.Fatalf("%s: contribution of %v is %v, want %v", what, s, g, w)
		}
	}
	inOrder := slices.IsSortedFunc(got.terms, func(a, b term) int { return compareSources(a.source, b.source) })
	if !inOrder {
		t.Fatalf("%s: terms out of order: %v", what, got.terms)
	}
	for i, term := range got.terms {
		if term.c == 0 || i > 0 && term.source == got.terms[i-1].source {
			t.Fatalf("%s: empty or repeated term: %v", what, got.terms)
		}
	}
}

func TestAdditionAlgebra(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := values().Draw(t, "a"), values().Draw(t, "b"), values().Draw(t, "c")
		k := rapid.Float64Range(-5, 5).Draw(t, "k")
		sameValue(t, "commutes", a.Add(b), b.Add(a))
		sameValue(t, "associates", a.Add(b).Add(c), a.Add(b.Add(c)))
		sameValue(t, "subtracts what was added", a.Add(b).Sub(b), a)
		sameValue(t, "distributes", a.Add(b).Scale(k), a.Scale(k).Add(b.Scale(k)))
		sameValue(t, "product distributes", a.Add(b).Mul(c), a.Mul(c).Add(b.Mul(c)))
		sameValue(t, "scale is product with exact", a.Scale(k), a.Mul(Exact(k)))
		sameValue(t, "shift is sum with exact", a.Shift(k), a.Add(Exact(k)))
		sameValue(t, "sum", Sum(a, b, c, a), a.Add(b).Add(c).Add(a))
		combined, err := Combine(7, []float64{2, -3, k}, []Value{a, b, c})
		if err != nil {
			t.Fatal(err)
		}
		byHand := a.Scale(2).Sub(b.Scale(3)).Add(c.Scale(k))
		sameValue(t, "combine", combined, byHand.Shift(7-byHand.Nominal))
	})
}

// TestDifferenceWithItselfIsExact: one reading used twice has no error left.
func TestDifferenceWithItselfIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := values().Draw(t, "a")
		if d := a.Sub(a); d.Nominal != 0 || d.U() != 0 || len(d.Contributions()) != 0 {
			t.Fatalf("a - a = %v ± %v from %v", d.Nominal, d.U(), d.Contributions())
		}
		if u, twice := a.U(), a.Add(a).U(); math.Abs(twice-2*u) > 1e-14*u {
			t.Fatalf("u(a + a) = %v, want twice %v", twice, u)
		}
	})
}

func TestCovarianceIsBilinear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := values().Draw(t, "a"), values().Draw(t, "b"), values().Draw(t, "c")
		k := rapid.Float64Range(-5, 5).Draw(t, "k")
		equal := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-11*(1+math.Abs(want)) {
				t.Fatalf("%s: %v, want %v", what, got, want)
			}
		}
		equal("symmetric", Covariance(a, b), Covariance(b, a))
		equal("with itself", Covariance(a, a), a.Variance())
		equal("linear", Covariance(a.Scale(k).Add(b), c), k*Covariance(a, c)+Covariance(b, c))
		equal("variance of sum", a.Add(b).Variance(), a.Variance()+b.Variance()+2*Covariance(a, b))
		if r := Correlation(a, b); math.Abs(r) > 1 {
			t.Fatalf("correlation %v", r)
		}
	})
}

// TestContributionsMatchFiniteDifferences moves one source at a time by a small
// standardised error and recomputes with plain numbers.
func TestContributionsMatchFiniteDifferences(t *testing.T) {
	type operation struct {
		name  string
		plain func(x, y float64) float64
		value func(v, w Value) (Value, error)
	}
	operations := []operation{
		{"mul", func(x, y float64) float64 { return x * y }, func(v, w Value) (Value, error) { return v.Mul(w), nil }},
		{"div", func(x, y float64) float64 { return x / y }, Value.Div},
		{"exp", func(x, _ float64) float64 { return math.Exp(x) }, func(v, _ Value) (Value, error) { return v.Exp(), nil }},
		{"log", func(_, y float64) float64 { return math.Log(y) }, func(_, w Value) (Value, error) { return w.Log() }},
	}
	rapid.Check(t, func(t *rapid.T) {
		v := values().Draw(t, "v").Scale(0.2)
		w := values().Draw(t, "w")
		w = w.Shift(3 + math.Abs(w.Nominal) - w.Nominal)
		op := rapid.SampledFrom(operations).Draw(t, "op")
		got, err := op.value(v, w)
		if err != nil {
			t.Fatal(err)
		}
		const h = 1e-5
		for _, moved := range sourcePool {
			at := func(step float64) float64 {
				draw := func(s Source) float64 {
					if s == moved {
						return step
					}
					return 0
				}
				return op.plain(v.At(draw), w.At(draw))
			}
			want := (at(h) - at(-h)) / (2 * h)
			if c := contribution(got, moved); math.Abs(c-want) > 1e-6*(1+math.Abs(want)) {
				t.Fatalf("%s: contribution of %v is %v, finite difference %v", op.name, moved, c, want)
			}
		}
	})
}

func TestBudgetAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := values().Draw(t, "v")
		shares, squares := 0.0, 0.0
		budget := v.Contributions()
		for i, c := range budget {
			shares += c.Share
			squares += c.C * c.C
			if i > 0 && math.Abs(c.C) > math.Abs(budget[i-1].C) {
				t.Fatalf("budget not largest first: %v", budget)
			}
		}
		if math.Abs(squares-v.Variance()) > 1e-12*v.Variance() {
			t.Fatalf("squares add up to %v, variance is %v", squares, v.Variance())
		}
		if len(budget) > 0 && math.Abs(shares-1) > 1e-12 {
			t.Fatalf("shares add up to %v", shares)
		}
	})
}

func TestWeightedMeanIsNoWorseThanEither(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, w := values().Draw(t, "v"), values().Draw(t, "w")
		mean, z, err := WeightedMean(v, w)
		if err != nil {
			if v.Sub(w).U() > 1e-9 {
				t.Fatalf("%v with uncertain difference", err)
			}
			return
		}
		if limit := math.Min(v.Variance(), w.Variance()); mean.Variance() > limit*(1+1e-9)+1e-12 {
			t.Fatalf("variance %v above %v", mean.Variance(), limit)
		}
		if u := v.Sub(w).U(); u > 1e-6 && math.Abs(z*u-math.Abs(v.Nominal-w.Nominal)) > 1e-9 {
			t.Fatalf("z = %v", z)
		}
		// Gauss-Markov: the best mean is not correlated with the difference.
		if c := Covariance(mean, v.Sub(w)); math.Abs(c) > 1e-9 {
			t.Fatalf("covariance of mean and difference %v", c)
		}
		swapped, _, err := WeightedMean(w, v)
		if err != nil {
			t.Fatal(err)
		}
		if v.Sub(w).U() > 1e-3 {
			sameWithin(t, swapped.Nominal, mean.Nominal, 1e-8)
		}
	})
}

func sameWithin(t *rapid.T, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance*(1+math.Abs(want)) {
		t.Fatalf("%v, want %v", got, want)
	}
}

// TestOperandsStayAsTheyWere: values share their terms, so nothing may write to them.
func TestOperandsStayAsTheyWere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := values().Draw(t, "a"), values().Draw(t, "b")
		before := fmt.Sprint(a, b)
		shifted := a.Shift(1)
		shifted.Add(b).Mul(a).Exp()
		a.Sub(b).Scale(2)
		Sum(a, a, b)
		Sum(a)
		if _, err := Combine(0, []float64{1, 2}, []Value{a, b}); err != nil {
			t.Fatal(err)
		}
		if _, err := b.Div(a); err != nil && a.Nominal != 0 {
			t.Fatal(err)
		}
		a.Contributions()
		if after := fmt.Sprint(a, b); after != before {
			t.Fatalf("operands changed from %s to %s", before, after)
		}
	})
}

// TestCorrelatedGivesBackItsCovariance: any G·Gᵀ, also of a rank too low.
func TestCorrelatedGivesBackItsCovariance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "n")
		rank := rapid.IntRange(0, n).Draw(t, "rank")
		g := make([][]float64, n)
		names := make([]string, n)
		for i := range g {
			g[i] = rapid.SliceOfN(rapid.Float64Range(-2, 2).Filter(notTiny), rank, rank).Draw(t, "row")
			names[i] = fmt.Sprintf("x%d", n-i)
		}
		cov := make([][]float64, n)
		for i := range cov {
			cov[i] = make([]float64, n)
			for j := range cov[i] {
				for k := range rank {
					cov[i][j] += g[i][k] * g[j][k]
				}
			}
		}
		got, err := Correlated(names, make([]float64, n), cov)
		if err != nil {
			t.Fatal(err)
		}
		for i := range got {
			for j := range got {
				scale := math.Sqrt(cov[i][i] * cov[j][j])
				if c := Covariance(got[i], got[j]); math.Abs(c-cov[i][j]) > 1e-10*scale {
					t.Fatalf("covariance of %d and %d is %v, want %v", i, j, c, cov[i][j])
				}
			}
		}
	})
}

// oddNumbers are what arithmetic must survive without a panic.
var oddNumbers = []float64{0, math.Copysign(0, -1), 1, -1, 5e-324, -5e-324, 1e-300, 1e300, math.MaxFloat64,
	-math.MaxFloat64, math.Inf(1), math.Inf(-1), math.NaN()}

func TestNothingPanics(t *testing.T) {
	odd := rapid.SampledFrom(oddNumbers)
	rapid.Check(t, func(t *rapid.T) {
		x, y, z := odd.Draw(t, "x"), odd.Draw(t, "y"), odd.Draw(t, "z")
		v, w := Gaussian("a", x, y), Rectangular("b", z, x).Add(Gaussian("a", y, z))
		if ratio, err := v.Div(w); err == nil && ratio.Finite() && !v.Finite() {
			t.Fatalf("ratio %v of %v and %v looks finite", ratio, v, w)
		}
		if _, err := v.Log(); err == nil && !(x > 0) {
			t.Fatalf("logarithm of %v", x)
		}
		_, _, _ = WeightedMean(v, w)
		_, _ = Correlated([]string{"a", "b"}, []float64{x, y}, [][]float64{{x, y}, {y, z}})
		_, _ = BirgeScale([]float64{x, y}, []float64{y, z}, ParticleDataGroup)
		_, _ = EffectiveDoF([]DoFContribution{{x, y}, {y, z}})
		_, _ = CoverageFactor(x, y)
		for _, c := range w.Mul(v).Exp().Contributions() {
			if c.Share < 0 {
				t.Fatalf("share %v", c.Share)
			}
		}
		if below, within, above := Probability(v, y, z); !math.IsNaN(below) && math.Abs(below+within+above-1) > 1e-12 {
			t.Fatalf("probabilities %v %v %v", below, within, above)
		}
	})
}
