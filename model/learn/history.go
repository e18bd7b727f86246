// This file evaluates a unit's jobs in order: each by the estimate from the ones before
// it, and with only those that show no loss in the estimates after it.

package learn

import (
	"fmt"

	"garage/tundish/model/measure"
)

// Drain is one filling of a unit and the volume drained at its end.
type Drain struct {
	Km    float64       // driven on it; 0 if not known
	InML  measure.Value // in the unit, all told, after the job that filled it
	OutML measure.Value // drained at the next
}

// Step is one drain, evaluated with what was known before it.
type Step struct {
	Residual Estimate // before this drain
	Missing  Missing
	Learned  bool // whether this drain's residual was taken into the estimates after it
}

// History is a unit's drains in order.
type History struct {
	Steps    []Step
	Residual Estimate // after the last drain: for the next
}

// Follow evaluates a unit's drains, oldest first. Each is compared with the residual
// estimated from prior and the drains before it; one that shows a leak or a gain is left
// out of the next estimates. A loss that is the same from the first job on cannot be told
// from a residual.
// The error names the filling and what is not a finite number, or a distance below zero.
func Follow(prior measure.Value, drains []Drain) (History, error) {
	var past []measure.Value
	h := History{Steps: make([]Step, len(drains))}
	for i, d := range drains {
		// Each drain's own scatter is an error of its own, so it needs a name of its own.
		residual, err := fromDefault(fmt.Sprintf("residual at drain %d", i+1), prior, past)
		if err != nil {
			return History{}, err
		}
		if err := d.check(i + 1); err != nil {
			return History{}, err
		}
		missing := Missing{ML: d.InML.Sub(d.OutML).Sub(residual.Expected), Km: d.Km}
		sign := missing.Sign()
		h.Steps[i] = Step{Residual: residual, Missing: missing, Learned: sign != Leak && sign != Gain}
		if h.Steps[i].Learned {
			past = append(past, d.InML.Sub(d.OutML))
		}
	}
	var err error
	h.Residual, err = Residual(prior, past)
	return h, err
}

func (d Drain) check(number int) error {
	if err := checkKm(number, d.Km); err != nil {
		return err
	}
	if err := checkFinite(fmt.Sprintf("filling %d: in", number), d.InML); err != nil {
		return err
	}
	return checkFinite(fmt.Sprintf("filling %d: out", number), d.OutML)
}
