// Oil missing between jobs: the rule, and a unit whose fourth drain gives a leak away.

package learn

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"garage/tundish/model/measure"
	"pgregory.net/rapid"
)

func TestSignRule(t *testing.T) {
	for _, row := range []struct {
		ml, u float64
		want  Sign
	}{
		{0, 0, NoSign},
		{20, 0, NoSign},
		{20.1, 0, Leak},
		{19, 2, NoSign}, // certain, but not worth a hunt
		{30, 30, NoSign},
		{30, 29, NotProven},
		{30, 15, NotProven},
		{30, 14.9, Leak},
		{69, 21, Leak},
		{-30, 29, NotProven},
		{-173, 30, Gain},
	} {
		m := Missing{ML: measure.Gaussian("a", row.ml, row.u)}
		if got := m.Sign(); got != row.want {
			t.Errorf("%v ± %v: %v, want %v", row.ml, row.u, got, row.want)
		}
	}
}

// TestLeakIsProvenAtItsLevel: 2 u is P ≥ 0.977 (GUM table G.1 gives 95.45 % for ± 2 u).
func TestLeakIsProvenAtItsLevel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Missing{ML: measure.Gaussian("a", rapid.Float64Range(-200, 200).Draw(t, "ml"), rapid.Float64Range(0.1, 100).Draw(t, "u"))}
		_, p, _ := measure.Probability(m.ML, 0, math.Inf(1))
		if sign := m.Sign(); sign == Leak && p < 0.977 || sign == Gain && p > 0.023 {
			t.Fatalf("%v at P = %v", sign, p)
		}
		if proven := m.Sign() == Leak || m.Sign() == Gain; proven != (math.Abs(m.ML.Nominal) > m.DetectableML()) {
			t.Fatalf("%v: %v proven %v, detectable from %v", m.Sign(), m.ML.Nominal, proven, m.DetectableML())
		}
	})
}

// TestRateLeavesOutUnknownDistance: a filling without odometer must not raise the rate.
func TestRateLeavesOutUnknownDistance(t *testing.T) {
	got, err := Loss([]Missing{{ML: measure.Exact(30)}, {ML: measure.Exact(30), Km: 10_000}})
	if err != nil {
		t.Fatal(err)
	}
	rate, known := got.Total.PerThousandKm()
	if !known || rate.Nominal != 3 {
		t.Errorf("rate %v, known %v, want 3", rate.Nominal, known)
	}
}

// TestSlowLeakShowsOverSeveralFillings: 30 ± 20 each proves nothing; four times that does,
// 120 ± 40.
func TestSlowLeakShowsOverSeveralFillings(t *testing.T) {
	var fillings []Missing
	for i := range 4 {
		fillings = append(fillings, Missing{ML: measure.Gaussian(fmt.Sprint("filling ", i), 30, 20), Km: 10_000})
	}
	one, err := Loss(fillings[:1])
	if err != nil {
		t.Fatal(err)
	}
	four, err := Loss(fillings)
	if err != nil {
		t.Fatal(err)
	}
	if one.Sign() != NotProven || four.Sign() != Leak {
		t.Errorf("one filling: %v, four: %v, want not proven, leak", one.Sign(), four.Sign())
	}
	rate, _ := four.Total.PerThousandKm()
	near(t, "rate", rate.Nominal, 3, 1e-9)
	near(t, "u of rate", rate.U(), 1, 1e-9)
}

func TestRefusals(t *testing.T) {
	for name, missing := range map[string]Missing{
		"filling 2: distance must be": {ML: measure.Exact(9), Km: -1},
		"filling 2: distance":         {ML: measure.Exact(9), Km: math.NaN()},
		"filling 2: missing: must be": {ML: measure.Exact(math.NaN())},
		"filling 2: missing":          {ML: measure.Gaussian("a", 1, math.Inf(1))},
	} {
		if _, err := Loss([]Missing{{}, missing}); err == nil || !strings.HasPrefix(err.Error(), name) {
			t.Errorf("%+v: %v, want %q", missing, err, name)
		}
	}
	if none, err := Loss(nil); err != nil || none.Sign() != NoSign {
		t.Errorf("no fillings: %v, %v", none.Sign(), err)
	}
}

func TestSignsHaveNames(t *testing.T) {
	for want, sign := range map[string]Sign{"no sign": NoSign, "not proven": NotProven, "leak": Leak, "gain": Gain, "sign(9)": Sign(9)} {
		if sign.String() != want {
			t.Errorf("%q, want %q", sign, want)
		}
	}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// What the last filling proves counts, whatever all of them add up to; a distance counts
// however short it is, and none gives no rate.
func TestLastFillingThatProvesSomethingCounts(t *testing.T) {
	of := func(ml, km float64) Missing { return Missing{ML: measure.Exact(ml), Km: km} }
	for name, row := range map[string]struct {
		each []Missing
		want Sign
		km   float64
	}{
		"a leak after more gain": {[]Missing{of(-200, 10), of(100, 0.5)}, Leak, 10.5},
		"a gain after more leak": {[]Missing{of(200, 0), of(-100, 0)}, Gain, 0},
		"nothing after a leak":   {[]Missing{of(200, 10), of(0, 10)}, Leak, 20},
		"none":                   {nil, NoSign, 0},
	} {
		l, err := Loss(row.each)
		if err != nil || l.Sign() != row.want || l.Total.Km != row.km {
			t.Errorf("%s: %v over %v km, %v; want %v over %v", name, l.Sign(), l.Total.Km, err, row.want, row.km)
		}
		if _, known := l.Total.PerThousandKm(); known != (row.km > 0) {
			t.Errorf("%s: a rate is told: %v", name, known)
		}
	}
}

// By hand: mean 5, squares of the differences 9 + 1 + 16 over two.
func TestRunningOfThree(t *testing.T) {
	var r Running
	for _, x := range []float64{2, 4, 9} {
		r.Add(x)
	}
	near(t, "mean", r.Mean(), 5, 1e-12)
	near(t, "standard deviation", r.SD(), math.Sqrt(13), 1e-12)
}
