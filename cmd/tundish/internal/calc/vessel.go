package calc

// This file checks a jug with water on a scale.

import (
	"fmt"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/model/estimate"
	"garage/tundish/model/vessel"
)

type vesselCommand struct {
	Mass       []float64 `type:"g" sep:"none" required:"" placeholder:"G" help:"Water in the jug by the scale, without the jug; once a fill."`
	Reading    []float64 `type:"ml" sep:"none" required:"" placeholder:"ML" help:"The same fill by the marks; once a fill."`
	At         float64   `type:"celsius" default:"20C" help:"Temperature of the water."`
	Graduation float64   `type:"ml" default:"10ml" help:"Volume between two marks of the jug."`
	Division   float64   `type:"g" default:"1g" help:"What the scale reads to."`
	ScaleError float64   `type:"share" default:"0%" help:"How far off the scale may be, half-width."`
	JugError   float64   `type:"share" default:"2%" help:"What is claimed of the jug, half-width."`
	cli.JSONFlag
}

// vesselResult is the check in JSON; errors are shares of the reading.
type vesselResult struct {
	Error     float64 `json:"error"`
	ErrorU    float64 `json:"error_u"`
	Measured  float64 `json:"measured_error"`
	MeasuredU float64 `json:"measured_error_u"`
	Z         float64 `json:"z"`
	Finding   string  `json:"finding"`
}

// waterTempUC is the standard uncertainty of the water's temperature, °C.
const waterTempUC = 1.0

// Run prints the error of the jug. Fills that disagree, or that make what is
// claimed of the jug untrue, are a finding, not a failure.
func (c *vesselCommand) Run(o *cli.Streams, k *kong.Context) error {
	if len(c.Mass) != len(c.Reading) {
		return cli.Usage(k, fmt.Errorf("%d times --mass but %d times --reading: each fill needs both", len(c.Mass), len(c.Reading)))
	}
	var checks []vessel.Check
	for i := range c.Mass {
		checks = append(checks, vessel.Check{MassG: c.Mass[i], WaterTempC: c.At, ReadingML: c.Reading[i]})
	}
	tools := vessel.Tools{GraduationML: c.Graduation, ScaleDivisionG: c.Division, ScaleError: c.ScaleError, TempUC: waterTempUC}
	r, err := vessel.Calibrate(checks, tools, c.JugError)
	if err != nil {
		return cli.Usage(k, err)
	}
	return o.Show(c.JSONFlag, vesselResult{r.Error, r.U, r.Measured, r.MeasuredU, r.Z, r.Finding.String()}, c.sheet(checks, r))
}

func (c *vesselCommand) sheet(checks []vessel.Check, r vessel.Result) *cli.Sheet {
	s := new(cli.Sheet)
	for i, p := range r.Points {
		s.Add(fmt.Sprintf("fill %d", i+1), ml(p.TrueML), "%s by the marks, %g g of water at %g °C: %+.2f %% ± %.2f %%",
			ml(checks[i].ReadingML), checks[i].MassG, checks[i].WaterTempC, 100*p.Error, 100*estimate.Coverage*p.U)
	}
	s.Add("by the fills", fmt.Sprintf("%+.2f %% ± %.2f %%", 100*r.Measured, 100*estimate.Coverage*r.MeasuredU), "of the reading")
	with := "with the claim"
	if r.ClaimRefuted() {
		with = "without the claim" // it is not true of this jug
	}
	s.Add(with, fmt.Sprintf("%+.2f %% ± %.2f %%", 100*r.Error, 100*estimate.Coverage*r.U),
		"claimed: within %s; a reading of 1000 ml is %s", percent(c.JugError), ml(r.TrueML(1000)))
	s.Add("finding", r.Finding.String(), "")
	s.Note(coverageNote)
	return s
}
