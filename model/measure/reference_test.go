// Comparison with an independent library for linear propagation, whose results and
// the script that printed them are in testdata/reference.

package measure

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"testing"
)

type referenceFile struct {
	MadeWith map[string]string `json:"made_with"`
	Groups   []referenceGroup  `json:"groups"`
}

type referenceGroup struct {
	Name   string `json:"name"`
	Inputs []struct {
		Name    string  `json:"name"`
		Nominal float64 `json:"nominal"`
		StdDev  float64 `json:"std_dev"`
	} `json:"inputs"`
	InputCovariance [][]float64 `json:"input_covariance"`
	Expressions     []struct {
		Tree    any     `json:"tree"`
		Nominal float64 `json:"nominal"`
		StdDev  float64 `json:"std_dev"`
	} `json:"expressions"`
	Covariance [][]float64 `json:"covariance"`
}

// TestAgreesWithReferenceLibrary: Python library uncertainties 3.1.6 (E. O. Lebigot),
// 40 expressions with shared and correlated variables, within 1e-9 relative.
func TestAgreesWithReferenceLibrary(t *testing.T) {
	text, err := os.ReadFile("testdata/reference/propagate.json")
	if err != nil {
		t.Fatal(err)
	}
	var file referenceFile
	if err := json.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	compared := 0
	for _, group := range file.Groups {
		t.Run(group.Name, func(t *testing.T) { compared += compareGroup(t, group) })
	}
	if compared < 40 {
		t.Errorf("compared %d expressions, want at least 40", compared)
	}
}

func compareGroup(t *testing.T, group referenceGroup) int {
	variables := group.variables()
	got := make([]Value, len(group.Expressions))
	for i, want := range group.Expressions {
		var err error
		if got[i], err = evaluate(want.Tree, variables); err != nil {
			t.Fatalf("%v: %v", want.Tree, err)
		}
		near(t, fmt.Sprintf("%v nominal", want.Tree), got[i].Nominal, want.Nominal, 1e-9*math.Abs(want.Nominal))
		// Where everything cancels both sides leave rounding behind.
		near(t, fmt.Sprintf("%v u", want.Tree), got[i].U(), want.StdDev, 1e-9*want.StdDev+1e-15)
		for j := range i + 1 {
			scale := want.StdDev * group.Expressions[j].StdDev
			near(t, fmt.Sprintf("covariance of %d and %d", i, j), Covariance(got[i], got[j]), group.Covariance[i][j], 1e-9*scale+1e-15)
		}
	}
	return len(got)
}

func (g referenceGroup) variables() map[string]Value {
	variables := map[string]Value{}
	var names []string
	var nominals []float64
	for _, in := range g.Inputs {
		variables[in.Name] = Gaussian(in.Name, in.Nominal, in.StdDev)
		names, nominals = append(names, in.Name), append(nominals, in.Nominal)
	}
	if g.InputCovariance == nil {
		return variables
	}
	for i, v := range correlated(names, nominals, g.InputCovariance) {
		variables[names[i]] = v
	}
	return variables
}

// evaluate computes a tree: a number, a variable's name or [operation, operands...].
func evaluate(tree any, variables map[string]Value) (Value, error) {
	switch tree := tree.(type) {
	case float64:
		return Exact(tree), nil
	case string:
		return variables[tree], nil
	}
	node := tree.([]any)
	args := make([]Value, len(node)-1)
	for i := range args {
		var err error
		if args[i], err = evaluate(node[i+1], variables); err != nil {
			return Value{}, err
		}
	}
	switch node[0] {
	case "add":
		return args[0].Add(args[1]), nil
	case "sub":
		return args[0].Sub(args[1]), nil
	case "mul":
		return args[0].Mul(args[1]), nil
	case "div":
		x := args[1].Nominal
		return args[0].Mul(apply(args[1], 1/x, -1/(x*x))), nil
	case "exp":
		f := math.Exp(args[0].Nominal)
		return apply(args[0], f, f), nil
	case "log":
		return apply(args[0], math.Log(args[0].Nominal), 1/args[0].Nominal), nil
	}
	return Value{}, fmt.Errorf("unknown operation %v", node[0])
}

// apply is a function of v, given its value and its derivative.
func apply(v Value, f, dfdx float64) Value { return linear(f, []float64{dfdx}, []Value{v}) }

// near fails the test unless got is within tolerance of want.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) && got != want {
		t.Errorf("%s = %.12g, want %.12g ± %g", what, got, want, tolerance)
	}
}
