// This file holds the linear algebra of reconciliation.
//
// The balances are first brought to reduced echelon form, the streams in the order
// of their uncertainty: unmeasured, then measured from the most to the least
// uncertain, then exact. This gives rows that compute an unmeasured stream, rows
// that check measured streams (H), and rows between exact streams alone. As every
// row of H is solved for its most uncertain stream, the rest is well conditioned
// however far the uncertainties differ.
//
// With L the uncertainties of the readings, V = L², and the orthogonal
// factorisation (HL)ᵀ = Q₁R, which squares nothing, and Q₂ what completes Q₁,
//
//	x̂ = y − L Q₁ R⁻ᵀ H y,  χ² = |R⁻ᵀHy|²,  cov(x̂) = L Q₂ Q₂ᵀ L

package balance

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

const (
	pivotTol   = 1e-9  // taken as zero in the elimination, whose coefficients start as −1, 0 and 1
	touchTol   = 1e-12 // share of a stream's uncertainty up to which it is rounding
	closureTol = 1e-9  // share of the largest reading to which balances must close
)

// row is a balance solved for its pivot stream: it holds 1 there, 0 at the pivots
// of all other rows, and 0 at all streams that come before its pivot in the order.
type row struct {
	pivot        int
	coefficients []float64 // of all streams
}

// problem is a network as vectors over its streams, 0 where one is not measured.
type problem struct {
	Network
	rows  []row
	y, u  []float64
	x     []float64  // reconciled; of an unmeasured stream from compute on
	shift []float64  // x − y
	q     *mat.Dense // Q₁ and Q₂ side by side
	dof   int        // columns of Q₁
}

// order is the streams from the most to the least uncertain.
func (n Network) order() []int {
	uncertainty := func(j int) float64 {
		if !n.Streams[j].Measured {
			return math.Inf(1)
		}
		return n.Streams[j].UML
	}
	order := make([]int, len(n.Streams))
	for j := range order {
		order[j] = j
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(uncertainty(j), uncertainty(i)) })
	return order
}

// reduce brings balances to reduced echelon form in their place, the streams in the
// given order, by Gauss-Jordan elimination with the largest pivot of each column.
// Balances that follow from others vanish.
func reduce(a [][]float64, order []int) []row {
	var rows []row
	for _, j := range order {
		done := len(rows)
		if done == len(a) {
			break
		}
		best := done
		for i := done + 1; i < len(a); i++ {
			if math.Abs(a[i][j]) > math.Abs(a[best][j]) {
				best = i
			}
		}
		if math.Abs(a[best][j]) <= pivotTol {
			continue
		}
		a[done], a[best] = a[best], a[done]
		pivot := a[done]
		floats.Scale(1/pivot[j], pivot)
		for i := range a {
			if i != done {
				eliminate(a[i], pivot, j)
			}
		}
		rows = append(rows, row{pivot: j, coefficients: pivot})
	}
	return rows
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

// newProblem adjusts the measured streams by the rows between those whose pivot is
// uncertain, and gives χ².
func newProblem(n Network) (p problem, chi2 float64) {
	count := len(n.Streams)
	vector := func() []float64 { return make([]float64, count) }
	p = problem{Network: n, rows: reduce(n.coefficients(), n.order()), y: vector(), u: vector(), shift: vector()}
	for j, s := range n.Streams {
		if s.Measured {
			p.y[j], p.u[j] = s.ML, s.UML
		}
	}
	var checks []float64 // H, each row divided by the uncertainty of its pivot
	for _, r := range p.rows {
		if u := p.u[r.pivot]; u > 0 {
			floats.Scale(1/u, r.coefficients)
			checks = append(checks, r.coefficients...)
			p.dof++
		}
	}
	p.q = mat.DenseCopyOf(mat.NewDiagDense(count, slices.Repeat([]float64{1}, count)))
	p.x = slices.Clone(p.y)
	if p.dof == 0 {
		return p, 0
	}
	h, now := mat.NewDense(p.dof, count, checks), mat.NewVecDense(count, p.x)
	var spread mat.Dense // HL
	spread.Mul(h, mat.NewDiagDense(count, p.u))
	var qr mat.QR
	qr.Factorize(spread.T())
	qr.QTo(p.q)
	for pass := range 2 { // the second removes the rounding of the first
		var imbalance, step mat.VecDense
		imbalance.MulVec(h, now)
		_ = qr.SolveVecTo(&step, true, &imbalance) // the rows are independent
		if pass == 0 {
			chi2 = mat.Dot(&step, &step)
		}
		for j := range p.x {
			p.shift[j] -= p.u[j] * step.AtVec(j)
			p.x[j] = p.y[j] + p.shift[j]
		}
	}
	return p, chi2
}

// measured is a measured stream as it was adjusted.
func (p problem) measured(j int) StreamResult {
	r := StreamResult{Name: p.Streams[j].Name, Role: Redundant, ReconciledML: p.x[j], UML: p.u[j]}
	taken, left := floats.Norm(p.q.RawRowView(j)[:p.dof], 2), floats.Norm(p.q.RawRowView(j)[p.dof:], 2)
	switch {
	case r.UML == 0:
		r.Role = Exact
	case taken <= touchTol:
		r.Role, r.ReconciledML = Unchecked, p.y[j]
	default:
		r.Z = math.Abs(p.shift[j]) / (taken * r.UML)
		if r.UML *= left; left <= touchTol {
			r.UML = 0
		}
	}
	return r
}

// compute gives the unmeasured stream that is the pivot of a row. It is known where
// the row holds no other.
func (p problem) compute(r row) StreamResult {
	known := true
	factor := make([]float64, len(p.u)-p.dof) // of its variance
	for j, c := range r.coefficients {
		if j == r.pivot || c == 0 {
			continue
		}
		known = known && p.Streams[j].Measured
		p.x[r.pivot] -= c * p.x[j]
		floats.AddScaled(factor, c*p.u[j], p.q.RawRowView(j)[p.dof:])
	}
	one := StreamResult{Name: p.Streams[r.pivot].Name, Role: Unobservable}
	if known {
		one.Role, one.ReconciledML, one.UML = Observable, p.x[r.pivot], floats.Norm(factor, 2)
	}
	return one
}

// closes checks that the solution meets every balance. It fails only where streams
// without uncertainty contradict each other.
func (p problem) closes() error {
	worst, worstML := 0, 0.0
	for i, b := range p.coefficients() {
		if gap := math.Abs(floats.Dot(b, p.x)); gap > worstML {
			worst, worstML = i, gap
		}
	}
	if worstML > closureTol*floats.Max(p.y) {
		return fmt.Errorf("%w: balance %d is out by %.4g ml: give one of its streams a u_ml above 0", errContradiction, worst+1, worstML)
	}
	return nil
}
