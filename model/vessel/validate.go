package vessel

// This file holds the refusals of a check that is not plausible.

import (
	"cmp"
	"fmt"

	"garage/tundish/model/oil"
)

func validate(checks []Check, tools Tools, halfWidth float64) error {
	if len(checks) == 0 || len(checks) > maxChecks {
		return fmt.Errorf("%d fills are not allowed: give 1 to %d", len(checks), maxChecks)
	}
	err := cmp.Or(
		oil.CheckWithin("claimed error", halfWidth, MinHalfWidth, maxHalfWidth, "of the reading"),
		oil.CheckWithin("marks", tools.GraduationML, minDivision, maxDivision, "ml"),
		oil.CheckWithin("scale division", tools.ScaleDivisionG, minDivision, maxDivision, "g"),
		oil.CheckWithin("scale error", tools.ScaleError, 0, maxScaleError, "of the mass"),
		oil.CheckWithin("uncertainty of the water temperature", tools.TempUC, 0, maxTempUC, "°C"))
	if err != nil {
		return err
	}
	for i, c := range checks {
		if err := cmp.Or(
			oil.CheckWithin("mass", c.MassG, minFill, maxFill, "g"),
			oil.CheckWithin("reading", c.ReadingML, minFill, maxFill, "ml"),
			oil.CheckWithin("water temperature", c.WaterTempC, minWaterC, maxWaterC, "°C"),
		); err != nil {
			return fmt.Errorf("fill %d: %w", i+1, err)
		}
	}
	return nil
}
