package calc

// This file computes the volume, density and viscosity of an oil at a temperature.

import (
	"errors"
	"fmt"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/model/estimate"
	"garage/tundish/model/measure"
	"garage/tundish/model/oil"
	"garage/tundish/model/quantity"
)

// oilFlags say which oil it is.
type oilFlags struct {
	Density float64  `type:"density" default:"870" help:"Of the oil at 15 C, kg/m3."`
	KV40    *float64 `type:"cst" name:"kv40" placeholder:"CST" help:"Viscosity at 40 C from the data sheet, cSt."`
	KV100   *float64 `type:"cst" name:"kv100" placeholder:"CST" help:"Viscosity at 100 C from the data sheet, cSt."`
	Grade   *grade   `placeholder:"GRADE" help:"In place of a data sheet: a grade such as 75W-90; gives a range."`
}

// oil is the oil of the flags; its viscosities are 0 where they are not given.
func (f oilFlags) oil() (oil.Oil, error) {
	o := oil.Oil{Rho15KgM3: f.Density}
	if (f.KV40 == nil) != (f.KV100 == nil) {
		return o, errors.New("--kv40 and --kv100 go together: give both or none")
	}
	if f.KV40 == nil {
		return o, nil
	}
	if f.Grade != nil {
		return o, errors.New("a data sheet says more than a grade: leave --grade out, or --kv40 and --kv100")
	}
	o.KV40CSt, o.KV100CSt = *f.KV40, *f.KV100
	return o, o.Validate()
}

// gradeWords say what a grade's range rests on.
func gradeWords(g oil.Grade) string {
	low, high := g.AssumedIndex()
	return fmt.Sprintf("all oils of %s by %s, viscosity index taken as %g to %g", g, oil.Edition, low, high)
}

type oilCommand struct {
	oilFlags
	At     *float64 `type:"celsius" placeholder:"C" help:"Temperature of the oil."`
	Volume *volume  `placeholder:"ML" help:"A volume of it at that temperature, to be brought to 20 C."`
	cli.JSONFlag
}

// oilResult is the answer in JSON. What was not asked for is null.
type oilResult struct {
	VCF15            float64  `json:"vcf15"`
	DensityKgM3      float64  `json:"density_kg_m3"`
	Volume20CML      *float64 `json:"volume_20c_ml"`
	ViscosityCSt     *float64 `json:"viscosity_cst"`
	ViscosityIndex   *float64 `json:"viscosity_index"`
	ViscosityLowCSt  *float64 `json:"viscosity_low_cst,omitempty"`  // of a grade
	ViscosityHighCSt *float64 `json:"viscosity_high_cst,omitempty"` // of a grade
	GradeEdition     string   `json:"grade_edition,omitempty"`
}

// Run prints what is known of the oil at the temperature.
func (c *oilCommand) Run(o *cli.Streams, k *kong.Context) error {
	of, err := c.oil()
	if err != nil {
		return cli.Usage(k, err)
	}
	atC, err := c.temperature()
	if err != nil {
		return cli.Usage(k, err)
	}
	var r oilResult
	s := new(cli.Sheet)
	for _, part := range []func(oil.Oil, float64, *oilResult, *cli.Sheet) error{c.volumes, c.viscosity, c.ofGrade} {
		if err := part(of, atC, &r, s); err != nil {
			return cli.Usage(k, err)
		}
	}
	return o.Show(c.JSONFlag, r, s)
}

func (c *oilCommand) temperature() (float64, error) {
	if c.Volume != nil && c.Volume.HasTemp {
		return readAt(*c.Volume, c.At, 0)
	}
	if c.At == nil {
		return 0, errors.New("missing flags: --at=C")
	}
	return *c.At, nil
}

func (c *oilCommand) volumes(of oil.Oil, atC float64, r *oilResult, s *cli.Sheet) (err error) {
	if r.VCF15, err = oil.VCF(of.Rho15KgM3, atC); err != nil {
		return err
	}
	if r.DensityKgM3, err = of.DensityAt(atC); err != nil {
		return err
	}
	s.Add("factor to 15 °C", fmt.Sprintf("%.6f", r.VCF15),
		"at %g °C, %g kg/m³ at 15 °C; ASTM D1250-80, table 54D (lubricating oils)", atC, of.Rho15KgM3)
	if of.Rho15KgM3 < oil.MinTableKgM3 || of.Rho15KgM3 > oil.MaxTableKgM3 {
		s.Under("an extrapolation: the table is stated for %g to %g kg/m³", oil.MinTableKgM3, oil.MaxTableKgM3)
	}
	s.Add("density", fmt.Sprintf("%.1f kg/m³", r.DensityKgM3), "at %g °C = %g × %.6f", atC, of.Rho15KgM3, r.VCF15)
	if c.Volume == nil {
		return nil
	}
	to20, err := oil.CorrectionTo20(of.Rho15KgM3, atC)
	if err != nil {
		return err
	}
	at20ML := c.Volume.Total * to20.Ratio
	r.Volume20CML = cli.Known(at20ML)
	warm := measure.Gaussian("temperature", at20ML, at20ML*to20.DLnPerC*tempUC)
	s.Add("volume at 20 °C", mlU(warm), "%s × %.6f; the temperature ± %g °C", quantity.Echo(c.Volume.Amount, quantity.Metric()),
		to20.Ratio, estimate.Coverage*tempUC)
	return nil
}

func (c *oilCommand) viscosity(of oil.Oil, atC float64, r *oilResult, s *cli.Sheet) error {
	if !of.KnowsViscosity() {
		return nil
	}
	cst, err := of.ViscosityAt(atC)
	if err != nil {
		return err
	}
	r.ViscosityCSt = cli.Known(cst)
	s.Add("viscosity", fmt.Sprintf("%.4g cSt", cst), "at %g °C; ASTM D341, from %g cSt at 40 °C and %g cSt at 100 °C", atC,
		of.KV40CSt, of.KV100CSt)
	index, err := of.ViscosityIndex()
	if err != nil {
		s.Add("viscosity index", "none", "%v", err)
		return nil
	}
	r.ViscosityIndex = cli.Known(index.Value)
	s.Add("viscosity index", fmt.Sprintf("%d", index.Rounded()), "%.2f before rounding; ASTM D2270 (ISO 2909), %v", index.Value,
		index.Procedure)
	return nil
}

func (c *oilCommand) ofGrade(_ oil.Oil, atC float64, r *oilResult, s *cli.Sheet) error {
	if c.Grade == nil {
		return nil
	}
	low, high, err := c.Grade.ViscosityRangeAt(atC)
	if err != nil {
		return err
	}
	r.ViscosityLowCSt, r.ViscosityHighCSt, r.GradeEdition = cli.Known(low), cli.Known(high), oil.Edition
	s.Add("viscosity", digits3(low)+" to "+digits3(high)+" cSt", "at %g °C; %s", atC, gradeWords(c.Grade.Grade))
	return nil
}
