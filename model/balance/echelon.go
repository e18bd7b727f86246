// This file holds the elimination and the few matrix operations that linear.go is
// written in.

package balance

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// pivotTol is what counts as zero in the elimination, whose coefficients start as
// −1, 0 and 1.
const pivotTol = 1e-9

// row is a balance solved for its pivot stream: it holds 1 there, 0 at the pivots
// of all other rows, and 0 at all streams that come before its pivot in the order.
type row struct {
	pivot        int
	coefficients []float64 // of all streams
}

// aloneAmong tells whether the pivot is the only unmeasured stream of the row.
func (r row) aloneAmong(index []int) bool {
	for j, c := range r.coefficients {
		if j != r.pivot && index[j] < 0 && c != 0 {
			return false
		}
	}
	return true
}

// order is the streams from the most to the least doubtful.
func (p problem) order(index []int) []int {
	doubt := func(j int) float64 {
		if index[j] < 0 {
			return math.Inf(1)
		}
		return rowNorm(p.factor, index[j])
	}
	order := make([]int, len(index))
	for j := range order {
		order[j] = j
	}
	slices.SortStableFunc(order, func(i, j int) int {
		switch a, b := doubt(i), doubt(j); {
		case a > b:
			return -1
		case a < b:
			return 1
		}
		return 0
	})
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

// eliminate takes the pivot row out of another so that column j is 0 there, and
// what is left of rounding with it.
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

// parts is a full singular value decomposition with its numerical rank.
type parts struct {
	u, v   *mat.Dense
	values []float64
	rank   int
}

// decompose takes singular values up to rankTol of the largest, or of 1, as zero:
// a comes from rows of size 1, and where everything in them cancels, the largest
// singular value is rounding itself.
func decompose(a *mat.Dense) parts {
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDFull) {
		return parts{} // not reached with finite entries; rank 0 adjusts nothing
	}
	d := parts{u: new(mat.Dense), v: new(mat.Dense), values: svd.Values(nil)}
	svd.UTo(d.u)
	svd.VTo(d.v)
	for _, value := range d.values {
		if value > rankTol*max(1, d.values[0]) {
			d.rank++
		}
	}
	return d
}

// whitening is Σ⁻¹Uᵀ over the singular values that count.
func (d parts) whitening() *mat.Dense {
	rows, _ := d.u.Dims()
	whiten := mat.DenseCopyOf(d.u.Slice(0, rows, 0, d.rank).T())
	for i, value := range d.values[:d.rank] {
		floats.Scale(1/value, whiten.RawRowView(i))
	}
	return whiten
}

func identity(n int) *mat.Dense {
	d := mat.NewDense(n, n, nil)
	for i := range n {
		d.Set(i, i, 1)
	}
	return d
}

// rowNorm is the length of row i, 0 for no matrix.
func rowNorm(a *mat.Dense, i int) float64 {
	if a == nil {
		return 0
	}
	return floats.Norm(a.RawRowView(i), 2)
}
