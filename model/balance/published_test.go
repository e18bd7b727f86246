// This file checks Solve against worked examples from outside.

package balance

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// exchanger is the heat exchanger with bypass of S. Narasimhan and C. Jordache,
// Data Reconciliation and Gross Error Detection (2000): stream 1 parts into 2 and
// 3, the exchanger turns 2 into 4, the valve 3 into 5, and 4 and 5 join to 6.
func exchanger(measured [6]float64) Network {
	n := Network{Balances: []Balance{
		{In: []string{"1"}, Out: []string{"2", "3"}},
		{In: []string{"2"}, Out: []string{"4"}},
		{In: []string{"3"}, Out: []string{"5"}},
		{In: []string{"4", "5"}, Out: []string{"6"}},
	}}
	for i, ml := range measured {
		n.Streams = append(n.Streams, Stream{Name: fmt.Sprint(i + 1), ML: ml, UML: 1, Measured: true})
	}
	return n
}

// The printed figures are from memory: the book was not seen, but its arithmetic
// reproduces every one of them.
func TestHeatExchangerWithBypass(t *testing.T) {
	tests := []struct {
		name       string
		measured   [6]float64
		reconciled [6]float64
		z          [6]float64 // measurement test; zero where not printed
		chi2       float64
		holds      bool
	}{
		{
			name:       "table 1-1",
			measured:   [6]float64{101.91, 64.45, 34.65, 64.20, 36.44, 98.88},
			reconciled: [6]float64{100.22, 64.50, 35.72, 64.50, 35.72, 100.22},
			chi2:       6.4075, holds: true,
		},
		{
			name:       "chapter 7, stream 2 read 4 too high",
			measured:   [6]float64{101.91, 68.45, 34.65, 64.20, 36.44, 98.88},
			reconciled: [6]float64{100.8867, 65.8333, 35.0533, 65.8333, 35.0533, 100.8867},
			z:          [6]float64{1.2533, 3.2047, 0.4940, 2.0004, 1.6983, 2.4577},
			chi2:       16.674, holds: false,
		},
	}
	for _, tt := range tests {
		r, err := Solve(exchanger(tt.measured))
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(r.Chi2-tt.chi2) > 1e-3 || r.DoF != 4 || r.Holds() != tt.holds {
			t.Errorf("%s: χ² %g with %d degrees of freedom, holds %v", tt.name, r.Chi2, r.DoF, r.Holds())
		}
		for i, s := range r.Streams {
			if math.Abs(s.ReconciledML-tt.reconciled[i]) > 0.005 || s.Role != Redundant {
				t.Errorf("%s: stream %s %v %g, want %g", tt.name, s.Name, s.Role, s.ReconciledML, tt.reconciled[i])
			}
			if tt.z[i] != 0 && math.Abs(s.Z-tt.z[i]) > 5e-4 {
				t.Errorf("%s: z of stream %s %g, want %g", tt.name, s.Name, s.Z, tt.z[i])
			}
			// The book's variance of every adjustment is 2/3, which leaves 1/3.
			if math.Abs(s.UML-math.Sqrt(1./3)) > 1e-12 {
				t.Errorf("%s: u of stream %s %g", tt.name, s.Name, s.UML)
			}
		}
		switch {
		case tt.holds && r.Suspects != nil:
			t.Errorf("%s: suspects %v though it holds", tt.name, r.Suspects)
		case !tt.holds && !slices.Equal(r.Suspects, []string{"2"}):
			t.Errorf("%s: suspects %v, want 2", tt.name, r.Suspects)
		}
	}
}

// Several measurements of one quantity are a chain of balances, and what they
// reconcile to is the weighted mean.
func TestWeightedMeans(t *testing.T) {
	tests := []struct {
		source       string
		values, u    []float64
		mean, meanU  float64
		chi2         float64
		meanTol      float64
		uTol, chiTol float64
	}{
		{
			// science20.com, "What PDG weighted average means": printed 17.80 ± 3.12;
			// χ² is computed here.
			source: "two measurements", values: []float64{10, 30}, u: []float64{4, 5},
			mean: 17.80, meanU: 3.12, chi2: 400. / 41, meanTol: 0.005, uTol: 0.005, chiTol: 1e-9,
		},
		{
			// Mass of the charged kaon in MeV: data roma1.infn.it/~dagos/skj/node1.html,
			// mean 493.677 pdglive.lbl.gov S010; u and χ² are computed, regression only.
			source: "kaon mass",
			values: []float64{493.691, 493.657, 493.670, 493.640, 493.636, 493.696},
			u:      []float64{0.040, 0.020, 0.029, 0.054, 0.011, 0.007},
			mean:   493.677, meanU: 0.0054775, chi2: 22.9048, meanTol: 5e-4, uTol: 1e-6, chiTol: 1e-4,
		},
	}
	for _, tt := range tests {
		var n Network
		for i := range tt.values {
			n.Streams = append(n.Streams, Stream{Name: fmt.Sprint(i), ML: tt.values[i], UML: tt.u[i], Measured: true})
			if i > 0 {
				n.Balances = append(n.Balances, Balance{In: []string{fmt.Sprint(i - 1)}, Out: []string{fmt.Sprint(i)}})
			}
		}
		r, err := Solve(n)
		if err != nil {
			t.Fatal(err)
		}
		if r.DoF != len(tt.values)-1 || math.Abs(r.Chi2-tt.chi2) > tt.chiTol {
			t.Errorf("%s: χ² %g with %d degrees of freedom", tt.source, r.Chi2, r.DoF)
		}
		for _, s := range r.Streams {
			if math.Abs(s.ReconciledML-tt.mean) > tt.meanTol || math.Abs(s.UML-tt.meanU) > tt.uTol {
				t.Errorf("%s: %g ± %g, want %g ± %g", tt.source, s.ReconciledML, s.UML, tt.mean, tt.meanU)
			}
		}
	}
}

// The 5 % limits of χ² are those of any table of the distribution, e.g. NIST/SEMATECH
// e-Handbook of Statistical Methods, 1.3.6.7.4 (from memory).
func TestGlobalTestLimits(t *testing.T) {
	for dof, limit := range map[int]float64{1: 3.841, 2: 5.991, 4: 9.488, 10: 18.307} {
		below, above := Result{Chi2: limit - 0.001, DoF: dof}, Result{Chi2: limit + 0.001, DoF: dof}
		below.judge()
		above.judge()
		if !below.Holds() || above.Holds() {
			t.Errorf("%d degrees of freedom: p %g below %g and %g above", dof, below.P, limit, above.P)
		}
	}
}
