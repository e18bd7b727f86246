package main

// This file finds what the store knows of the other units of a job's car.

import (
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
	"garage/tundish/store"
)

// openUnits are the units of a job's car, but for its own, that are not known to hold
// what belongs in, last begun first: by the last job of each that did anything to it,
// finished, stopped or under way.
func (j storeJournal) openUnits(of job.Job) (open []guide.OpenUnit, err error) {
	s := job.Fold(of)
	car, own := job.Canonical(s.Vehicle()), keyOf(of)
	if car == "" {
		return nil, nil
	}
	units, err := j.Store.Units()
	if err != nil {
		return nil, err
	}
	for _, h := range units {
		if key := h.UnitKey(); job.Canonical(h.Vehicle) != car || key == own {
			continue
		}
		h, off, err := j.lastDone(h)
		if err != nil {
			return nil, err
		}
		if off {
			open = append(open, guide.OpenUnit{Name: h.UnitName, State: h.UnitState})
		}
	}
	return open, nil
}

// lastDone is the head of the owner's last job of a unit that did anything to it, and
// whether the unit must not be turned as that left it; newest is the unit's newest.
func (j storeJournal) lastDone(newest guide.Head) (h guide.Head, off bool, err error) {
	heads := []guide.Head{newest}
	if newest.UnitState == verdict.AsFound || unitOf(newest) == "" {
		if heads, _, err = j.List(store.ListOptions{Unit: newest.UnitKey()}); err != nil {
			return guide.Head{}, false, err
		}
	}
	for _, h := range own(heads) {
		if h.UnitState != verdict.AsFound {
			off, err := j.keepsOff(h)
			return h, off, err
		}
	}
	return newest, false, nil
}

// keepsOff reports whether a unit, by its last job, must not be turned: empty, not
// proven, or left further off than a car may be driven with.
func (j storeJournal) keepsOff(h guide.Head) (bool, error) {
	switch h.UnitState {
	case verdict.Empty, verdict.Unproven:
		return true, nil
	case verdict.LeftOff:
		s, err := j.state(h.ID)
		return err == nil && !s.MayDrive(), err
	}
	return false, nil
}
