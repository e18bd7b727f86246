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
// This file holds the network, the result and Solve; linear.go the linear algebra.
package balance

import "gonum.org/v1/gonum/stat/distuv"

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
	p, chi2 := newProblem(n)
	r := Result{Chi2: chi2, DoF: p.dof}
	for j, s := range n.Streams {
		if s.Measured {
			r.Streams = append(r.Streams, p.measured(j))
		} else {
			r.Streams = append(r.Streams, StreamResult{Name: s.Name, Role: Unobservable})
		}
	}
	for _, row := range p.rows {
		if j := row.pivot; !n.Streams[j].Measured {
			r.Streams[j] = p.compute(row)
		}
	}
	if err := p.closes(); err != nil {
		return Result{}, err
	}
	r.judge()
	return r, nil
}

// judge makes the global test.
func (r *Result) judge() {
	r.P = 1
	if r.DoF > 0 {
		r.P = distuv.ChiSquared{K: float64(r.DoF)}.Survival(r.Chi2)
	}
	if !r.Holds() {
		r.Suspects = highest(r.Streams)
	}
}

// coefficients is a row per balance, +1 for the streams in and −1 for the streams out.
func (n Network) coefficients() [][]float64 {
	index := map[string]int{}
	for i, s := range n.Streams {
		index[s.Name] = i
	}
	rows := make([][]float64, len(n.Balances))
	for i, b := range n.Balances {
		rows[i] = make([]float64, len(n.Streams))
		for _, name := range b.In {
			rows[i][index[name]] = 1
		}
		for _, name := range b.Out {
			rows[i][index[name]] = -1
		}
	}
	return rows
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
