package calc

// This file prints figures.

import (
	"fmt"
	"math"

	"garage/tundish/model/estimate"
	"garage/tundish/model/measure"
	"garage/tundish/model/quantity"
)

// coverageNote explains every ± in text.
const coverageNote = "± is twice the standard uncertainty: the true value is within it 19 times in 20"

// ml prints a volume, mlU one with its ±.
func ml(x float64) string { return quantity.Metric().FormatVolume(x) }

func mlU(v measure.Value) string {
	if v.U() == 0 {
		return ml(v.Nominal)
	}
	return quantity.Metric().FormatVolumeU(v.Nominal, estimate.Coverage*v.U())
}

func percent(fraction float64) string { return fmt.Sprintf("%.3g %%", 100*fraction) }

// digits3 prints three digits, or all before the point where there are more.
func digits3(x float64) string {
	if math.Abs(x) >= 1000 {
		return fmt.Sprintf("%.0f", x)
	}
	return fmt.Sprintf("%.3g", x)
}
