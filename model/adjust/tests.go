// This file says how well a value fits what is known, which of several readings
// can be wrong, and what is made of a contradiction that stands.

package adjust

import (
	"math"

	"garage/tundish/model/measure"

	"gonum.org/v1/gonum/mat"
)

// Z is how many standard uncertainties a new condition is off zero by what is
// known before it (the predicted residual; P. J. G. Teunissen's local test, from
// memory); 0 for one without any uncertainty left.
func (s *Solution) Z(condition measure.Value) float64 {
	gap := s.Of(condition)
	if gap.U() <= imposed*condition.U() {
		return 0
	}
	return math.Abs(gap.Nominal) / gap.U()
}

// imposed is the share of its uncertainty below which a condition was imposed
// already, with a rest that is the ridge's: its square root.
const imposed = 1e-6

// StandingU is the standard uncertainty of what must be added to a gap of two
// things known, so that it is an ordinary one where both are let stand:
//
//	τ² = u²·(z² - 1)
//
// (R. C. Paule and J. Mandel, J. Res. NBS 87 (1982) 377, from memory). It is 0
// for a gap of up to limit standard uncertainties.
func StandingU(gap measure.Value, limit float64) float64 {
	variance := gap.Variance()
	square := gap.Nominal * gap.Nominal
	if square <= limit*limit*variance {
		return 0
	}
	return math.Sqrt(square - variance)
}

// Chi2 is the sum of squares mᵀ·K⁻¹·m, of χ² with as many degrees of freedom as
// there are independent conditions, where nothing is wrong but what is expected
// to be.
func (s *Solution) Chi2() (chi2 float64, dof int) {
	if s.conditions() == 0 {
		return 0, 0
	}
	var inverse mat.SymDense
	_ = s.factor.InverseTo(&inverse)
	// The rank is the trace of K·K⁻¹ where only the inverse has the ridge.
	rank := float64(len(s.rows)) - ridge*mat.Trace(&inverse)
	return mat.Dot(s.misses, s.weights), int(math.Round(rank))
}

// Slip is how a mistake of 1 in something would show: in each condition given
// to Solve by so much.
type Slip []float64

// w is the test of one slip, standard normal where it was not made (W. Baarda
// 1968, from memory); 0 where it would not show at all.
func (s *Solution) w(slip Slip) float64 {
	if s.conditions() == 0 {
		return 0
	}
	scaled := s.scaled(slip)
	if size := s.product(scaled, scaled); size > 0 {
		return mat.Dot(scaled, s.weights) / math.Sqrt(size)
	}
	return 0
}

// rho is the correlation of the tests of two slips: at ±1 nothing tells them
// apart.
func (s *Solution) rho(a, b Slip) float64 {
	if s.conditions() == 0 {
		return 0
	}
	x, y := s.scaled(a), s.scaled(b)
	if size := math.Sqrt(s.product(x, x)) * math.Sqrt(s.product(y, y)); size > 0 {
		return s.product(x, y) / size
	}
	return 0
}

// power is Φ⁻¹(0.8): a slip is found four times in five.
const power = 0.8416

// Least is the least slip that would be found four times in five by a test
// with the limit given; +Inf where none would.
func (s *Solution) Least(slip Slip, limit float64) float64 {
	if s.conditions() == 0 {
		return math.Inf(1)
	}
	scaled := s.scaled(slip)
	return (limit + power) / math.Sqrt(s.product(scaled, scaled))
}

func (s *Solution) scaled(slip Slip) *mat.VecDense {
	v := mat.NewVecDense(len(s.scales), nil)
	for i, given := range s.given {
		v.SetVec(i, slip[given]/s.scales[i])
	}
	return v
}

// product is aᵀ·K⁻¹·b.
func (s *Solution) product(a, b *mat.VecDense) float64 {
	return mat.Dot(a, s.solve(mat.VecDenseCopyOf(b)))
}

// apart is how much smaller the square of a test may be than the largest for
// two slips not to be told apart at 5 % (one degree of freedom of χ²), and alike
// how strongly their tests must be correlated for that.
const (
	apart = 3.84
	alike = 0.5
)

// Suspects are the slips that cannot be told apart from the one that most
// probably was made, by their index, in the order given; none where no test is
// above the limit.
func (s *Solution) Suspects(slips []Slip, limit float64) []int {
	most, worst := 0.0, 0
	w := make([]float64, len(slips))
	for i, slip := range slips {
		if w[i] = math.Abs(s.w(slip)); w[i] > most {
			most, worst = w[i], i
		}
	}
	var list []int
	for i := range slips {
		if most > limit && w[i]*w[i] > most*most-apart && math.Abs(s.rho(slips[i], slips[worst])) > alike {
			list = append(list, i)
		}
	}
	return list
}

// Positive is the condition that a value as it is known, f, was seen to be above
// zero, with a noise of standard uncertainty sigma that is an error of its own,
// source. A normal distribution cut off by that has, by its first two moments,
//
//	t² = u² + σ²   a = m/t   λ = φ(a)/Φ(a)   m' = m + u²·λ/t   u'² = u²·(1 - u²·λ·(λ + a)/t²)
//
// and the condition is the observation that leads from the one to the other:
// exact in mean and uncertainty, less so in the tails. It is false where the
// value is so far above zero that this says nothing.
func Positive(value, f measure.Value, sigma float64, source measure.Source) (condition measure.Value, ok bool) {
	m, u2 := f.Nominal, f.Variance()
	t := math.Hypot(math.Sqrt(u2), sigma)
	if !(t > 0) {
		return measure.Value{}, false
	}
	const tells = 1e-6 // of the variance: less is rounding
	lambda, plus := cutOff(m / t)
	left := u2 * max(tells, 1-u2/(t*t)*lambda*plus)
	if !(u2-left > tells*u2) {
		return measure.Value{}, false
	}
	g := left * (u2 / (u2 - left))
	return value.Sub(measure.Gaussian(source, m+u2*lambda/t*(1+g/u2), math.Sqrt(g))), true
}

// cutOff is λ = φ(a)/Φ(a), and λ + a. Where Φ runs out of figures it is the
// continued fraction of Laplace, λ = x + 1/(x + 2/(x + …)) with x = -a (M. Abramowitz,
// I. A. Stegun, Handbook of Mathematical Functions, 26.2.14, from memory).
func cutOff(a float64) (lambda, plus float64) {
	if a > -10 {
		lambda = math.Exp(-a*a/2) / math.Sqrt(2*math.Pi) / (math.Erfc(-a/math.Sqrt2) / 2)
		return lambda, lambda + a
	}
	for k := 20.0; k > 0; k-- {
		plus = k / (plus - a)
	}
	return plus - a, plus
}
