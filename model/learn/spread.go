// This file updates a mean and a scatter by one job at a time, at the same cost however
// many there were before it.

package learn

import (
	"math"

	"garage/tundish/model/measure"
)

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

// Spread is the scatter of a quantity from job to job that its readings do not explain.
// The zero Spread has no jobs.
type Spread struct {
	jobs     Running                    // of the nominals, ml
	readings float64                    // Σ u²(x_i), ml²
	ofSum    map[measure.Source]float64 // what each source contributes to Σ x_i, ml
	sumVar   float64                    // u²(Σ x_i), ml²
}

// Add adds the value from one job, ml.
func (s *Spread) Add(x measure.Value) {
	s.jobs.Add(x.Nominal)
	if s.ofSum == nil {
		s.ofSum = map[measure.Source]float64{}
	}
	for _, part := range x.Contributions() {
		before := s.ofSum[part.Source]
		s.ofSum[part.Source] = before + part.C
		s.readings += part.C * part.C
		s.sumVar += part.C * (2*before + part.C)
	}
}

// SDML is σ of Shrink, ml, by a prior and the jobs; the prior itself without any job.
func (s Spread) SDML(prior Scatter) float64 {
	n := float64(s.jobs.n)
	if n == 0 {
		return prior.SDML
	}
	dof := prior.DoF + n - 1
	if dof == 0 {
		return 0
	}
	unexplained := math.Max(0, s.jobs.m2-(s.readings-s.sumVar/n))
	return math.Sqrt((prior.DoF*prior.SDML*prior.SDML + unexplained) / dof)
}
