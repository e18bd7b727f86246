// This file checks the reconciliation of values that share error sources.

package balance

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"garage/tundish/model/measure"
)

// jugReading is a volume read in a jug whose scale error all its readings share.
func jugReading(name, jug string, ml, readingUML, scaleU float64) NamedValue {
	v := measure.Gaussian("reading "+name, ml, readingUML).Mul(measure.Gaussian("scale "+jug, 1, scaleU))
	return NamedValue{Name: name, Value: v, Measured: true}
}

// With independent sources it is the same as Solve.
func TestReconcileAgreesWithSolveWithoutSharedSources(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		var values []NamedValue
		for _, s := range n.Streams {
			values = append(values, NamedValue{s.Name, measure.Gaussian(s.Name, s.ML, s.UML), s.Measured})
		}
		reconciled, got, err := Reconcile(values, n.Balances)
		if err != nil {
			t.Fatal(err)
		}
		sameVolumes(t, got, mustSolve(t, n), 1)
		for i, s := range got.Streams {
			if s.Role == Unobservable {
				continue
			}
			if v := reconciled[i]; !near(v.Nominal, s.ReconciledML, 1e-12) || !near(v.U(), s.UML, 1e-8) {
				t.Fatalf("value %g ± %g, result %+v", v.Nominal, v.U(), s)
			}
		}
	})
}

// With shared sources it is the formula of the package, worked out with the full
// covariance matrix V and plain inverses.
func TestReconcileIsTheFormulaWithFullCovariance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := []string{"in", "left", "passed", "unit", "escaped"}
		balances := []Balance{{names[:1], names[1:3]}, {names[2:3], names[3:]}}
		var values []NamedValue
		for i, name := range names {
			jug := fmt.Sprint(i % 2)
			values = append(values, jugReading(name, jug, rapid.Float64Range(10, 1000).Draw(t, name),
				rapid.Float64Range(1, 10).Draw(t, "u "+name), 0.02))
		}
		reconciled, r, err := Reconcile(values, balances)
		if err != nil {
			t.Fatal(err)
		}
		want := formula(values, coefficients(names, balances))
		if !near(r.Chi2, want.chi2, 1e-8) || r.DoF != 2 {
			t.Fatalf("χ² %g/%d, want %g/2", r.Chi2, r.DoF, want.chi2)
		}
		for i, v := range reconciled {
			if !near(v.Nominal, want.x.AtVec(i), 1e-9) || !near(r.Streams[i].Z, want.z[i], 1e-7) {
				t.Fatalf("%s %g, z %g; want %g, %g", names[i], v.Nominal, r.Streams[i].Z, want.x.AtVec(i), want.z[i])
			}
			for j, w := range reconciled {
				if got, want := measure.Covariance(v, w), want.cov.At(i, j); !near(got, want, 1e-8) {
					t.Fatalf("covariance of %s and %s %g, want %g", names[i], names[j], got, want)
				}
			}
		}
	})
}

type formulaResult struct {
	x    mat.VecDense
	cov  mat.Dense
	z    []float64
	chi2 float64
}

func formula(values []NamedValue, a *mat.Dense) (r formulaResult) {
	n := len(values)
	v, y := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
	for i := range values {
		y.SetVec(i, values[i].Value.Nominal)
		for j := range values {
			v.Set(i, j, measure.Covariance(values[i].Value, values[j].Value))
		}
	}
	var ava, inverse, k, w, shift mat.Dense
	ava.Product(a, v, a.T())
	if err := inverse.Inverse(&ava); err != nil {
		panic(err) // a fault of the test
	}
	k.Product(v, a.T(), &inverse)
	shift.Product(&k, a, y)
	r.x.SubVec(y, shift.ColView(0))
	w.Product(&k, a, v)
	r.cov.Sub(v, &w)
	for i := range n {
		r.z = append(r.z, math.Abs(shift.At(i, 0))/math.Sqrt(w.At(i, i)))
	}
	var imbalance, weighted mat.VecDense
	imbalance.MulVec(a, y)
	weighted.MulVec(&inverse, &imbalance)
	r.chi2 = mat.Dot(&imbalance, &weighted)
	return r
}

// One jug for what came out of the bottle and what is left: its scale error cannot
// open the balance, so a gap of 15 ml between readings of u 2 is a contradiction,
// which two jugs would hide. The figures are invented; 15/√8 = 5.30 and
// 15/√(8 + 2·(0.02·800)²) = 0.66 are worked out by hand.
func TestSharedJugDoesNotHideAContradiction(t *testing.T) {
	balances := []Balance{{[]string{"drawn"}, []string{"caught"}}}
	same := []NamedValue{jugReading("drawn", "A", 800, 2, 0.02), jugReading("caught", "A", 785, 2, 0.02)}
	two := []NamedValue{jugReading("drawn", "A", 800, 2, 0.02), jugReading("caught", "B", 785, 2, 0.02)}
	_, one, err1 := Reconcile(same, balances)
	_, other, err2 := Reconcile(two, balances)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	if z := math.Sqrt(one.Chi2); one.Holds() || math.Abs(z-5.30) > 0.05 {
		t.Errorf("one jug: z %g, holds %v", z, one.Holds())
	}
	if z := math.Sqrt(other.Chi2); !other.Holds() || math.Abs(z-0.66) > 0.01 {
		t.Errorf("two jugs: z %g, holds %v", z, other.Holds())
	}
}

// What is reconciled still carries its sources: the two sides of a balance are the
// same value, and the jug's scale is in it.
func TestReconciledValuesKeepTheirSources(t *testing.T) {
	values := []NamedValue{
		jugReading("in", "A", 900, 3, 0.02),
		jugReading("unit", "A", 850, 3, 0.02),
		{Name: "escaped"},
	}
	reconciled, r, err := Reconcile(append(values, NamedValue{Name: "elsewhere"}),
		[]Balance{{[]string{"in"}, []string{"unit", "escaped"}}})
	if err != nil {
		t.Fatal(err)
	}
	gap := reconciled[0].Sub(measure.Sum(reconciled[1:3]...))
	if math.Abs(gap.Nominal) > 1e-9 || gap.U() > 1e-9 {
		t.Errorf("in − unit − escaped = %g ± %g", gap.Nominal, gap.U())
	}
	// 50 ml by difference: two readings of 3 ml, and 2 % of 50 ml from the scale.
	if u := reconciled[2].U(); math.Abs(u-math.Sqrt(9+9+1)) > 1e-9 || r.Streams[2].Role != Observable {
		t.Errorf("escaped ± %g, %v", u, r.Streams[2].Role)
	}
	if v := reconciled[3]; v.Nominal != 0 || v.U() != 0 || r.Streams[3].Role != Unobservable {
		t.Errorf("elsewhere %g ± %g, %v", v.Nominal, v.U(), r.Streams[3].Role)
	}
}

// Two readings that are the same error twice cannot check each other, and where
// they differ nothing can reconcile them.
func TestOneErrorTwiceIsNoCheck(t *testing.T) {
	balances := []Balance{{[]string{"a"}, []string{"b"}}}
	twin := func(name string, ml float64) NamedValue {
		return NamedValue{Name: name, Value: measure.Gaussian("same", ml, 5), Measured: true}
	}
	_, r, err := Reconcile([]NamedValue{twin("a", 800), twin("b", 800)}, balances)
	if err != nil || r.DoF != 0 || r.Streams[0].Role != Unchecked || math.Abs(r.Streams[0].UML-5) > 1e-12 {
		t.Errorf("%+v, %v", r, err)
	}
	if _, _, err := Reconcile([]NamedValue{twin("a", 800), twin("b", 810)}, balances); !errors.Is(err, errContradiction) {
		t.Errorf("800 and 810 with one error: %v", err)
	}
}

// Two readings with all but a ten-thousandth of their error in common do check each other: a
// gap of 1e-3 ml between own errors of 5e-4 ml is χ² = 1e-6/(2 · 25e-8) = 2.
func TestNearlyOneErrorTwiceIsACheck(t *testing.T) {
	near := func(name string, ml float64) NamedValue {
		v := measure.Gaussian("same", ml, 5).Add(measure.Gaussian("own "+name, 0, 5e-4))
		return NamedValue{Name: name, Value: v, Measured: true}
	}
	_, r, err := Reconcile([]NamedValue{near("a", 800), near("b", 800.001)}, []Balance{{[]string{"a"}, []string{"b"}}})
	if err != nil || r.DoF != 1 || math.Abs(r.Chi2-2) > 1e-6 {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestReconcileNamesWhatIsWrong(t *testing.T) {
	value := func(v measure.Value) []NamedValue { return []NamedValue{{Name: "a", Value: v, Measured: true}} }
	tests := []struct {
		name     string
		values   []NamedValue
		balances []Balance
		says     string
	}{
		{"none", nil, nil, "values must be 1 to 200"},
		{"not a number", value(measure.Exact(math.NaN())), nil, `value "a" must be a number`},
		{"too large", value(measure.Exact(-1e10)), nil, `value "a" must be a number from -1000000000`},
		{"infinite u", value(measure.Gaussian("s", 1, math.Inf(1))), nil, `value "a" must be`},
		{"u too small", value(measure.Gaussian("s", 1, 9e-10)), nil, `u of value "a" must be 0 or`},
		{"u too far apart", append(value(measure.Gaussian("s", 1, 1e-3)),
			NamedValue{"b", measure.Gaussian("t", 1, 1e6), true}), nil, "u_ml must be 0 or at least"},
		{"unlisted", value(measure.Exact(1)), []Balance{{[]string{"a"}, []string{"q"}}}, `names "q"`},
	}
	for _, tt := range tests {
		v, r, err := Reconcile(tt.values, tt.balances)
		if !errors.Is(err, errNetwork) || !strings.Contains(err.Error(), tt.says) || v != nil || r.Streams != nil {
			t.Errorf("%s: %v, %+v, %v", tt.name, v, r, err)
		}
	}
	negative := value(measure.Gaussian("s", -3, 5))
	if got, _, err := Reconcile(negative, nil); err != nil || got[0].Nominal != -3 {
		t.Errorf("a negative value: %v, %v", got, err)
	}
}
