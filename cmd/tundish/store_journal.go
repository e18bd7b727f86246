package main

// This file lets the screens keep jobs in a store.

import (
	"garage/tundish/model"
	"garage/tundish/store"
	"garage/tundish/tui"
)

// storeJournal is a store as the screens see it.
type storeJournal struct{ *store.Store }

var _ tui.Journal = storeJournal{}

// Unfinished lists the jobs that still want something, newest first.
func (j storeJournal) Unfinished() ([]model.Head, error) {
	heads, _, err := j.List(store.ListOptions{OnlyOpen: true})
	return heads, err
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

// Offers is what the newest earlier job of the same unit was told; of another
// unit only what belongs to the garage.
func (j storeJournal) Offers(job model.Job) (model.Offers, error) {
	heads, err := j.UnitJobs(headOf(job).UnitKey(), 0)
	if err != nil {
		return model.Offers{}, err
	}
	if earlier, found := newestBefore(job, heads); found {
		answers, err := j.factsOf(earlier)
		return model.Offers{Answers: answers}, err
	}
	heads, _, err = j.List(store.ListOptions{})
	if err != nil {
		return model.Offers{}, err
	}
	earlier, found := newestBefore(job, heads)
	if !found {
		return model.Offers{}, nil
	}
	answers, err := j.factsOf(earlier)
	for place := range answers {
		if !ofGarage(place.Topic) {
			delete(answers, place)
		}
	}
	return model.Offers{Answers: answers}, err
}

// newestBefore is the first of a list, newest first, that was started before a
// job.
func newestBefore(job model.Job, heads []model.Head) (model.Head, bool) {
	for _, h := range heads {
		if h.ID != job.ID && h.Started.Before(job.Started) {
			return h, true
		}
	}
	return model.Head{}, false
}

// factsOf are the facts that a job leaves for the next. The odometer has moved
// on, so it is asked anew; the level is known where the fill was proven.
func (j storeJournal) factsOf(h model.Head) (map[model.Place]model.Value, error) {
	job, err := j.Load(h.ID)
	if err != nil {
		return nil, err
	}
	answers := model.Fold(job, model.Offers{}).Facts()
	delete(answers, model.Place{Topic: model.Odometer})
	if h.UnitState == model.Proven {
		answers[model.Place{Topic: model.PriorLevel}] = model.Value{Choice: model.Verified.String()}
	}
	return answers, nil
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
