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
// F. Ackermann, Observations and Least Squares, 1976, from memory). So an adjusted value is one again, of the
// same sources: its contributions are projected, and what two adjusted values
// have in common stays right.
//
// This file holds the solution; tests.go what it says of contradictions.
package adjust

import (
	"fmt"
	"math"

	"garage/tundish/model/measure"

	"gonum.org/v1/gonum/mat"
)

// ridge is what is added to the diagonal of the scaled K, so that conditions
// that say the same twice do no harm: below what can be read off any figure.
const ridge = 1e-12

// Solution is what is known after some conditions. The zero Solution, and a nil
// one, know nothing more than the values themselves.
type Solution struct {
	index   map[measure.Source]int
	sources []measure.Source // in the order in which conditions bring them
	rows    *mat.Dense       // a condition each, scaled to variance 1
	misses  *mat.VecDense    // their nominals, scaled alike
	scales  []float64        // standard uncertainty of each condition that counts
	given   []int            // its place among the conditions given
	factor  mat.Cholesky     // of K
	weights mat.VecDense     // K⁻¹·m
}

// Solve adjusts by conditions: values, each of which is to be zero. One without
// any uncertainty says nothing and is left out. The error names a condition that
// is not finite.
func Solve(conditions []measure.Value) (*Solution, error) {
	s := &Solution{index: map[measure.Source]int{}}
	var kept []measure.Value
	for i, c := range conditions {
		if !c.Finite() {
			return nil, fmt.Errorf("condition %d is not a finite number", i+1)
		}
		u := c.U()
		if !(u > 0) {
			continue
		}
		kept, s.scales, s.given = append(kept, c), append(s.scales, u), append(s.given, i)
		for source := range c.Terms() {
			if _, known := s.index[source]; !known {
				s.index[source] = len(s.sources)
				s.sources = append(s.sources, source)
			}
		}
	}
	if len(kept) == 0 {
		return &Solution{}, nil
	}
	s.rows = mat.NewDense(len(kept), len(s.sources), nil)
	s.misses = mat.NewVecDense(len(kept), nil)
	for i, c := range kept {
		s.misses.SetVec(i, c.Nominal/s.scales[i])
		for source, x := range c.Terms() {
			s.rows.Set(i, s.index[source], x/s.scales[i])
		}
	}
	return s, s.factorise()
}

func (s *Solution) factorise() error {
	n, _ := s.rows.Dims()
	var k mat.SymDense
	k.SymOuterK(1, s.rows)
	for i := range n {
		k.SetSym(i, i, k.At(i, i)*(1+ridge))
	}
	if !s.factor.Factorize(&k) {
		return fmt.Errorf("%d conditions cannot be told apart", n)
	}
	return solved(s.factor.SolveVecTo(&s.weights, s.misses))
}

// solved lets a warning about a poor condition number pass: the ridge bounds it.
func solved(err error) error {
	if _, poor := err.(mat.Condition); poor {
		return nil
	}
	return err
}

// conditions is how many conditions count.
func (s *Solution) conditions() int {
	if s == nil {
		return 0
	}
	return len(s.scales)
}

// Of is a value as the conditions leave it: its best estimate, with what
// uncertainty is left and from which sources.
func (s *Solution) Of(v measure.Value) measure.Value {
	n := s.conditions()
	if n == 0 {
		return v
	}
	c := mat.NewVecDense(len(s.sources), nil)
	for source, x := range v.Terms() {
		if i, known := s.index[source]; known {
			c.SetVec(i, x)
		}
	}
	var shared, lambda, shift mat.VecDense
	shared.MulVec(s.rows, c)
	if err := solved(s.factor.SolveVecTo(&lambda, &shared)); err != nil {
		return v
	}
	shift.MulVec(s.rows.T(), &lambda)
	least := 0.0 // what is smaller is rounding
	for i := range s.sources {
		least = math.Max(least, rounding*math.Max(math.Abs(c.AtVec(i)), math.Abs(shift.AtVec(i))))
	}
	return measure.FromTerms(v.Nominal-mat.Dot(&lambda, s.misses), func(yield func(measure.Source, float64) bool) {
		for source, x := range v.Terms() {
			if _, known := s.index[source]; !known && !yield(source, x) {
				return
			}
		}
		for i, source := range s.sources {
			if x := c.AtVec(i) - shift.AtVec(i); math.Abs(x) > least && !yield(source, x) {
				return
			}
		}
	})
}

const rounding = 1e-13
