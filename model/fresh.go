package model

// This file works out how much of the oil in the unit is new, which matters
// where water or another unit's oil came out.

import (
	"fmt"
	"math"

	"garage/tundish/model/measure"
)

// newShare is what share of the oil in a unit is new, 0 to 1, where stays of
// what was in it has stayed behind and net of new oil is in:
//
//	net / (net + stays)
//
// false where nothing is in.
func newShare(net, stays measure.Value) (measure.Value, bool) {
	n, r := net.Nominal, math.Max(stays.Nominal, 0)
	all := n + r
	if !(n > 0) || math.IsInf(all, 0) {
		return measure.Value{}, false
	}
	share, err := measure.Combine(n/all, []float64{r / (all * all), -n / (all * all)}, []measure.Value{net, stays})
	return share, err == nil
}

// afterChanges is the share of new oil after a number of changes that each
// bring the share fresh:
//
//	1 − (1 − fresh)ⁿ
func afterChanges(fresh float64, n int) float64 { return 1 - math.Pow(1-fresh, float64(n)) }

// NewShare is what share of the oil in the unit is new after a round, or by now
// in the round that is on, 0 to 1; false where nothing is known to be in, or it
// is not known what stayed behind. What escaped or was let out counts as new oil.
func (s *State) NewShare(round int) (measure.Value, bool) {
	net, told := s.NetFill(round), true
	if round == s.lastRound() {
		net, told = s.InUnitNow()
	}
	automatic := s.choice(Place{Topic: UnitKind}) == automaticBox // its converter stays full
	if !told || automatic || s.CapacityML() <= 0 {
		return measure.Value{}, false
	}
	if s.DryStart() {
		return newShare(net, measure.Exact(0))
	}
	return newShare(net, s.residual().Sub(s.Drained().Late))
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
