package guide

// This file holds the guide through one job, what earlier jobs bring to it, and
// what it remembers.

import (
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// Offers is what earlier jobs bring to a new one.
type Offers struct {
	Answers  map[job.Place]job.Value // to the questions of the first step
	Residual verdict.Learned         // of this unit
	Escape   verdict.Learned         // of this rig
}

// Guide asks for one job what is to be asked. It says the same for ever: an entry
// more makes another guide. It is for one goroutine at a time.
type Guide struct {
	*verdict.Assessment
	offers Offers
	memo   memo
}

// Fold folds a job. The zero Offers offer nothing.
func Fold(j job.Job, offers Offers) *Guide {
	return &Guide{Assessment: verdict.New(j), offers: offers}
}

// Assessments are those of guides, for what looks over several jobs.
func Assessments(guides []*Guide) []*verdict.Assessment {
	list := make([]*verdict.Assessment, len(guides))
	for i, g := range guides {
		list[i] = g.Assessment
	}
	return list
}

// offered is what an earlier job answered at a place.
func (s *Guide) offered(t job.Topic, item int) (job.Value, bool) {
	v, ok := s.offers.Answers[job.Place{Topic: t, Item: item}]
	return v, ok
}

// memo is what a guide remembers.
type memo struct {
	next     job.Lazy[upNext]
	progress map[progressOf]progress
}

// upNext is the next question, if there is one.
type upNext struct {
	prompt Prompt
	more   bool
}

type progressOf struct {
	step  job.Step
	round int
}

type progress struct{ answered, asked int }
