// This file holds the linear algebra of reconciliation.
//
// The balances are first brought to reduced echelon form, the streams in the order
// of their uncertainty: unmeasured, then measured from the most to the least
// uncertain, then exact (echelon.go). This gives rows that compute an unmeasured
// stream, rows that check measured streams (H), and rows between exact streams
// alone. As every row of H is solved for its most uncertain stream, the rest is well
// conditioned however far the uncertainties differ.
//
// The covariance of the readings is given as a factor L, V = LLᵀ, so that nothing is
// squared and a singular V needs no special case: with the singular value
// decomposition HL = UΣWᵀ, without what is rounding,
//
//	x̂ = y − L W Σ⁻¹ Uᵀ H y,  χ² = |Σ⁻¹UᵀHy|²,  cov(x̂) = L(I − WWᵀ)Lᵀ

package balance

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

const (
	rankTol    = 1e-10 // singular values of HL, with rows scaled to 1, up to which they are rounding
	touchTol   = 1e-12 // share of a stream's uncertainty up to which it is rounding
	closureTol = 1e-9  // share of the largest reading to which balances must close
)

// problem is a network in matrix form.
type problem struct {
	balances *mat.Dense // balances × streams; nil without balances
	measured []bool     // of each stream
	y        []float64  // of the measured streams
	factor   *mat.Dense // L, measured streams × sources; nil where nothing is uncertain
}

// solution holds, per stream, what problem.solve found.
type solution struct {
	roles []Role
	x, u  []float64
	z     []float64
	gain  *mat.Dense // x̂ = gain · y, streams × measured; nil without measured streams
	chi2  float64
	dof   int
}

// adjustment is the reconciled measured part.
type adjustment struct {
	gain   *mat.Dense // x̂ = gain · y; nil without measured streams
	shift  []float64  // x̂ − y
	factor *mat.Dense // of cov(x̂); nil where nothing is uncertain
	taken  *mat.Dense // LW, factor of the covariance of the shifts; nil for dof 0
	chi2   float64
	dof    int
}

// solve adjusts the measured streams and computes the unmeasured ones.
func (p problem) solve() (solution, error) {
	index, known := p.index()
	rows := reduce(p.balances, p.order(index))
	n := len(p.measured)
	s := solution{roles: make([]Role, n), x: make([]float64, n), u: make([]float64, n), z: make([]float64, n)}
	if len(known) > 0 {
		s.gain = mat.NewDense(n, len(known), nil)
	}
	a := p.adjust(p.checks(rows, index, known))
	p.fillMeasured(&s, a, known)
	p.fillUnmeasured(&s, a, rows, index, known)
	return s, p.closes(s)
}

// index is the place of each stream among the measured ones, −1 for an unmeasured
// one, and the inverse of that.
func (p problem) index() (index, known []int) {
	for j, measured := range p.measured {
		if measured {
			index = append(index, len(known))
			known = append(known, j)
		} else {
			index = append(index, -1)
		}
	}
	return index, known
}

// checks is H, the rows between measured streams whose pivot is uncertain, each
// divided by the uncertainty of the pivot; nil where there are none.
func (p problem) checks(rows []row, index, known []int) *mat.Dense {
	var h []float64
	for _, r := range rows {
		if index[r.pivot] < 0 {
			continue
		}
		u := rowNorm(p.factor, index[r.pivot])
		for _, j := range known {
			if u > 0 {
				h = append(h, r.coefficients[j]/u)
			}
		}
	}
	if h == nil {
		return nil
	}
	return mat.NewDense(len(h)/len(known), len(known), h)
}

// adjust reconciles the measured streams against the checks h.
func (p problem) adjust(h *mat.Dense) adjustment {
	n := len(p.y)
	a := adjustment{shift: make([]float64, n), factor: p.factor}
	if n == 0 {
		return a
	}
	a.gain = mat.DenseCopyOf(mat.NewDiagDense(n, slices.Repeat([]float64{1}, n)))
	if h == nil {
		return a
	}
	var spread mat.Dense // HL
	spread.Mul(h, p.factor)
	whiten, w, rank := svd(&spread)
	if rank == 0 {
		return a
	}
	a.dof, a.taken = rank, new(mat.Dense)
	a.taken.Mul(p.factor, w)
	a.shiftBy(p.y, h, whiten)

	var correction, taken, kept mat.Dense
	correction.Product(a.taken, whiten, h)
	a.gain.Sub(a.gain, &correction)
	taken.Mul(a.taken, w.T())
	kept.Sub(p.factor, &taken)
	a.factor = &kept
	return a
}

// shiftBy fills χ² and the shifts; a second pass removes the rounding of the first.
func (a *adjustment) shiftBy(y []float64, h, whiten *mat.Dense) {
	for pass := range 2 {
		now := mat.NewVecDense(len(y), nil)
		now.AddVec(mat.NewVecDense(len(y), y), mat.NewVecDense(len(y), a.shift))
		var imbalance, white, step mat.VecDense
		imbalance.MulVec(h, now)
		white.MulVec(whiten, &imbalance)
		step.MulVec(a.taken, &white)
		for i := range a.shift {
			a.shift[i] -= step.AtVec(i)
		}
		if pass == 0 {
			a.chi2 = mat.Dot(&white, &white)
		}
	}
}

// fillMeasured writes the measured streams into the solution.
func (p problem) fillMeasured(s *solution, a adjustment, known []int) {
	s.chi2, s.dof = a.chi2, a.dof
	for k, j := range known {
		s.gain.SetRow(j, a.gain.RawRowView(k))
		s.x[j] = p.y[k]
		given, left, taken := rowNorm(p.factor, k), rowNorm(a.factor, k), rowNorm(a.taken, k)
		switch {
		case given == 0:
			s.roles[j] = Exact
		case taken <= touchTol*given:
			s.roles[j], s.u[j] = Unchecked, given
		default:
			s.roles[j] = Redundant
			s.x[j] += a.shift[k]
			s.z[j] = math.Abs(a.shift[k]) / taken
			if left > touchTol*given {
				s.u[j] = left
			}
		}
	}
}

// fillUnmeasured computes each unmeasured stream that is the pivot of a row without
// any other unmeasured one.
func (p problem) fillUnmeasured(s *solution, a adjustment, rows []row, index, known []int) {
	for j := range index {
		if index[j] < 0 {
			s.roles[j] = Unobservable
		}
	}
	for _, r := range rows {
		if index[r.pivot] >= 0 {
			continue
		}
		if r.isObservable(index) {
			s.roles[r.pivot] = Observable
		}
		if len(known) == 0 {
			continue
		}
		weights := mat.NewDense(1, len(known), nil)
		for k, j := range known {
			weights.Set(0, k, -r.coefficients[j])
			s.x[r.pivot] -= r.coefficients[j] * s.x[j]
		}
		var gain, factor mat.Dense
		gain.Mul(weights, a.gain)
		s.gain.SetRow(r.pivot, gain.RawRowView(0))
		if a.factor != nil {
			factor.Mul(weights, a.factor)
			s.u[r.pivot] = rowNorm(&factor, 0)
		}
	}
}

// closes checks that the solution meets every balance. It fails only where streams
// without uncertainty contradict each other.
func (p problem) closes(s solution) error {
	if p.balances == nil {
		return nil
	}
	var largest float64
	for _, y := range p.y {
		largest = max(largest, math.Abs(y))
	}
	var open mat.VecDense
	open.MulVec(p.balances, mat.NewVecDense(len(s.x), s.x))
	worst, worstML := 0, 0.0
	for i := range open.Len() {
		if gap := math.Abs(open.AtVec(i)); gap > worstML {
			worst, worstML = i, gap
		}
	}
	if worstML > closureTol*largest {
		return fmt.Errorf("%w: balance %d is out by %.4g ml: give one of its streams a u_ml above 0", errContradiction, worst+1, worstML)
	}
	return nil
}
