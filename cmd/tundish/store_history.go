package main

// This file reads the jobs of a unit for its history.

import (
	"iter"
	"slices"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
	"garage/tundish/store"
	"garage/tundish/tui/history"
)

// History gathers a unit's jobs, the one that is open too, newest first, with
// what the owner's jobs have taught and the waste oil that waits over all of
// them. Each job is read once, and one of another unit not kept.
func (j storeJournal) History(job job.Job) (history.Data, error) {
	unit, err := j.unitStates(job)
	if err != nil {
		return history.Data{}, err
	}
	heads, _, err := j.List(store.ListOptions{})
	if err != nil {
		return history.Data{}, err
	}
	heads = slices.DeleteFunc(own(heads), func(h guide.Head) bool { return h.UnitState == verdict.AsFound }) // no oil came out
	var waste verdict.Waste
	var rig []*guide.Guide
	for i, f := range j.fold(heads, unit) {
		if f.err != nil {
			return history.Data{}, f.err
		}
		waste.Add(f.state.Assessment)
		if i < rigLessons {
			rig = append(rig, f.state)
		}
	}
	return history.Of(unit, verdict.Learn(guide.Assessments(unit[:min(len(unit), unitLessons)]), guide.Assessments(rig)), waste, time.Local), nil
}

// unitStates are the jobs of a job's unit, newest first; of one whose unit has
// no name yet, it alone.
func (j storeJournal) unitStates(job job.Job) ([]*guide.Guide, error) {
	alone := guide.Fold(job, guide.Offers{})
	key := alone.Head().UnitKey()
	if key == "" {
		return []*guide.Guide{alone}, nil
	}
	heads, _, err := j.List(store.ListOptions{Unit: key})
	if err != nil {
		return nil, err
	}
	return j.states(heads, nil)
}

// states are the jobs of a list, folded.
func (j storeJournal) states(heads []guide.Head, known []*guide.Guide) ([]*guide.Guide, error) {
	var states []*guide.Guide
	for _, f := range j.fold(heads, known) {
		if f.err != nil {
			return nil, f.err
		}
		states = append(states, f.state)
	}
	return states, nil
}

// foldedJob is a job of a list, folded without offers.
type foldedJob struct {
	state *guide.Guide
	err   error
}

// fold reads the jobs of a list in order, but for those that are known.
func (j storeJournal) fold(heads []guide.Head, known []*guide.Guide) iter.Seq2[int, foldedJob] {
	byID := map[string]*guide.Guide{}
	for _, s := range known {
		byID[s.ID] = s
	}
	return inOrder(len(heads), func(i int) foldedJob {
		if s := byID[heads[i].ID]; s != nil {
			return foldedJob{state: s}
		}
		s, err := j.state(heads[i].ID)
		return foldedJob{s, err}
	})
}

// state is a job, folded without offers.
func (j storeJournal) state(id string) (*guide.Guide, error) {
	job, err := j.Load(id)
	if err != nil {
		return nil, err
	}
	return guide.Fold(job, guide.Offers{}), nil
}
