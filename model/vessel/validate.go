package vessel

// This file holds the refusals of a check that makes no sense.

import "fmt"

func validate(checks []Check, tools Tools, halfWidth float64) error {
	if len(checks) == 0 || len(checks) > MaxChecks {
		return fmt.Errorf("%d fills are not allowed: give 1 to %d", len(checks), MaxChecks)
	}
	if err := within("claimed error", halfWidth, MinHalfWidth, MaxHalfWidth, "of the reading"); err != nil {
		return err
	}
	if err := tools.validate(); err != nil {
		return err
	}
	for i, c := range checks {
		if err := c.validate(); err != nil {
			return fmt.Errorf("fill %d: %w", i+1, err)
		}
	}
	return nil
}

func (c Check) validate() error {
	if err := within("mass", c.MassG, MinFill, MaxFill, "g"); err != nil {
		return err
	}
	if err := within("reading", c.ReadingML, MinFill, MaxFill, "ml"); err != nil {
		return err
	}
	return within("water temperature", c.WaterTempC, MinWaterC, MaxWaterC, "°C")
}

func (t Tools) validate() error {
	if err := within("graduation", t.GraduationML, minDivision, maxDivision, "ml"); err != nil {
		return err
	}
	if err := within("scale division", t.ScaleDivisionG, minDivision, maxDivision, "g"); err != nil {
		return err
	}
	if err := within("scale error", t.ScaleError, 0, MaxScaleError, "of the mass"); err != nil {
		return err
	}
	return within("uncertainty of the water temperature", t.TempUC, 0, MaxTempUC, "°C")
}
