package store

// This file stores jobs, their entries and what was typed but not accepted, and
// reads them.

import (
	"slices"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/store/journal"
)

// Create stores a new job with the entries it has, and its line in the list.
// It is durable when Create returns nil. ErrExists where the id is taken.
func (s *Store) Create(job job.Job, head guide.Head) error {
	return s.accept(func(snapshot) ([]journal.Line, error) { return []journal.Line{creation(job, head)}, nil })
}

func creation(job job.Job, head guide.Head) journal.Line {
	return journal.Line{Job: job.ID, Started: &job.Started, Entries: slices.Clone(job.Entries), Head: &head}
}

// Append stores the next entries of a job, all or none, and its new line in the
// list; the job's draft is dropped with it. They are durable when Append
// returns nil. ErrOutOfOrder where they do not go on at the number of entries
// plus one; ErrNoJob; ErrInvalid.
func (s *Store) Append(id string, head guide.Head, entries ...job.Entry) error {
	return s.accept(func(snapshot) ([]journal.Line, error) {
		return []journal.Line{{Job: id, Entries: slices.Clone(entries), Head: &head}}, nil
	})
}

// Load reads a job. ErrNoJob where there is none.
func (s *Store) Load(id string) (job job.Job, err error) {
	err = s.view(func(state snapshot) error {
		job, _, err = state.load(id)
		return err
	})
	return job, err
}

// Draft is a line that was being typed when the program was left. It is not in
// the journal: losing it costs a few keys, not a reading.
type Draft struct {
	Topic job.Topic `json:"topic"` // what it was the answer to
	Round int       `json:"round,omitempty"`
	Item  int       `json:"item,omitempty"`
	Text  string    `json:"text"` // to the letter
	At    time.Time `json:"at"`
}

// SaveDraft keeps a job's draft in place of the one before; an empty text drops
// it. The job need not be there yet.
func (s *Store) SaveDraft(id string, d Draft) error {
	if err := job.CheckID(id); err != nil {
		return invalid(s.path, "%v", err)
	}
	if len(d.Text) > job.MaxTextBytes {
		return invalid(s.path, "a draft must be %d bytes at most", job.MaxTextBytes)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	state, err := s.ready()
	if err != nil {
		return err
	}
	return s.commit(state, func(c *change) error {
		if d.Text == "" {
			return c.del(draftsBucket, []byte(id))
		}
		return c.putJSON(draftsBucket, []byte(id), d)
	})
}

// LoadDraft reads a job's draft; false where there is none.
func (s *Store) LoadDraft(id string) (d Draft, found bool, err error) {
	err = s.view(func(state snapshot) error {
		found, err = state.getJSON(draftsBucket, []byte(id), &d)
		return err
	})
	return d, found, err
}
