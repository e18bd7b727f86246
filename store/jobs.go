package store

// This file stores and reads jobs, their entries, and drafts.

import (
	"slices"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/store/fault"
	"garage/tundish/store/journal"
	"garage/tundish/store/record"
)

// Create stores a new job with its entries and its head. It is durable when Create
// returns nil. It is an error if the id exists.
func (s *Store) Create(job job.Job, head guide.Head) error {
	return s.accept(func(snapshot) ([]journal.Line, error) {
		return []journal.Line{{Job: job.ID, Started: &job.Started, Entries: slices.Clone(job.Entries), Head: &head}}, nil
	})
}

// Append stores the next entries of a job, all or none, and its new head; the job's
// draft is deleted. They are durable when Append returns nil. It is an error if the
// first is not number count+1, if there is no such job, or if one is not valid.
func (s *Store) Append(id string, head guide.Head, entries ...job.Entry) error {
	return s.accept(func(snapshot) ([]journal.Line, error) {
		return []journal.Line{{Job: id, Entries: slices.Clone(entries), Head: &head}}, nil
	})
}

// Load reads a job. It is an error if there is no such job, or if it is discarded.
func (s *Store) Load(id string) (job job.Job, err error) {
	err = s.view(func(state snapshot) error {
		var r record.Job
		if job, r, err = state.Load(id); err == nil && r.Discarded() {
			err = fault.Discarded(s.path, id)
		}
		return err
	})
	return job, err
}

// Draft is a line that was being typed when the program ended. It is not in the
// journal: losing it costs a few keystrokes, not a reading.
type Draft struct {
	Topic job.Topic `json:"topic"` // the question it answers
	Round int       `json:"round,omitempty"`
	Item  int       `json:"item,omitempty"`
	Text  string    `json:"text"` // exactly as typed
	At    time.Time `json:"at"`
}

// SaveDraft replaces a job's draft; an empty text deletes it. The job need not exist
// yet.
func (s *Store) SaveDraft(id string, d Draft) error {
	if err := job.CheckID(id); err != nil {
		return fault.Invalid(s.path, "%v", err)
	}
	if len(d.Text) > job.MaxTextBytes {
		return fault.Invalid(s.path, "a draft must be %d bytes at most", job.MaxTextBytes)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	state, err := s.ready()
	if err != nil {
		return err
	}
	return s.commit(state, func(c *change) error {
		if d.Text == "" {
			return c.Del(record.Drafts, []byte(id))
		}
		return c.PutJSON(record.Drafts, []byte(id), d)
	})
}

// LoadDraft reads a job's draft, if there is one.
func (s *Store) LoadDraft(id string) (d Draft, found bool, err error) {
	err = s.view(func(state snapshot) error {
		found, err = state.GetJSON(record.Drafts, []byte(id), &d)
		return err
	})
	return d, found, err
}
