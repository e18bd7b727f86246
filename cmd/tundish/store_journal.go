package main

// This file lets the screens keep jobs in a store.

import (
	"slices"
	"time"

	"garage/tundish/cmd/tundish/internal/cards"
	"garage/tundish/cmd/tundish/internal/rows"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/share"
	"garage/tundish/store"
	"garage/tundish/tui/session"
)

// storeJournal is a store as the screens see it.
type storeJournal struct{ *store.Store }

var _ session.Journal = storeJournal{}

// Create stores a new job. It may have been begun before others of its unit.
func (j storeJournal) Create(job job.Job, head guide.Head) error {
	if err := j.Store.Create(job, head); err != nil {
		return err
	}
	j.follow(head, "")
	return nil
}

// Append stores entries of a job. Others of its unit may have been begun after it.
func (j storeJournal) Append(id string, head guide.Head, entries ...job.Entry) error {
	was := ""
	if slices.ContainsFunc(entries, func(e job.Entry) bool { // it may be of another unit with them
		return e.Topic == job.Vehicle || e.Topic == job.UnitName || e.Topic == job.Undo
	}) {
		if job, err := j.Load(id); err == nil {
			was = keyOf(job)
		}
	}
	if err := j.Store.Append(id, head, entries...); err != nil {
		return err
	}
	j.follow(head, was)
	return nil
}

// follow makes the heads of later jobs again, of the job's unit and of the one that
// it was of. What was put in is stored, so an error here does not fail the answer:
// a head that is not as it should be costs a place in a list.
func (j storeJournal) follow(head guide.Head, was string) {
	key := unitOf(head)
	if was != "" && was != key {
		_ = jobRows(j.Store).Remake([]rows.Key{{Unit: was}})
	}
	if key == "" {
		return
	}
	newest, _, err := j.List(store.ListOptions{Unit: key, Limit: 1})
	if err == nil && len(newest) > 0 && newest[0].ID != head.ID {
		_ = jobRows(j.Store).Remake([]rows.Key{{Unit: key}})
	}
}

// Unfinished lists the owner's jobs that are not finished, newest first.
func (j storeJournal) Unfinished() ([]guide.Head, error) {
	heads, _, err := j.List(store.ListOptions{OnlyOpen: true})
	heads = own(heads)
	if err == nil {
		// As they are now: what the store keeps with a job of its state and odds rests on the
		// unit's earlier jobs as they were when it was worked, and on the arithmetic of that
		// time. That of a job that cannot be read stays.
		_ = j.each(heads, nil, func(i int, s *guide.Guide) { heads[i] = s.Head() })
	}
	return heads, err
}

// Units lists the newest job of each of the owner's units.
func (j storeJournal) Units() ([]guide.Head, error) {
	heads, err := j.Store.Units()
	return own(heads), err
}

// own leaves out jobs that others have shared: they are of no unit here, and
// are not continued here.
func own(heads []guide.Head) []guide.Head {
	return slices.DeleteFunc(heads, func(h guide.Head) bool { return share.IsCopy(h.ID) })
}

// SaveDraft keeps what is half typed; an empty text drops it.
func (j storeJournal) SaveDraft(id string, d session.Draft) error {
	return j.Store.SaveDraft(id, store.Draft{Topic: d.Place.Topic, Round: d.Place.Round, Item: d.Place.Item, Text: d.Text, At: d.At})
}

// LoadDraft gives what was half typed; the zero Draft where nothing was.
func (j storeJournal) LoadDraft(id string) (session.Draft, error) {
	d, found, err := j.Store.LoadDraft(id)
	if err != nil || !found {
		return session.Draft{}, err
	}
	return session.Draft{Place: job.Place{Topic: d.Topic, Round: d.Round, Item: d.Item}, Text: d.Text, At: d.At}, nil
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
	unit, before, err := j.earlier(job)
	if err != nil {
		return guide.Offers{}, err
	}
	ofRig, err := j.ownBefore(job.Started, rigLessons)
	if err != nil {
		return guide.Offers{}, err
	}
	rig, err := j.states(ofRig, unit)
	if err != nil {
		return guide.Offers{}, err
	}
	offers := guide.OffersOf(unit[:min(len(unit), unitLessons)], rig)
	offers.Before = before
	if offers.OpenUnits, err = j.openUnits(job); err != nil {
		return guide.Offers{}, err
	}
	offers.Cards = cards.In(store.CardsBeside(j.Path()))
	units, err := j.Car(job)
	offers.ToCome = units.ToCome(job.ID)
	return offers, err
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
