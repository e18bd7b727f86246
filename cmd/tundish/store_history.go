package main

// This file reads the jobs of a unit for the screen of its history.

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
	unitHeads, err := j.UnitJobs(headOf(job).UnitKey(), 0)
	if err != nil {
		return history.Data{}, err
	}
	unit, err := j.states(unitHeads)
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
