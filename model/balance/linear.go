// This file holds the linear algebra of reconciliation. The covariance of the
// readings comes in as a factor L, V = LLᵀ, so that nothing is ever squared and a
// singular V needs no special case: with H an orthonormal basis of the balances
// between measured streams and the singular value decomposition HL = UΣWᵀ,
//
//	x̂ = y − L W Σ⁻¹ Uᵀ H y,  χ² = |Σ⁻¹UᵀHy|²,  cov(x̂) = L(I − WWᵀ)Lᵀ
//
// where only singular values above rounding count.

package balance

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

const (
	structureTol = 1e-10 // rank of balances, whose coefficients are −1, 0 and 1
	factorTol    = 1e-12 // rank of HL, whose entries span up to maxURatio
	closureTol   = 1e-9  // balances must close to this share of the largest reading
	blindTol     = 1e-8  // a coefficient below this does not reach the stream
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

// solve projects out the unmeasured streams, adjusts the measured ones, and works
// the unmeasured ones out.
func (p problem) solve() (solution, error) {
	s := p.blank()
	am, au := p.split()
	adjusted := p.adjust(basis(project(am, au)))
	p.fillMeasured(&s, adjusted)
	p.fillUnmeasured(&s, adjusted, am, au)
	return s, p.closes(s)
}

func (p problem) blank() solution {
	n := len(p.measured)
	s := solution{roles: make([]Role, n), x: make([]float64, n), u: make([]float64, n), z: make([]float64, n)}
	if len(p.y) > 0 {
		s.gain = mat.NewDense(n, len(p.y), nil)
	}
	return s
}

// split parts the columns of the balances into measured and unmeasured streams;
// nil for a part without any.
func (p problem) split() (am, au *mat.Dense) {
	if p.balances == nil {
		return nil, nil
	}
	var m, u []int
	for j, measured := range p.measured {
		if measured {
			m = append(m, j)
		} else {
			u = append(u, j)
		}
	}
	return columns(p.balances, m), columns(p.balances, u)
}

// project combines the balances so that the unmeasured streams drop out: PA_m
// with P the left null space of A_u. nil where nothing remains.
func project(am, au *mat.Dense) *mat.Dense {
	if am == nil || au == nil {
		return am
	}
	d := decompose(au, structureTol, 1)
	rows, _ := au.Dims()
	if d.rank == rows {
		return nil
	}
	var projected mat.Dense
	projected.Mul(d.u.Slice(0, rows, d.rank, rows).T(), am)
	return &projected
}

// basis is an orthonormal basis H of the rows of g; nil for rank 0.
func basis(g *mat.Dense) *mat.Dense {
	if g == nil {
		return nil
	}
	d := decompose(g, structureTol, 1)
	if d.rank == 0 {
		return nil
	}
	_, n := g.Dims()
	return mat.DenseCopyOf(d.v.Slice(0, n, 0, d.rank).T())
}

// adjustment is the reconciled measured part.
type adjustment struct {
	basis  *mat.Dense // H; nil without redundancy
	gain   *mat.Dense // x̂ = gain · y
	shift  []float64  // x̂ − y
	factor *mat.Dense // of cov(x̂); nil where nothing is uncertain
	w      *mat.Dense // LW: factor of the covariance of the adjustments; nil for dof 0
	chi2   float64
	dof    int
}

// adjust reconciles the measured streams against the balances h.
func (p problem) adjust(h *mat.Dense) adjustment {
	n := len(p.y)
	a := adjustment{basis: h, shift: make([]float64, n), factor: p.factor}
	if n == 0 {
		return a
	}
	a.gain = identity(n)
	if h == nil || p.factor == nil {
		return a
	}
	var b mat.Dense
	b.Mul(h, p.factor)
	var size float64
	for k := range n {
		size = math.Max(size, columnNorm(h, k)*rowNorm(p.factor, k))
	}
	d := decompose(&b, factorTol, size)
	if a.dof = d.rank; a.dof == 0 {
		return a
	}
	rows, sources := b.Dims()
	w := d.v.Slice(0, sources, 0, a.dof)
	a.w = new(mat.Dense)
	a.w.Mul(p.factor, w)

	whiten := mat.DenseCopyOf(d.u.Slice(0, rows, 0, a.dof).T()) // Σ⁻¹Uᵀ
	for i := range a.dof {
		row := whiten.RawRowView(i)
		for j := range row {
			row[j] /= d.values[i]
		}
	}
	a.shiftBy(p.y, h, whiten)

	var correction, kept, lw mat.Dense
	correction.Product(a.w, whiten, h)
	a.gain.Sub(a.gain, &correction)
	lw.Mul(a.w, w.T())
	kept.Sub(p.factor, &lw)
	a.factor = &kept
	return a
}

// shiftBy fills χ² and the adjustments; a second pass takes out the rounding of
// the first.
func (a *adjustment) shiftBy(y []float64, h, whiten *mat.Dense) {
	for pass := range 2 {
		now := mat.NewVecDense(len(y), nil)
		now.AddVec(mat.NewVecDense(len(y), y), mat.NewVecDense(len(y), a.shift))
		var imbalance, white, step mat.VecDense
		imbalance.MulVec(h, now)
		white.MulVec(whiten, &imbalance)
		step.MulVec(a.w, &white)
		for i := range a.shift {
			a.shift[i] -= step.AtVec(i)
		}
		if pass == 0 {
			a.chi2 = mat.Dot(&white, &white)
		}
	}
}

// fillMeasured writes the measured streams into the solution.
func (p problem) fillMeasured(s *solution, a adjustment) {
	s.chi2, s.dof = a.chi2, a.dof
	k := 0
	for j, measured := range p.measured {
		if !measured {
			continue
		}
		s.x[j] = p.y[k] + a.shift[k]
		s.gain.SetRow(j, a.gain.RawRowView(k))
		s.roles[j] = p.role(k, a)
		was := rowNorm(p.factor, k)
		if u := rowNorm(a.factor, k); u > structureTol*was {
			s.u[j] = u
		}
		if w := rowNorm(a.w, k); s.roles[j] == Redundant && w > structureTol*was {
			s.z[j] = math.Abs(a.shift[k]) / w
		}
		k++
	}
}

func (p problem) role(k int, a adjustment) Role {
	switch {
	case rowNorm(p.factor, k) == 0:
		return Exact
	case a.basis == nil || columnNorm(a.basis, k) < blindTol:
		return Unchecked
	}
	return Redundant
}

// fillUnmeasured works out the unmeasured streams.
func (p problem) fillUnmeasured(s *solution, a adjustment, am, au *mat.Dense) {
	weights, blind := observer(am, au)
	k := 0
	for j, measured := range p.measured {
		if measured {
			continue
		}
		s.roles[j] = Observable
		if blind == nil || blind[k] {
			s.roles[j] = Unobservable
		}
		if weights != nil {
			p.observe(s, a, j, weights.RawRowView(k))
		}
		k++
	}
}

// observer gives the unmeasured streams as combinations of the measured ones,
//
//	x_u = −A_u⁺ A_m x_m  (A⁺ the pseudo-inverse),
//
// nil where these say nothing, and which of them a null vector of A_u reaches:
// those could be anything. blind is nil where no balance names any stream.
func observer(am, au *mat.Dense) (weights *mat.Dense, blind []bool) {
	if au == nil {
		return nil, nil
	}
	d := decompose(au, structureTol, 1)
	rows, n := au.Dims()
	blind = make([]bool, n)
	for k := range blind {
		blind[k] = d.rank < n && floats.Norm(d.v.RawRowView(k)[d.rank:], 2) > blindTol
	}
	if am == nil || d.rank == 0 {
		return nil, blind
	}
	v := mat.DenseCopyOf(d.v.Slice(0, n, 0, d.rank))
	for k := range n {
		for i, value := range d.values[:d.rank] {
			v.Set(k, i, -v.At(k, i)/value)
		}
	}
	weights = new(mat.Dense)
	weights.Product(v, d.u.Slice(0, rows, 0, d.rank).T(), am)
	return weights, blind
}

// observe works out stream j as the given combination of the reconciled ones.
func (p problem) observe(s *solution, a adjustment, j int, weights []float64) {
	t := mat.NewDense(1, len(weights), weights)
	for k, w := range weights {
		s.x[j] += w * (p.y[k] + a.shift[k])
	}
	var gain mat.Dense
	gain.Mul(t, a.gain)
	s.gain.SetRow(j, gain.RawRowView(0))
	if a.factor != nil {
		var factor mat.Dense
		factor.Mul(t, a.factor)
		s.u[j] = rowNorm(&factor, 0)
	}
}

// closes checks that every balance holds for what was found. It fails only where
// streams without uncertainty contradict each other.
func (p problem) closes(s solution) error {
	if p.balances == nil {
		return nil
	}
	var largest float64
	for _, y := range p.y {
		largest = math.Max(largest, math.Abs(y))
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
		return fmt.Errorf("%w: balance %d is out by %.4g ml: give one of its streams a u_ml above 0", ErrContradiction, worst+1, worstML)
	}
	return nil
}
