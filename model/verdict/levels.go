package verdict

// This file judges a fill by what the level hole tells beside the sums.

import (
	"math"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

// hearLevel says what to do where the level hole was looked at. Where it and
// the sums are further apart than both explain, neither proves the other: what
// the sums say is missing or too much is the measured way out, once the level
// was looked at again. Of a level below the hole, oil is added until it weeps.
func (s *Assessment) hearLevel(v *Verdict, round int) {
	switch {
	case v.LevelZ > estimate.ConflictZ:
		v.Word, v.Act, v.ActML = NotProven, Remeasure, 0
		if s.Choice(job.At(job.LevelLookedAgain, round, 0)) == job.LevelHolds {
			v.Act, v.ActML = correction(v.Error.Nominal)
		} else {
			v.MayDrive = false
		}
	case s.BelowHole(round) && v.Word != High:
		v.Act, v.ActML = AddOil, math.Round(math.Max(-v.Error.Nominal, 0)+estimate.SurplusML(v.Error, s.LevelAtLip(), s.Heel()))
	}
}
