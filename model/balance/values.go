// This file holds the reconciliation of values with their error sources, so that an
// error that two readings share (one jug, one scale) counts once.

package balance

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"garage/tundish/model/measure"
)

// NamedValue is a stream in ml: a measured value, or not measured, when Value is
// ignored.
type NamedValue struct {
	Name     string
	Value    measure.Value
	Measured bool
}

// Reconcile is Solve for values with shared sources: V is the full covariance of
// the values, and the reconciled values, in the order given, are the linear forms
// x̂ = y − VAᵀ(AVAᵀ)⁻¹Ay of the originals with all their sources. An unobservable
// stream is exactly 0, without meaning. Unlike typed readings, values may be
// negative. Errors are as for Solve.
func Reconcile(values []NamedValue, balances []Balance) ([]measure.Value, Result, error) {
	names, p, measured, err := valueProblem(values, balances)
	if err != nil {
		return nil, Result{}, err
	}
	s, err := p.solve()
	if err != nil {
		return nil, Result{}, err
	}
	reconciled := make([]measure.Value, len(values))
	for i := range reconciled {
		if s.roles[i] == Unobservable || len(measured) == 0 {
			continue
		}
		reconciled[i], err = measure.Combine(s.x[i], s.gain.RawRowView(i), measured)
		if err != nil {
			return nil, Result{}, err
		}
	}
	return reconciled, s.result(names), nil
}

// valueProblem turns checked values into matrices.
func valueProblem(values []NamedValue, balances []Balance) ([]string, problem, []measure.Value, error) {
	if len(values) == 0 || len(values) > maxStreams {
		return nil, problem{}, nil, fmt.Errorf("%w: values must be 1 to %d, not %d", errNetwork, maxStreams, len(values))
	}
	names := make([]string, len(values))
	p := problem{measured: make([]bool, len(values))}
	var measured []measure.Value
	var uML []float64
	for i, v := range values {
		names[i], p.measured[i] = v.Name, v.Measured
		if !v.Measured {
			continue
		}
		if err := v.check(); err != nil {
			return nil, problem{}, nil, err
		}
		measured = append(measured, v.Value)
		p.y = append(p.y, v.Value.Nominal)
		uML = append(uML, v.Value.U())
	}
	if err := checkSpread(uML); err != nil {
		return nil, problem{}, nil, err
	}
	if err := checkNames(names, balances); err != nil {
		return nil, problem{}, nil, err
	}
	p.factor = sourceFactor(measured)
	p.balances = coefficients(names, balances)
	return names, p, measured, nil
}

// sourceFactor is L with a row per value and a column per source, nil without
// sources. Contributions far below minUML are left out, so that their squares do not
// underflow.
func sourceFactor(measured []measure.Value) *mat.Dense {
	column := map[measure.Source]int{}
	for _, v := range measured {
		for _, c := range v.Contributions() {
			if _, known := column[c.Source]; !known {
				column[c.Source] = len(column)
			}
		}
	}
	if len(column) == 0 {
		return nil
	}
	factor := mat.NewDense(len(measured), len(column), nil)
	for k, v := range measured {
		for _, c := range v.Contributions() {
			if math.Abs(c.C) > minUML*touchTol {
				factor.Set(k, column[c.Source], c.C)
			}
		}
	}
	return factor
}

func (v NamedValue) check() error {
	u := v.Value.U()
	switch {
	case !v.Value.Finite() || math.Abs(v.Value.Nominal) > maxML:
		return fmt.Errorf("%w: value %q must be a number from -%.0f to %.0f", errNetwork, v.Name, maxML, maxML)
	case u != 0 && !(u >= minUML && u <= maxML):
		return fmt.Errorf("%w: u of value %q must be 0 or a number from %g to %.0f", errNetwork, v.Name, minUML, maxML)
	}
	return nil
}
