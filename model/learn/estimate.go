// Package learn estimates from the past jobs of a unit and of a rig: what stays behind
// after a drain, what escapes at disconnect, the hold-up of the hose, and how much oil
// is lost between jobs.
//
// All volumes are in ml at 20 °C. The caller leaves out jobs without information on the
// quantity: those with a leak, water, or a top-up that was not measured.
//
// This file holds the estimate, spread.go the scatter between jobs, loss.go the loss, and
// history.go evaluates a unit's jobs in order.
package learn

import (
	"fmt"
	"math"

	"garage/tundish/model/measure"
)

// Scatter is the prior of the scatter from job to job: a standard deviation and its
// degrees of freedom. With the zero Scatter it is estimated from the jobs alone.
type Scatter struct {
	SDML float64
	DoF  float64
}

// scatterShare is the share of a default's variance between jobs on one unit; the rest is
// between units. A judgement, no source: pockets and bores stay the same from job to job,
// the film of oil and the way of working change.
const scatterShare = 0.25

// scatterDoF are the degrees of freedom of the scatter of a default: as one more job.
const scatterDoF = 1

// Estimate is a quantity in this job, estimated from past jobs and a default.
type Estimate struct {
	Expected measure.Value // in this job, ml: the shrunk mean and the scatter about it
	SpreadML float64       // scatter from job to job that the readings do not explain
	Jobs     int           // number of past jobs
}

// MeanML returns the nominal value of Expected.
func (e Estimate) MeanML() float64 { return e.Expected.Nominal }

// UML returns the standard uncertainty of Expected.
func (e Estimate) UML() float64 { return e.Expected.U() }

// Residual estimates what stays in the unit after this drain. prior is the default; past
// holds, for each proven job, the volume in the unit before it less the volume drained.
func Residual(prior measure.Value, past []measure.Value) (Estimate, error) {
	return fromDefault("residual", prior, past)
}

// Escape estimates what escapes at this disconnect from past ones with the same rig.
func Escape(prior measure.Value, past []measure.Value) (Estimate, error) {
	return fromDefault("escape", prior, past)
}

// fromDefault splits the variance of a default into that of the mean and that of the
// scatter about it, so that without any job the estimate is as uncertain as the default.
func fromDefault(source string, prior measure.Value, past []measure.Value) (Estimate, error) {
	scatter := Scatter{SDML: math.Sqrt(scatterShare) * prior.U(), DoF: scatterDoF}
	k := math.Sqrt(1 - scatterShare)
	mean := prior.Apply(prior.Nominal, k) // the same value with k times its uncertainty
	return shrink(source, mean, scatter, past)
}

// shrink returns the normal-normal estimate of a quantity of which prior is known,
// for its mean over jobs, and n past jobs showed x_i:
//
//	m   = Σ x_i / n
//	SS  = Σ (x_i - m)²
//	σ²  = (dof·sd² + max(0, SS - E)) / (dof + n - 1)   scatter from job to job,
//	      E = Σ u²(x_i) - n·u²(m), what the readings alone would scatter
//	u²  = σ²/n + u²(m)                                  of m as a measure of the mean
//	mean = prior + w·(m - prior),  w = u²(prior) / (u²(prior) + u²)
//
// and Expected is that mean with σ added, as this is one more job. Sources shared by the
// jobs (one jug for all) or with the prior are taken into account. source is the name of
// the new sources; two estimates need two names. With no past, Expected is the prior with
// sd added.
// Sources, from memory: A. Gelman et al., Bayesian Data Analysis, 2.5 (normal mean with
// known variance); W. G. Cochran, Biometrics 10 (1954) 101 (scatter less the readings'
// part).
func shrink(source string, prior measure.Value, scatter Scatter, past []measure.Value) (Estimate, error) {
	if err := checkInputs(prior, scatter, past); err != nil {
		return Estimate{}, err
	}
	var spread Spread
	for _, x := range past {
		spread.Add(x)
	}
	e := Estimate{Jobs: len(past), SpreadML: spread.SDML(scatter)}
	mean := prior
	if e.Jobs > 0 {
		n := float64(e.Jobs)
		jobs := measure.Sum(past...).Scale(1 / n).Add(measure.Gaussian(source+": scatter of past jobs", 0, e.SpreadML/math.Sqrt(n)))
		var err error
		if mean, _, err = measure.WeightedMean(prior, jobs); err != nil {
			return Estimate{}, fmt.Errorf("%s: default and past jobs: %w", source, err)
		}
	}
	e.Expected = mean.Add(measure.Gaussian(source+": scatter this time", 0, e.SpreadML))
	return e, checkFinite(source, e.Expected)
}

func checkInputs(prior measure.Value, scatter Scatter, past []measure.Value) error {
	if err := checkFinite("default", prior); err != nil {
		return err
	}
	if !(scatter.SDML >= 0 && scatter.DoF >= 0) || math.IsInf(scatter.SDML, 0) || math.IsInf(scatter.DoF, 0) {
		return fmt.Errorf("scatter: must be finite and not below zero, is %g ml with %g degrees of freedom", scatter.SDML, scatter.DoF)
	}
	for i, x := range past {
		if err := checkFinite(fmt.Sprintf("past job %d", i+1), x); err != nil {
			return err
		}
	}
	return nil
}

func checkFinite(name string, v measure.Value) error {
	if !v.Finite() {
		return fmt.Errorf("%s: must be a finite number of ml with a finite uncertainty, is %g ± %g", name, v.Nominal, v.U())
	}
	return nil
}
