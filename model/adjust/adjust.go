// Package adjust makes one least-squares adjustment of all that is known of
// some quantities: by conditions, each of which says that a value, usually the
// difference of two ways of knowing one thing, is zero.
//
// A value (package measure) is a nominal number and its contributions from
// independent sources of error, each of mean 0 and variance 1. With the
// conditions' nominals m and contributions A, a row for each condition,
//
//	K = A·Aᵀ   E(ξ) = -Aᵀ·K⁻¹·m   cov(ξ) = I - Aᵀ·K⁻¹·A
//
// is what is known of the sources ξ after them (adjustment by conditions; the
// same as least squares with the sources' priors as observations: E. M. Mikhail,
// F. Ackermann, Observations and Least Squares, 1976, from memory). So an
// adjusted value is one again, of the same sources: its contributions are
// projected, and what two adjusted values have in common stays right.
//
// This file holds the solution; tests.go what it says of contradictions.
package adjust

import (
	"fmt"
	"math"
	"slices"

	"garage/tundish/model/measure"

	"gonum.org/v1/gonum/mat"
)

// ridge is what is added to the diagonal of the scaled K, so that conditions
// that say the same twice do no harm: below what can be read off any figure.
const ridge = 1e-12

const (
	floor    = 1e-9  // ml: a smaller uncertainty is rounding that sources leave which cancel
	rounding = 1e-11 // of a value's uncertainty: a contribution below is what the ridge leaves
	huge     = 1e100 // of nominals, in ml and in standard uncertainties: the square of more is no number
)

// Solution is what is known after some conditions. The zero Solution, and a nil
// one, know nothing more than the values themselves.
type Solution struct {
	index   map[measure.Source]int
	sources []measure.Source // in the order in which conditions bring them
	sorted  []int            // sources, in their own order
	rows    [][]entry        // a condition each, scaled to variance 1
	misses  *mat.VecDense    // their nominals, scaled alike
	scales  []float64        // standard uncertainty of each condition that counts
	given   []int            // its place among the conditions given
	factor  mat.Cholesky     // of K
	weights *mat.VecDense    // K⁻¹·m
}

// entry is what a source, by its index, contributes to a condition.
type entry struct {
	source int
	c      float64
}

// Solve adjusts by conditions: values, each of which is to be zero. One without
// any uncertainty says nothing and is left out. The error names a condition that
// is not a number, or too large to reckon with.
func Solve(conditions []measure.Value) (*Solution, error) {
	s := &Solution{index: map[measure.Source]int{}}
	var misses []float64
	for i, c := range conditions {
		u := c.U()
		if !(math.Abs(c.Nominal) < huge && u < huge) {
			return nil, fmt.Errorf("condition %d is not a number below %g", i+1, huge)
		}
		if u < floor {
			continue
		}
		s.scales, s.given = append(s.scales, u), append(s.given, i)
		s.rows, misses = append(s.rows, s.row(c, u)), append(misses, c.Nominal/u)
	}
	if len(s.rows) == 0 {
		return &Solution{}, nil
	}
	for i := range s.sources {
		s.sorted = append(s.sorted, i)
	}
	slices.SortFunc(s.sorted, func(i, j int) int { return s.sources[i].Compare(s.sources[j]) })
	s.misses = mat.NewVecDense(len(misses), misses)
	if !s.factor.Factorize(s.normal()) {
		return nil, fmt.Errorf("%d conditions cannot be told apart", len(s.rows))
	}
	s.weights = s.solve(mat.VecDenseCopyOf(s.misses))
	return s, nil
}

// row is a condition in units of its standard uncertainty.
func (s *Solution) row(condition measure.Value, u float64) []entry {
	var row []entry
	for source, c := range condition.Terms() {
		i, known := s.index[source]
		if !known {
			i = len(s.sources)
			s.index[source], s.sources = i, append(s.sources, source)
		}
		row = append(row, entry{i, c / u})
	}
	return row
}

// normal is K with its ridge. Few conditions share a source, so only what is in a
// row is looked at.
func (s *Solution) normal() *mat.SymDense {
	k := mat.NewSymDense(len(s.rows), nil)
	dense := make([]float64, len(s.sources))
	for i, row := range s.rows {
		for _, e := range row {
			dense[e.source] = e.c
		}
		for j := range i {
			k.SetSym(i, j, dot(s.rows[j], dense))
		}
		k.SetSym(i, i, 1+ridge)
		for _, e := range row {
			dense[e.source] = 0
		}
	}
	return k
}

func dot(row []entry, dense []float64) (sum float64) {
	for _, e := range row {
		sum += e.c * dense[e.source]
	}
	return sum
}

// solve overwrites b by K⁻¹·b. The only error is a warning of a poor condition
// number, and the ridge bounds that.
func (s *Solution) solve(b *mat.VecDense) *mat.VecDense {
	_ = s.factor.SolveVecTo(b, b)
	return b
}

// conditions is how many conditions count.
func (s *Solution) conditions() int {
	if s == nil {
		return 0
	}
	return len(s.rows)
}

// Of is a value as the conditions leave it: its best estimate, with what
// uncertainty is left and from which sources.
func (s *Solution) Of(v measure.Value) measure.Value {
	n := s.conditions()
	if n == 0 {
		return v
	}
	left := make([]float64, len(s.sources)) // of each contribution
	for source, c := range v.Terms() {
		if i, known := s.index[source]; known {
			left[i] = c
		}
	}
	lambda := mat.NewVecDense(n, nil)
	for i, row := range s.rows {
		lambda.SetVec(i, dot(row, left))
	}
	change := -mat.Dot(lambda, s.weights)
	s.solve(lambda)
	for i, row := range s.rows {
		for _, e := range row {
			left[e.source] -= lambda.AtVec(i) * e.c
		}
	}
	least := rounding * v.U()
	known := measure.FromTerms(change, len(s.sorted), func(yield func(measure.Source, float64) bool) {
		for _, i := range s.sorted {
			if math.Abs(left[i]) > least && !yield(s.sources[i], left[i]) {
				return
			}
		}
	})
	return known.Add(v.Map(func(source measure.Source, c float64) (measure.Source, float64) {
		if _, known := s.index[source]; known {
			c = 0
		}
		return source, c
	}))
}

// Recast returns values of the same nominals, uncertainties and covariances that
// have as many sources as there are values: source, with Part 1, 2, …. What
// they have in common with any other value is lost.
func Recast(values []measure.Value, source measure.Source) []measure.Value {
	n := len(values)
	k := mat.NewSymDense(n, nil)
	for i, v := range values {
		for j := range i + 1 {
			k.SetSym(i, j, measure.Covariance(v, values[j]))
		}
		k.SetSym(i, i, k.At(i, i)*(1+ridge)+floor*floor)
	}
	recast := make([]measure.Value, n)
	var factor mat.Cholesky
	known := factor.Factorize(k)
	var lower mat.TriDense
	if known {
		factor.LTo(&lower)
	}
	for i, v := range values {
		recast[i] = measure.Exact(v.Nominal)
		for j := range i + 1 {
			source.Part = j + 1
			switch {
			case known:
				recast[i] = recast[i].Add(measure.Gaussian(source, 0, 1).Scale(lower.At(i, j)))
			case i == j: // not to be factorised: as if each stood alone
				recast[i] = recast[i].Add(measure.Gaussian(source, 0, v.U()))
			}
		}
	}
	return recast
}
