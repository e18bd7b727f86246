package store

// This file reads the list of jobs, each kind of list by its own index.

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"garage/tundish/model"
)

// Cursor is a place in a list: what List gave as next. Empty is the beginning,
// and the end.
type Cursor string

// ListOptions say which part of the list to read.
type ListOptions struct {
	Limit    int    // lines at most; 0 all
	After    Cursor // go on from here
	OnlyOpen bool   // unfinished jobs only: phase Open or ToRecheck
}

// List reads the list of jobs, the newest started first, and where to go on;
// next is empty at the end.
func (s *Store) List(o ListOptions) (heads []model.Head, next Cursor, err error) {
	index := startedBucket
	if o.OnlyOpen {
		index = openBucket
	}
	var from, last []byte
	if o.After != "" {
		from = []byte(o.After)
	}
	err = s.view(func(state snapshot) error {
		return state.walk(index, from, true, func(key, _ []byte) (bool, error) {
			if o.Limit > 0 && len(heads) == o.Limit {
				next = Cursor(last)
				return false, nil
			}
			h, err := state.listed(index, key, key)
			heads, last = append(heads, h), key
			return true, err
		})
	})
	if err != nil {
		return nil, "", err
	}
	return heads, next, nil
}

// UnitJobs reads the jobs of one unit (model.UnitKey), the newest started
// first; limit 0 is all.
func (s *Store) UnitJobs(unitKey string, limit int) (heads []model.Head, err error) {
	prefix := unitPrefix(unitKey)
	err = s.view(func(state snapshot) error {
		return state.walk(unitsBucket, past(prefix), true, func(key, _ []byte) (bool, error) {
			if !bytes.HasPrefix(key, prefix) || limit > 0 && len(heads) == limit {
				return false, nil
			}
			h, err := state.listed(unitsBucket, key, key[len(prefix):])
			heads = append(heads, h)
			return true, err
		})
	})
	if err != nil {
		return nil, err
	}
	return heads, nil
}

// Units reads the newest started job of each unit, the newest first.
func (s *Store) Units() (heads []model.Head, err error) {
	err = s.view(func(state snapshot) error {
		for from, more := []byte(nil), true; more; {
			more = false
			err := state.walk(unitsBucket, from, true, func(key, _ []byte) (bool, error) {
				prefix, timed, ok := unitOf(key)
				if !ok {
					return false, damage(s.path, "units %q: %v", key, errSum)
				}
				h, err := state.listed(unitsBucket, key, timed)
				heads = append(heads, h)
				from, more = prefix, true
				return false, err
			})
			if err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(heads, func(a, b model.Head) int { return b.Started.Compare(a.Started) })
	return heads, nil
}

// listed is the line of the job that an index names, which must name that place.
func (s snapshot) listed(index string, key, timed []byte) (model.Head, error) {
	id := timedID(timed)
	r, found, err := s.job(id)
	if err != nil {
		return model.Head{}, err
	}
	if !found || !slices.Contains(indexKeys(id, r), indexKey{index, string(key)}) {
		return model.Head{}, damage(s.path, "%s: job %q is not where it should be", index, id)
	}
	return r.Head, nil
}

// NewestWord is what Find takes for the job that was last added or added to.
const NewestWord = "last"

const maxNamed = 5 // ids that an error lists

// Find gives the id that a user means: an id, the word "last" for the job
// last added or added to, or the beginning of just one id. ErrNoJob, ErrAmbiguous.
func (s *Store) Find(given string) (id string, err error) {
	err = s.view(func(state snapshot) error {
		_, found, err := state.job(given)
		switch {
		case err != nil:
			return err
		case found:
			id = given
			return nil
		case given == NewestWord:
			id, err = state.newest()
		default:
			id, err = state.beginning(given)
		}
		if err == nil && id == "" {
			return noJob(s.path, given)
		}
		return err
	})
	return id, err
}

// newest is the job of the line that was accepted last.
func (s snapshot) newest() (id string, err error) {
	var m mark
	if _, err := s.getJSON(aboutBucket, []byte(markKey), &m); err != nil || m.Job == "" {
		return "", err
	}
	if _, found, err := s.job(m.Job); err != nil || !found {
		return "", damage(s.path, "job %q, the last one, is not there", m.Job)
	}
	return m.Job, nil
}

// beginning is the one job whose id begins so; empty where none does.
func (s snapshot) beginning(prefix string) (string, error) {
	if prefix == "" {
		return "", nil
	}
	var ids []string
	err := s.walk(jobsBucket, []byte(prefix), false, func(key, _ []byte) (bool, error) {
		if !strings.HasPrefix(string(key), prefix) || len(ids) > maxNamed {
			return false, nil
		}
		ids = append(ids, string(key))
		return true, nil
	})
	if err != nil || len(ids) == 0 {
		return "", err
	}
	if len(ids) == 1 {
		return ids[0], nil
	}
	named := strings.Join(ids[:min(len(ids), maxNamed)], ", ")
	if len(ids) > maxNamed {
		named += ", …"
	}
	return "", &Error{Kind: ErrAmbiguous, Path: s.path, Fact: fmt.Sprintf("more than one job begins with %q: %s", prefix, named),
		Next: "type more of the id"}
}
