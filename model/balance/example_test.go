// This file shows the package at work; the figures are invented.

package balance_test

import (
	"fmt"
	"strings"

	"garage/tundish/model/balance"
)

func Example() {
	network, err := balance.ReadJSON(strings.NewReader(`{
	 "streams": [
	  {"name": "charge", "ml": 910, "u_ml": 3}, {"name": "heel", "ml": 40, "u_ml": 3},
	  {"name": "passed", "ml": 866, "u_ml": 6}, {"name": "caught", "ml": 55, "u_ml": 2},
	  {"name": "unit"}],
	 "balances": [
	  {"in": ["charge"], "out": ["heel", "passed"]},
	  {"in": ["passed"], "out": ["caught", "unit"]}]}`))
	if err != nil {
		fmt.Println(err)
		return
	}
	result, err := balance.Solve(network)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range result.Streams {
		fmt.Printf("%-7s %6.1f ± %.1f ml %s\n", s.Name, s.ReconciledML, s.UML, s.Role)
	}
	fmt.Printf("chi2 %.2f with %d check, holds: %v\n", result.Chi2, result.DoF, result.Holds())
	// Output:
	// charge   909.3 ± 2.7 ml redundant
	// heel      40.7 ± 2.7 ml redundant
	// passed   868.7 ± 3.5 ml redundant
	// caught    55.0 ± 2.0 ml unchecked
	// unit     813.7 ± 4.0 ml observable
	// chi2 0.30 with 1 check, holds: true
}
