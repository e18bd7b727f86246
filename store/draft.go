package store

// This file keeps what was typed but not accepted. It does not go into the
// journal: losing it costs a few keys, not a reading.

import (
	"time"

	"garage/tundish/model/job"
)

// Draft is a line that was being typed when the program was left.
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
	return s.change(func(c *change) error {
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

// change makes one transaction that does not go into the journal.
func (s *Store) change(fill func(*change) error) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	state, err := s.ready()
	if err != nil {
		return err
	}
	return s.commit(state, fill)
}
