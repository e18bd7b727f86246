package calc

// This file works out a plan from flags: what the unit needs and what to load.

import (
	"fmt"
	"math"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/model/estimate"
	"garage/tundish/model/measure"
	"garage/tundish/model/oil"
	"garage/tundish/model/quantity"
)

type planCommand struct {
	Capacity         volumeRange `required:"" placeholder:"ML" help:"Fill quantity of the manual, or a range such as 4.3-4.5L."`
	CapacityMeans    string      `enum:"dry,refill,level,unknown" default:"dry" help:"What it means: ${enum}."`
	Drained          volume      `required:"" placeholder:"ML" help:"What came out; sums such as 500+330 and temperatures such as 830@60C go."`
	At               *float64    `type:"celsius" placeholder:"C" help:"Temperature of what came out, when it was read. Default: 20C."`
	Graduation       float64     `type:"ml" default:"10ml" help:"Volume between two marks of the jug."`
	JugError         float64     `type:"share" default:"2%" help:"How far off the jug's scale may be, half-width."`
	Prior            string      `enum:"verified,believed,unknown" default:"believed" help:"How sure the level before the job was: ${enum}."`
	Residual         float64     `type:"share" default:"8%" help:"What stays inside at an ordinary drain, of capacity."`
	ResidualU        float64     `type:"share" default:"4%" help:"Its standard uncertainty, of capacity."`
	Escape           float64     `type:"ml" default:"50ml" help:"What will be spilled at the swap of cap and plug."`
	EscapeU          float64     `type:"ml" default:"20ml" help:"Its standard uncertainty."`
	Holdup           float64     `type:"ml" default:"25ml" help:"What the hose keeps."`
	Heel             float64     `type:"ml" default:"0ml" help:"Oil below the vessel's tube."`
	VesselGraduation float64     `type:"ml" default:"10ml" help:"Marks of the vessel; what to pour in is rounded up to one."`
	Tolerance        *tolerance  `placeholder:"ML" help:"${help_plan_tolerance}"`
	Basis            string      `enum:"auto,drained,capacity" default:"auto" help:"What the target rests on: ${enum}."`
	Density          float64     `type:"density" default:"870" help:"Of the oil at 15 C, kg/m3."`
	cli.JSONFlag
}

// planResult is the plan in JSON. What is not decided is null.
type planResult struct {
	Drained20CML    float64        `json:"drained_20c_ml"`
	FromDrainedML   float64        `json:"from_drained_ml"`
	FromDrainedUML  float64        `json:"from_drained_u_ml"`
	FromCapacityML  float64        `json:"from_capacity_ml"`
	FromCapacityUML float64        `json:"from_capacity_u_ml"`
	Z               float64        `json:"z"`
	Conflict        bool           `json:"conflict"`
	Basis           estimate.Basis `json:"basis"`
	TargetML        *float64       `json:"target_ml"`
	TargetUML       *float64       `json:"target_u_ml"`
	WindowLowML     *float64       `json:"window_low_ml"`
	WindowHighML    *float64       `json:"window_high_ml"`
	ChargeML        *float64       `json:"charge_ml"`
	ChargeUML       *float64       `json:"charge_u_ml"`
	PreloadML       *float64       `json:"preload_ml"`
}

// tempUC is the standard uncertainty of a temperature that was taken, °C.
const tempUC = 1.0

// Run prints the plan. Two estimates that contradict each other, with no
// basis chosen, are a failure: they are shown, and nothing else.
func (c *planCommand) Run(o *cli.Streams, k *kong.Context) error {
	in, drained, err := c.input(k)
	if err != nil {
		return err
	}
	plan, err := estimate.MakePlan(in)
	if err != nil {
		return cli.Usage(k, err)
	}
	if err := o.Show(c.JSONFlag, planJSON(plan, drained), c.sheet(plan, in)); err != nil || !plan.Undecided {
		return err
	}
	return fmt.Errorf("what came out and the fill quantity contradict each other (%.1f standard uncertainties apart); "+
		"look for the cause, then choose with --basis drained or --basis capacity", plan.Z)
}

// input is the plan's input, and what came out at 20 °C without the uncertainty
// of what was in before.
func (c *planCommand) input(k *kong.Context) (in estimate.PlanInput, drained measure.Value, err error) {
	capacityML := (c.Capacity.lowML + c.Capacity.highML) / 2
	if c.Capacity.lowML < estimate.MinCapacityML || c.Capacity.highML > estimate.MaxCapacityML {
		return in, drained, cli.Wrong(k, "--capacity",
			fmt.Errorf("must be %s to %s", ml(estimate.MinCapacityML), ml(estimate.MaxCapacityML)))
	}
	if c.Drained.Total > estimate.MostOverCapacity*capacityML {
		return in, drained, cli.Wrong(k, "--drained", fmt.Errorf("%s cannot come out of a unit of %s: at most %d times as much is taken",
			ml(c.Drained.Total), ml(capacityML), estimate.MostOverCapacity))
	}
	if drained, err = c.drainedAt20(k); err != nil {
		return in, drained, err
	}
	tol, err := c.toleranceOf(k, capacityML)
	if err != nil {
		return in, drained, err
	}
	in = estimate.PlanInput{
		Stated: estimate.Stated{
			Capacity: measure.Exact(capacityML),
			Residual: measure.Gaussian(estimate.StaysBehind, c.Residual*capacityML, c.ResidualU*capacityML),
		},
		Tolerance:   tol,
		Drained:     drained,
		HoseTakes:   measure.Exact(c.Holdup),
		Heel:        measure.Exact(c.Heel),
		Escape:      measure.Gaussian(estimate.WillEscape, c.Escape, c.EscapeU),
		RoundUpToML: c.VesselGraduation,
	}
	err = c.choices(&in)
	return in, drained, err
}

// choices reads the words, which have been held against their lists already.
func (c *planCommand) choices(in *estimate.PlanInput) error {
	if err := in.Means.UnmarshalText([]byte(c.CapacityMeans)); err != nil {
		return err
	}
	if err := in.Prior.UnmarshalText([]byte(c.Prior)); err != nil {
		return err
	}
	return in.Basis.UnmarshalText([]byte(c.Basis))
}

// toleranceOf is the tolerance given, else what is stated; more than counts is
// refused.
func (c *planCommand) toleranceOf(k *kong.Context, capacityML float64) (estimate.Tolerance, error) {
	low, high := c.Capacity.lowML, c.Capacity.highML
	if c.Tolerance == nil {
		return estimate.StatedTolerance(low, high), nil
	}
	minusML, plusML := c.Tolerance.Of(capacityML)
	if most := estimate.MostTolerance(low, high); max(minusML, plusML) > most*(1+1e-9) {
		return estimate.Tolerance{}, cli.Wrong(k, "--tolerance", fmt.Errorf("at most %s is called right for %s", ml(most), ml(capacityML)))
	}
	return estimate.Tolerance{MinusML: minusML, PlusML: plusML}, nil
}

// drainedAt20 is what came out: each part of a sum is a reading of its own,
// the jug's scale and the temperature are one error for all of them.
func (c *planCommand) drainedAt20(k *kong.Context) (measure.Value, error) {
	atC, err := readAt(c.Drained, c.At, 20)
	if err != nil {
		return measure.Value{}, cli.Wrong(k, "--drained", err)
	}
	to20, err := oil.CorrectionTo20(c.Density, atC)
	if err != nil {
		return measure.Value{}, cli.Wrong(k, "--at", err)
	}
	var sum measure.Value
	for i, partML := range c.Drained.Parts {
		sum = sum.Add(measure.Rectangular(fmt.Sprintf("reading %d", i+1), partML, c.Graduation/2))
	}
	jug := measure.Rectangular("jug", 1, c.JugError)
	warm := measure.Gaussian("temperature", to20.Ratio, to20.Ratio*to20.DLnPerC*tempUC)
	return sum.Mul(jug).Mul(warm), nil
}

// readAt is the temperature of an amount: typed with it, or given by --at.
func readAt(v volume, at *float64, otherwiseC float64) (float64, error) {
	switch {
	case v.HasTemp && at != nil && *at != v.AtC:
		return 0, fmt.Errorf("the temperature is given twice: leave @ or --at out")
	case v.HasTemp:
		return v.AtC, nil
	case at != nil:
		return *at, nil
	}
	return otherwiseC, nil
}

func planJSON(p estimate.Plan, drained measure.Value) planResult {
	r := planResult{
		Drained20CML:  drained.Nominal,
		FromDrainedML: p.FromDrained.Nominal, FromDrainedUML: p.FromDrained.U(),
		FromCapacityML: p.FromCapacity.Nominal, FromCapacityUML: p.FromCapacity.U(),
		Z: p.Z, Conflict: p.Conflict, Basis: p.Basis,
	}
	if p.Undecided {
		return r
	}
	r.TargetML, r.TargetUML = cli.Known(p.Target.Nominal), cli.Known(p.Target.U())
	r.WindowLowML, r.WindowHighML = cli.Known(p.Low), cli.Known(p.High)
	r.ChargeML, r.ChargeUML, r.PreloadML = cli.Known(p.Charge.Nominal), cli.Known(p.Charge.U()), cli.Known(p.PreloadML)
	return r
}

// sheet is the plan with its sums.
func (c *planCommand) sheet(p estimate.Plan, in estimate.PlanInput) *cli.Sheet {
	s := new(cli.Sheet)
	s.Add("came out", mlU(in.Drained), "%s; jug: marks every %s, scale ± %s",
		quantity.Echo(c.Drained.Amount, quantity.Metric()), ml(c.Graduation), percent(c.JugError))
	s.Add("by what came out", mlU(p.FromDrained), "the same; the level before was %s: ± %s of capacity more", in.Prior,
		percent(estimate.Coverage*in.Prior.Share()))
	s.Add("by the manual", mlU(p.FromCapacity), "%s", c.statedSum(in, p))
	s.Add("they differ by", ml(math.Abs(p.FromDrained.Nominal-p.FromCapacity.Nominal)),
		"z = %.1f standard uncertainties; above %g they contradict each other", p.Z, estimate.ConflictZ)
	if p.Undecided {
		s.Append(causes(p))
		return s
	}
	s.Add("aim", mlU(p.Target), "%s", basisWords(p.Basis))
	s.Add("right", ml(p.Low)+" to "+ml(p.High), "aim -%s +%s", ml(in.Tolerance.MinusML), ml(in.Tolerance.PlusML))
	s.Add("together", mlU(p.Charge), "aim %s + hose %s + below the vessel's tube %s + spill %s",
		ml(p.Target.Nominal), ml(p.HoseTakes.Nominal), ml(p.Heel.Nominal), mlU(p.Escape))
	s.Add("pour in", ml(p.PreloadML), "the same, rounded up to %s", ml(in.RoundUpToML))
	s.Note("all at 20 °C; " + coverageNote)
	return s
}

func (c *planCommand) statedSum(in estimate.PlanInput, p estimate.Plan) string {
	switch in.Means {
	case estimate.MeansDry:
		return fmt.Sprintf("dry fill %s - %s that stays inside (%s)", mlU(in.Capacity), mlU(p.Inside), percent(c.Residual))
	case estimate.MeansUnknown:
		return fmt.Sprintf("%s, for an oil change or a dry fill, not known which", mlU(in.Capacity))
	}
	if in.Capacity.U() > 0 {
		return fmt.Sprintf("%s as %s, by its range", mlU(in.Capacity), in.Means)
	}
	return fmt.Sprintf("%s as %s, ± %s", mlU(in.Capacity), in.Means, percent(estimate.Coverage*estimate.RefillShareU))
}

func basisWords(w estimate.Basis) string {
	switch w {
	case estimate.ByDrained:
		return "what came out alone"
	case estimate.ByCapacity:
		return "the fill quantity alone"
	}
	return "both, weighed by how sure they are"
}

// causes names what is likely behind a conflict, each way (common practice, no
// source).
func causes(p estimate.Plan) *cli.Sheet {
	s := new(cli.Sheet)
	s.Note("CONFLICT: no aim, nothing to pour in. Likely causes:")
	if p.FromDrained.Nominal < p.FromCapacity.Nominal {
		s.Note("  less came out than belongs in: oil was lost, it still drips, the jug was misread, the quantity is of " +
			"another unit or of a dry fill")
	} else {
		s.Note("  more came out than belongs in: overfilled, water or oil of the unit beside it came in, the wrong unit was " +
			"drained, the jug was misread, the quantity is of another unit")
	}
	s.Note("all at 20 °C; " + coverageNote)
	return s
}
