// This file updates a mean and a standard deviation by one number at a time, at the same
// cost however many there were before it.

package learn

import "math"

// Running is a mean and a standard deviation, updated by one number at a time (B. P.
// Welford, Technometrics 4 (1962) 419). The zero Running has no numbers.
type Running struct {
	n        int
	mean, m2 float64
}

// Add adds a number.
func (r *Running) Add(x float64) {
	r.n++
	d := x - r.mean
	r.mean += d / float64(r.n)
	r.m2 += d * (x - r.mean)
}

// N is the number of numbers.
func (r Running) N() int { return r.n }

// Mean is their mean; 0 without any.
func (r Running) Mean() float64 { return r.mean }

// SD is their standard deviation; 0 with fewer than two.
func (r Running) SD() float64 {
	if r.n < 2 {
		return 0
	}
	return math.Sqrt(r.m2 / float64(r.n-1))
}
