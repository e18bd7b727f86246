// Package session holds one open job as every front end works on it, the screens,
// the line mode and the stream: what is stored of it, what is shown of it, and the
// visit that is before the person. Reading and writing are effects, each in a
// function of its own; all else is pure.
//
// This file says what a front end needs of a store. It knows no more of it.
package session

import (
	"time"

	"garage/tundish/model/car"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/tui/history"
)

// Journal keeps jobs. Append is durable when it returns nil, all of its entries or
// none.
type Journal interface {
	Create(job job.Job, head guide.Head) error
	Append(id string, head guide.Head, entries ...job.Entry) error
	Load(id string) (job.Job, error)
	// Unfinished lists the jobs that are not finished, newest first.
	Unfinished() ([]guide.Head, error)
	// Units lists the newest job of each unit.
	Units() ([]guide.Head, error)
	// Car is the units that are done in one go with a job's, its own among them; none where
	// it is done alone.
	Car(job job.Job) (car.Session, error)
	// Offers is what jobs before the given one bring to it, the unit's job before it too.
	Offers(job job.Job) (guide.Offers, error)
	// History gathers the jobs of a job's unit.
	History(job job.Job) (history.Data, error)
	SaveDraft(id string, d Draft) error
	// LoadDraft gives what was half typed; the zero Draft where nothing was.
	LoadDraft(id string) (Draft, error)
}

// Known lists the jobs that are not finished, newest first, and the newest job of each unit:
// what a front end offers to open. The error is the journal's.
func Known(j Journal) (unfinished, units []guide.Head, err error) {
	if unfinished, err = j.Unfinished(); err == nil {
		units, err = j.Units()
	}
	return unfinished, units, err
}

// Draft is what was half typed in answer to a question: never a reading.
type Draft struct {
	Place job.Place
	Text  string
	At    time.Time
}
