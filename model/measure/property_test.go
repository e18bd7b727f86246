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
var sourcePool = []string{"jug scale", "thermometer", "level", "density", "bore", "air"}

// values draws a value of up to six sources with nominal and contributions of the
// order of 1.
func values() *rapid.Generator[Value] {
	return rapid.Custom(func(t *rapid.T) Value {
		v := Exact(rapid.Float64Range(-10, 10).Draw(t, "nominal"))
		for _, s := range sourcePool {
			if rapid.Bool().Draw(t, "has "+s) {
				v = v.Add(Value{terms: []term{{Source{Name: s}, rapid.Float64Range(-3, 3).Filter(notTiny).Draw(t, "c")}}})
			}
		}
		return v
	})
}

func notTiny(x float64) bool { return math.Abs(x) > 1e-3 }

// contribution returns what a source adds to v, through the public covariance.
func contribution(v Value, s string) float64 {
	return Covariance(v, Value{terms: []term{{Source{Name: s}, 1}}})
}

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
	inOrder := slices.IsSortedFunc(got.terms, func(a, b term) int { return a.source.Compare(b.source) })
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
		sameValue(t, "sum", Sum(a, b, c, a), a.Add(b).Add(c).Add(a))
		combined, err := Combine(7, []float64{2, -3, k}, []Value{a, b, c})
		if err != nil {
			t.Fatal(err)
		}
		byHand := a.Scale(2).Sub(b.Scale(3)).Add(c.Scale(k))
		sameValue(t, "combine", combined, byHand.Add(Exact(7-byHand.Nominal)))
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
		if cov, most := Covariance(a, b), a.U()*b.U(); math.Abs(cov) > most*(1+1e-12) {
			t.Fatalf("covariance %v above the product of the uncertainties, %v", cov, most)
		}
	})
}

// TestContributionsMatchFiniteDifferences moves one source at a time by a small part of its
// standard uncertainty and recomputes the product with plain numbers.
func TestContributionsMatchFiniteDifferences(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, w := values().Draw(t, "v"), values().Draw(t, "w")
		product := v.Mul(w)
		for _, moved := range sourcePool {
			at := func(step float64) float64 {
				return (v.Nominal + step*contribution(v, moved)) * (w.Nominal + step*contribution(w, moved))
			}
			const h = 1e-5
			want := (at(h) - at(-h)) / (2 * h)
			if c := contribution(product, moved); math.Abs(c-want) > 1e-6*(1+math.Abs(want)) {
				t.Fatalf("contribution of %v is %v, finite difference %v", moved, c, want)
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
		a.Add(Exact(1)).Add(b).Mul(a).Scale(2)
		a.Sub(b).Scale(2)
		Sum(a, a, b)
		Sum(a)
		if _, err := Combine(0, []float64{1, 2}, []Value{a, b}); err != nil {
			t.Fatal(err)
		}
		a.Contributions()
		if after := fmt.Sprint(a, b); after != before {
			t.Fatalf("operands changed from %s to %s", before, after)
		}
	})
}

func TestMapChangesTermsAndNothingElse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := values().Draw(t, "a"), values().Draw(t, "b")
		same := func(source Source, c float64) (Source, float64) { return source, c }
		if got := a.Map(same); fmt.Sprint(got) != fmt.Sprint(a) {
			t.Fatalf("%v is %v with nothing changed", a, got)
		}
		doubled := a.Map(func(source Source, c float64) (Source, float64) { return source, 2 * c })
		if got, want := Covariance(doubled, b), 2*Covariance(a, b); math.Abs(got-want) > 1e-9 || doubled.Nominal != a.Nominal {
			t.Fatalf("twice %v is %v; its covariance with %v is %v, want %v", a, doubled, b, got, want)
		}
		sum := 0.0
		for _, c := range a.Terms() {
			sum += c
		}
		one := a.Map(func(_ Source, c float64) (Source, float64) { return Source{Name: "one"}, c })
		if math.Abs(one.U()-math.Abs(sum)) > 1e-9 {
			t.Fatalf("all of %v by one source is %v, want ± %v", a, one, math.Abs(sum))
		}
		if none := a.Map(func(source Source, _ float64) (Source, float64) { return source, 0 }); none.U() != 0 {
			t.Fatalf("nothing of %v is %v", a, none)
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
		if sum := v.Add(w); sum.Finite() && !(v.Finite() && w.Finite()) {
			t.Fatalf("the sum %v of %v and %v looks finite", sum, v, w)
		}
		for _, c := range w.Mul(v).Contributions() {
			if c.Share < 0 {
				t.Fatalf("share %v", c.Share)
			}
		}
		if below, within, above := Probability(v, y, z); !math.IsNaN(below) && math.Abs(below+within+above-1) > 1e-12 {
			t.Fatalf("probabilities %v %v %v", below, within, above)
		}
	})
}
