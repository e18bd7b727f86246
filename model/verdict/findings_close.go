package verdict

// This file holds the findings about a verdict and about what seals the unit.

import (
	"fmt"
	"math"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
	"garage/tundish/model/push"
	"garage/tundish/model/quantity"
)

func (s *found) verdictFindings(round int) {
	s.step, s.round = job.CloseOut, round
	if b := s.Balance(round); b.Fails() {
		s.add(BalanceOff, b.OffML, job.At(job.LoadedAmount, round, 0), s.balanceText(b),
			"Read it again. Marks of a vessel: check them with "+s.Show(1000, job.DimG)+" of water.")
	}
	v, err := s.Verdict(round)
	if err != nil || !s.HasIn(job.PlugSeated, round) || s.RoundBegun(round+1) {
		return
	}
	if off := v.BySums.Nominal; v.levelContradicts() {
		at, do := job.At(job.LevelWeeps, round, 0), "Car level, settled for 10 minutes, the right hole? Look again."
		if s.Path().RunsEngine() {
			at, do = job.At(job.LevelAtC, round, 0), "Car level, tube tight, selector moved, in the range? Set it again."
		}
		if gap, ok := s.OldLevelGap(round); ok && s.oldLevelZ(round) == v.LevelZ {
			off = gap.Nominal
		}
		s.add(LevelAgainstSums, off, at,
			fmt.Sprintf("The level says full; by the readings it is off by %s.", s.Show(math.Abs(off), job.DimML)), do)
	}
	s.spillDominates(v, round)
	s.oldOilStays(round)
	if s.Decision(round) == job.DecideLeave && !v.MayDrive {
		s.add(LeftUndriveable, v.Error.Nominal, job.At(job.Decision, round, 0),
			fmt.Sprintf("Left %s off: not to be driven.", s.Show(math.Abs(v.Error.Nominal), job.DimML)),
			"The tag stays on until it is put right.")
	}
}

// balanceText says which readings of a push do not add up.
func (s *Assessment) balanceText(b estimate.RoundBalance) string {
	switch off := s.Show(b.OffML, job.DimML); len(b.Suspects) {
	case 1:
		return fmt.Sprintf("Off by %s; likely wrong: %s.", off, b.Suspects[0])
	case 2:
		return fmt.Sprintf("%s apart: %s.", off, b.Suspect())
	default:
		return fmt.Sprintf("%s apart, and any of %d readings may be wrong.", off, len(b.Suspects))
	}
}

// spillDominates finds a guess of what escaped that keeps the fill from being
// proven.
func (s *found) spillDominates(v Verdict, round int) {
	share := 0.0
	for _, d := range Budget(v.Doubt) {
		if d.Thing == (measure.Source{Name: estimate.WillEscape}) {
			share += d.Share
		}
	}
	if v.Conformity == Within || share < mostOfIt {
		return
	}
	for i := range s.Items(job.EscapedHow, round) {
		if p := job.At(job.EscapedHow, round, i); s.Choice(p) == job.EscapeGuess {
			s.add(SpillDominates, 0, p, "Most of the doubt: the guess of what was spilled.",
				"Weigh the pads and rags, and as many dry ones; correct how it was measured.")
			return
		}
	}
}

// sealFindings are about plug, washer and breather as they are now.
func (s *found) sealFindings() {
	s.step, s.round = job.CloseOut, s.Round()
	p := job.Place{Round: s.round}
	if !s.HasIn(job.PlugSeated, s.round) {
		return
	}
	if !s.BreatherOpen() {
		s.add(BreatherShut, 0, p.Of(job.BreatherReopened), "The breather is not noted as open again.",
			"Open it before the car moves: the job cannot be closed without.")
	}
	if s.Choice(p.Of(job.WasherFitted)) == job.WasherReused {
		s.add(WasherUsedAgain, 0, p.Of(job.WasherFitted), "An old washer seals the plug.",
			"Look after the drive and next day; a new one at the first weep.")
	}
	if s.Choice(p.Of(job.TightenedHow)) == job.TightFeel {
		s.add(TightenedByFeel, 0, p.Of(job.TightenedHow), "The plug is tightened by feel.",
			"Find the maker's figure; look after the drive. Too tight strips the case.")
	}
	if look, ok := s.weeping(); ok {
		s.add(PlugWeeps, 0, look, "It weeps: what it lost is not measured yet, nothing is proven.",
			"Car up, tag on. ONE new washer; catch and measure all that comes out.")
	}
}

// oldOilStays finds that some of the water, or of the other unit's oil, that
// came out is still in the unit.
func (s *found) oldOilStays(round int) {
	share, ok := s.NewShare(round)
	if !ok || s.OilLook() != job.LookMilky && s.OilLook() != job.LookForeign && s.LookedCause() != job.LookedWater {
		return
	}
	s.add(OldOilStays, 0, job.Place{Topic: job.OilLook},
		fmt.Sprintf("About %s of what is inside is old oil that stayed in.", quantity.FormatShare(1-share.Nominal)),
		fmt.Sprintf("A short drive and a second change leave %s.", quantity.FormatShare(1-push.AfterChanges(share.Nominal, 2))))
}
