package store

// This file lists and finds jobs; each kind of list has its own index.

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/store/fault"
	"garage/tundish/store/journal"
	"garage/tundish/store/record"
)

// Cursor is a place in a list, as List returns it. It is empty at the beginning and
// at the end.
type Cursor string

// ListOptions select a part of the list. The zero value selects all of it.
type ListOptions struct {
	Limit    int       // jobs at most; 0 is all
	After    Cursor    // continue from here
	Unit     string    // jobs of this unit only (job.UnitKey)
	Before   time.Time // jobs started before this only
	OnlyOpen bool      // unfinished jobs only: phase Open or ToRecheck
}

// from returns the index to read, the prefix of its keys, and the key before which to
// start, nil for the end.
func (o ListOptions) from() (index string, prefix, end []byte) {
	switch {
	case o.Unit != "":
		index, prefix = record.Units, record.UnitPrefix(o.Unit)
	case o.OnlyOpen:
		index = record.Open
	default:
		index = record.Started
	}
	switch {
	case o.After != "":
		end = []byte(o.After)
	case !o.Before.IsZero():
		end = slices.Concat(prefix, record.TimeKey(o.Before))
	default:
		end = record.Past(prefix)
	}
	return index, prefix, end
}

// List returns heads of jobs, the last started first, and where to continue.
func (s *Store) List(o ListOptions) (heads []guide.Head, next Cursor, err error) {
	index, prefix, end := o.from()
	picked := o.Unit != "" && o.OnlyOpen // from an index that holds finished jobs too
	err = s.view(func(state snapshot) error {
		var keys [][]byte
		for e, err := range state.Records(index, end, true) {
			if err != nil {
				return err
			}
			if !bytes.HasPrefix(e.Key, prefix) {
				break
			}
			if o.Limit > 0 && len(keys) == o.Limit && !picked {
				next = Cursor(keys[len(keys)-1])
				break
			}
			keys = append(keys, e.Key)
		}
		all, err := state.headsAt(index, keys, len(prefix))
		if !picked {
			heads = all
			return err
		}
		var last []byte
		for i, h := range all {
			if !record.Unfinished(h) {
				continue
			}
			if o.Limit > 0 && len(heads) == o.Limit {
				next = Cursor(last)
				break
			}
			heads, last = append(heads, h), keys[i]
		}
		return err
	})
	if err != nil {
		return nil, "", err
	}
	return heads, next, nil
}

// Count returns the number of jobs that List lists.
func (s *Store) Count() (n int, err error) {
	err = s.view(func(state snapshot) error {
		n, err = state.Count(record.Started)
		return err
	})
	return n, err
}

// Units returns the head of each unit's last started job, the last started first.
func (s *Store) Units() (heads []guide.Head, err error) {
	err = s.view(func(state snapshot) error {
		for from, more := []byte(nil), true; more; {
			more = false
			for e, err := range state.Records(record.Units, from, true) {
				if err != nil {
					return err
				}
				prefix, timed, ok := record.UnitOf(e.Key)
				if !ok {
					return fault.Damage(s.path, "units %q: %v", e.Key, record.ErrSum)
				}
				h, err := state.listed(record.Units, e.Key, timed)
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

// headsAt returns the heads of the jobs that keys of an index name, which have a prefix of
// that length. They are read in the order in which they are stored, each page once.
func (s snapshot) headsAt(index string, keys [][]byte, prefix int) ([]guide.Head, error) {
	order, ids := make([]int, len(keys)), make([]string, len(keys))
	for i, key := range keys {
		order[i], ids[i] = i, record.TimedID(key[prefix:])
	}
	slices.SortFunc(order, func(a, b int) int { return strings.Compare(ids[a], ids[b]) })
	heads := make([]guide.Head, len(keys))
	parts := slices.Collect(slices.Chunk(order, max(len(order)/runtime.GOMAXPROCS(0)+1, headsAtOnce)))
	failed := make([]error, len(parts))
	var reading sync.WaitGroup
	for p, part := range parts {
		own := snapshot{record.Snapshot{Path: s.Path, Tree: s.Tree.Again()}}
		reading.Go(func() {
			for _, i := range part {
				if heads[i], failed[p] = own.listed(index, keys[i], keys[i][prefix:]); failed[p] != nil {
					return
				}
			}
		})
	}
	reading.Wait()
	if err := cmp.Or(failed...); err != nil {
		return nil, err
	}
	return heads, nil
}

// headsAtOnce is how few heads a goroutine reads.
const headsAtOnce = 500

// listed returns the head of the job that an index key names, which must have that
// key.
func (s snapshot) listed(index string, key, timed []byte) (guide.Head, error) {
	id := record.TimedID(timed)
	r, found, err := s.Job(id)
	if err != nil {
		return guide.Head{}, err
	}
	if !found || record.KeyIn(index, id, r) != string(key) {
		return guide.Head{}, fault.Damage(s.Path, "%s: job %q is not where it should be", index, id)
	}
	return r.Head, nil
}

const maxNamed = 5 // ids named in an error

// Find returns the id that a user means: an id, the beginning of exactly one id, or
// "last" for the job last worked in the guide of this store.
func (s *Store) Find(given string) (id string, err error) {
	err = s.view(func(state snapshot) error {
		if given == job.LastJob {
			id, err = state.last()
			return err
		}
		id, err = state.named(given, false)
		return err
	})
	return id, err
}

// FindDiscarded returns the id of a discarded job that a user means, as Find does.
func (s *Store) FindDiscarded(given string) (id string, err error) {
	err = s.view(func(state snapshot) error {
		id, err = state.named(given, true)
		return err
	})
	return id, err
}

// named returns the job with an id, or the only one with that beginning, among the
// discarded ones or the others. Where only the other kind has one the error says so.
func (s snapshot) named(given string, away bool) (id string, err error) {
	r, found, err := s.Job(given)
	switch {
	case err != nil:
		return "", err
	case found && r.Discarded() == away:
		return given, nil
	case !found:
		if id, err = s.beginning(given, away); err != nil || id != "" {
			return id, err
		}
		other, _ := s.beginning(given, !away) // of several it can say nothing
		if other == "" {
			return "", fault.NoJob(s.Path, given)
		}
		given = other
	}
	if away {
		return "", notDiscarded(s.Path, given)
	}
	return "", fault.Discarded(s.Path, given)
}

// last returns the job last worked in the guide. An imported job may be somebody
// else's, so it does not count.
func (s snapshot) last() (id string, err error) {
	id, err = s.worked()
	switch {
	case err != nil:
		return "", err
	case id == "":
		return "", &fault.Error{Kind: fault.ErrNoJob, Path: s.Path,
			Fact: "none of its jobs is known to have been worked in the guide here, so none is the last",
			Next: "name one of: tundish jobs"}
	}
	r, found, err := s.Job(id)
	if err != nil || !found {
		return "", fault.Damage(s.Path, "job %q, the last one, is not there", id)
	}
	if r.Discarded() {
		return "", fault.Discarded(s.Path, id)
	}
	return id, nil
}

// worked returns the job last worked in the guide, empty if none is known.
func (s snapshot) worked() (id string, err error) {
	var m journal.Mark
	_, err = s.GetJSON(record.About, []byte(markKey), &m)
	return m.Worked, err
}

// beginning returns the only id with a prefix, empty if there is none, of the discarded
// jobs or of the others.
func (s snapshot) beginning(prefix string, away bool) (string, error) {
	if prefix == "" {
		return "", nil
	}
	var ids []string
	for e, err := range s.Records(record.Jobs, []byte(prefix), false) {
		if err != nil {
			return "", err
		}
		if !strings.HasPrefix(string(e.Key), prefix) || len(ids) > maxNamed {
			break
		}
		var r record.Job
		if err := json.Unmarshal(e.Value, &r); err != nil {
			return "", fault.Damage(s.Path, "%s %q: %v", record.Jobs, e.Key, err)
		}
		if r.Discarded() == away {
			ids = append(ids, string(e.Key))
		}
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
	return "", &fault.Error{Kind: fault.ErrAmbiguous, Path: s.Path, Fact: fmt.Sprintf("more than one job begins with %q: %s", prefix,
		named),
		Next: "type more of the id"}
}
