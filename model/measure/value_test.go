// Tables for constructors and single operations.

package measure

import (
	"math"
	"testing"
)

func TestConstructors(t *testing.T) {
	for _, row := range []struct {
		name  string
		got   Value
		x, u  float64
		terms int
	}{
		{"zero value", Value{}, 0, 0, 0},
		{"exact", Exact(830), 830, 0, 0},
		{"gaussian", Gaussian("a", 830, 12), 830, 12, 1},
		{"sign of u ignored", Gaussian("a", 830, -12), 830, 12, 1},
		{"no uncertainty", Gaussian("a", 830, 0), 830, 0, 0},
		// GUM 4.3.7 and its example 4.3.7: ± a in a rectangle gives a/√3.
		{"rectangular", Rectangular("a", 830, math.Sqrt(3)), 830, 1, 1},
		// A 10 ml graduation is read to ± 5 ml: 10/√12 (GUM F.2.2.1).
		{"graduation of 10", Rectangular("a", 830, 5), 830, 10 / math.Sqrt(12), 1},
	} {
		near(t, row.name, row.got.Nominal, row.x, 0)
		near(t, row.name+" u", row.got.U(), row.u, 1e-12)
		if n := len(row.got.Contributions()); n != row.terms {
			t.Errorf("%s: %d contributions, want %d", row.name, n, row.terms)
		}
	}
}

// TestSameJugCancels: the jug reads 2 % high whichever way the oil goes. Between two
// readings of the same height only the reading errors remain. Figures computed.
func TestSameJugCancels(t *testing.T) {
	jug := Rectangular("jug scale", 1, 0.02)
	out := Rectangular("reading 1", 830, 5).Mul(jug)
	in := Rectangular("reading 2", 830, 5).Mul(jug)
	near(t, "u(out)", out.U(), math.Hypot(5/math.Sqrt(3), 16.6/math.Sqrt(3)), 1e-9)
	near(t, "u(in - out)", in.Sub(out).U(), 5*math.Sqrt(2.0/3), 1e-9)
	near(t, "u(in + out)", in.Add(out).U(), math.Hypot(5*math.Sqrt(2.0/3), 2*16.6/math.Sqrt(3)), 1e-9)

	budget := out.Contributions()
	if budget[0].Source.Name != "jug scale" {
		t.Errorf("largest contribution is %v, want the jug scale", budget[0].Source)
	}
	near(t, "its share", budget[0].Share, 16.6*16.6/(16.6*16.6+25), 1e-12)
}

func TestBudgetOrderIsFixedWhereEqual(t *testing.T) {
	for range 3 {
		budget := Sum(Gaussian("c", 1, 1), Gaussian("a", 1, 1), Gaussian("b", 1, 1)).Contributions()
		if order := budget[0].Source.Name + budget[1].Source.Name + budget[2].Source.Name; order != "abc" {
			t.Errorf("order %q, want abc", order)
		}
	}
}

func TestCombineNeedsOnePartialForEachValue(t *testing.T) {
	if _, err := Combine(0, []float64{1}, nil); err == nil {
		t.Error("combine accepted one partial for no values")
	}
}

func TestFinite(t *testing.T) {
	for _, row := range []struct {
		v    Value
		want bool
	}{
		{Gaussian("a", 1, 1), true},
		{Exact(math.NaN()), false},
		{Exact(math.Inf(-1)), false},
		{Gaussian("a", 1, math.Inf(1)), false},
		{Gaussian("a", 1, math.NaN()), false},
	} {
		if got := row.v.Finite(); got != row.want {
			t.Errorf("%v finite: %v, want %v", row.v, got, row.want)
		}
	}
}
