// Worked examples, with invented figures.

package quantity_test

import (
	"fmt"

	"garage/tundish/model/quantity"
)

func ExampleParseAmount() {
	units := quantity.Metric()
	for _, typed := range []string{"830", "0,83 L", "1 1/2 qt", "500+330", "1235-330 g", "830@60C", "1,500 ml"} {
		amount, err := quantity.ParseAmount(typed, units)
		if err != nil {
			fmt.Printf("%-10s  %v\n", typed, err)
			continue
		}
		fmt.Printf("%-10s  %s\n", typed, quantity.Echo(amount, units))
	}
	// Output:
	// 830         830 ml
	// 0,83 L      830 ml
	// 1 1/2 qt    1420 ml
	// 500+330     500 + 330 = 830 ml
	// 1235-330 g  1235 - 330 = 905 g
	// 830@60C     830 ml at 60 °C
	// 1,500 ml    the comma in "1,500" is ambiguous: type 1500 ml or 1.5 L
}

func ExampleUnits_FormatVolumeU() {
	fmt.Println(quantity.Metric().FormatVolumeU(806.3, 12.2))
	fmt.Println(quantity.US().FormatVolumeU(806.3, 12.2))
	// Output:
	// 806 ± 12 ml
	// 27.26 ± 0.41 US fl oz
}

func ExampleParseTolerance() {
	units := quantity.Metric()
	for _, typed := range []string{"50", "+20 -50", "5%"} {
		tolerance, err := quantity.ParseTolerance(typed, units)
		if err != nil {
			fmt.Println(err)
			continue
		}
		minusML, plusML := tolerance.Of(900)
		fmt.Printf("%s: %g to %g ml\n", typed, 900-minusML, 900+plusML)
	}
	// Output:
	// 50: 850 to 950 ml
	// +20 -50: 850 to 920 ml
	// 5%: 855 to 945 ml
}

func ExampleParseRange() {
	lowML, highML, err := quantity.ParseRange("4.3-4.5 L", quantity.Metric())
	fmt.Println(lowML, highML, err)
	// Output: 4300 4500 <nil>
}
