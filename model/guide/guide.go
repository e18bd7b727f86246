package guide

// This file holds the guide through one job, what earlier jobs bring to it, and
// what it remembers.

import (
	"slices"
	"time"

	"garage/tundish/model/ask"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// Offers is what earlier jobs bring to a new one.
type Offers struct {
	ask.Offers
	Before *Guide // the unit's job before this one, nil none: its figures go on into this one's
}

// Guide asks for one job what is to be asked. It says the same for ever: an entry
// more makes another guide. It is for one goroutine at a time.
type Guide struct {
	*ask.Known
	earlier *Guide // the unit's job before this one, nil none
	memo    memo
}

// Fold folds a job. The zero Offers offer nothing.
func Fold(j job.Job, offers Offers) *Guide {
	var before *verdict.Assessment
	if offers.Before != nil {
		before = offers.Before.Assessment
	}
	return &Guide{Known: &ask.Known{Assessment: verdict.New(j, before), Offered: offers.Offers}, earlier: offers.Before}
}

// Chain folds the jobs of one unit, oldest first, each after the last one before
// it at which something was done to the unit. Jobs that began at the same moment
// are one job that was kept twice: none of them is before another, and the first
// of them is before those that come later. The zero Chain has no jobs.
type Chain struct {
	before *Guide // of the moment at hand
	now    *Guide // the job of that moment that later ones come after, nil none yet
}

// Fold folds the next job.
func (c *Chain) Fold(j job.Job) *Guide {
	g := Fold(j, Offers{Before: c.Before(j.Started)})
	if c.now == nil && (g.Emptied() || g.PushBegun(0)) { // something was done to the unit
		c.now = g
	}
	return g
}

// Before is the job that one that began at a moment comes after, nil none. That
// moment is not before the start of any job of the chain.
func (c *Chain) Before(moment time.Time) *Guide {
	if c.now != nil && c.now.Started.Before(moment) {
		c.before, c.now = c.now, nil
	}
	return c.before
}

// Before is the unit's job before this one, nil none.
func (s *Guide) Before() *Guide { return s.earlier }

// Refold folds a job anew, and those before it, each of them changed in the same
// way. Nothing else is on offer to it.
func (s *Guide) Refold(change func(job.Job) job.Job) *Guide {
	if s == nil {
		return nil
	}
	entries, _ := s.Ledger()
	return Fold(change(job.Job{ID: s.ID, Started: s.Started, Entries: entries}), Offers{Before: s.Before().Refold(change)})
}

// Assessments are those of guides, for what looks over several jobs.
func Assessments(guides []*Guide) []*verdict.Assessment {
	list := make([]*verdict.Assessment, len(guides))
	for i, g := range guides {
		list[i] = g.Assessment
	}
	return list
}

// memo is what a guide remembers.
type memo struct {
	next job.Lazy[upNext]
}

// upNext is the next question, if there is one.
type upNext struct {
	prompt Prompt
	more   bool
}

// With is the guide with entries more.
func (s *Guide) With(entries ...job.Entry) *Guide {
	all, _ := s.Ledger()
	return Fold(job.Job{ID: s.ID, Started: s.Started, Entries: append(slices.Clip(all), entries...)}, Offers{s.Offered, s.earlier})
}
