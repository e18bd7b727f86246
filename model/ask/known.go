package ask

// This file holds what is known as a question is put: the job so far, and what earlier
// jobs, cards and other units of the car bring to it.

import (
	"garage/tundish/model/card"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// Known is what is known as a question is put: the job so far, and what is on offer to it.
type Known struct {
	*verdict.Assessment
	Offered Offers
}

// KnowsUnit reports whether an earlier job of the unit tells what it takes.
func (s *Known) KnowsUnit() bool {
	_, ok := s.Offered.Answers[job.Place{Topic: job.Capacity}]
	return ok
}

// Offers is what earlier jobs, cards and other units of the car bring to a job.
type Offers struct {
	Answers map[job.Place]job.Value // to the questions of the first step
	Escape  verdict.Learned         // what escapes at one swap with this rig, for the first job of a unit
	Cards   []card.Card             // what others measured of kinds of unit
	// OpenUnits are the other units of the same car that are open, or not known to hold
	// what belongs in: nothing of the car may turn until there are none.
	OpenUnits []OpenUnit
	ToCome    []string // units of the car that are still to be begun in the same session, the next one first
}

// OpenUnit is a unit of the car, of another job, that the engine must not be started
// with, and what is known of its oil.
type OpenUnit struct {
	Name  string
	State verdict.UnitState
}
