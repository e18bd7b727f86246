package report

// This file holds what the gauge of a record shows, in ml at 20 °C.

import (
	"garage/tundish/model/estimate"
	"garage/tundish/model/measure"
	"garage/tundish/model/verdict"
)

// fillGauge is what the gauge shows, ml at 20 °C.
type fillGauge struct {
	CapacityML        float64 // fill quantity of the manual, 0 not known
	LowML, HighML     float64 // what is right; both 0 where there is none
	TargetML          float64
	Drained, InUnit   gaugeMark
	CapacityText      string
	WindowText        string
	TargetText        string
	DrainedIsEstimate bool // not all of it has been measured yet
}

// gaugeMark is a volume on the gauge with its ±.
type gaugeMark struct {
	Known     bool
	ML, PlusM float64
	Text      string
}

func (b builder) gauge() fillGauge {
	s, u := b.s, b.s.Units()
	g := fillGauge{CapacityML: s.CapacityML()}
	if g.CapacityML > 0 {
		g.CapacityText = u.FormatVolume(g.CapacityML)
	}
	if plan, err := s.Plan(0); err == nil && !plan.Undecided {
		g.LowML, g.HighML, g.TargetML = plan.Low, plan.High, plan.Target.Nominal
		g.WindowText, g.TargetText = s.FormatWindow(plan), s.FormatU(plan.Target)
	}
	if v, ok := s.DrainedNow(); ok {
		g.Drained, g.DrainedIsEstimate = b.mark(v), !s.Measured()
	}
	if v, ok := s.InUnitNow(); ok && s.UnitState() != verdict.AsFound {
		g.InUnit = b.mark(v)
	}
	return g
}

func (b builder) mark(v measure.Value) gaugeMark {
	return gaugeMark{Known: true, ML: v.Nominal, PlusM: estimate.Coverage * v.U(), Text: b.s.FormatU(v)}
}
