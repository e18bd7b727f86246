// Package learn draws on a unit's and a rig's own past jobs: what stays behind after
// a drain, what escapes at disconnect, what the hose keeps, and how much oil goes
// missing between jobs.
//
// All volumes are in ml at 20 °C. The caller leaves out jobs that say nothing about
// the quantity: those void after a leak, water, or a top-up nobody measured.
//
// This file holds the estimate itself, spread.go the scatter that it takes from the jobs;
// loss.go judges what is missing, and history.go goes through a unit's jobs in order with
// both.
package learn

import (
	"fmt"
	"math"

	"garage/tundish/model/measure"
)

// Scatter is what is held of the job-to-job scatter before the jobs speak: a
// standard deviation and how many degrees of freedom that counts as. The zero Scatter
// leaves it to the jobs alone.
type Scatter struct {
	SDML float64
	DoF  float64
}

// scatterShare is the part of a default's variance that is put down to jobs on one
// unit differing; the rest is units differing. Pockets and bores stay, only the film
// and the hand change from job to job. A judgement, no source.
const scatterShare = 0.25

// scatterDoF is what the scatter of a default counts as: one job more.
const scatterDoF = 1

// Estimate is what a quantity will be this time, as far as past jobs and a default tell.
type Estimate struct {
	Expected measure.Value // this time, ml: the shrunk mean and the scatter about it
	SpreadML float64       // scatter from job to job that the readings do not explain
	Jobs     int           // how many jobs it rests on
}

// MeanML returns the nominal value of Expected.
func (e Estimate) MeanML() float64 { return e.Expected.Nominal }

// UML returns the standard uncertainty of Expected.
func (e Estimate) UML() float64 { return e.Expected.U() }

// Residual returns what will stay in the unit after this drain. prior is the default; past
// holds, for each proven job, what was in the unit before it less what was drained.
func Residual(prior measure.Value, past []measure.Value) (Estimate, error) {
	return fromDefault("residual", prior, past)
}

// Escape returns what this disconnect will let escape, from what past ones did with the
// same rig.
func Escape(prior measure.Value, past []measure.Value) (Estimate, error) {
	return fromDefault("escape", prior, past)
}

// fromDefault splits a default into what is held of the mean and what is held of the
// scatter about it, so that without any job the estimate is as doubtful as the default.
func fromDefault(source string, prior measure.Value, past []measure.Value) (Estimate, error) {
	scatter := Scatter{SDML: math.Sqrt(scatterShare) * prior.U(), DoF: scatterDoF}
	k := math.Sqrt(1 - scatterShare)
	mean := prior.Apply(prior.Nominal, k) // the same value with k times its uncertainty
	return Shrink(source, mean, scatter, past)
}

// Shrink returns the normal-normal estimate of a quantity of which prior is known,
// for its mean over jobs, and n past jobs showed x_i:
//
//	m   = Σ x_i / n
//	SS  = Σ (x_i - m)²
//	σ²  = (dof·sd² + max(0, SS - E)) / (dof + n - 1)   scatter from job to job,
//	      E = Σ u²(x_i) - n·u²(m), what the readings alone would scatter
//	u²  = σ²/n + u²(m)                                  of m as a measure of the mean
//	mean = prior + w·(m - prior),  w = u²(prior) / (u²(prior) + u²)
//
// and Expected is that mean with σ added: this time is one more job. Sources shared by
// the jobs (one jug for all) are taken into account, as is a source shared with the
// prior. source names what is new here; give two estimates two names. With no past,
// Expected is the prior with sd added.
// Sources, from memory: A. Gelman et al., Bayesian Data Analysis, 2.5 (normal mean with
// known variance); W. G. Cochran, Biometrics 10 (1954) 101 (scatter less the readings'
// part).
func Shrink(source string, prior measure.Value, scatter Scatter, past []measure.Value) (Estimate, error) {
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
