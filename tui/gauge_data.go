package tui

// This file says what the gauge shows: drained, planned and in the unit,
// against capacity and window, with what is being typed already in it.

import (
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
	"garage/tundish/tui/gauge"
)

func gaugeData(sc scene) gauge.Data {
	live, stored := sc.live, sc.state
	u := live.Units()
	d := gauge.Data{CapacityML: live.CapacityML(), DisplayUnitML: u.Volume.Factor()}
	d.Planned = mark("To load", measure.Value{}, false, false)
	d.Format = func(ml, uML float64) string {
		if ml == 0 && uML == 0 {
			return "0"
		}
		if uML == 0 {
			return u.FormatVolume(ml)
		}
		return u.FormatVolumeU(ml, uML)
	}
	now, ok := live.DrainedNow()
	was, had := stored.DrainedNow()
	d.Drained = mark("Came out", now, ok, !had || was.Nominal != now.Nominal)
	if live.DryStart() {
		d.Drained = mark("Came out", measure.Exact(0), true, false)
	}
	now, ok = live.InUnitNow()
	was, had = stored.InUnitNow()
	d.InUnit = mark("In unit", now, ok, !had || was.Nominal != now.Nominal)
	if plan, err := live.Plan(0); err == nil && !plan.Undecided {
		d.Window = gauge.Band{LowML: max(plan.Low, 0), HighML: plan.High, Known: true}
		d.Target = mark("Needed", plan.Target, true, false)
	}
	r := live.Round() // of which the load is still to be made, or just made
	if plan, err := live.Plan(r); err == nil && !plan.Undecided && live.RoundKind(r) == job.RoundAdds {
		before, errBefore := stored.Plan(r)
		moved := errBefore != nil || before.PreloadML != plan.PreloadML
		d.Planned = mark("To load", plan.Charge, true, moved)
		d.Planned.ML = plan.PreloadML
	}
	return d
}

func mark(label string, v measure.Value, known, draft bool) gauge.Mark {
	return gauge.Mark{Label: label, ML: v.Nominal, UML: estimate.Coverage * v.U(), Known: known, Draft: known && draft}
}
