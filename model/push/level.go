package push

// This file says what a level that is set with the engine running tells of a fill, and
// what goes in before and after it.

import (
	"math"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// OutOfWindow is how far off a fill is whose level is right at a temperature out of
// the maker's window, ml by the nearer and by the farther end of it, negative where it
// is too little; false inside the window.
func (s Progress) OutOfWindow(round int) (leastML, mostML float64, out bool) {
	low, high, ok := s.LevelWindow()
	tempC, read := s.Num(job.At(job.LevelAtC, round, 0))
	switch k := s.MLPerK(); {
	case !ok || !read:
		return 0, 0, false
	case tempC > high:
		return k * (high - tempC), k * (low - tempC), true
	case tempC < low:
		return k * (low - tempC), k * (high - tempC), true
	}
	return 0, 0, false
}

// OldLevelGap is what went in less what came out, less the level that was read in the
// maker's window, in a unit that keeps all but its drain share full, ml: 0 is expected
// where its old level was right. It is false where one of them is not known.
func (s Progress) OldLevelGap(round int) (measure.Value, bool) {
	look := s.LevelLook(round)
	_, _, out := s.OutOfWindow(round)
	if !s.Path().RunsEngine() || look.Looked != estimate.ReadAt || out && s.Path() == job.OverflowTube || !s.OldOilTold() {
		return measure.Value{}, false
	}
	return s.moreThanOut(round).Sub(look.Off), true
}

// moreThanOut is how much more went in than came out; the old level may have been set
// anywhere in the maker's window.
func (s Progress) moreThanOut(round int) measure.Value {
	more := s.NetFill(round).Sub(s.Drained().Total)
	if low, high, ok := s.LevelWindow(); ok {
		half := (high - low) / 2 * s.MLPerK()
		more = more.Add(measure.Gaussian(measure.Source{Name: estimate.LevelBefore, Job: s.ID}, 0, half/estimate.Coverage))
	}
	return more
}

// ToAddML is how much is added to a unit whose level is too low to be seen with the
// engine running, ml: what is missing of what came out, and as much more as that and the
// level may be wrong by, in steps; false where what came out does not tell it.
func (s Progress) ToAddML(round int) (ml float64, ok bool) {
	if !s.Path().RunsEngine() || !s.OldOilTold() {
		return 0, false
	}
	more := s.moreThanOut(round)
	ml = math.Max(-more.Nominal, 0) + estimate.Coverage*math.Hypot(more.U(), s.LevelAtLip().U())
	return math.Ceil(ml/chargeStepML) * chargeStepML, true
}

// First charges where the manual states none: never all of it before the converter is
// full, never an empty box (common practice, no source).
const (
	firstChargeShare = 0.7   // of what belongs in, with an overflow tube
	stickKeepsBackML = 400.0 // with a dipstick
	chargeStepML     = 50.0
)

// FirstChargeML is what goes in before the engine is started: what the manual states,
// else a part of what belongs in, and never more than is measured out.
func (s Progress) FirstChargeML(plan estimate.Plan) float64 {
	ml := s.NumOr(job.FirstCharge, 0)
	if ml == 0 {
		ml = firstChargeShare * plan.Target.Nominal
		if s.Path() == job.Dipstick {
			ml = math.Max(plan.Target.Nominal-stickKeepsBackML, ml)
		}
		ml = math.Round(ml/chargeStepML) * chargeStepML
	}
	return math.Min(ml, plan.PreloadML)
}
