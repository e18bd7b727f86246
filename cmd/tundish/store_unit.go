package main

// This file folds the jobs of the store, each after the unit's jobs before it: no
// state is right without them. What reads nothing but what a job's own entries
// say takes loaded instead.

import (
	"cmp"
	"iter"
	"slices"

	"garage/tundish/cmd/tundish/internal/ahead"
	"garage/tundish/cmd/tundish/internal/progress"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/share"
	"garage/tundish/store"
)

// foldedJob is a job of a list, folded.
type foldedJob struct {
	state *guide.Guide
	err   error
}

// loaded is a job, folded by itself.
func (j storeJournal) loaded(id string) (*guide.Guide, error) {
	job, err := j.Load(id)
	if err != nil {
		return nil, err
	}
	return guide.Fold(job, guide.Offers{}), nil
}

// state is a job of the store, folded after its unit's earlier jobs.
func (j storeJournal) state(id string) (*guide.Guide, error) {
	job, err := j.Load(id)
	if err != nil {
		return nil, err
	}
	return j.fold(job)
}

// fold folds a job, stored or not, after its unit's earlier jobs.
func (j storeJournal) fold(job job.Job) (*guide.Guide, error) {
	_, before, err := j.earlier(job)
	if err != nil {
		return nil, err
	}
	return guide.Fold(job, guide.Offers{Before: before}), nil
}

// earlier are the jobs of a job's unit that were started before it, newest first,
// and the one of them that it comes after, nil none.
func (j storeJournal) earlier(job job.Job) (unit []*guide.Guide, before *guide.Guide, err error) {
	key := keyOf(job)
	if key == "" {
		return nil, nil, nil
	}
	var c guide.Chain
	for f := range j.chain(&c, store.ListOptions{Unit: key, Before: job.Started}) {
		if f.err != nil {
			return nil, nil, f.err
		}
		unit = append(unit, f.state)
	}
	slices.Reverse(unit)
	return unit, c.Before(job.Started), nil
}

// unitJobs are the jobs of a job's unit, newest first; of one whose unit has no
// name yet, it alone.
func (j storeJournal) unitJobs(job job.Job) (unit []*guide.Guide, err error) {
	key := keyOf(job)
	if key == "" {
		return []*guide.Guide{guide.Fold(job, guide.Offers{})}, nil
	}
	return j.unit(key)
}

// unit are the jobs of a unit, newest first; after an error those before it.
func (j storeJournal) unit(key string) (unit []*guide.Guide, err error) {
	for f := range j.chain(new(guide.Chain), store.ListOptions{Unit: key}) {
		if err = f.err; err == nil {
			unit = append(unit, f.state)
		}
	}
	slices.Reverse(unit)
	return unit, err
}

// keyOf is the key of a job's unit; empty of one that others have shared: it is of
// no unit here.
func keyOf(j job.Job) string {
	if share.IsCopy(j.ID) {
		return ""
	}
	return job.Fold(j).UnitKey()
}

// unitOf is keyOf of a job of a list.
func unitOf(h guide.Head) string {
	if share.IsCopy(h.ID) {
		return ""
	}
	return h.UnitKey()
}

// chain goes through the jobs of a unit, oldest first. They are read side by side
// and folded one after the other. It ends after an error: without one job those
// after it are not right.
func (j storeJournal) chain(c *guide.Chain, o store.ListOptions) iter.Seq[foldedJob] {
	return func(yield func(foldedJob) bool) {
		heads, _, err := j.List(o)
		if err != nil {
			yield(foldedJob{err: err})
			return
		}
		heads = own(heads)
		slices.Reverse(heads)
		type read struct {
			job job.Job
			err error
		}
		for _, r := range ahead.InOrder(len(heads), func(i int) (r read) {
			r.job, r.err = j.Load(heads[i].ID)
			return r
		}) {
			if r.err != nil {
				yield(foldedJob{err: r.err})
				return
			}
			if !yield(foldedJob{state: c.Fold(r.job)}) {
				return
			}
		}
	}
}

// each folds the jobs of a list, newest first, and hands every one over with its
// place in the list: unit by unit, the units side by side, so not in the order of
// the list. Of each unit its jobs are read once. The error is that of the first job
// that cannot be read; it and those of its unit after it are not handed over.
// progress.Stopped ends all.
func (j storeJournal) each(heads []guide.Head, bar *progress.Bar, use func(i int, s *guide.Guide)) (unread error) {
	groups := groupsOf(heads)
	for g, err := range ahead.InOrder(len(groups), func(g int) error { return j.group(heads, groups[g], use) }) {
		unread = cmp.Or(unread, err)
		if err := bar.Step(g+1, len(groups)); err != nil {
			return err
		}
	}
	return unread
}

// groupsOf are the places in a list of each unit's jobs; a job of no unit is by
// itself.
func groupsOf(heads []guide.Head) (groups [][]int) {
	at := map[string]int{}
	for i, h := range heads {
		key := unitOf(h)
		g, known := at[key]
		if key == "" || !known {
			g = len(groups)
			at[key], groups = g, append(groups, nil)
		}
		groups[g] = append(groups[g], i)
	}
	return groups
}

// group folds the jobs at some places of a list, which are of one unit.
func (j storeJournal) group(heads []guide.Head, places []int, use func(i int, s *guide.Guide)) error {
	newest := heads[places[0]]
	key := unitOf(newest)
	if key == "" {
		s, err := j.loaded(newest.ID)
		if err == nil {
			use(places[0], s)
		}
		return err
	}
	at := map[string]int{}
	for _, i := range places {
		at[heads[i].ID] = i
	}
	for f := range j.chain(new(guide.Chain), store.ListOptions{Unit: key, Before: newest.Started.Add(1)}) {
		if f.err != nil {
			return f.err
		}
		if i, wanted := at[f.state.ID]; wanted {
			use(i, f.state)
		}
	}
	return nil
}
