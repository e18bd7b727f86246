package push

// This file says in words what was answered, and what is planned.

import (
	"fmt"
	"strings"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/oil"
	"garage/tundish/model/quantity"
)

// ShortDrive is how far to drive before plug and seals are looked at.
func (s Progress) ShortDrive() string {
	u := s.Units()
	return strings.TrimSuffix(u.FormatDistance(5), " "+u.Distance.String()) + " to " + u.FormatDistance(15)
}

// FormatWindow prints the window of a plan.
func (s Progress) FormatWindow(p estimate.Plan) string {
	u := s.Units()
	return fmt.Sprintf("%s to %s", u.FormatVolume(p.Low), u.FormatVolume(p.High))
}

// EchoBounds says in words what a tolerance means.
func (s Progress) EchoBounds(v job.Value) string {
	if v.Unit == job.DimShare {
		return fmt.Sprintf("-%g / +%g %%", 100*v.Number, 100*v.High)
	}
	return fmt.Sprintf("-%s / +%s", s.Show(v.Number, job.DimML), s.Show(v.High, job.DimML))
}

// EchoAmount says in words what an amount means: a sum with its total, and a
// volume at 20 °C where its temperature is known.
func (s Progress) EchoAmount(t job.Topic, v job.Value) string {
	a := quantity.Amount{Kind: quantity.Volume, Total: v.Number, Parts: v.Parts}
	if v.Unit == job.DimG {
		a.Kind = quantity.Mass
	}
	if len(a.Parts) == 0 {
		a.Parts = []float64{v.Number}
	}
	if v.AtC != nil {
		a.AtC, a.HasTemp = *v.AtC, true
	}
	text := quantity.Echo(a, s.Units())
	if v.Unit == job.DimG {
		if ml, _, err := s.Oil().WeighedAt20(v.Number); err == nil && ml > 0 {
			return text + " = " + s.Show(ml, job.DimML) + " at " + s.Show(20, job.DimC)
		}
		return text
	}
	if v.AtC != nil {
		return text + s.echo20(v.Number, *v.AtC)
	}
	if t == job.DrainedAmount {
		tempC, _ := s.UsualOutTemperature()
		if told, ok := s.Num(job.Place{Topic: job.DrainedTemperature}); ok {
			tempC = told
		}
		return text + fmt.Sprintf(" (at %s%s)", s.Show(tempC, job.DimC), s.echo20(v.Number, tempC))
	}
	return text
}

func (s Progress) echo20(ml, tempC float64) string {
	c, err := oil.CorrectionTo20(s.Oil().Rho15KgM3, tempC)
	if err != nil {
		return ""
	}
	return " = " + s.Show(ml*c.Ratio, job.DimML) + " at " + s.Show(20, job.DimC)
}
