// This file checks the adjustment against solutions that go other ways.

package adjust

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"testing"

	"garage/tundish/model/measure"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// net is conditions A·ξ + m = 0 and values c·ξ + n, and what the values are after
// them.
type net struct {
	A, C [][]float64
	M, N []float64
	Mean []float64
	Cov  [][]float64
	Chi2 float64
	DoF  int

	shared int // sources that are not the noise of one condition
}

// values are rows of contributions with their nominals.
func values(rows [][]float64, nominals []float64) []measure.Value {
	list := make([]measure.Value, len(rows))
	for i, row := range rows {
		list[i] = measure.FromTerms(nominals[i], 0, func(yield func(measure.Source, float64) bool) {
			for j, c := range row {
				if c != 0 && !yield(measure.Source{Name: fmt.Sprint(j)}, c) {
					return
				}
			}
		})
	}
	return list
}

// differences are what the solution gets otherwise than the reference, beyond
// 1e-6 of the unit (of the variances: beyond 1e-9 of the largest).
func (n net) differences() (list []string) {
	differ := func(what string, got, want, within float64) {
		if !(math.Abs(got-want) <= within) {
			list = append(list, fmt.Sprintf("%s: %.12g, want %.12g", what, got, want))
		}
	}
	s, err := Solve(values(n.A, n.M))
	if err != nil {
		return []string{err.Error()}
	}
	chi2, dof := s.Chi2()
	differ("χ²", chi2, n.Chi2, 1e-7*(1+n.Chi2))
	differ("degrees of freedom", float64(dof), float64(n.DoF), 0)
	before := values(n.C, n.N)
	for i, v := range before {
		differ(fmt.Sprintf("mean of value %d", i), s.Of(v).Nominal, n.Mean[i], 1e-6)
		for j, w := range before {
			within := 1e-9 * math.Max(1, v.U()*w.U())
			differ(fmt.Sprintf("covariance of values %d and %d", i, j), measure.Covariance(s.Of(v), s.Of(w)), n.Cov[i][j], within)
		}
	}
	return list
}

// The reference is numpy's lstsq and pinv: testdata/reference/nets.py, which
// says what it computes.
func TestAgreesWithNumpy(t *testing.T) {
	file, err := os.ReadFile("testdata/reference/nets.json")
	if err != nil {
		t.Fatal(err)
	}
	var reference struct{ Nets []net }
	if err := json.Unmarshal(file, &reference); err != nil || len(reference.Nets) != 8 {
		t.Fatalf("%d nets, %v", len(reference.Nets), err)
	}
	for i, n := range reference.Nets {
		for _, d := range n.differences() {
			t.Errorf("net %d: %s", i, d)
		}
	}
}

// drawNet draws 1 to 40 conditions on a few shared sources and noise of their
// own. Those without noise are met by one truth, as is a condition given twice:
// else nothing could meet them.
func drawNet(t *rapid.T) net {
	conditions, shared := rapid.IntRange(1, 40).Draw(t, "conditions"), rapid.IntRange(1, 12).Draw(t, "shared")
	exact, twice := 0, 0
	if rapid.Bool().Draw(t, "not only noise of their own") {
		exact = rapid.IntRange(0, min(conditions, shared-1)).Draw(t, "exact")
		twice = rapid.IntRange(0, 5).Draw(t, "twice")
	}
	contribution := rapid.Custom(func(t *rapid.T) float64 { return float64(rapid.IntRange(-300, 300).Draw(t, "c")) / 10 })
	n := net{shared: shared}
	truth := rapid.SliceOfN(rapid.Float64Range(-3, 3), shared, shared).Draw(t, "truth")
	for i := range conditions {
		row, m := make([]float64, shared+conditions), 0.0
		for range rapid.IntRange(1, 5).Draw(t, "terms") {
			row[rapid.IntRange(0, shared-1).Draw(t, "source")] = contribution.Draw(t, "c")
		}
		for j, x := range truth {
			m -= row[j] * x
		}
		if i >= exact {
			row[shared+i] = rapid.Float64Range(0.3, 30).Draw(t, "noise")
			m += rapid.Float64Range(-3, 3).Draw(t, "off") * row[shared+i]
		}
		n.A, n.M = append(n.A, row), append(n.M, m)
	}
	for range twice {
		i := rapid.IntRange(0, len(n.A)-1).Draw(t, "which")
		n.A, n.M = append(n.A, n.A[i]), append(n.M, n.M[i])
	}
	for range 3 {
		row := make([]float64, shared+conditions)
		for range 5 {
			row[rapid.IntRange(0, len(row)-1).Draw(t, "source")] = contribution.Draw(t, "c")
		}
		n.C, n.N = append(n.C, row), append(n.N, float64(rapid.IntRange(-999, 999).Draw(t, "n")))
	}
	n.C[0] = n.A[0] // nothing may be left of a condition itself
	return n
}

// stacked solves [I; B] ξ = [0; r] by Householder's QR, where B and r are the
// conditions on the shared sources, divided by their noise; and false where one
// has none or is given twice.
func (n *net) stacked() bool {
	conditions, shared := len(n.A), n.shared
	if conditions+shared != len(n.A[0]) {
		return false
	}
	a, r := mat.NewDense(shared+conditions, shared, nil), mat.NewVecDense(shared+conditions, nil)
	for j := range shared {
		a.Set(j, j, 1)
	}
	for i, row := range n.A {
		if row[shared+i] == 0 {
			return false
		}
		for j := range shared {
			a.Set(shared+i, j, row[j]/row[shared+i])
		}
		r.SetVec(shared+i, -n.M[i]/row[shared+i])
	}
	var qr mat.QR
	var solution, left mat.VecDense
	qr.Factorize(a)
	if err := qr.SolveVecTo(&solution, false, r); err != nil {
		panic(err) // I in it: cannot be
	}
	left.MulVec(a, &solution)
	left.SubVec(r, &left)
	xi := mat.NewVecDense(shared+conditions, nil)
	for j := range shared {
		xi.SetVec(j, solution.AtVec(j))
	}
	for i := range conditions {
		xi.SetVec(shared+i, left.AtVec(shared+i))
	}
	n.Mean, n.Chi2 = n.means(xi), mat.Dot(xi, xi)
	return true
}

func (n *net) means(xi *mat.VecDense) (list []float64) {
	for i, row := range n.C {
		list = append(list, n.N[i]+mat.Dot(mat.NewVecDense(len(row), row), xi))
	}
	return list
}

// shortest is the shortest ξ that meets the conditions, and what is left of the
// covariance, by the singular value decomposition: U·Σ·Vᵀ is A, and what is in
// the span of V is known. It is false where the rank is in doubt.
func (n *net) shortest() bool {
	rows, columns := len(n.A), len(n.A[0])
	a, m := mat.NewDense(rows, columns, nil), mat.NewVecDense(rows, nil)
	for i, row := range n.A {
		u := math.Sqrt(mat.Dot(mat.NewVecDense(columns, row), mat.NewVecDense(columns, row)))
		if u == 0 {
			continue // says nothing
		}
		for j, c := range row {
			a.Set(i, j, c/u)
		}
		m.SetVec(i, -n.M[i]/u)
	}
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDThin) {
		return false
	}
	var u, v mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	xi := mat.NewVecDense(columns, nil)
	n.DoF = 0
	var known mat.Dense // C·V
	c := mat.NewDense(len(n.C), columns, nil)
	for i, row := range n.C {
		c.SetRow(i, row)
	}
	known.Mul(c, &v)
	var cov mat.Dense
	cov.Mul(c, c.T())
	for k, sigma := range svd.Values(nil) {
		switch {
		case sigma < 1e-10:
			continue
		case sigma < 1e-2:
			return false
		}
		n.DoF++
		xi.AddScaledVec(xi, mat.Dot(u.ColView(k), m)/sigma, v.ColView(k))
		for i := range n.C {
			for j := range n.C {
				cov.Set(i, j, cov.At(i, j)-known.At(i, k)*known.At(j, k))
			}
		}
	}
	n.Mean, n.Chi2, n.Cov = n.means(xi), mat.Dot(xi, xi), nil
	for i := range n.C {
		n.Cov = append(n.Cov, cov.RawRowView(i))
	}
	return true
}

func TestAgreesWithStackedLeastSquares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNet(t)
		if !n.shortest() {
			return // of no clear rank
		}
		for _, d := range n.differences() {
			t.Errorf("singular values: %s", d)
		}
		if n.stacked() {
			for _, d := range n.differences() {
				t.Errorf("stacked: %s", d)
			}
		}
		slices.Reverse(n.A)
		slices.Reverse(n.M)
		for _, d := range n.differences() {
			t.Errorf("in the other order: %s", d)
		}
	})
}
