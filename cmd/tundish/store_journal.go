package main

// This file lets the screens keep jobs in a store.

import (
	"slices"

	"garage/tundish/model"
	"garage/tundish/model/summary"
	"garage/tundish/store"
	"garage/tundish/tui"
)

// storeJournal is a store as the screens see it.
type storeJournal struct{ *store.Store }

var _ tui.Journal = storeJournal{}

// Unfinished lists the owner's jobs that still want something, newest first.
func (j storeJournal) Unfinished() ([]model.Head, error) {
	heads, _, err := j.List(store.ListOptions{OnlyOpen: true})
	return own(heads), err
}

// Units lists the newest job of each of the owner's units.
func (j storeJournal) Units() ([]model.Head, error) {
	heads, err := j.Store.Units()
	return own(heads), err
}

// own leaves out jobs that others have shared: they are of no unit here, and
// nobody goes on with them.
func own(heads []model.Head) []model.Head {
	return slices.DeleteFunc(heads, func(h model.Head) bool { return summary.IsShared(h.ID) })
}

// SaveDraft keeps what is half typed; an empty text drops it.
func (j storeJournal) SaveDraft(id string, d tui.Draft) error {
	return j.Store.SaveDraft(id, store.Draft{Topic: d.Place.Topic, Round: d.Place.Round, Item: d.Place.Item, Text: d.Text, At: d.At})
}

// LoadDraft gives what was half typed; the zero Draft where nothing was.
func (j storeJournal) LoadDraft(id string) (tui.Draft, error) {
	d, found, err := j.Store.LoadDraft(id)
	if err != nil || !found {
		return tui.Draft{}, err
	}
	return tui.Draft{Place: model.Place{Topic: d.Topic, Round: d.Round, Item: d.Item}, Text: d.Text, At: d.At}, nil
}

// folded is a job with its state, as the screens see it.
func (j storeJournal) folded(id string) (model.Job, *model.State, error) {
	job, err := j.Load(id)
	if err != nil {
		return model.Job{}, nil, err
	}
	offers, err := j.Offers(job)
	if err != nil {
		return model.Job{}, nil, err
	}
	return job, model.Fold(job, offers), nil
}

// How many earlier jobs are looked at for what they teach: all that matter.
const (
	unitLessons = 50
	rigLessons  = 30
)

// Offers is what earlier jobs bring to a job: the facts of the newest of the
// same unit, or, of another unit, what belongs to the garage; and what the
// unit's and the rig's own jobs teach.
func (j storeJournal) Offers(job model.Job) (model.Offers, error) {
	unitHeads, err := j.UnitJobs(headOf(job).UnitKey(), 0)
	if err != nil {
		return model.Offers{}, err
	}
	unit, err := j.before(job, unitHeads, unitLessons)
	if err != nil {
		return model.Offers{}, err
	}
	heads, _, err := j.List(store.ListOptions{})
	if err != nil {
		return model.Offers{}, err
	}
	rig, err := j.before(job, own(heads), rigLessons)
	if err != nil {
		return model.Offers{}, err
	}
	lessons := model.Learn(unit, rig)
	return model.Offers{Answers: answersOf(unit, rig), Residual: lessons.Residual, Escape: lessons.Escape}, nil
}

// before folds the jobs of a list, newest first, that were started before a
// job, at most so many.
func (j storeJournal) before(job model.Job, heads []model.Head, most int) ([]*model.State, error) {
	var states []*model.State
	for _, h := range heads {
		if h.ID == job.ID || !h.Started.Before(job.Started) {
			continue
		}
		if len(states) == most {
			break
		}
		s, err := j.state(h.ID)
		if err != nil {
			return nil, err
		}
		states = append(states, s)
	}
	return states, nil
}

// answersOf are the answers on offer. Where the last fill of the unit was
// proven, its level is known.
func answersOf(unit, rig []*model.State) map[model.Place]model.Value {
	if len(unit) > 0 {
		answers := unit[0].Facts()
		if unit[0].UnitState() == model.Proven {
			answers[model.Place{Topic: model.PriorLevel}] = model.Value{Choice: model.Verified.String()}
		}
		return answers
	}
	if len(rig) == 0 {
		return nil
	}
	answers := rig[0].Facts()
	for place := range answers {
		if !ofGarage(place.Topic) {
			delete(answers, place)
		}
	}
	return answers
}

// ofGarage says whether a fact belongs to the garage rather than to a unit: the
// units shown, what measures, what fills.
func ofGarage(t model.Topic) bool {
	if t == model.DisplayUnits {
		return true
	}
	part := model.SpecOf(t).Part
	return part == model.SpecOf(model.ContainerName).Part || part == model.SpecOf(model.Filler).Part
}
