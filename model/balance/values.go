// This file holds the reconciliation of values that keep their error sources, so
// that an error two readings share (one jug, one scale) counts once.

package balance

import (
	"fmt"

	"gonum.org/v1/gonum/mat"

	"garage/tundish/model/measure"
)

// NamedValue is a stream in ml given as a measured value, or not measured, when
// Value is ignored.
type NamedValue struct {
	Name     string
	Value    measure.Value
	Measured bool
}

// Reconcile is Solve for values with shared sources: V is the full covariance of
// the values, and the reconciled values, in the order given, are the linear forms
// x̂ = y − VAᵀ(AVAᵀ)⁻¹Ay of the originals with all their sources. An unobservable
// stream comes back as exactly 0, which its Role in the Result marks as void.
// Unlike typed readings, values may be negative. Errors are as for Solve.
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

// valueProblem turns values into matrices, with a column of the factor for each source.
func valueProblem(values []NamedValue, balances []Balance) ([]string, problem, []measure.Value, error) {
	if len(values) == 0 || len(values) > maxStreams {
		return nil, problem{}, nil, fmt.Errorf("%w: values must be 1 to %d, not %d", ErrNetwork, maxStreams, len(values))
	}
	names := make([]string, len(values))
	p := problem{measured: make([]bool, len(values))}
	var measured []measure.Value
	column := map[measure.Source]int{}
	for i, v := range values {
		names[i], p.measured[i] = v.Name, v.Measured
		if !v.Measured {
			continue
		}
		if !v.Value.Finite() {
			return nil, problem{}, nil, fmt.Errorf("%w: value %q must be finite", ErrNetwork, v.Name)
		}
		measured = append(measured, v.Value)
		p.y = append(p.y, v.Value.Nominal)
		for _, c := range v.Value.Contributions() {
			if _, known := column[c.Source]; !known {
				column[c.Source] = len(column)
			}
		}
	}
	if err := checkNames(names, balances); err != nil {
		return nil, problem{}, nil, err
	}
	if len(column) > 0 {
		p.factor = mat.NewDense(len(measured), len(column), nil)
	}
	for k, v := range measured {
		for _, c := range v.Contributions() {
			p.factor.Set(k, column[c.Source], c.C)
		}
	}
	p.balances = coefficients(names, balances)
	return names, p, measured, nil
}
