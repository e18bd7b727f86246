package main

// This file reads the jobs of a unit for its history.

import (
	"time"

	"garage/tundish/model"
	"garage/tundish/store"
	"garage/tundish/tui/history"
)

// wasteJobs is how many of the newest jobs are looked at for waste oil that
// waits.
const wasteJobs = 200

// History gathers a unit's jobs, the one that is open too, newest first.
func (j storeJournal) History(job model.Job) (history.Data, error) {
	unit, err := j.unitStates(job)
	if err != nil {
		return history.Data{}, err
	}
	heads, _, err := j.List(store.ListOptions{Limit: wasteJobs})
	if err != nil {
		return history.Data{}, err
	}
	all, err := j.states(heads)
	if err != nil {
		return history.Data{}, err
	}
	return history.Of(unit, all[:min(len(all), rigLessons)], all, time.Local), nil
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
		job, err := j.Load(h.ID)
		if err != nil {
			return nil, err
		}
		states = append(states, model.Fold(job, model.Offers{}))
	}
	return states, nil
}
