package guide

// This file works out what earlier jobs bring to a job.

import (
	"maps"

	"garage/tundish/model/ask"
	"garage/tundish/model/job"
)

// OffersOf is what earlier jobs bring to a job: the facts of the newest of the
// same unit, or, of another unit, what belongs to the garage and what escaped
// with the rig. Both lists are newest first. Before is for the caller to set.
func OffersOf(unit, rig []*Guide) Offers {
	offers := Offers{Offers: ask.Offers{Answers: answersOf(unit, rig)}}
	if len(unit) > 0 {
		return offers // the jobs before tell what escapes
	}
	for _, s := range rig {
		if told := s.Lessons().Escape; told.Jobs > offers.Escape.Jobs {
			offers.Escape = told
		}
	}
	return offers
}

// answersOf are the answers on offer.
func answersOf(unit, rig []*Guide) map[job.Place]job.Value {
	if len(unit) > 0 {
		return unit[0].Facts()
	}
	if len(rig) == 0 {
		return nil
	}
	answers := rig[0].Facts()
	maps.DeleteFunc(answers, func(p job.Place, _ job.Value) bool { return !ask.OfGarage(p.Topic) })
	return answers
}
