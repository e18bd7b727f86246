package main

// This file reads the jobs of a unit for its history.

import (
	"time"

	"garage/tundish/model"
	"garage/tundish/model/summary"
	"garage/tundish/store"
	"garage/tundish/tui/history"
)

// History gathers a unit's jobs, the one that is open too, newest first, with
// what the owner's jobs have taught and the waste oil that waits over all of
// them. Each job is read once, and one of another unit not kept.
func (j storeJournal) History(job model.Job) (history.Data, error) {
	unit, err := j.unitStates(job)
	if err != nil {
		return history.Data{}, err
	}
	ofUnit := map[string]*model.State{}
	for _, s := range unit {
		ofUnit[s.ID] = s
	}
	heads, _, err := j.List(store.ListOptions{})
	if err != nil {
		return history.Data{}, err
	}
	var waste model.Waste
	var rig []*model.State
	for _, h := range heads {
		if summary.IsShared(h.ID) || h.UnitState == model.AsFound {
			continue // of another's rig, or no oil came out
		}
		s := ofUnit[h.ID]
		if s == nil {
			if s, err = j.state(h.ID); err != nil {
				return history.Data{}, err
			}
		}
		waste.Add(s)
		if len(rig) < rigLessons {
			rig = append(rig, s)
		}
	}
	return history.Of(unit, model.Learn(unit[:min(len(unit), unitLessons)], rig), waste, time.Local), nil
}

// unitStates are the jobs of a job's unit, newest first; of one whose unit has
// no name yet, it alone.
func (j storeJournal) unitStates(job model.Job) ([]*model.State, error) {
	head := headOf(job)
	if head.UnitKey() == "" {
		return j.states([]model.Head{head})
	}
	heads, err := j.UnitJobs(head.UnitKey(), 0)
	if err != nil {
		return nil, err
	}
	return j.states(heads)
}

func (j storeJournal) states(heads []model.Head) ([]*model.State, error) {
	var states []*model.State
	for _, h := range heads {
		s, err := j.state(h.ID)
		if err != nil {
			return nil, err
		}
		states = append(states, s)
	}
	return states, nil
}

// state is a job, folded for what it says: nothing is offered to it.
func (j storeJournal) state(id string) (*model.State, error) {
	job, err := j.Load(id)
	if err != nil {
		return nil, err
	}
	return model.Fold(job, model.Offers{}), nil
}
