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
	d.Numbers, d.Unit = u.BareVolumes, u.Volume.String()
	out, ok := live.DrainedNow()
	was, had := stored.DrainedNow()
	d.CameOut = barOf(out.Nominal, out.U(), ok)
	d.CameOut.Draft = ok && (!had || was.Nominal != out.Nominal)
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
	tol := live.Tolerance() // as far off as counts, which is what the odds are of
	d.Right = gauge.Band{LowML: math.Max(d.Aim.ML-tol.MinusML, 0), HighML: d.Aim.ML + tol.PlusML, Known: true}
	d.Kind, d.Now = now.kind, now.Bar
	d.Now.Draft = now.Known && (before.kind != now.kind || before.ML != now.ML)
	d.Now.ML += stays
	return d
}

// barOf is a bar that ends at a volume, whose end is shaded for a standard uncertainty, ml.
func barOf(ml, u float64, known bool) gauge.Bar {
	return gauge.Bar{ML: ml, UML: estimate.Coverage * u, Known: known}
}

// staysML is what stayed inside at the drain, ml, where the stated quantity counts
// it; else 0.
func staysML(s *guide.Guide) float64 {
	if s.Meaning() != estimate.MeansDry || s.DryStart() {
		return 0
	}
	stayed, _ := s.StaysBehind(s.Round())
	return math.Max(stayed.Nominal, 0)
}

// filled is how far a fill has come.
type filled struct {
	kind gauge.Kind
	gauge.Bar
}

// fillOf is what is aimed at, ml, and how far the fill has come; false before
// anything is known. While the push is on, that is what is in, as well as it is measured; of
// a plan it is the aim, as surely as the fill will be right.
func fillOf(s *guide.Guide) (aimML float64, now filled, ok bool) {
	plan, err := s.Plan(0)
	if err != nil {
		return 0, filled{}, false
	}
	if plan.Undecided {
		return plan.FromCapacity.Nominal, filled{}, true
	}
	aimML = plan.Target.Nominal
	switch r := s.Round(); {
	case s.HasIn(job.LeftInVessel, r) || s.HasIn(job.LetOutAmount, r):
		now = filledAfter(s, r, aimML)
	case s.HasIn(job.FillReading, r):
		in, _ := s.InUnitNow()
		in = willRunOut(s, r, in)
		now = filled{gauge.SoFar, barOf(max(in.Nominal, s.NetFill(r-1).Nominal), in.U(), true)} // less where the hose is not full yet
	case r > 0:
		now = filledAfter(s, r-1, aimML)
	default:
		best, told := s.Foresee()
		told = told && (s.Measured() || s.DryStart() || s.Follows())
		now = filled{gauge.Planned, barOf(aimML, willRunOut(s, 0, best.Off).U(), told)}
	}
	return aimML, now, true
}

// filledAfter is how far the fill has come after the push of a round: as far beside the aim as
// the verdict has it, by all readings together, and what will run out at the swap taken off
// until it is known. What went in, by its own sum, is another figure with another
// uncertainty, and is not said here.
func filledAfter(s *guide.Guide, round int, aimML float64) filled {
	kind := gauge.WentIn
	off, _, _ := s.Off(round)
	off = estimate.AsSaid(off)
	if !s.SwapTold(round) && s.Choice(job.At(job.EscapedHow, round, 0)) != job.EscapeNone && s.Pushes(round) {
		kind, off = gauge.Planned, willRunOut(s, round, off)
	}
	bar := barOf(aimML+off.Nominal, off.U(), true)
	bar.Off = s.OffText(off.Nominal, aimML)
	return filled{kind, bar}
}

// willRunOut is an amount less what usually runs out at the swap of a round.
func willRunOut(s *guide.Guide, round int, v measure.Value) measure.Value {
	if !s.Pushes(round) {
		return v
	}
	return v.Sub(s.EscapeIn(round))
}
