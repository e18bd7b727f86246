// This file holds the least squares fit of
//
//	y = offset + amplitude · shape(rate · t)
//
// by variable projection. For a given rate the other parameters are linear, so the
// search has one dimension; at the projected minimum the derivative of the residual
// sum is −2 amplitude · rᵀ(∂shape/∂rate), whose root is found to the last digit. Source: Golub and Pereyra, SIAM J. Numer. Anal.
// 10 (1973) 413.

package drip

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// shape is a curve from 0 at 0 towards 1, as a function of rate·t.
type shape func(x float64) (value, slope float64)

// settling is 1 − e^(−x).
func settling(x float64) (value, slope float64) {
	return -math.Expm1(-x), math.Exp(-x)
}

// film is 1 − √(t₁/t) where x is (t−t₁)/t₁; it has no rate to be found.
func film(x float64) (value, slope float64) { return 1 - 1/math.Sqrt(1+x), 0 }

// curve is a fitted curve. cov holds the covariance of (amplitude, rate, offset).
type curve struct {
	amplitude, rate, offset float64
	start                   float64 // time at which the curve starts
	rss                     float64
	dof                     int
	cov                     [3][3]float64
}

// unscaled turns a curve in t/scaleMin and v/scaleML into minutes and ml.
func (c curve) unscaled(scaleMin, scaleML, startMin float64) curve {
	unit := [3]float64{scaleML, 1 / scaleMin, scaleML}
	for i := range unit {
		for j := range unit {
			c.cov[i][j] *= unit[i] * unit[j]
		}
	}
	c.amplitude *= scaleML
	c.rate /= scaleMin
	c.offset *= scaleML
	c.start = startMin
	c.rss *= scaleML * scaleML
	return c
}

// outcome is where the best rate lies.
type outcome uint8

const (
	inRange    outcome = iota
	belowRange         // the curve is a straight line
	aboveRange         // the curve has levelled off before the first time
)

const (
	lowestRate = 0.01 // per unit of scaled time: of which a hundredth of the curve has passed
	highestX   = 30.0 // rate·t at the first time: beyond it shape is 1 to 13 digits
	gridPerE   = 6.0  // search steps per factor e in the rate
	rootSteps  = 52   // each a bit of the rate
)

// fitter holds the data of one fit, t running to 1, and the shape's values and
// slopes at the rate tried last.
type fitter struct {
	t, y       []float64
	shape      shape
	withOffset bool
	f, df      []float64
}

// solve finds the least squares curve through (t, y).
func solve(t, y []float64, f shape, withOffset bool) (curve, outcome) {
	p := fitter{t: t, y: y, shape: f, withOffset: withOffset, f: make([]float64, len(t)), df: make([]float64, len(t))}
	low, high := math.Log(lowestRate), math.Log(highestX/t[slices.IndexFunc(t, func(x float64) bool { return x > 0 })])
	steps := int(math.Ceil((high - low) * gridPerE))
	step := (high - low) / float64(steps)
	best, bestRSS := 0, math.Inf(1)
	for i := 0; i <= steps; i++ {
		if _, _, rss, _ := p.project(math.Exp(low + float64(i)*step)); rss < bestRSS {
			best, bestRSS = i, rss
		}
	}
	switch best {
	case 0:
		return curve{}, belowRange
	case steps:
		return curve{}, aboveRange
	}
	logRate := low + float64(best)*step
	return p.curveAt(p.root(logRate-step, logRate+step), true), inRange
}

// fixed finds the least squares curve of a known rate.
func (p fitter) fixed(rate float64) curve {
	p.f, p.df = make([]float64, len(p.t)), make([]float64, len(p.t))
	return p.curveAt(rate, false)
}

// project returns the linear parameters that fit best at a rate, the residual sum
// and half its derivative by the rate.
func (p fitter) project(rate float64) (amplitude, offset, rss, slope float64) {
	n := float64(len(p.t))
	var meanF, meanY float64
	for i, t := range p.t {
		p.f[i], p.df[i] = p.shape(rate * t)
		if p.withOffset {
			meanF += p.f[i] / n
			meanY += p.y[i] / n
		}
	}
	var fy, ff float64
	for i, f := range p.f {
		fy += (f - meanF) * (p.y[i] - meanY)
		ff += (f - meanF) * (f - meanF)
	}
	if ff > 0 {
		amplitude = fy / ff
	}
	offset = meanY - amplitude*meanF
	for i, f := range p.f {
		r := p.y[i] - offset - amplitude*f
		rss += r * r
		slope -= r * amplitude * p.t[i] * p.df[i]
	}
	return amplitude, offset, rss, slope
}

// root is the rate between two, as logarithms, at which the residual sum is least:
// where its derivative, which is exact to the rounding of the data where the sum
// itself is flat, changes its sign.
func (p fitter) root(low, high float64) float64 {
	for range rootSteps {
		mid := (low + high) / 2
		if _, _, _, slope := p.project(math.Exp(mid)); slope < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return math.Exp((low + high) / 2)
}

// curveAt is the curve at a rate with its covariance s²(JᵀJ)⁻¹, computed from the QR
// factors of the Jacobian J rather than from JᵀJ, whose condition is squared. A rate
// that was not searched for has no uncertainty.
func (p fitter) curveAt(rate float64, searched bool) curve {
	c := curve{rate: rate}
	c.amplitude, c.offset, c.rss, _ = p.project(rate)
	columns := []int{0} // of the Jacobian, as places in cov
	if searched {
		columns = append(columns, 1)
	}
	if p.withOffset {
		columns = append(columns, 2)
	}
	c.dof = len(p.t) - len(columns)
	jacobian := mat.NewDense(len(p.t), len(columns), nil)
	for i, t := range p.t {
		derivatives := [3]float64{p.f[i], c.amplitude * t * p.df[i], 1} // f as project left it for this rate
		for j, column := range columns {
			jacobian.Set(i, j, derivatives[column])
		}
	}
	s2cov := covariance(jacobian, c.rss/float64(c.dof))
	for i, row := range columns {
		for j, column := range columns {
			c.cov[row][column] = s2cov[i][j]
		}
	}
	return c
}

// covariance is s²(JᵀJ)⁻¹ = s²XᵀX with Jᵀ·X = I; infinite where the columns are dependent.
func covariance(jacobian *mat.Dense, s2 float64) (cov [3][3]float64) {
	_, columns := jacobian.Dims()
	var qr mat.QR
	qr.Factorize(jacobian)
	var x, product mat.Dense
	if err := qr.SolveTo(&x, true, mat.NewDiagDense(columns, slices.Repeat([]float64{1}, columns))); err != nil {
		cov[0][0], cov[1][1], cov[2][2] = math.Inf(1), math.Inf(1), math.Inf(1)
		return cov
	}
	product.Mul(x.T(), &x)
	for i := range columns {
		for j := range columns {
			cov[i][j] = s2 * product.At(i, j)
		}
	}
	return cov
}
