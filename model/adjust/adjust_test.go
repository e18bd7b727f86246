package adjust

import (
	"math"
	"testing"

	"garage/tundish/model/measure"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// Two measures of one thing give the inverse-variance mean, by hand:
// (830/2125.2 + 828/1296)/(1/2125.2 + 1/1296) = 828.76 ± 28.37.
func TestTwoMeasuresGiveTheWeightedMean(t *testing.T) {
	v, w := measure.Gaussian("v", 830, math.Sqrt(2125.2)), measure.Gaussian("w", 828, 36)
	s, err := Solve([]measure.Value{v.Sub(w)})
	if err != nil {
		t.Fatal(err)
	}
	for name, x := range map[string]measure.Value{"by the one": s.Of(v), "by the other": s.Of(w)} {
		near(t, name, x.Nominal, 828.76, 0.005)
		near(t, name+", u", x.U(), 28.37, 0.005)
	}
	near(t, "what they have in common", measure.Covariance(s.Of(v), s.Of(w)), s.Of(v).Variance(), 1e-6)
	near(t, "z", new(Solution).Z(v.Sub(w)), 2/math.Sqrt(2125.2+1296), 1e-12)
	chi2, dof := s.Chi2()
	near(t, "χ²", chi2, 4/(2125.2+1296), 1e-9)
	near(t, "degrees of freedom", float64(dof), 1, 0)
}
