package verdict

// This file looks over the jobs of one unit: what came out, what went in, how
// much oil went missing in between, and whether the unit is losing oil. It also
// adds up the waste oil that waits. What jobs teach is in learned.go.

import (
	"fmt"
	"math"
	"slices"
	"time"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/learn"
	"garage/tundish/model/measure"
	"garage/tundish/model/push"
	"garage/tundish/model/quantity"
)

// HistoryPoint is one job in the history of its unit. Volumes are ml at 20 °C;
// readings of different jobs are errors of their own, the same container is the
// same error in all.
type HistoryPoint struct {
	JobID         string
	Date          time.Time
	Km            float64       // odometer; 0 not known
	DryStart      bool          // new, rebuilt or overhauled: nothing was in it
	Drained       bool          // DrainedML is measured
	DrainedML     measure.Value // all that came out
	Proven        bool          // NetML was accepted and counts as proven
	Accepted      bool          // NetML was accepted, but is not proven
	NetML         measure.Value // what the job put in
	Known         bool          // LossML can be told
	AfterDry      bool          // LossML rests on what usually stays behind, not on this unit
	LossML        measure.Value // missing since the job before; negative: more came out than can be
	SinceKm       float64       // driven since the job before; 0 not known
	PerKm         bool          // LossPer1000Km can be told
	LossPer1000Km measure.Value
	Sign          learn.Sign // of LossML alone; NoSign where it is not known
}

// History goes through the jobs of one unit, newest first, and returns a point
// for each in the same order. What is missing is what should have come out by all
// that was known before, had nothing been lost, less what did
// (estimate.Figures.Missing). A job before of which it is not known what it put
// in, or whose readings contradict each other, and oil that is no measure (water,
// oil of the unit beside it, a top-up nobody measured), tell nothing.
func History(unit []*Assessment) []HistoryPoint {
	points := make([]HistoryPoint, len(unit))
	for i, s := range unit {
		points[i] = s.historyPoint()
	}
	return points
}

func (s *Assessment) historyPoint() HistoryPoint {
	p := HistoryPoint{JobID: s.ID, Date: s.Started, DryStart: s.DryStart(), Proven: s.UnitState() == Proven,
		Accepted: s.UnitState() == Accepted, Drained: s.Measured()}
	p.Km = s.NumOr(job.Odometer, 0)
	if p.Drained {
		p.DrainedML = s.Drained().Total
	}
	if s.PushBegun(0) {
		p.NetML = s.NetFill(s.Round())
	}
	missing, last, ok := s.Missing()
	if last == nil || s.UnitState() == AsFound {
		return p
	}
	p.SinceKm = s.DrivenKm(last)
	if !ok || !s.LossTold() {
		return p
	}
	// The ledger of the job before tells what went in only where the fill is accepted, and
	// nothing that was let stand speaks against its readings. How probably it is
	// right does not matter here: the sum knows its own doubt.
	then := s.assessed(last)
	if !then.UnitState().Settled() || slices.ContainsFunc(then.ForbidsProven(), Forbids.contradiction) {
		return p
	}
	m := learn.Missing{ML: missing, Km: p.SinceKm}
	p.Known, p.AfterDry, p.LossML, p.Sign = true, last.DryStart(), missing, m.Sign()
	p.LossPer1000Km, p.PerKm = m.PerThousandKm()
	return p
}

// assessed is a job before this one.
func (s *Assessment) assessed(last *estimate.Figures) *Assessment {
	for b := s.before; b != nil; b = b.before {
		if b.Figures == last {
			return b
		}
	}
	return &Assessment{Progress: push.New(last)}
}

// Leakage is what the history of a unit says about oil going missing.
type Leakage struct {
	Sign  learn.Sign
	Total learn.Missing // over all jobs that tell, since the last proven leak or gain before
	Jobs  int           // how many those are
	since int           // of them, those that Sign rests on
	told  learn.Missing // what Sign rests on
}

// Leaks judges a history as History returns it: the last job that tells, or,
// where that proves nothing, all together since a job that did prove a leak or
// a gain, which has been seen to since or would go on. What was before a start
// with a dry unit was another unit, and what may just stay behind for the first
// time after it is no sign of anything.
func Leaks(points []HistoryPoint) Leakage {
	var fillings []learn.Missing
	for _, p := range points {
		if p.DryStart {
			break
		}
		proven := p.Sign == learn.Leak || p.Sign == learn.Gain
		if !p.Known || (p.AfterDry && !proven) {
			continue
		}
		if len(fillings) > 0 && proven {
			break
		}
		fillings = append(fillings, learn.Missing{ML: p.LossML, Km: p.SinceKm})
	}
	slices.Reverse(fillings)
	losses, err := learn.Loss(fillings)
	if err != nil || len(fillings) == 0 {
		return Leakage{}
	}
	l := Leakage{Sign: losses.Sign(), Total: losses.Total, Jobs: len(fillings), told: losses.Total, since: len(fillings)}
	if last := losses.Each[l.Jobs-1]; last.Sign() == l.Sign {
		l.told, l.since = last, 1
	}
	return l
}

// Text says it in a line, in the owner's units.
func (l Leakage) Text(u quantity.Units) string {
	if l.Jobs == 0 {
		return "nothing can be told yet: it takes a proven job and the next drain"
	}
	amount := u.FormatVolumeU(math.Abs(l.told.ML.Nominal), estimate.Coverage*l.told.ML.U())
	if l.told.Km > 0 {
		amount += " in " + u.FormatDistance(l.told.Km)
	}
	if l.since > 1 {
		amount += fmt.Sprintf(", %d jobs together", l.since)
	}
	switch l.Sign {
	case learn.Leak:
		return "the unit is losing oil: " + amount
	case learn.Gain:
		return "more came out than can be: " + amount + "; water, oil of the unit beside it, or a top-up"
	case learn.NotProven:
		if l.told.ML.Nominal < 0 {
			return "perhaps more came out than went in, not proven: " + amount
		}
		return "perhaps losing oil, not proven: " + amount
	}
	return "no sign of a leak; a loss of " + u.FormatVolume(l.told.DetectableML()) + " would have shown"
}

// Waste is waste oil that is not handed in yet. The zero Waste is none.
type Waste struct {
	ML    float64
	Since time.Time // when the oldest of it was put aside; the zero time where there is none
}

// Add adds what is left to hand in of a job.
func (w *Waste) Add(s *Assessment) {
	e, ok := s.Answer(job.Place{Topic: job.WasteOil})
	if !ok || e.Value.Unknown || e.Value.Number <= 0 {
		return
	}
	if handed, ok := s.Answer(job.Place{Topic: job.WasteHandedIn}); ok && !handed.Value.Unknown {
		return
	}
	w.ML += s.RoughML(e.Value)
	if w.Since.IsZero() || e.At.Before(w.Since) {
		w.Since = e.At
	}
}
