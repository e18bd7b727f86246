// This file shows the package at work; the readings are invented.

package drip_test

import (
	"fmt"
	"strings"

	"garage/tundish/model/drip"
)

func Example() {
	readings, err := drip.ReadCSV(strings.NewReader("minutes,ml\n5,402\n10,598\n15,701\n20,749\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fit, err := drip.Fit(readings)
	if err != nil {
		fmt.Println(err)
		return
	}
	remainingML, remainingUML, _ := fit.RemainingML(fit.LastMinutes)
	waitMin, _ := fit.WaitMin(fit.LastMinutes, 5)
	fmt.Printf("%v: settles at %.0f ± %.0f ml, %.0f ± %.0f ml still to come, wait %.0f min\n",
		fit.Form, fit.SettlesAtML, fit.SettlesAtUML, remainingML, remainingUML, waitMin)

	_, err = drip.Fit(readings[:2])
	fmt.Println(err)
	// Output:
	// plain: settles at 798 ± 3 ml, 49 ± 3 ml still to come, wait 16 min
	// too few readings: 2 after minute 0, and 3 are needed: read again in 5 minutes
}
