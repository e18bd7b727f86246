// This file holds the few matrix operations that linear.go is written in.

package balance

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// parts is a full singular value decomposition with its numerical rank.
type parts struct {
	u, v   *mat.Dense
	values []float64
	rank   int
}

// decompose takes as zero what is below tol of the largest singular value or of
// size, the size of what a was computed from: where everything cancels, the
// largest singular value is rounding itself.
func decompose(a *mat.Dense, tol, size float64) parts {
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDFull) {
		return parts{} // not reached with finite entries; rank 0 adjusts nothing
	}
	d := parts{u: new(mat.Dense), v: new(mat.Dense), values: svd.Values(nil)}
	svd.UTo(d.u)
	svd.VTo(d.v)
	for _, value := range d.values {
		if value > tol*math.Max(size, d.values[0]) {
			d.rank++
		}
	}
	return d
}

// columns copies some columns of a; nil for none.
func columns(a *mat.Dense, which []int) *mat.Dense {
	if len(which) == 0 {
		return nil
	}
	rows, _ := a.Dims()
	part := mat.NewDense(rows, len(which), nil)
	for k, j := range which {
		for i := range rows {
			part.Set(i, k, a.At(i, j))
		}
	}
	return part
}

func identity(n int) *mat.Dense {
	d := mat.NewDense(n, n, nil)
	for i := range n {
		d.Set(i, i, 1)
	}
	return d
}

func rowNorm(a *mat.Dense, i int) float64 {
	if a == nil {
		return 0
	}
	return mat.Norm(a.RowView(i), 2)
}

func columnNorm(a *mat.Dense, j int) float64 { return mat.Norm(a.ColView(j), 2) }
