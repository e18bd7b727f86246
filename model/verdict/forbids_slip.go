package verdict

// This file finds out whether a single slip could go unnoticed: a figure of another
// variant, a level that was not what it was said to be, a mark misread, a hose
// that was not full. A fill is proven only where none of them alone can have
// put it beyond the limits of driving.

import (
	"math"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// mayBeBeyond reports whether a fill that is off by so much may lie beyond the
// limits of driving, 19 times in 20 and with a slip of so many ml on top. Where
// it is too much, less may belong in than is thought.
func mayBeBeyond(off measure.Value, slipML, rightML float64) bool {
	doubt := estimate.Coverage * off.U()
	return off.Nominal-doubt-slipML < -DoNotDriveShort*rightML || off.Nominal+doubt+slipML > DoNotDriveOver*(rightML-doubt)
}

// oneMeasure reports whether less than two measures of what belongs in, each by
// itself, put the fill inside the limits of driving, so that a slip in one of
// them would go unseen: what came out with the level before the job, the stated
// quantity, and a level seen at the hole.
func (s *Assessment) oneMeasure() bool {
	plan, err := s.Plan(0)
	if err != nil || plan.Undecided {
		return false // there is no verdict either
	}
	net, agree := s.NetFill(s.Round()), 0
	if !plan.DrainedVoid && !mayBeBeyond(net.Sub(plan.FromDrained), 0, plan.FromDrained.Nominal) {
		agree++
	}
	if !mayBeBeyond(net.Sub(plan.FromCapacity), 0, plan.FromCapacity.Nominal) {
		agree++
	}
	if s.LevelSeen(s.Round()) {
		agree++
	}
	if z := s.everOldLevelZ(s.Round()); z > 0 && z <= estimate.ConflictZ {
		agree++ // what went in and what came out are a second measure beside the level
	}
	return agree < 2
}

// slipUnseen reports whether one slip in what was read once, and not checked by
// anything else, can have put the fill beyond the limits of driving.
func (s *Assessment) slipUnseen() bool {
	plan, err := s.Plan(0)
	v, err2 := s.Verdict(s.Round())
	if err != nil || err2 != nil {
		return false
	}
	slip := 0.0
	if !s.Path().PouredIn() {
		slip = s.HoldUp().Nominal
	}
	escaped := 0.0
	for round := range s.Rounds() {
		slip = max(slip, s.unseenMark(round))
		escaped += s.unseenEscape(round)
	}
	slip = max(slip, escaped)
	return mayBeBeyond(v.Error, slip, plan.Target.Nominal)
}

// unseenMark is the largest slip of one mark in a round that nothing would show,
// ml: bottles or scale check the load.
func (s *Assessment) unseenMark(round int) float64 {
	if s.RoundKind(round) != job.RoundAdds {
		return s.markML(job.LetOutAmount, job.Place{Round: round})
	}
	slip := s.markML(job.LeftInVessel, job.Place{Round: round})
	if len(s.Balance(round).Streams) < 2 {
		for i := range s.Items(job.LoadedAmount, round) {
			slip = max(slip, s.markML(job.LoadedAmount, job.Place{Round: round, Item: i}))
		}
	}
	return slip
}

// unseenEscape is what can have escaped in a round where nothing is said to
// have: who forgets the catch once forgets it at every swap.
func (s *Assessment) unseenEscape(round int) float64 {
	if s.Path().PouredIn() || s.RoundKind(round) != job.RoundAdds {
		return 0
	}
	for i := range s.Items(job.EscapedHow, round) {
		if s.Caught(estimate.SwapCatch, job.Place{Round: round, Item: i}).Nominal > 0 {
			return 0
		}
	}
	usual := s.EscapeIn(round)
	return usual.Nominal + estimate.Coverage*usual.U()
}

// markML is the step of what a reading was taken with, ml.
func (s *Assessment) markML(amount job.Topic, p job.Place) float64 {
	e, _ := s.Answer(p.Of(amount))
	d, _ := s.DeviceOf(e)
	if d.Scale {
		return math.Abs(s.Weighed(measure.Exact(d.DivisionG)).Nominal)
	}
	return d.GraduationML
}
