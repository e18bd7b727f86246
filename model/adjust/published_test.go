// This file checks the adjustment against worked examples from outside.

package adjust

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"garage/tundish/model/measure"
)

// network is quantities read with independent errors, and conditions on them: in
// each condition a quantity counts so many times.
type network struct {
	name       string
	read, u    []float64
	conditions [][]float64
}

// solve adjusts a network. The slips are a mistake of 1 in each reading.
func (n network) solve(t *testing.T) (s *Solution, read []measure.Value, slips []Slip) {
	t.Helper()
	for i, x := range n.read {
		read = append(read, measure.Gaussian(fmt.Sprint(i+1), x, n.u[i]))
		slips = append(slips, nil)
		for _, c := range n.conditions {
			slips[i] = append(slips[i], c[i])
		}
	}
	var conditions []measure.Value
	for _, c := range n.conditions {
		sum, err := measure.Combine(inner(c, n.read), c, read)
		if err != nil {
			t.Fatal(err)
		}
		conditions = append(conditions, sum)
	}
	s, err := Solve(conditions)
	if err != nil {
		t.Fatal(err)
	}
	return s, read, slips
}

func inner(a, b []float64) (sum float64) {
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// The heat exchanger with bypass of S. Narasimhan and C. Jordache, Data
// Reconciliation and Gross Error Detection (2000), table 1-1 and example 7. The
// printed figures are from memory: the book was not seen, but its arithmetic
// reproduces every one of them.
func TestHeatExchangerWithBypass(t *testing.T) {
	tests := []struct {
		name             string
		read, reconciled []float64
		z                []float64 // of the measurement test; nil where not printed
		chi2             float64
		suspects         []int
	}{
		{"table 1-1", []float64{101.91, 64.45, 34.65, 64.20, 36.44, 98.88},
			[]float64{100.22, 64.50, 35.72, 64.50, 35.72, 100.22}, nil, 6.4075, nil},
		{"stream 2 read 4 too high", []float64{101.91, 68.45, 34.65, 64.20, 36.44, 98.88},
			[]float64{100.8867, 65.8333, 35.0533, 65.8333, 35.0533, 100.8867},
			[]float64{1.2533, 3.2047, 0.4940, 2.0004, 1.6983, 2.4577}, 16.674, []int{1}},
	}
	for _, tt := range tests {
		n := network{read: tt.read, u: slices.Repeat([]float64{1}, 6), conditions: [][]float64{
			{1, -1, -1, 0, 0, 0}, {0, 1, 0, -1, 0, 0}, {0, 0, 1, 0, -1, 0}, {0, 0, 0, 1, 1, -1},
		}}
		s, read, slips := n.solve(t)
		chi2, dof := s.Chi2()
		near(t, tt.name+": χ²", chi2, tt.chi2, 1e-3)
		near(t, tt.name+": degrees of freedom", float64(dof), 4, 0)
		for i, want := range tt.reconciled {
			got := s.Of(read[i])
			near(t, fmt.Sprintf("%s: stream %d", tt.name, i+1), got.Nominal, want, 0.005)
			near(t, fmt.Sprintf("%s: u of stream %d", tt.name, i+1), got.U(), math.Sqrt(1./3), 1e-11) // adjustment's variance 2/3
			if tt.z == nil {
				continue
			}
			near(t, fmt.Sprintf("%s: z of stream %d", tt.name, i+1), math.Abs(s.w(slips[i])), tt.z[i], 5e-4)
			// The test says by how much too high a stream was read: against its adjustment.
			near(t, "sign", math.Copysign(1, s.w(slips[i])), math.Copysign(1, tt.read[i]-want), 0)
		}
		// The Šidák limit of six tests at 5 % is printed as 2.6310; only stream 2 is above.
		// Stream 6 is less than 3.84 below in the square of its test, but not alike.
		if got := s.Suspects(slips, 2.6310); !slices.Equal(got, tt.suspects) {
			t.Errorf("%s: suspects %v, want %v", tt.name, got, tt.suspects)
		}
	}
}

// A ring of four points, levelled forth and back, every leg to 5 mm: the sample
// of height differences of GNU Gama with its printed adjustment,
// vrmapper.com/gama/1doutput.html (heights in m, u in mm; [pvv] is in units of
// the 5 mm, so that χ² = [pvv]/25).
func TestLevelledRing(t *testing.T) {
	n := network{
		read:       []float64{-1225, -848, 1342, 720, -724, -1335, 842, 1231}, // mm; 1a-4, 4-3, 3-2, 2-1a, and back
		u:          slices.Repeat([]float64{5}, 8),
		conditions: [][]float64{{1, 1, 1, 1}, {0, 0, 0, 1, 1}, {0, 0, 1, 0, 0, 1}, {0, 1, 0, 0, 0, 0, 1}, {1, 0, 0, 0, 0, 0, 0, 1}},
	}
	for i, c := range n.conditions {
		n.conditions[i] = append(c, make([]float64, 8-len(c))...)
	}
	s, read, slips := n.solve(t)
	chi2, dof := s.Chi2()
	near(t, "[pvv]", 25*chi2, 146.625, 5e-4)
	near(t, "degrees of freedom", float64(dof), 5, 0)
	for i, want := range []float64{-1224.88, -841.87, 1341.63, 725.13, -725.13, -1341.63, 841.87, 1224.88} {
		near(t, fmt.Sprintf("leg %d", i+1), s.Of(read[i]).Nominal, want, 0.00501)
		near(t, fmt.Sprintf("u of leg %d", i+1), s.Of(read[i]).U(), 3.1, 0.05)
	}
	start := measure.Exact(1_000_000)
	for _, point := range []struct {
		name      string
		by        measure.Value
		height, u float64
	}{
		{"4", start.Add(read[0]), 998_775.13, 3.1}, {"3", measure.Sum(start, read[0], read[1]), 997_933.25, 3.5},
		{"3, the other way", measure.Sum(start, read[4], read[5]), 997_933.25, 3.5}, {"2", start.Add(read[4]), 999_274.87, 3.1},
	} {
		near(t, "point "+point.name, s.Of(point.by).Nominal, point.height, 0.00501)
		near(t, "u of point "+point.name, s.Of(point.by).U(), point.u, 0.05)
	}
	most := 0
	for i, slip := range slips {
		if math.Abs(s.w(slip)) > math.Abs(s.w(slips[most])) {
			most = i
		}
	}
	near(t, "the largest normalized residual's observation", float64(most+1), 6, 0)
	near(t, "the largest normalized residual", s.w(slips[most]), 1.68, 0.005)
}

// The simultaneous observations of GUM H.2 (JCGM 100:2008, table H.2): volts,
// milliamperes, radians. Resistance, reactance and impedance are what nothing is
// known of, and one condition each leads to them (partial derivatives by hand).
// The means have a covariance, which three sources carry by its Cholesky factor.
func TestGUMH2ByConditions(t *testing.T) {
	series := [3][]float64{
		{5.007, 4.994, 5.005, 4.990, 4.999}, {19.663, 19.639, 19.640, 19.685, 19.678}, {1.0456, 1.0438, 1.0468, 1.0428, 1.0433},
	}
	// Five observations, less their mean and over √20, are one source each: the
	// covariance of the means is Σ (x - x̄)(y - ȳ)/(n·(n - 1)).
	var means [3]measure.Value
	for q, list := range series {
		mean := inner(list, slices.Repeat([]float64{0.2}, 5))
		means[q] = measure.FromTerms(mean, 0, func(yield func(measure.Source, float64) bool) {
			for i, x := range list {
				if !yield(measure.Source{Name: "observation", Reading: i + 1}, (x-mean)/math.Sqrt(20)) {
					return
				}
			}
		})
	}
	ohm := means[0].Nominal / means[1].Nominal * 1000
	sin, cos := math.Sincos(means[2].Nominal)
	var unknown, conditions []measure.Value
	for _, by := range []struct {
		name             string
		share, perRadian float64
	}{{"R", cos, -sin}, {"X", sin, cos}, {"Z", 1, 0}} {
		partials := []float64{ohm * by.share / means[0].Nominal, -ohm * by.share / means[1].Nominal, ohm * by.perRadian}
		told, err := measure.Combine(ohm*by.share, partials, means[:])
		if err != nil {
			t.Fatal(err)
		}
		u := measure.Gaussian(by.name, 200, 1e3)
		unknown, conditions = append(unknown, u), append(conditions, u.Sub(told))
	}
	s, err := Solve(conditions)
	if err != nil {
		t.Fatal(err)
	}
	correlation := func(i, j int) float64 {
		v, w := s.Of(unknown[i]), s.Of(unknown[j])
		return measure.Covariance(v, w) / (v.U() * w.U())
	}
	for i, want := range []struct{ ohm, u, within float64 }{
		{127.732, 0.071, 5e-4}, {219.847, 0.295, 1e-3}, {254.260, 0.236, 5e-4}, // X: full precision gives 0.2956
	} {
		near(t, unknown[i].Contributions()[0].Source.Name, s.Of(unknown[i]).Nominal, want.ohm, 5e-4)
		near(t, "its u", s.Of(unknown[i]).U(), want.u, want.within)
	}
	near(t, "r(R, X)", correlation(0, 1), -0.588, 0.001)
	near(t, "r(R, Z)", correlation(0, 2), -0.485, 0.001)
	near(t, "r(X, Z)", correlation(1, 2), 0.993, 0.001)
}

// Several measures of one thing: the conditions that they are the same give the
// weighted mean.
func TestWeightedMeans(t *testing.T) {
	kaon := network{name: "kaon mass, MeV", // roma1.infn.it/~dagos/skj/node1.html; mean pdglive.lbl.gov S010, the rest computed
		read: []float64{493.691, 493.657, 493.670, 493.640, 493.636, 493.696}, u: []float64{.040, .020, .029, .054, .011, .007}}
	two := network{name: "two", read: []float64{10, 30}, u: []float64{4, 5}} // science20.com, "What PDG weighted average means"
	for _, tt := range []struct {
		network
		mean, u, chi2                float64
		withinMean, withinU, withinX float64
	}{
		{two, 17.80, 3.12, 400. / 41, 0.005, 0.005, 1e-9}, {kaon, 493.677, 0.0054775, 22.9048, 5e-4, 1e-7, 1e-4},
	} {
		for i := range tt.read[1:] {
			c := make([]float64, len(tt.read))
			c[0], c[i+1] = -1, 1
			tt.conditions = append(tt.conditions, c)
		}
		s, read, _ := tt.solve(t)
		chi2, dof := s.Chi2()
		near(t, tt.name+": χ²", chi2, tt.chi2, tt.withinX)
		near(t, tt.name+": degrees of freedom", float64(dof), float64(len(tt.read)-1), 0)
		for _, v := range read {
			near(t, tt.name, s.Of(v).Nominal, tt.mean, tt.withinMean)
			near(t, tt.name+": u", s.Of(v).U(), tt.u, tt.withinU)
		}
	}
}
