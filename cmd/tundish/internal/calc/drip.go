package calc

// This file estimates how much is still to drip out.

import (
	"errors"
	"fmt"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/model/drip"
	"garage/tundish/model/quantity"
)

type dripCommand struct {
	File     string   `arg:"" complete:"file" help:"${help_drip_file}"`
	Form     dripForm `default:"plain" help:"${help_drip_form}"`
	LessThan float64  `type:"ml" default:"5ml" help:"Wait until less than this is still to come."`
	cli.JSONFlag
}

// dripForm is the form to fit; the zero value is the one that AICc prefers.
type dripForm struct{ drip.Form }

func (f *dripForm) UnmarshalText(text []byte) error {
	for _, form := range []drip.Form{drip.Plain, drip.Offset, drip.Film} {
		if string(text) == form.String() {
			f.Form = form
			return nil
		}
	}
	if string(text) != "auto" {
		return errors.New("must be plain, offset, film or auto")
	}
	f.Form = 0
	return nil
}

// String is the form as it is typed. A level line is what becomes of the plain form.
func (f dripForm) String() string {
	if f.Form == drip.Settled {
		return drip.Plain.String()
	}
	return f.Form.String()
}

func (f dripForm) fit(readings []drip.Reading) (drip.Result, error) {
	if f.Form == 0 {
		return drip.Fit(readings)
	}
	return drip.FitAs(readings, f.Form)
}

// dripResult is the fit in JSON. A rate that cannot be seen is null.
type dripResult struct {
	SettlesAtML  float64  `json:"settles_at_ml"`
	SettlesAtUML float64  `json:"settles_at_u_ml"`
	RatePerMin   *float64 `json:"rate_per_min"`
	RateUPerMin  *float64 `json:"rate_u_per_min"`
	ResidualSDML float64  `json:"residual_sd_ml"`
	RemainingML  float64  `json:"remaining_ml"`
	RemainingUML float64  `json:"remaining_u_ml"`
	WaitMin      *float64 `json:"wait_min"`
	Form         string   `json:"form"`
	DoF          int      `json:"dof"` // that every u rests on

	LeftOut   int    `json:"left_out,omitempty"`       // first readings, of the stream, that are not fitted
	Preferred string `json:"preferred_form,omitempty"` // by AICc, where it is another
}

// Run fits the readings. What is still to come counts from the last of them.
func (c *dripCommand) Run(o *cli.Streams, k *kong.Context) error {
	if c.LessThan <= 0 {
		return cli.Wrong(k, "--less-than", fmt.Errorf("must be above 0 ml"))
	}
	f, name, err := o.Open(c.File)
	if err != nil {
		return err
	}
	defer f.Close()
	readings, err := drip.ReadCSV(f)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	fit, err := c.Form.fit(readings)
	best, bestErr := drip.Fit(readings)
	if err != nil && bestErr == nil && cli.Known(best.AICc) != nil {
		err = fmt.Errorf("%w; or take --form %v, which AICc prefers", err, dripForm{best.Form})
	}
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	remainingML, uML, err := fit.RemainingML(fit.LastMinutes)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	waitMin, err := fit.WaitMin(fit.LastMinutes, c.LessThan)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	r := dripResult{
		SettlesAtML: fit.SettlesAtML, SettlesAtUML: fit.SettlesAtUML, ResidualSDML: fit.ResidualSDML,
		RemainingML: remainingML, RemainingUML: uML, WaitMin: cli.Known(waitMin), Form: fit.Form.String(), DoF: fit.DegreesOfFreedom,
		LeftOut: fit.LeftOut,
	}
	if fit.RatePerMin > 0 {
		r.RatePerMin, r.RateUPerMin = cli.Known(fit.RatePerMin), cli.Known(fit.RateUPerMin)
	}
	s := c.sheet(fit, remainingML, uML, waitMin)
	switch {
	case errors.Is(bestErr, drip.ErrNotSettling):
		s.Note("AICc prefers a straight line: where it settles is not sure")
	case bestErr == nil && best.AICc < fit.AICc:
		r.Preferred = best.Form.String()
		s.Note("AICc prefers another curve, %v: --form %v", best.Form, dripForm{best.Form})
	}
	return o.Show(c.JSONFlag, r, s)
}

func (c *dripCommand) sheet(fit drip.Result, remainingML, uML, waitMin float64) *cli.Sheet {
	s := new(cli.Sheet)
	sure := func(ml, uML float64) string { return quantity.Metric().FormatVolumeU(ml, fit.CoverageFactor()*uML) }
	s.Add("last reading", ml(fit.LastML), "%g min after the plug came out", fit.LastMinutes)
	s.Add("settles at", sure(fit.SettlesAtML, fit.SettlesAtUML), "%d readings, curve: %v; they scatter by %.2g ml", fit.Readings,
		fit.Form, fit.ResidualSDML)
	if fit.RatePerMin > 0 {
		s.Add("rate", fmt.Sprintf("%.3g per min", fit.RatePerMin), "standard uncertainty %.2g per min", fit.RateUPerMin)
	}
	s.Add("still to come", sure(remainingML, uML), "after the last reading")
	s.Add("wait", fmt.Sprintf("%.0f min", waitMin), "until less than %s is still to come", ml(c.LessThan))
	if fit.LeftOut > 0 {
		s.Note("the first %d reading(s) are of the stream and left out", fit.LeftOut)
	}
	s.Note("volumes as they were read, not brought to 20 °C; the jug's own error is not in them")
	s.Note("± is %.3g standard uncertainties, for %d degree(s) of freedom: the true value is within it 19 times in 20",
		fit.CoverageFactor(), fit.DegreesOfFreedom)
	return s
}
