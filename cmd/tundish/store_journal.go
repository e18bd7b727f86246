package main

// This file lets the screens keep jobs in a store.

import (
	"slices"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/report"
	"garage/tundish/model/verdict"
	"garage/tundish/store"
	"garage/tundish/tui"
)

// storeJournal is a store as the screens see it.
type storeJournal struct{ *store.Store }

var _ tui.Journal = storeJournal{}

// List lists the jobs as the store does. A job that was closed before the odds
// were kept with its line is read, for what it counts as.
func (j storeJournal) List(o store.ListOptions) ([]guide.Head, store.Cursor, error) {
	heads, next, err := j.Store.List(o)
	for i, h := range heads {
		if h.UnitState != verdict.Proven || h.Odds != 0 {
			continue
		}
		if s, err := j.state(h.ID); err == nil { // one that cannot be read stays in the list
			heads[i] = s.Head()
		}
	}
	return heads, next, err
}

// Unfinished lists the owner's jobs that are not finished, newest first.
func (j storeJournal) Unfinished() ([]guide.Head, error) {
	heads, _, err := j.List(store.ListOptions{OnlyOpen: true})
	return own(heads), err
}

// Units lists the newest job of each of the owner's units.
func (j storeJournal) Units() ([]guide.Head, error) {
	heads, err := j.Store.Units()
	return own(heads), err
}

// own leaves out jobs that others have shared: they are of no unit here, and
// are not continued here.
func own(heads []guide.Head) []guide.Head {
	return slices.DeleteFunc(heads, func(h guide.Head) bool { return report.IsShared(h.ID) })
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
	return tui.Draft{Place: job.Place{Topic: d.Topic, Round: d.Round, Item: d.Item}, Text: d.Text, At: d.At}, nil
}

// How many earlier jobs are looked at for what they teach: all that matter.
const (
	unitLessons = 50
	rigLessons  = 30
)

// Offers is what earlier jobs bring to a job: the facts of the newest of the
// same unit, or, of another unit, what belongs to the garage; and what the
// unit's and the rig's own jobs teach.
func (j storeJournal) Offers(job job.Job) (guide.Offers, error) {
	var ofUnit []guide.Head
	var err error
	if key := headOf(job).UnitKey(); key != "" {
		ofUnit, _, err = j.List(store.ListOptions{Unit: key, Before: job.Started, Limit: unitLessons})
	}
	if err != nil {
		return guide.Offers{}, err
	}
	ofRig, err := j.ownBefore(job.Started, rigLessons)
	if err != nil {
		return guide.Offers{}, err
	}
	unit, err := j.states(ofUnit, nil)
	if err != nil {
		return guide.Offers{}, err
	}
	rig, err := j.states(ofRig, unit)
	if err != nil {
		return guide.Offers{}, err
	}
	return guide.OffersOf(unit, rig), nil
}

// ownBefore lists the owner's jobs that were started before a moment, newest
// first, at most the given number.
func (j storeJournal) ownBefore(moment time.Time, most int) (heads []guide.Head, err error) {
	for o := (store.ListOptions{Before: moment, Limit: most}); ; {
		some, next, err := j.List(o)
		if err != nil {
			return nil, err
		}
		heads = append(heads, own(some)...)
		if o.After = next; next == "" || len(heads) >= most {
			return heads[:min(len(heads), most)], nil
		}
	}
}
