package store

// This file stores jobs and their entries, and reads them.

import (
	"slices"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// Create stores a new job with the entries it has, and its line in the list.
// It is durable when Create returns nil. ErrExists where the id is taken.
func (s *Store) Create(job job.Job, head guide.Head) error {
	return s.accept(func(snapshot) ([]line, error) { return []line{creation(job, head)}, nil })
}

func creation(job job.Job, head guide.Head) line {
	return line{Job: job.ID, Started: &job.Started, Entries: slices.Clone(job.Entries), Head: &head}
}

// Append stores the next entries of a job, all or none, and its new line in the
// list; the job's draft is dropped with it. They are durable when Append
// returns nil. ErrOutOfOrder where they do not go on at the number of entries
// plus one; ErrNoJob; ErrInvalid.
func (s *Store) Append(id string, head guide.Head, entries ...job.Entry) error {
	return s.accept(func(snapshot) ([]line, error) {
		return []line{{Job: id, Entries: slices.Clone(entries), Head: &head}}, nil
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

// eachJob reads every job, by id.
func (s snapshot) eachJob(each func(job.Job, jobRecord) error) error {
	return s.walk(jobsBucket, nil, false, func(key, _ []byte) (bool, error) {
		job, r, err := s.load(string(key))
		if err != nil {
			return false, err
		}
		return true, each(job, r)
	})
}
