package guide

// This file works out what earlier jobs bring to a job.

import (
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// OffersOf is what earlier jobs bring to a job: the facts of the newest of the
// same unit, or, of another unit, what belongs to the garage; and what the
// unit's and the rig's own jobs teach. Both lists are newest first. Before is for
// the caller to set.
func OffersOf(unit, rig []*Guide) Offers {
	lessons := verdict.Learn(Assessments(unit), Assessments(rig))
	return Offers{Answers: answersOf(unit, rig), Residual: lessons.Residual, Escape: lessons.Escape}
}

// answersOf are the answers on offer. Where the last fill of the unit was proven
// with its level seen, the level is known; proven by sums alone, it is no surer
// than what they rested on.
func answersOf(unit, rig []*Guide) map[job.Place]job.Value {
	if len(unit) > 0 {
		answers := unit[0].Facts()
		if unit[0].LevelProven() {
			answers[job.Place{Topic: job.PriorLevel}] = job.Value{Choice: estimate.Verified.String()}
		}
		return answers
	}
	if len(rig) == 0 {
		return nil
	}
	answers := rig[0].Facts()
	for place := range answers {
		if !ofGarage(place.Topic) {
			delete(answers, place)
		}
	}
	return answers
}

// ofGarage reports whether a fact belongs to the garage rather than to a unit: the
// units shown, what measures, what fills.
func ofGarage(t job.Topic) bool {
	if t == job.DisplayUnits {
		return true
	}
	part := SpecOf(t).Part
	return part == SpecOf(job.ContainerName).Part || part == SpecOf(job.Filler).Part
}
