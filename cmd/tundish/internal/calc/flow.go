package calc

// This file computes how long a push takes.

import (
	"errors"
	"fmt"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/model/hydraulics"
	"garage/tundish/model/oil"
	"garage/tundish/model/quantity"
)

type flowCommand struct {
	oilFlags
	hoseFlags
	At       float64 `type:"celsius" required:"" placeholder:"C" help:"Temperature of the oil."`
	Lift     float64 `type:"m" required:"" placeholder:"M" help:"${help_flow_lift}"`
	Pressure float64 `type:"kpa" required:"" placeholder:"KPA" help:"Gauge pressure at the start."`
	Air      float64 `type:"ml" placeholder:"ML" help:"Air over the oil at the start. Without it the pressure is held."`
	Restores int     `placeholder:"N" help:"How often the pressure is brought back on the way."`
	Volume   volume  `required:"" placeholder:"ML" help:"Oil to push, as it reads at that temperature."`
	cli.JSONFlag
}

// flowResult is one push in JSON. One that stalls takes no minutes: null.
type flowResult struct {
	Minutes          *float64 `json:"minutes"`
	Reynolds         float64  `json:"reynolds"`
	ViscosityCSt     float64  `json:"viscosity_cst"`
	EndPressureKPa   float64  `json:"end_pressure_kpa"`
	StallsAfterML    *float64 `json:"stalls_after_ml"`
	RestoresToFinish int      `json:"restores_to_finish"`
	IsLowerBound     bool     `json:"minutes_is_lower_bound,omitempty"` // beyond laminar flow
}

// gradeFlowResult is the push of the thinnest and the thickest oil of a grade.
type gradeFlowResult struct {
	Grade        string     `json:"grade"`
	GradeEdition string     `json:"grade_edition"`
	Thin         flowResult `json:"thin"`
	Thick        flowResult `json:"thick"`
}

// Run prints the push. One that stalls is a failure: there are no minutes to
// tell.
func (c *flowCommand) Run(o *cli.Streams, k *kong.Context) error {
	of, err := c.oil()
	if err != nil {
		return cli.Usage(k, err)
	}
	if c.Grade != nil {
		return c.runGrade(o, k)
	}
	if !of.KnowsViscosity() {
		return cli.Usage(k, errors.New("missing flags: --kv40=CST --kv100=CST, or --grade=GRADE"))
	}
	p, err := c.push(of)
	if err != nil {
		return cli.Usage(k, err)
	}
	r, err := hydraulics.Push(p)
	if err != nil {
		return cli.Usage(k, err)
	}
	s := new(cli.Sheet)
	addPush(s, "", p, r)
	addWarmer(s, p, r)
	if err := o.Show(c.JSONFlag, flowJSON(r), s); err != nil {
		return err
	}
	return stalled(r)
}

func (c *flowCommand) runGrade(o *cli.Streams, k *kong.Context) error {
	thin, thick, err := c.Grade.Extremes(c.Density)
	if err != nil {
		return cli.Wrong(k, "--grade", err)
	}
	var results [2]hydraulics.PushResult
	s := new(cli.Sheet)
	s.Note("%s", gradeWords(c.Grade.Grade))
	for i, of := range []oil.Oil{thin, thick} {
		p, err := c.push(of)
		if err != nil {
			return cli.Usage(k, err)
		}
		if results[i], err = hydraulics.Push(p); err != nil {
			return cli.Usage(k, err)
		}
		addPush(s, []string{"thinnest: ", "thickest: "}[i], p, results[i])
	}
	err = o.Show(c.JSONFlag, gradeFlowResult{c.Grade.String(), oil.Edition, flowJSON(results[0]), flowJSON(results[1])}, s)
	if err != nil {
		return err
	}
	return stalled(results[1])
}

func (c *flowCommand) push(of oil.Oil) (hydraulics.PushPlan, error) {
	pieces, err := c.pieces()
	if err != nil {
		return hydraulics.PushPlan{}, err
	}
	volumeML := c.Volume.Total
	if c.Volume.HasTemp {
		at20ML, err := of.VolumeAt20(volumeML, c.Volume.AtC)
		if err != nil {
			return hydraulics.PushPlan{}, err
		}
		if volumeML, err = of.VolumeFrom20(at20ML, c.At); err != nil {
			return hydraulics.PushPlan{}, err
		}
	}
	return hydraulics.PushPlan{
		Pieces: pieces, Oil: of, TempC: c.At, VolumeML: volumeML, LiftM: c.Lift,
		PressureKPa: c.Pressure, AirML: c.Air, Restores: c.Restores,
	}, nil
}

func flowJSON(r hydraulics.PushResult) flowResult {
	f := flowResult{Reynolds: r.Reynolds, ViscosityCSt: r.ViscosityCSt, EndPressureKPa: r.EndPressureKPa,
		RestoresToFinish: r.RestoresToFinish}
	if r.Outcome == hydraulics.Stalls {
		f.StallsAfterML = cli.Known(r.StallsAfterML)
	} else {
		f.Minutes, f.IsLowerBound = cli.Known(r.Minutes), r.IsLowerBound()
	}
	return f
}

func addPush(s *cli.Sheet, which string, p hydraulics.PushPlan, r hydraulics.PushResult) {
	u := quantity.Metric()
	s.Add(which+"takes", r.String(), "%s through %d piece(s), lift %s m, %s", ml(p.VolumeML), len(p.Pieces), digits3(p.LiftM), airWords(p))
	s.Add(which+"viscosity", fmt.Sprintf("%.4g cSt", r.ViscosityCSt), "at %g °C; ASTM D341", p.TempC)
	flow := digits3(r.StartMLPerMin) + " ml/min"
	if r.IsLowerBound() {
		flow = "less than " + flow
	}
	s.Add(which+"flow at the start", flow,
		"Reynolds number %s; the law of Hagen and Poiseuille holds below %g", digits3(r.Reynolds), hydraulics.LaminarBelow)
	s.Add(which+"pressure at the end", u.FormatPressure(r.EndPressureKPa), "gauge; %s at the start, the lift takes %s",
		u.FormatPressure(p.PressureKPa), u.FormatPressure(r.LiftKPa))
	if r.IsLowerBound() {
		s.Note("%stoo fast for the law: it flows slower and takes longer than this", which)
	}
}

func airWords(p hydraulics.PushPlan) string {
	if p.AirML == 0 {
		return "pressure held"
	}
	if p.Restores == 0 {
		return fmt.Sprintf("%s of air that expands", ml(p.AirML))
	}
	return fmt.Sprintf("%s of air that expands, pressure brought back %d times", ml(p.AirML), p.Restores)
}

func addWarmer(s *cli.Sheet, p hydraulics.PushPlan, r hydraulics.PushResult) {
	if r.Outcome == hydraulics.Stalls {
		return // warm oil stalls at the same place
	}
	advice, err := hydraulics.Warmer(p, 25, 40) // °C, as a bucket of warm water makes it
	if err != nil {
		return // only an extra
	}
	for _, a := range advice {
		s.Note("%s", a)
	}
}

// stalled is the failure of a push that does not get through.
func stalled(r hydraulics.PushResult) error {
	if r.Outcome != hydraulics.Stalls {
		return nil
	}
	if r.RestoresToFinish > 0 {
		return fmt.Errorf("the push %v; bring the pressure back %d times on the way (--restores %d)", r, r.RestoresToFinish,
			r.RestoresToFinish)
	}
	return fmt.Errorf("the push %v; more pressure or less lift is needed", r)
}
