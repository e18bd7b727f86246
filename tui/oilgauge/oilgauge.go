// Package oilgauge says what the gauge shows of a job: what came out, what is planned
// or went in, and what is right, with what is being typed already in it.
package oilgauge

import (
	"math"

	"garage/tundish/model/estimate"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
	"garage/tundish/tui/gauge"
)

// Of is what the gauge shows of a job as it would be with what is typed,
// live, and as it is stored.
func Of(live, stored *guide.Guide) gauge.Data {
	u := live.Units()
	d := gauge.Data{ManualML: live.CapacityML(), DisplayUnitML: u.Volume.Factor(), LevelHole: live.Path() == job.LevelPort}
	d.Format = func(ml, uML float64) string {
		if ml == 0 && uML == 0 {
			return "0"
		}
		numbers, unit := u.BareVolumes(ml, uML), " "+u.Volume.String()
		if uML == 0 {
			return numbers[0] + unit
		}
		return numbers[0] + " ±" + numbers[1] + unit
	}
	out, ok := live.DrainedNow()
	was, had := stored.DrainedNow()
	d.CameOut = barOf(out, out.U(), ok, !had || was.Nominal != out.Nominal)
	if live.DryStart() {
		d.CameOut = gauge.Bar{None: "none, unit was dry"}
	}
	aim, now, ok := fillOf(live)
	if !ok {
		return d
	}
	_, before, _ := fillOf(stored)
	stays := staysML(live)
	d.WithStays = stays != 0
	d.Aim = gauge.Volume{ML: aim + stays, Known: true}
	d.Right = rightOf(live, d.Aim.ML)
	d.Kind = now.kind
	d.Now = barOf(now.in, now.off.U(), now.known, before.kind != now.kind || before.in.Nominal != now.in.Nominal)
	d.Now.ML += stays
	return d
}

// barOf is a bar of a value whose end is shaded for a standard uncertainty, ml.
func barOf(v measure.Value, u float64, known, draft bool) gauge.Bar {
	return gauge.Bar{ML: v.Nominal, UML: estimate.Coverage * u, Known: known, Draft: known && draft}
}

// rightOf is what is right about an aim, ml: as far off as counts, which is what the
// odds are of.
func rightOf(s *guide.Guide, aimML float64) gauge.Band {
	tol := s.Tolerance()
	return gauge.Band{LowML: math.Max(aimML-tol.MinusML, 0), HighML: aimML + tol.PlusML, Known: true}
}

// staysML is what stayed inside at the drain, ml, where the stated quantity counts
// it; else 0.
func staysML(s *guide.Guide) float64 {
	if s.Meaning() != estimate.MeansDry || s.DryStart() {
		return 0
	}
	_, _, stayed := s.Went(s.Round())
	return math.Max(stayed.Nominal, 0)
}

// filled is how far a fill has come: what is in, or will be once the plug is in
// again, and how far off that is, both ml; of a plan only how surely counts.
type filled struct {
	kind    gauge.Kind
	in, off measure.Value
	known   bool
}

// fillOf is what is aimed at, ml, and how far the fill has come; false before
// anything is known. Once oil has gone in, the aim is what belongs in by all
// readings together, so that value and aim are as far apart as the verdict has
// it.
func fillOf(s *guide.Guide) (aimML float64, now filled, ok bool) {
	plan, err := s.Plan(0)
	if err != nil {
		return 0, filled{}, false
	}
	if plan.Undecided {
		return plan.FromCapacity.Nominal, filled{}, true
	}
	target, r := plan.Target, s.Round()
	switch {
	case s.HasIn(job.LeftInVessel, r) || s.HasIn(job.LetOutAmount, r):
		aimML, now = filledAfter(s, r)
	case s.HasIn(job.FillReading, r):
		in, _ := s.InUnitNow()
		in = willRunOut(s, r, in)
		if short := s.NetFill(r-1).Nominal - in.Nominal; short > 0 { // the hose is not full yet
			in = in.Add(measure.Exact(short))
		}
		return target.Nominal, filled{gauge.SoFar, in, in.Sub(target), true}, true
	case r > 0:
		aimML, now = filledAfter(s, r-1)
	default:
		best, told := s.Foresee()
		told = told && (s.Measured() || s.DryStart() || s.Follows())
		return target.Nominal, filled{gauge.Planned, target, willRunOut(s, 0, best.Off), told}, true
	}
	return aimML, now, true
}

// filledAfter is what is aimed at and how far the fill has come after the push of a
// round: what will run out at the swap is taken off until it is known.
func filledAfter(s *guide.Guide, round int) (aimML float64, now filled) {
	in, aim, _ := s.Went(round)
	off, _, _ := s.Off(round)
	off = estimate.AsSaid(off)
	now = filled{gauge.WentIn, in, off, true}
	if !s.SwapTold(round) && s.Choice(job.At(job.EscapedHow, round, 0)) != job.EscapeNone && s.Pushes(round) {
		now.kind, now.in, now.off = gauge.Planned, willRunOut(s, round, in), willRunOut(s, round, off)
	}
	return aim.Nominal, now
}

// willRunOut is an amount less what usually runs out at the swap of a round.
func willRunOut(s *guide.Guide, round int, v measure.Value) measure.Value {
	if !s.Pushes(round) {
		return v
	}
	return v.Sub(s.EscapeIn(round))
}
