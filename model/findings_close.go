package model

// This file holds the findings about a verdict and about what seals the unit.

import (
	"fmt"
	"math"

	"garage/tundish/model/measure"
)

func (s *State) verdictFindings(round int) []Finding {
	var list []Finding
	if b := s.Balance(round); b.Fails() {
		list = append(list, Finding{
			Kind: BalanceOff, Step: CloseOut, Round: round, ML: b.OffML, Seq: s.seqOf(at(LoadedAmount, round, 0)),
			Text: s.balanceText(b),
			Do:   "Read it again. Marks of a vessel: check them with " + s.show(1000, DimG) + " of water.",
		})
	}
	v, err := s.Verdict(round)
	if err != nil || !s.hasIn(PlugSeated, round) || s.roundBegun(round+1) {
		return list
	}
	if s.levelContradicts(Place{Round: round}) {
		off := s.errorOfSums(Place{Round: round})
		list = append(list, Finding{
			Kind: LevelAgainstSums, Step: CloseOut, Round: round, ML: off, Seq: s.seqOf(at(LevelWeeps, round, 0)),
			Text: fmt.Sprintf("The level says full; by the sums it is off by %s.", s.show(math.Abs(off), DimML)),
			Do:   "Car level, settled for 10 minutes, the right hole? Look again.",
		})
	}
	if f, ok := s.spillDominates(v, round); ok {
		list = append(list, f)
	}
	if f, ok := s.oldOilStays(round); ok {
		list = append(list, f)
	}
	if s.Decision(round) == DecideLeave && !v.MayDrive {
		list = append(list, Finding{
			Kind: LeftUndriveable, Step: CloseOut, Round: round, ML: v.Error.Nominal, Seq: s.seqOf(at(Decision, round, 0)),
			Text: fmt.Sprintf("Left %s off: not to be driven.", s.show(math.Abs(v.Error.Nominal), DimML)),
			Do:   "The tag stays on until it is put right.",
		})
	}
	return list
}

// balanceText says which readings of a push do not add up.
func (s *State) balanceText(b RoundBalance) string {
	switch off := s.show(b.OffML, DimML); len(b.Suspects) {
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
func (s *State) spillDominates(v Verdict, round int) (Finding, bool) {
	doubt := doubtOf(v.Doubt)
	if v.Word == Within || len(doubt) == 0 || doubt[0].Share < mostOfIt || doubt[0].thing != (measure.Source{Name: guessSource}) {
		return Finding{}, false
	}
	return Finding{
		Kind: SpillDominates, Step: CloseOut, Round: round, Seq: s.guessSeq(round),
		Text: fmt.Sprintf("The guess of what escaped carries %.0f %% of the doubt.", 100*doubt[0].Share),
		Do:   "Weigh the pads and rags, and as many dry ones; correct how it was measured.",
	}, true
}

// guessSeq is the entry that says that an escape was guessed.
func (s *State) guessSeq(round int) int {
	for i := range s.items(EscapedHow, round) {
		if p := (at(EscapedHow, round, i)); s.choice(p) == escapeGuess {
			return s.seqOf(p)
		}
	}
	return 0
}

// sealFindings are about plug, washer and breather as they are now.
func (s *State) sealFindings() []Finding {
	last := s.Round()
	p := Place{Round: last}
	if !s.hasIn(PlugSeated, last) {
		return nil
	}
	var list []Finding
	add := func(k FindingKind, at Place, text, do string) {
		list = append(list, Finding{Kind: k, Step: CloseOut, Round: last, Seq: s.seqOf(at), Text: text, Do: do})
	}
	if !s.BreatherOpen() {
		add(BreatherShut, p.of(BreatherReopened), "The breather is not noted as open again.", "Open it before the car moves: the job cannot be closed without.")
	}
	if s.choice(p.of(WasherFitted)) == WasherReused.String() {
		add(WasherUsedAgain, p.of(WasherFitted), "An old washer seals the plug.", "Look after the drive and next day; a new one at the first weep.")
	}
	if s.choice(p.of(TightenedHow)) == tightFeel {
		add(TightenedByFeel, p.of(TightenedHow), "The plug is tightened by feel.", "Find the maker's figure; look after the drive. Too tight strips the case.")
	}
	if look, ok := s.weeping(); ok {
		add(PlugWeeps, look, "It weeps: what it lost is not measured yet, nothing is proven.", "Car up, tag on. ONE new washer; catch and measure all that comes out.")
	}
	return list
}

// oldOilStays finds that some of the water, or of the other unit's oil, that
// came out is still in the unit.
func (s *State) oldOilStays(round int) (Finding, bool) {
	share, ok := s.NewShare(round)
	if !ok || s.OilLook() != LookMilky && s.OilLook() != LookForeign && s.lookedCause() != lookedWater {
		return Finding{}, false
	}
	return Finding{
		Kind: OldOilStays, Step: CloseOut, Round: round, Seq: s.seqOf(Place{Topic: OilLook}),
		Text: fmt.Sprintf("About %s of what is inside is old oil that stayed behind.", percent(1-share.Nominal)),
		Do:   fmt.Sprintf("A short drive and a second change leave %s.", percent(1-afterChanges(share.Nominal, 2))),
	}, true
}
