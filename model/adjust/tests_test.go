// This file checks the tests of contradictions.

package adjust

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"garage/tundish/model/measure"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

func solved(t *testing.T, conditions ...measure.Value) *Solution {
	t.Helper()
	s, err := Solve(conditions)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// independent are conditions off by the nominals given, each ± 1 of its own.
func independent(nominals ...float64) (list []measure.Value) {
	for i, x := range nominals {
		list = append(list, measure.Gaussian(measure.Source{Reading: i + 1}, x, 1))
	}
	return list
}

// slip is a mistake that shows in two of three independent conditions, at an
// angle to the first whose cosine is given.
func slip(cosine float64) Slip { return Slip{cosine, math.Sqrt(1 - cosine*cosine), 0} }

// off are two conditions by which slip(1) has a test of 4, and slip(rho) one of w.
func off(rho, w float64) []measure.Value {
	return independent(4, (w-4*rho)/math.Sqrt(1-rho*rho), 0)
}

// Limits by hand: with conditions of variance 1 the test of a slip is the
// projection on it, and the correlation of two is the cosine between them.
func TestSuspects(t *testing.T) {
	one := []measure.Value{measure.Gaussian("a", 830, 12).Sub(measure.Gaussian("b", 780, 5))} // 50/13 = 3.85
	tests := []struct {
		name       string
		conditions []measure.Value
		slips      []Slip
		limit      float64
		want       []int
	}{
		{"nothing known", nil, []Slip{{}}, 0, nil},
		{"one condition: all that it holds are named", one, []Slip{{-1}, {1}, {-100}}, 3.84, []int{0, 1, 2}},
		{"the limit itself is not above it", independent(3), []Slip{{1}}, 3, nil},
		{"below the limit", one, []Slip{{-1}, {1}}, 3.85, nil},
		{"two conditions, each with its own: the one that is wrong", independent(1.5, -4), []Slip{{1, 0}, {0, 1}}, 2, []int{1}},
		{"two conditions, equally wrong: the first", independent(4, -4), []Slip{{1, 0}, {0, 1}}, 2, []int{0}},
		{"what shows nowhere is no suspect", independent(4), []Slip{{0}, {1}}, 2, []int{1}},
		{"just near enough", off(0.9, math.Sqrt(16-3.83)), []Slip{slip(1), slip(0.9)}, 2, []int{0, 1}},
		{"just too far below", off(0.9, math.Sqrt(16-3.85)), []Slip{slip(1), slip(0.9)}, 2, []int{0}},
		{"just alike enough", off(0.51, 3.9), []Slip{slip(1), slip(0.51)}, 2, []int{0, 1}},
		{"just not alike", off(0.49, 3.9), []Slip{slip(1), slip(0.49)}, 2, []int{0}},
		{"alike the other way round", off(-0.51, -3.9), []Slip{slip(1), slip(-0.51)}, 2, []int{0, 1}},
		{"the worst is not the first", off(0.51, 3.9), []Slip{slip(0.51), slip(1)}, 2, []int{0, 1}},
	}
	for _, tt := range tests {
		if got := solved(t, tt.conditions...).Suspects(tt.slips, tt.limit); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}

// Two conditions with one source in common, by hand: K = (13 5; 5 29),
// det K = 352, K⁻¹ = (29 -5; -5 13)/352.
func TestSlipsByHand(t *testing.T) {
	common := measure.Gaussian("common", 0, 1)
	s := solved(t,
		measure.Gaussian("one", 7, 3).Add(common.Scale(2)),
		measure.Exact(99), // does not count, and keeps its place
		measure.Gaussian("other", -4, math.Sqrt(22.75)).Add(common.Scale(2.5)))
	a, b := Slip{1, 8, 0}, Slip{2, 8, -1}
	aa, ab, bb := 29./352, (2*29+5)/352., (4*29+2*2*5+13)/352.
	am, bm := (29*7+5*4)/352., (2*(29*7+5*4)-(-5*7-13*4))/352.
	near(t, "W of a", s.w(a), am/math.Sqrt(aa), 1e-10)
	near(t, "W of b", s.w(b), bm/math.Sqrt(bb), 1e-10)
	near(t, "W of the opposite", s.w(Slip{-1, 0, 0}), -am/math.Sqrt(aa), 1e-10)
	near(t, "rho", s.rho(a, b), ab/math.Sqrt(aa*bb), 1e-10)
	near(t, "rho of the opposite", s.rho(Slip{-1, 0, 0}, b), -ab/math.Sqrt(aa*bb), 1e-10)
	near(t, "least of b", s.Least(b, 2.58), (2.58+distuv.UnitNormal.Quantile(0.8))/math.Sqrt(bb), 1e-4)
	chi2, dof := s.Chi2()
	near(t, "χ²", chi2, (29*49+2*5*7*4+13*16)/352., 1e-9)
	near(t, "degrees of freedom", float64(dof), 2, 0)
	for name, nothing := range map[string]*Solution{"nil": nil, "zero": {}, "only exact": solved(t, measure.Exact(7))} {
		chi2, dof := nothing.Chi2()
		if nothing.w(a) != 0 || nothing.rho(a, b) != 0 || !math.IsInf(nothing.Least(a, 2), 1) || chi2 != 0 || dof != 0 {
			t.Errorf("%s: %v %v %v %v", name, nothing.w(a), nothing.rho(a, b), nothing.Least(a, 2), chi2)
		}
	}
	none := Slip{0, 8, 0}
	if s.w(none) != 0 || s.rho(none, a) != 0 || s.rho(a, none) != 0 || !math.IsInf(s.Least(none, 2), 1) {
		t.Errorf("a slip that shows nowhere: %v %v %v", s.w(none), s.rho(none, a), s.Least(none, 2))
	}
}

// The square of a test is what χ² loses where the slip is freed (C. M. Crowe,
// 1992, abstract at scilit.com): where its size is a source of no known size.
func TestChi2WithoutTheSlip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNet(t)
		if !n.shortest() || n.DoF < len(n.A) {
			return // a condition that says nothing new, or nothing at all
		}
		slip := make(Slip, len(n.A))
		for i := range slip {
			slip[i] = float64(rapid.IntRange(-3, 3).Draw(t, "slip"))
		}
		conditions := values(n.A, n.M)
		s, err := Solve(conditions)
		if err != nil || s.Least(slip, 0) > 1e3 {
			return // shows too little
		}
		for i, c := range conditions {
			conditions[i] = c.Add(measure.Gaussian("slip", 0, 100*s.Least(slip, 0)).Scale(slip[i]))
		}
		freed, err := Solve(conditions)
		if err != nil {
			t.Fatal(err)
		}
		before, _ := s.Chi2()
		after, _ := freed.Chi2()
		if w := s.w(slip); math.Abs(before-after-w*w) > 1e-3*(1+before) {
			t.Fatalf("χ² %v, freed %v, w² %v", before, after, w*w)
		}
	})
}

// Of two checks that share a source, and one slip in either, the slip that was
// made is found at the power stated, and its size is what was stated: 20,000
// draws, and the share found is within 3.3 standard deviations.
func TestLeastIsFoundFourTimesInFive(t *testing.T) {
	const draws, limit = 20_000, 2.58
	rng := rand.New(rand.NewPCG(12, 80))
	jug, one, other := measure.Gaussian("jug", 0, 9), measure.Gaussian("one", 0, 20), measure.Gaussian("other", 0, 12)
	shape := []measure.Value{jug.Add(one), jug.Scale(-2).Add(other)}
	slips := []Slip{{1, 0}, {0, 1}}
	for made, slip := range slips {
		least := solved(t, shape...).Least(slip, limit)
		found, named := 0, 0
		for range draws {
			j, a, b := 9*rng.NormFloat64(), 20*rng.NormFloat64(), 12*rng.NormFloat64()
			c := slices.Clone(shape)
			c[0].Nominal, c[1].Nominal = j+a+slip[0]*least, b-2*j+slip[1]*least
			s := solved(t, c...)
			if math.Abs(s.w(slip)) > limit {
				found++
				if slices.Contains(s.Suspects(slips, limit), made) {
					named++
				}
			}
		}
		near(t, "found", float64(found)/draws, 0.8, 3.3*math.Sqrt(0.8*0.2/draws))
		if named < found*95/100 { // the other is the likelier only by accident
			t.Errorf("slip %d named %d times of %d", made, named, found)
		}
	}
}

func TestZ(t *testing.T) {
	a, b := measure.Gaussian("a", 830, 4), measure.Gaussian("b", 790, 3)
	s := solved(t, a.Sub(b)) // 804.4 ± 2.4 by hand
	c := measure.Gaussian("c", 800, 7)
	near(t, "a new reading", s.Z(c.Sub(a)), 4.4/math.Sqrt(2.4*2.4+49), 1e-9)
	near(t, "a new reading, the other way", s.Z(a.Sub(c)), 4.4/math.Sqrt(2.4*2.4+49), 1e-9)
	near(t, "what was imposed already", s.Z(a.Sub(b)), 0, 0)
	near(t, "what was imposed already, by its half", s.Z(b.Sub(a).Scale(0.5)), 0, 0)
	wide, own := measure.Gaussian("wide", 700, 500), measure.Gaussian("own", 0.02, 0.05)
	twice := solved(t, wide.Sub(measure.Exact(690)), wide.Sub(measure.Exact(690)).Add(own))
	near(t, "what was imposed, all but once more", twice.Z(wide.Sub(measure.Exact(690)).Add(own)), 0, 0)
	near(t, "little is left, and that is new", twice.Z(wide.Sub(measure.Exact(690.06)).Add(measure.Gaussian("new", 0, 0.02))), 3, 1e-4)
	near(t, "one without uncertainty", s.Z(measure.Exact(5)), 0, 0)
	var nothing *Solution
	near(t, "nothing known", nothing.Z(a.Sub(b)), 8, 1e-12)
}

func TestStandingU(t *testing.T) {
	tests := []struct {
		name          string
		off, u, limit float64
		want          float64
	}{
		{"within the limit", 19.9, 10, 2, 0},
		{"at the limit", -20, 10, 2, 0},
		{"beyond it", 26, 10, 2, 24},
		{"on the other side", -26, 10, 2, 24},
		{"without uncertainty of its own", 7, 0, 2, 7},
	}
	for _, tt := range tests {
		gap := measure.Gaussian("gap", tt.off, tt.u)
		tau := StandingU(gap, tt.limit)
		near(t, tt.name, tau, tt.want, 1e-12)
		if tau > 0 {
			z := new(Solution).Z(gap.Add(measure.Gaussian("doubt", 0, tau)))
			near(t, tt.name+": z with it", z, 1, 1e-12)
		}
	}
}

// Positive against numerical integration of a normal distribution of what is
// known, weighted by the probability that it is seen above zero with the noise.
func TestPositive(t *testing.T) {
	for _, tt := range []struct{ m, u, sigma float64 }{
		{-60, 30, 5}, {-20, 30, 5}, {0, 30, 0.5}, {0, 30, 30}, {10, 30, 5}, {45, 30, 12}, {80, 30, 5},
		{-120, 10, 3}, {-99, 10, 0.5}, {-101, 10, 0.5}, {-600, 20, 4}, {-5, 3, 100}, {-900, 20, 5},
	} {
		// f is known by a condition, of sources that others share.
		wide, narrow := measure.Gaussian("wide", tt.m-7, tt.u*2), measure.Gaussian("narrow", tt.m, tt.u*2/math.Sqrt(3))
		known := wide.Sub(narrow.Sub(measure.Exact(7)))
		before := solved(t, known)
		f := before.Of(wide).Add(measure.Exact(7))
		near(t, "f", f.Nominal, tt.m, 1e-9*math.Abs(tt.m))
		near(t, "u of f", f.U(), tt.u, 1e-9*tt.u)
		value := wide.Add(measure.Exact(7))
		condition, ok := Positive(value, f, tt.sigma, measure.Source{Name: "seen"})
		if !ok {
			t.Errorf("%+v: says nothing", tt)
			continue
		}
		got := solved(t, known, condition).Of(value)
		mean, u := positiveByIntegration(tt.m, tt.u, tt.sigma)
		near(t, "mean", got.Nominal, mean, 1e-6*tt.u)
		near(t, "u", got.U(), u, 1e-6*tt.u)
	}
	for name, f := range map[string]measure.Value{
		"far above": measure.Gaussian("f", 200, 30), "known exactly": measure.Exact(5), "known exactly, and zero": {},
		"no number": measure.Gaussian("f", math.NaN(), 30),
	} {
		if c, ok := Positive(f, f, 0, measure.Source{Name: "seen"}); ok {
			t.Errorf("%s: %+v", name, c)
		}
	}
	far := measure.Gaussian("f", -1e9, 1)
	c, ok := Positive(far, far, 0, measure.Source{Name: "seen"})
	if got := solved(t, c).Of(far); !ok || math.Abs(got.Nominal) > 1e-2 || !(got.U() < 0.01) {
		t.Errorf("far below: %v ± %v, %v", got.Nominal, got.U(), ok)
	}
}

// positiveByIntegration weighs each f by φ((f-m)/u)·Φ(f/σ). In units of the
// largest weight, which is near 0 where m is far below.
func positiveByIntegration(m, u, sigma float64) (mean, sd float64) {
	logWeight := func(f float64) float64 {
		x := (f - m) / u
		a := f / sigma
		tail := math.Log(math.Erfc(-a/math.Sqrt2) / 2)
		if a < -30 { // by the tail's first terms
			tail = -a*a/2 - math.Log(-a*math.Sqrt(2*math.Pi)) + math.Log1p(-1/(a*a)+3/(a*a*a*a))
		}
		return tail - x*x/2
	}
	low, high := min(m-12*u, -12*sigma), max(m+12*u, 12*sigma)
	best := low
	for f := low; f < high; f += (high - low) / 1e4 {
		if logWeight(f) > logWeight(best) {
			best = f
		}
	}
	moment := func(n float64) float64 {
		return quad.Fixed(func(f float64) float64 {
			return math.Pow(f-best, n) * math.Exp(logWeight(f)-logWeight(best))
		}, low, high, 4000, quad.Legendre{}, 0)
	}
	mass := moment(0)
	mean = moment(1) / mass
	return best + mean, math.Sqrt(moment(2)/mass - mean*mean)
}
