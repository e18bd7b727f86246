package verdict

// This file collects, in one place, what keeps a fill from being called proven
// however good the odds are.

import (
	"fmt"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

// Forbids is a reason why an accepted fill is not called proven.
type Forbids uint8

// The reasons.
const (
	ForbidsOverruled   Forbids = iota // two measures contradict each other, and one was overruled
	ForbidsBalance                    // readings of a push do not add up, and were let stand
	ForbidsLevel                      // a level that the sums contradict was let stand
	ForbidsOneMeasure                 // one measure alone says how much belongs in
	ForbidsSlip                       // one slip that nothing would show can have put it beyond driving
	ForbidsPan                        // the pan held more than was measured, and nobody said why
	ForbidsHaste                      // clicked through faster than it can be done
	ForbidsTemperature                // the level was read out of the maker's range of oil temperature
	NumForbids
)

var forbidsTokens = [NumForbids]string{"overruled", "balance", "level", "one_witness", "slip", "pan", "haste", "temperature"}

var forbidsWords = [NumForbids]string{
	"a contradiction was overruled",
	"readings of the push do not add up",
	"readings and level contradict each other",
	"no second reading of what belongs in",
	"a slip in one reading would not show",
	"the pan held more than was measured",
	"done faster than it can be done",
	"the level was read out of the maker's temperature",
}

// String is the reason's name.
func (f Forbids) String() string { return job.TokenOf(forbidsTokens[:], f) }

// Text is the reason, to be read after "not proven: ".
func (f Forbids) Text() string { return job.TokenOf(forbidsWords[:], f) }

// contradiction reports whether the reason speaks against the readings, so that
// later jobs cannot go by them either.
func (f Forbids) contradiction() bool {
	return f == ForbidsOverruled || f == ForbidsBalance || f == ForbidsLevel || f == ForbidsPan
}

// ForbidsProven lists what keeps the fill, as it stands, from being called
// proven, in the order of the reasons and each once.
func (s *Assessment) ForbidsProven() []Forbids {
	rules := [NumForbids]func() bool{
		ForbidsOverruled:  s.overruled,
		ForbidsBalance:    s.balanceInDoubt,
		ForbidsLevel:      s.levelLetStand,
		ForbidsOneMeasure: s.oneMeasure,
		ForbidsSlip:       s.slipUnseen,
		ForbidsPan:        s.PanInDoubt,
		ForbidsHaste:      s.hasty,
		ForbidsTemperature: func() bool {
			_, _, out := s.OutOfWindow(s.Round())
			return s.Path().RunsEngine() && out
		},
	}
	var list []Forbids
	for f, holds := range rules {
		if holds() {
			list = append(list, Forbids(f))
		}
	}
	return list
}

// overruled reports whether two measures contradict each other and the owner
// chose between them.
func (s *Assessment) overruled() bool {
	if s.Drained().Contradict && s.Has(job.MeasureTrusted) && !s.DrainedVoid() {
		return true
	}
	if s.WrongBox() || s.LookedCause() == job.LookedOverfilled {
		return true
	}
	if looked := s.CardLooked(); looked == job.CardLevelOff || looked == job.CardBoth {
		return true
	}
	plan, err := s.Plan(0)
	return err == nil && (plan.Conflict || plan.CardCounts && plan.CardZ > estimate.ConflictZ)
}

// balanceInDoubt reports whether readings of any push contradict each other.
func (s *Assessment) balanceInDoubt() bool {
	for round := range s.Rounds() {
		if s.Balance(round).Fails() {
			return true
		}
	}
	return false
}

// levelLetStand reports whether a level counts that the sums contradict, or did
// after any push: the sums of a later one are in more doubt, which makes the
// level no better.
func (s *Assessment) levelLetStand() bool {
	for round := range s.Rounds() {
		if v, err := s.Verdict(round); err == nil && (v.levelContradicts() || s.everOldLevelZ(round) > estimate.ConflictZ) {
			return true
		}
	}
	return false
}

// WhyNotProven says, in words, why an accepted fill is not proven; none where it
// is, or would be.
func (s *Assessment) WhyNotProven() []string {
	var why []string
	if v, err := s.Verdict(s.Round()); err == nil && v.Conformity != Within {
		why = append(why, fmt.Sprintf("%d in 100 right", v.Odds()))
	}
	for _, f := range s.ForbidsProven() {
		why = append(why, f.Text())
	}
	return why
}
