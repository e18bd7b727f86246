// Package measure holds values together with the sources of their uncertainty.
//
// A Value is a nominal number plus its signed contributions from independent,
// named error sources: the linear form that the law of propagation of
// uncertainty works on (JCGM 100:2008, section 5). Because every operation keeps
// the sources, an error shared by two values cancels in their difference and
// doubles in their sum: a jug that reads 2 % high reads 2 % high both times. Equal
// sources are the same error, so a reading taken twice needs two sources.
//
// All of it is first order, the unit is the caller's, and values are immutable.
// A reading and the scale error of its jug combine like this:
//
//	read := measure.Rectangular("jug reading 3", 830, 5)
//	volume := read.Mul(measure.Rectangular("jug scale", 1, 0.02))
//
// This file holds the types, the constructors and the statistics of a value; the
// arithmetic is in algebra.go.
package measure

import (
	"cmp"
	"math"
	"slices"
)

// term is one source's contribution: sensitivity × standard uncertainty, signed,
// in the unit of the value.
type term struct {
	source Source
	c      float64
}

// Value is a number with its error sources. The zero Value is exactly 0.
type Value struct {
	Nominal float64 // in the unit of the caller
	terms   []term  // sorted by source, no source twice, no c = 0; never changed
}

// Exact returns x without any uncertainty.
func Exact(x float64) Value { return Value{Nominal: x} }

// Gaussian returns x with standard uncertainty u from one normal source, given by
// its name alone or in full. The sign of u is ignored; u = 0 gives an exact value.
func Gaussian[S string | Source](source S, x, u float64) Value {
	if u == 0 {
		return Exact(x)
	}
	return Value{Nominal: x, terms: []term{{sourceOf(source), math.Abs(u)}}}
}

// Rectangular returns x known to lie within ± halfWidth, anywhere in it with
// equal probability: u = halfWidth/√3 (JCGM 100:2008, 4.3.7). The sign of
// halfWidth is ignored; 0 gives an exact value.
func Rectangular[S string | Source](source S, x, halfWidth float64) Value {
	return Gaussian(source, x, halfWidth/math.Sqrt(3))
}

// Finite reports whether the nominal and every contribution is a finite number.
// Arithmetic on values does not check; the caller that takes input does.
func (v Value) Finite() bool {
	sum := v.Nominal * 0
	for _, t := range v.terms {
		sum += t.c * 0
	}
	return sum == 0
}

// Variance returns the combined variance, the sum of squared contributions.
func (v Value) Variance() float64 {
	sum := 0.0
	for _, t := range v.terms {
		sum += t.c * t.c
	}
	return sum
}

// U returns the combined standard uncertainty (JCGM 100:2008, 5.1.2).
func (v Value) U() float64 { return math.Sqrt(v.Variance()) }

// Covariance returns the covariance of v and w, which comes from the sources they
// share (JCGM 100:2008, F.1.2.3):
//
//	cov(v, w) = Σ c_i(v)·c_i(w)
func Covariance(v, w Value) float64 {
	sum := 0.0
	for a, b := v.terms, w.terms; len(a) > 0 && len(b) > 0; {
		switch order := a[0].source.Compare(b[0].source); {
		case order < 0:
			a = a[1:]
		case order > 0:
			b = b[1:]
		default:
			sum += a[0].c * b[0].c
			a, b = a[1:], b[1:]
		}
	}
	return sum
}

// Contribution is one line of a value's uncertainty budget.
type Contribution struct {
	Source Source
	C      float64 // sensitivity × standard uncertainty, signed, in the value's unit
	Share  float64 // of the variance, 0 to 1
}

// Contributions returns the uncertainty budget, the largest first and by name
// where equal; empty for an exact value. The shares add up to 1.
func (v Value) Contributions() []Contribution {
	variance := v.Variance()
	budget := make([]Contribution, len(v.terms))
	for i, t := range v.terms {
		budget[i] = Contribution{Source: t.source, C: t.c}
		if variance != 0 { // else contributions are too small to square
			budget[i].Share = t.c * t.c / variance
		}
	}
	slices.SortStableFunc(budget, func(a, b Contribution) int {
		return cmp.Compare(math.Abs(b.C), math.Abs(a.C))
	})
	return budget
}

// Rounded cuts a number to so many parts of one; one too large for that stays.
func Rounded(x, parts float64) float64 {
	if y := math.Round(x*parts) / parts; !math.IsInf(y, 0) && !math.IsNaN(y) {
		return y + 0 // never -0
	}
	return x
}
