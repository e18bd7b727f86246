// This file adds up what jobs show one at a time, each at the cost of that job alone,
// however many there were before it.

package learn

import (
	"math"

	"garage/tundish/model/measure"
)

// Running is a mean and a scatter that grow by one number at a time (B. P. Welford,
// Technometrics 4 (1962) 419). The zero Running holds none.
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

// N is how many numbers were added.
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

// Spread is how a quantity scatters from job to job beyond what its readings explain.
// The zero Spread holds no job.
type Spread struct {
	jobs     Running                    // of the nominals, ml
	readings float64                    // Σ u²(x_i), ml²
	ofSum    map[measure.Source]float64 // what each source contributes to Σ x_i, ml
	sumVar   float64                    // u²(Σ x_i), ml²
}

// Add adds what a job showed, ml.
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

// SDML is σ of Shrink, ml, given what is held of it before the jobs speak; that itself
// without any job.
func (s Spread) SDML(held Scatter) float64 {
	n := float64(s.jobs.n)
	if n == 0 {
		return held.SDML
	}
	dof := held.DoF + n - 1
	if dof == 0 {
		return 0
	}
	unexplained := math.Max(0, s.jobs.m2-(s.readings-s.sumVar/n))
	return math.Sqrt((held.DoF*held.SDML*held.SDML + unexplained) / dof)
}
