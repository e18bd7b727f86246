package main

// This file finds what the store knows of the other units of a job's car.

import (
	"slices"

	"garage/tundish/model/ask"
	"garage/tundish/model/car"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/share"
	"garage/tundish/model/verdict"
	"garage/tundish/store"
)

// openUnits are the units of a job's car, but for its own, that are not known to hold
// what belongs in, last begun first: by the last job of each that did anything to it,
// finished, stopped or under way.
func (j storeJournal) openUnits(of job.Job) (open []ask.OpenUnit, err error) {
	s := job.Fold(of)
	vehicle, own := s.Vehicle(), keyOf(of)
	if vehicle == "" {
		return nil, nil
	}
	units, err := j.Store.Units()
	if err != nil {
		return nil, err
	}
	for _, h := range units {
		if key := h.UnitKey(); !sameCar(h.Vehicle, vehicle) || key == own {
			continue
		}
		h, off, err := j.lastDone(h)
		if err != nil {
			return nil, err
		}
		if off {
			open = append(open, ask.OpenUnit{Name: h.UnitName, State: h.UnitState})
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

// Car is the units that are done in one go with a job's; none where it is done alone. One
// that is of another car by now is left out.
func (j storeJournal) Car(of job.Job) (car.Session, error) {
	s := job.Fold(of)
	id := s.Text(job.Session)
	if id == "" || share.IsCopy(of.ID) {
		return car.Session{}, nil
	}
	heads, err := j.sessionHeads(id, s.Vehicle())
	if err != nil {
		return car.Session{}, err
	}
	heads = slices.DeleteFunc(heads, func(h guide.Head) bool { return h.ID == of.ID || !sameCar(h.Vehicle, s.Vehicle()) })
	jobs, err := j.states(heads, nil)
	if err != nil {
		return car.Session{}, err
	}
	if of.ID != "" {
		own, err := j.fold(of)
		if err != nil {
			return car.Session{}, err
		}
		jobs = append(jobs, own)
	}
	return car.New(id, jobs)
}

// sessionHeads are the owner's jobs of a session: of all units of the car, and those that
// are open and have no name yet.
func (j storeJournal) sessionHeads(id, vehicle string) (heads []guide.Head, err error) {
	units, err := j.Store.Units()
	if err != nil {
		return nil, err
	}
	lists := []store.ListOptions{{OnlyOpen: true}}
	for _, h := range units {
		if sameCar(h.Vehicle, vehicle) {
			lists = append(lists, store.ListOptions{Unit: h.UnitKey()})
		}
	}
	for _, o := range lists {
		some, _, err := j.List(o)
		if err != nil {
			return nil, err
		}
		for _, h := range own(some) {
			known := slices.ContainsFunc(heads, func(k guide.Head) bool { return k.ID == h.ID })
			if h.Session == id && !known {
				heads = append(heads, h)
			}
		}
	}
	return heads, nil
}

func sameCar(a, b string) bool { return job.Canonical(a) == job.Canonical(b) }
