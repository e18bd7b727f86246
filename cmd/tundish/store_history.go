package main

// This file reads the jobs of a unit for its history.

import (
	"slices"
	"time"

	"garage/tundish/cmd/tundish/internal/ahead"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
	"garage/tundish/store"
	"garage/tundish/tui/history"
)

// History gathers a unit's jobs, the one that is open too, newest first, with
// what the owner's jobs have taught and the waste oil that waits over all of
// them. One of another unit is not kept.
func (j storeJournal) History(job job.Job) (history.Data, error) {
	unit, err := j.unitJobs(job)
	if err != nil {
		return history.Data{}, err
	}
	heads, _, err := j.List(store.ListOptions{})
	if err != nil {
		return history.Data{}, err
	}
	heads = slices.DeleteFunc(own(heads), func(h guide.Head) bool { return h.UnitState == verdict.AsFound }) // no oil came out
	waste, err := j.waste(heads, unit)
	if err != nil {
		return history.Data{}, err
	}
	return history.Of(unit, unit[0].Lessons(), waste, time.Local), nil
}

// waste is the waste oil of the jobs of a list that waits. What a job says of it is
// in its own entries.
func (j storeJournal) waste(heads []guide.Head, known []*guide.Guide) (w verdict.Waste, err error) {
	byID := byID(known)
	for _, f := range ahead.InOrder(len(heads), func(i int) (f foldedJob) {
		if f.state = byID[heads[i].ID]; f.state == nil {
			f.state, f.err = j.loaded(heads[i].ID)
		}
		return f
	}) {
		if f.err != nil {
			return verdict.Waste{}, f.err
		}
		w.Add(f.state.Assessment)
	}
	return w, nil
}

func byID(states []*guide.Guide) map[string]*guide.Guide {
	ids := make(map[string]*guide.Guide, len(states))
	for _, s := range states {
		ids[s.ID] = s
	}
	return ids
}

// states are the jobs of a list, folded, some of which may be known.
func (j storeJournal) states(heads []guide.Head, known []*guide.Guide) ([]*guide.Guide, error) {
	states, byID := make([]*guide.Guide, len(heads)), byID(known)
	var rest []guide.Head
	var at []int // places of the rest
	for i, h := range heads {
		if states[i] = byID[h.ID]; states[i] == nil {
			rest, at = append(rest, h), append(at, i)
		}
	}
	err := j.each(rest, nil, func(k int, s *guide.Guide) { states[at[k]] = s })
	return states, err
}
