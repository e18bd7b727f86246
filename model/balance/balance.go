// Package balance reconciles volumes of which more are measured than needed.
//
// The streams into a node and the streams out of it must agree. Where more streams
// are measured than needed, the readings contradict each other a little, and the
// balances give the adjustment of each, whether the contradiction is more than the
// uncertainty of the readings explains, and which reading is then most likely wrong.
// With readings y of covariance V and balances A x = 0:
//
//	x̂ = y − VAᵀ(AVAᵀ)⁻¹Ay
//	χ² = (Ay)ᵀ(AVAᵀ)⁻¹(Ay), with rank(AVAᵀ) degrees of freedom
//	z_i = |y − x̂|_i / √W_ii,  W = VAᵀ(AVAᵀ)⁻¹AV
//
// Streams that are not measured are projected out first and computed afterwards
// (C. M. Crowe, Y. A. Garcia Campos, A. Hrymak, AIChE J. 29 (1983) 881). Sources
// for the tests: S. Narasimhan and C. Jordache, Data Reconciliation and Gross
// Error Detection (2000), chapters 1 and 7. Volumes are in ml.
//
// This file holds the network, the result and Solve; linear.go and echelon.go hold
// the linear algebra.
package balance

import (
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Stream is a volume: measured as ML with standard uncertainty UML (0: known
// exactly, never adjusted), or not measured, when both are ignored.
type Stream struct {
	Name     string
	ML       float64
	UML      float64
	Measured bool
}

// Balance says that the streams In add up to the streams Out.
type Balance struct {
	In, Out []string
}

// Network is a set of streams and the balances between them.
type Network struct {
	Streams  []Stream
	Balances []Balance
}

// Role is the class of a stream in data reconciliation.
type Role uint8

const (
	// Redundant: measured, and checked and adjusted by the balances.
	Redundant Role = iota + 1
	// Unchecked: measured, and checked by no balance.
	Unchecked
	// Exact: known without uncertainty, never adjusted.
	Exact
	// Observable: not measured, computed from the others.
	Observable
	// Unobservable: not measured, and cannot be computed.
	Unobservable
)

// String names the role for people.
func (r Role) String() string {
	names := []string{"unknown", "redundant", "unchecked", "exact", "observable", "unobservable"}
	if int(r) >= len(names) {
		return "unknown"
	}
	return names[r]
}

// StreamResult is one stream after reconciliation. Where Role is Unobservable,
// ReconciledML and UML are 0 and mean nothing.
type StreamResult struct {
	Name         string
	Role         Role
	ReconciledML float64
	UML          float64 // standard uncertainty of ReconciledML
	Z            float64 // measurement test; 0 except for Redundant
}

// Result is a reconciled network.
type Result struct {
	Streams []StreamResult // in the order of the network
	Chi2    float64        // global test
	DoF     int            // independent checks by the balances; 0: nothing is checked
	P       float64        // probability of a Chi2 this high from uncertainty alone; 1 for DoF 0
	// Suspects names the measured streams with the highest Z, nil where the global
	// test passes. More than one have the same Z, as all streams of a single balance.
	Suspects []string
}

const (
	significance = 0.05 // of the global test
	tieRelative  = 1e-9 // two Z this close are the same
)

// Holds reports whether the global test passes at 5 %.
func (r Result) Holds() bool { return r.P >= significance }

// Solve reconciles a network. The error is errNetwork with the name of a stream or
// balance that is not valid, or errContradiction where streams known exactly
// contradict each other.
func Solve(n Network) (Result, error) {
	if err := n.check(); err != nil {
		return Result{}, err
	}
	names := make([]string, len(n.Streams))
	p := problem{measured: make([]bool, len(n.Streams))}
	var uML []float64
	for i, s := range n.Streams {
		names[i], p.measured[i] = s.Name, s.Measured
		if s.Measured {
			p.y = append(p.y, s.ML)
			uML = append(uML, s.UML)
		}
	}
	if len(uML) > 0 {
		p.factor = mat.DenseCopyOf(mat.NewDiagDense(len(uML), uML))
	}
	p.balances = coefficients(names, n.Balances)
	s, err := p.solve()
	if err != nil {
		return Result{}, err
	}
	return s.result(names), nil
}

// coefficients is A: a row per balance, +1 for the streams in and −1 for the streams
// out; nil without balances.
func coefficients(names []string, balances []Balance) *mat.Dense {
	if len(balances) == 0 {
		return nil
	}
	a := mat.NewDense(len(balances), len(names), nil)
	for i, b := range balances {
		for _, name := range b.In {
			a.Set(i, slices.Index(names, name), 1)
		}
		for _, name := range b.Out {
			a.Set(i, slices.Index(names, name), -1)
		}
	}
	return a
}

func (s solution) result(names []string) Result {
	r := Result{Chi2: s.chi2, DoF: s.dof, P: 1}
	if s.dof > 0 {
		r.P = distuv.ChiSquared{K: float64(s.dof)}.Survival(s.chi2)
	}
	for i, name := range names {
		one := StreamResult{Name: name, Role: s.roles[i]}
		if one.Role != Unobservable {
			one.ReconciledML, one.UML, one.Z = s.x[i], s.u[i], s.z[i]
		}
		r.Streams = append(r.Streams, one)
	}
	if !r.Holds() {
		r.Suspects = highest(r.Streams)
	}
	return r
}

// highest names the streams that share the highest Z.
func highest(streams []StreamResult) []string {
	var top float64
	for _, s := range streams {
		top = max(top, s.Z)
	}
	var names []string
	for _, s := range streams {
		if s.Role == Redundant && s.Z >= top*(1-tieRelative) {
			names = append(names, s.Name)
		}
	}
	return names
}
