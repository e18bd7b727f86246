package model

import (
	"slices"
	"testing"
)

// What keeps a fill from being called proven is told from the entries alone.
func TestWhatForbidsProven(t *testing.T) {
	for name, row := range map[string]struct {
		sc   script
		want []Forbids
	}{
		"a clean job":                {small, nil},
		"a basis that was chosen":    {small.with(script{DrainedAmount: {"300"}, LookedAgain: {"nothing_more"}, BasisWhy: {"leak"}}), []Forbids{ForbidsOverruled}},
		"a level against the sums":   {level.with(script{LeftInVessel: {"290"}, LevelLookedAgain: {"holds"}}), []Forbids{ForbidsLevel}},
		"bottles against the vessel": {small.with(script{BottlesOpened: {"1000"}, BottlesLeft: {"100"}, BalanceSuspect: {"stands"}}), []Forbids{ForbidsBalance}},
	} {
		s := newDrive(t, row.sc).until(Decision)
		if got := s.forbidsProven(); !slices.Equal(got, row.want) {
			t.Errorf("%s: %v, want %v", name, got, row.want)
		}
	}
}
