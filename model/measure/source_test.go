// The identity and the order of error sources.

package measure

import (
	"math/rand/v2"
	"testing"
)

// Sources that differ in one field alone are independent; budgets list equal
// contributions by kind, name, job, round, reading and part.
func TestSourcesDifferByEachField(t *testing.T) {
	sources := []Source{
		{}, {Part: 1}, {Part: 2}, {Reading: 1}, {Reading: 2, Part: 1}, {Round: 1}, {Round: 2}, {Job: "a"}, {Job: "b"},
		{Name: "jug"}, {Name: "scale"}, {Name: "scale", Job: "a"}, {Kind: 1}, {Kind: 1, Name: "jug"}, {Kind: 2},
	}
	var values []Value
	for _, i := range rand.New(rand.NewPCG(1, 1)).Perm(len(sources)) {
		values = append(values, Gaussian(sources[i], 1, 3))
	}
	sum := Sum(values...)
	near(t, "variance of independent sources", sum.Variance(), float64(9*len(sources)), 1e-12)
	for i, c := range sum.Contributions() {
		if c.Source != sources[i] {
			t.Errorf("contribution %d is of %+v, want %+v", i, c.Source, sources[i])
		}
	}
	for i, s := range sources {
		for j, other := range sources {
			want := 0.0
			if i == j {
				want = 9
			}
			near(t, "covariance", Covariance(Gaussian(s, 1, 3), Gaussian(other, 1, 3)), want, 0)
		}
	}
}

// A name alone is the source that has only that name.
func TestANameAloneIsASource(t *testing.T) {
	v := Gaussian("jug", 1, 3).Sub(Gaussian(Source{Name: "jug"}, 1, 3))
	near(t, "variance", v.Variance(), 0, 0)
}
