// This file holds the elimination and the matrix operations of linear.go.

package balance

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// pivotTol is taken as zero in the elimination, whose coefficients start as −1, 0
// and 1.
const pivotTol = 1e-9

// row is a balance solved for its pivot stream: it holds 1 there, 0 at the pivots
// of all other rows, and 0 at all streams that come before its pivot in the order.
type row struct {
	pivot        int
	coefficients []float64 // of all streams
}

// isObservable reports whether the pivot is the only unmeasured stream of the row.
func (r row) isObservable(index []int) bool {
	for j, c := range r.coefficients {
		if j != r.pivot && index[j] < 0 && c != 0 {
			return false
		}
	}
	return true
}

// order is the streams from the most to the least uncertain.
func (p problem) order(index []int) []int {
	uncertainty := func(j int) float64 {
		if index[j] < 0 {
			return math.Inf(1)
		}
		return rowNorm(p.factor, index[j])
	}
	order := make([]int, len(index))
	for j := range order {
		order[j] = j
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(uncertainty(j), uncertainty(i)) })
	return order
}

// reduce brings the balances to reduced echelon form, the streams in the given
// order, by Gauss-Jordan elimination with the largest pivot of each column. Balances
// that follow from others vanish.
func reduce(balances *mat.Dense, order []int) []row {
	if balances == nil {
		return nil
	}
	a := mat.DenseCopyOf(balances)
	count, _ := a.Dims()
	var rows []row
	for _, j := range order {
		done := len(rows)
		if done == count {
			break
		}
		best := done
		for i := done + 1; i < count; i++ {
			if math.Abs(a.At(i, j)) > math.Abs(a.At(best, j)) {
				best = i
			}
		}
		if math.Abs(a.At(best, j)) <= pivotTol {
			continue
		}
		pivot := a.RawRowView(done)
		if best != done {
			swap(pivot, a.RawRowView(best))
		}
		floats.Scale(1/pivot[j], pivot)
		for i := range count {
			if i != done {
				eliminate(a.RawRowView(i), pivot, j)
			}
		}
		rows = append(rows, row{pivot: j, coefficients: pivot})
	}
	return rows
}

func swap(a, b []float64) {
	for i := range a {
		a[i], b[i] = b[i], a[i]
	}
}

// eliminate subtracts the pivot row from another so that column j is 0 there, and
// sets to 0 what is rounding.
func eliminate(from, pivot []float64, j int) {
	if from[j] == 0 {
		return
	}
	floats.AddScaled(from, -from[j], pivot)
	from[j] = 0
	for i, c := range from {
		if math.Abs(c) <= pivotTol {
			from[i] = 0
		}
	}
}

// svd is the singular value decomposition of a: Σ⁻¹Uᵀ and W over the singular values
// above zero, and their number. Values up to rankTol of the largest, or of 1, are
// taken as zero: the rows of a have size 1, and where everything in them cancels, the
// largest singular value is rounding itself.
func svd(a *mat.Dense) (whiten *mat.Dense, w mat.Matrix, rank int) {
	var d mat.SVD
	if !d.Factorize(a, mat.SVDFull) {
		return nil, nil, 0 // not reached with finite entries; rank 0 adjusts nothing
	}
	var u, v mat.Dense
	d.UTo(&u)
	d.VTo(&v)
	values := d.Values(nil)
	for rank < len(values) && values[rank] > rankTol*max(1, values[0]) {
		rank++
	}
	if rank == 0 {
		return nil, nil, 0
	}
	rows, columns := a.Dims()
	whiten = mat.DenseCopyOf(u.Slice(0, rows, 0, rank).T())
	for i, value := range values[:rank] {
		floats.Scale(1/value, whiten.RawRowView(i))
	}
	return whiten, v.Slice(0, columns, 0, rank), rank
}

// rowNorm is the length of row i, 0 for no matrix.
func rowNorm(a *mat.Dense, i int) float64 {
	if a == nil {
		return 0
	}
	return floats.Norm(a.RawRowView(i), 2)
}
