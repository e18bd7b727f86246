package verdict

// This file holds the findings about a verdict and about what seals the unit.

import (
	"fmt"
	"math"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

func (s *Assessment) verdictFindings(round int) []Finding {
	var list []Finding
	if b := s.Balance(round); b.Fails() {
		list = append(list, Finding{
			Kind: BalanceOff, Step: job.CloseOut, Round: round, ML: b.OffML, Seq: s.SeqOf(job.At(job.LoadedAmount, round, 0)),
			Text: s.balanceText(b),
			Do:   "Read it again. Marks of a vessel: check them with " + s.Show(1000, job.DimG) + " of water.",
		})
	}
	v, err := s.Verdict(round)
	if err != nil || !s.HasIn(job.PlugSeated, round) || s.RoundBegun(round+1) {
		return list
	}
	if s.LevelContradicts(job.Place{Round: round}) {
		off := s.SumsErrorML(job.Place{Round: round})
		list = append(list, Finding{
			Kind: LevelAgainstSums, Step: job.CloseOut, Round: round, ML: off, Seq: s.SeqOf(job.At(job.LevelWeeps, round, 0)),
			Text: fmt.Sprintf("The level says full; by the sums it is off by %s.", s.Show(math.Abs(off), job.DimML)),
			Do:   "Car level, settled for 10 minutes, the right hole? Look again.",
		})
	}
	if f, ok := s.spillDominates(v, round); ok {
		list = append(list, f)
	}
	if f, ok := s.oldOilStays(round); ok {
		list = append(list, f)
	}
	if s.Decision(round) == job.DecideLeave && !v.MayDrive {
		list = append(list, Finding{
			Kind: LeftUndriveable, Step: job.CloseOut, Round: round, ML: v.Error.Nominal, Seq: s.SeqOf(job.At(job.Decision, round, 0)),
			Text: fmt.Sprintf("Left %s off: not to be driven.", s.Show(math.Abs(v.Error.Nominal), job.DimML)),
			Do:   "The tag stays on until it is put right.",
		})
	}
	return list
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
func (s *Assessment) spillDominates(v Verdict, round int) (Finding, bool) {
	share, guessed := 0.0, s.guessSeq(round)
	for _, d := range Budget(v.Doubt) {
		if d.Thing == (measure.Source{Name: estimate.WillEscape}) {
			share += d.Share
		}
	}
	if v.Word == Within || guessed == 0 || share < mostOfIt {
		return Finding{}, false
	}
	return Finding{
		Kind: SpillDominates, Step: job.CloseOut, Round: round, Seq: guessed,
		Text: fmt.Sprintf("The guess of what escaped carries %.0f %% of the doubt.", 100*share),
		Do:   "Weigh the pads and rags, and as many dry ones; correct how it was measured.",
	}, true
}

// guessSeq is the entry that says that an escape was guessed.
func (s *Assessment) guessSeq(round int) int {
	for i := range s.Items(job.EscapedHow, round) {
		if p := (job.At(job.EscapedHow, round, i)); s.Choice(p) == job.EscapeGuess {
			return s.SeqOf(p)
		}
	}
	return 0
}

// sealFindings are about plug, washer and breather as they are now.
func (s *Assessment) sealFindings() []Finding {
	last := s.Round()
	p := job.Place{Round: last}
	if !s.HasIn(job.PlugSeated, last) {
		return nil
	}
	var list []Finding
	add := func(k FindingKind, at job.Place, text, do string) {
		list = append(list, Finding{Kind: k, Step: job.CloseOut, Round: last, Seq: s.SeqOf(at), Text: text, Do: do})
	}
	if !s.BreatherOpen() {
		add(BreatherShut, p.Of(job.BreatherReopened), "The breather is not noted as open again.",
			"Open it before the car moves: the job cannot be closed without.")
	}
	if s.Choice(p.Of(job.WasherFitted)) == job.WasherReused.String() {
		add(WasherUsedAgain, p.Of(job.WasherFitted), "An old washer seals the plug.",
			"Look after the drive and next day; a new one at the first weep.")
	}
	if s.Choice(p.Of(job.TightenedHow)) == job.TightFeel {
		add(TightenedByFeel, p.Of(job.TightenedHow), "The plug is tightened by feel.",
			"Find the maker's figure; look after the drive. Too tight strips the case.")
	}
	if look, ok := s.weeping(); ok {
		add(PlugWeeps, look, "It weeps: what it lost is not measured yet, nothing is proven.",
			"Car up, tag on. ONE new washer; catch and measure all that comes out.")
	}
	return list
}

// oldOilStays finds that some of the water, or of the other unit's oil, that
// came out is still in the unit.
func (s *Assessment) oldOilStays(round int) (Finding, bool) {
	share, ok := s.NewShare(round)
	if !ok || s.OilLook() != job.LookMilky && s.OilLook() != job.LookForeign && s.LookedCause() != job.LookedWater {
		return Finding{}, false
	}
	return Finding{
		Kind: OldOilStays, Step: job.CloseOut, Round: round, Seq: s.SeqOf(job.Place{Topic: job.OilLook}),
		Text: fmt.Sprintf("About %s of what is inside is old oil that stayed behind.", Percent(1-share.Nominal)),
		Do:   fmt.Sprintf("A short drive and a second change leave %s.", Percent(1-estimate.AfterChanges(share.Nominal, 2))),
	}, true
}
