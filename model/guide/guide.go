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
	Before   *Guide                  // the unit's job before this one, nil none: its figures go on into this one's
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
	var before *verdict.Assessment
	if offers.Before != nil {
		before = offers.Before.Assessment
	}
	return &Guide{Assessment: verdict.New(j, before), offers: offers}
}

// FoldUnit folds the jobs of one unit, oldest first, each after the one before it.
func FoldUnit(jobs []job.Job) []*Guide {
	folded := make([]*Guide, len(jobs))
	for i, j := range jobs {
		var offers Offers
		if i > 0 {
			offers.Before = folded[i-1]
		}
		folded[i] = Fold(j, offers)
	}
	return folded
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
