package store

// This file reads the list of jobs, each kind of list by its own index.

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/store/journal"
)

// Cursor is a place in a list: what List gave as next. Empty is the beginning,
// and the end.
type Cursor string

// ListOptions say which part of the list to read. The zero value is all of it.
type ListOptions struct {
	Limit    int       // lines at most; 0 all
	After    Cursor    // go on from here
	Unit     string    // jobs of this unit only (job.UnitKey)
	Before   time.Time // jobs started before this only
	OnlyOpen bool      // unfinished jobs only: phase Open or ToRecheck
}

// from is the index to read, what its keys begin with, and the key before which
// to start; nil is at the end.
func (o ListOptions) from() (index string, prefix, end []byte) {
	switch {
	case o.Unit != "":
		index, prefix = unitsBucket, unitPrefix(o.Unit)
	case o.OnlyOpen:
		index = openBucket
	default:
		index = startedBucket
	}
	switch {
	case o.After != "":
		end = []byte(o.After)
	case !o.Before.IsZero():
		end = slices.Concat(prefix, timeKey(o.Before))
	default:
		end = past(prefix)
	}
	return index, prefix, end
}

// List reads the list of jobs, the newest started first, and where to go on;
// next is empty at the end.
func (s *Store) List(o ListOptions) (heads []guide.Head, next Cursor, err error) {
	index, prefix, end := o.from()
	err = s.view(func(state snapshot) error {
		var last []byte
		for e, err := range state.records(index, end, true) {
			switch {
			case err != nil:
				return err
			case !bytes.HasPrefix(e.Key, prefix):
				return nil
			case o.Limit > 0 && len(heads) == o.Limit:
				next = Cursor(last)
				return nil
			}
			h, err := state.listed(index, e.Key, e.Key[len(prefix):])
			if err != nil {
				return err
			}
			if !o.OnlyOpen || unfinished(h) {
				heads, last = append(heads, h), e.Key
			}
		}
		return nil
	})
	if err != nil {
		return nil, "", err
	}
	return heads, next, nil
}

// Units reads the newest started job of each unit, the newest first.
func (s *Store) Units() (heads []guide.Head, err error) {
	err = s.view(func(state snapshot) error {
		for from, more := []byte(nil), true; more; {
			more = false
			for e, err := range state.records(unitsBucket, from, true) {
				if err != nil {
					return err
				}
				prefix, timed, ok := unitOf(e.Key)
				if !ok {
					return damage(s.path, "units %q: %v", e.Key, errSum)
				}
				h, err := state.listed(unitsBucket, e.Key, timed)
				if err != nil {
					return err
				}
				heads, from, more = append(heads, h), prefix, true
				break
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(heads, func(a, b guide.Head) int { return b.Started.Compare(a.Started) })
	return heads, nil
}

// listed is the line of the job that an index names, which must name that place.
func (s snapshot) listed(index string, key, timed []byte) (guide.Head, error) {
	id := timedID(timed)
	r, found, err := s.job(id)
	if err != nil {
		return guide.Head{}, err
	}
	if !found || !slices.Contains(indexKeys(id, r), indexKey{index, string(key)}) {
		return guide.Head{}, damage(s.path, "%s: job %q is not where it should be", index, id)
	}
	return r.Head, nil
}

const maxNamed = 5 // ids that an error lists

// Find gives the id that a user means: an id, the beginning of just one id, or
// the word "last" for the job last worked in the guide of this store, whatever
// ids there are. ErrNoJob, ErrAmbiguous.
func (s *Store) Find(given string) (id string, err error) {
	err = s.view(func(state snapshot) error {
		if given == job.LastJob {
			id, err = state.last()
			return err
		}
		_, found, err := state.job(given)
		switch {
		case err != nil:
			return err
		case found:
			id = given
			return nil
		}
		if id, err = state.beginning(given); err == nil && id == "" {
			return noJob(s.path, given)
		}
		return err
	})
	return id, err
}

// last is the job that was last worked in the guide. One that was imported is
// somebody else's as far as anybody here knows, and is not taken for it.
func (s snapshot) last() (id string, err error) {
	id, err = s.worked()
	switch {
	case err != nil:
		return "", err
	case id == "":
		return "", &Error{Kind: ErrNoJob, Path: s.path, Fact: "none of its jobs is known to have been worked in the guide here, so none is the last",
			Next: "name one of: tundish jobs"}
	}
	if _, found, err := s.job(id); err != nil || !found {
		return "", damage(s.path, "job %q, the last one, is not there", id)
	}
	return id, nil
}

// worked is the job that was last worked in the guide, empty where none was or
// the file does not say.
func (s snapshot) worked() (id string, err error) {
	var m journal.Mark
	_, err = s.getJSON(aboutBucket, []byte(markKey), &m)
	return m.Worked, err
}

// beginning is the one job whose id begins so; empty where none does.
func (s snapshot) beginning(prefix string) (string, error) {
	if prefix == "" {
		return "", nil
	}
	var ids []string
	for e, err := range s.records(jobsBucket, []byte(prefix), false) {
		if err != nil {
			return "", err
		}
		if !strings.HasPrefix(string(e.Key), prefix) || len(ids) > maxNamed {
			break
		}
		ids = append(ids, string(e.Key))
	}
	switch len(ids) {
	case 0:
		return "", nil
	case 1:
		return ids[0], nil
	}
	named := strings.Join(ids[:min(len(ids), maxNamed)], ", ")
	if len(ids) > maxNamed {
		named += ", …"
	}
	return "", &Error{Kind: ErrAmbiguous, Path: s.path, Fact: fmt.Sprintf("more than one job begins with %q: %s", prefix, named),
		Next: "type more of the id"}
}
