package model

import (
	"slices"
	"testing"
)

// What one slip can hide is not proven, however good the odds; a clean job is.
func TestOneSlipForbidsProven(t *testing.T) {
	t.Parallel()
	tiny := small.with(script{Capacity: {"300"}, DrainedAmount: {"276"}, LoadedAmount: {"350"}})
	for name, row := range map[string]struct {
		sc   script
		want []Forbids
	}{
		"a clean job":                                   {small, nil},
		"bottles noted":                                 {small.with(script{BottlesOpened: {"1000"}, BottlesLeft: {"367"}}), nil},
		"nobody knows the level before":                 {small.with(script{PriorLevel: {"unknown"}}), []Forbids{ForbidsOneWitness}},
		"it leaked: what came out is no witness":        {small.with(script{OilHistory: {"leaked"}}), []Forbids{ForbidsOneWitness}},
		"it leaked, but a level is seen":                {level.with(script{OilHistory: {"leaked"}}), nil},
		"far more came out, and it is the unit":         {small.with(script{DrainedAmount: {"1000"}, BasisWhy: {"sticker"}}), []Forbids{ForbidsOverruled, ForbidsOneWitness}},
		"a mark of 100 ml, and the load read once":      {small.with(script{VesselGraduation: {"100"}, LoadedWith: {"vessel"}, LeftWith: {"vessel"}}), []Forbids{ForbidsSlip}},
		"a hose that holds a quarter of the fill":       {small.with(script{HoseBore: {"10"}, HoseLength: {"2"}, LoadedAmount: {"757"}}), []Forbids{ForbidsSlip}},
		"nothing escaped from a small unit, it is said": {tiny.with(script{EscapedHow: {"none"}, LoadedAmount: {"300"}}), []Forbids{ForbidsSlip}},
	} {
		s := newDrive(t, row.sc.with(script{WrongBoxDecision: {"right_unit"}})).until(Decision)
		if v := verdictOf(t, s, 0); v.Word != Within && v.Word != LikelyWithin {
			t.Errorf("%s: %v: nothing would be accepted anyway", name, v.Word)
		}
		if got := s.forbidsProven(); !slices.Equal(got, row.want) {
			t.Errorf("%s: %v, want %v", name, got, row.want)
		}
	}
}

// Pushes that add nothing put the sums in more doubt, mark by mark. That does
// not reconcile them with a level that they contradicted.
func TestLevelContradictedOnceStaysSo(t *testing.T) {
	t.Parallel()
	d := newDrive(t, level.with(script{
		VesselGraduation: {"100"}, LoadedWith: {"vessel", "vessel", "vessel", "vessel"}, LeftWith: {"vessel", "vessel", "vessel", "vessel"},
		LoadedAmount: {"700", "200", "200", "200"}, LeftInVessel: {"300", "200", "200", "200"}, LevelWeeps: {"weeps", "weeps", "weeps", "weeps"},
		LevelLookedAgain: {"holds", "holds", "holds", "holds"}, Decision: {"add", "add", "add", "accept"}, OverflowCaught: {"0", "0", "0", "0"},
	}))
	s := d.until(Decision)
	if first := verdictOf(t, s, 0); !(first.LevelZ > ConflictZ) {
		t.Fatalf("the sums agree with the level: z %.1f", first.LevelZ)
	}
	for range 30 {
		p, _ := s.Next()
		if p.Topic == Decision && p.Place.Round == 3 {
			break
		}
		d.answer(s, p)
		s = d.until(Decision)
	}
	if last := verdictOf(t, s, 3); last.LevelZ > ConflictZ {
		t.Fatalf("the sums contradict the level still: z %.1f", last.LevelZ)
	}
	if s.Round() != 3 || !slices.Contains(s.forbidsProven(), ForbidsLevel) {
		t.Errorf("round %d: %v", s.Round(), s.forbidsProven())
	}
}
