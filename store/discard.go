package store

// This file takes jobs out of the lists and back, and purges those that are out: their
// entries go from both files.

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"slices"

	"go.etcd.io/bbolt"

	"garage/tundish/model/guide"
	"garage/tundish/store/disk"
	"garage/tundish/store/fault"
	"garage/tundish/store/journal"
	"garage/tundish/store/pages"
	"garage/tundish/store/record"
)

// Discard takes a job out of all lists; its entries stay in both files. It is durable
// when Discard returns nil. It is an error if there is no such job, or if it is discarded.
func (s *Store) Discard(id string) error {
	return s.turn(id, func(r record.Job) (int, error) {
		if r.Discarded() {
			return 0, fault.Discarded(s.path, id)
		}
		return r.Discards + 1, nil
	})
}

// TakeBack brings a discarded job back, as it was. It is an error if it is not discarded.
func (s *Store) TakeBack(id string) error {
	return s.turn(id, func(r record.Job) (int, error) {
		if !r.Discarded() {
			return 0, notDiscarded(s.path, id)
		}
		return r.Discards + 1, nil
	})
}

// turn discards a job or takes it back; to says how often it was then.
func (s *Store) turn(id string, to func(record.Job) (int, error)) error {
	if err := s.renewJournal(); err != nil {
		return err
	}
	return s.accept(func(state snapshot) ([]journal.Line, error) {
		r, found, err := state.Job(id)
		switch {
		case err != nil:
			return nil, err
		case !found:
			return nil, fault.NoJob(s.path, id)
		}
		times, err := to(r)
		if err != nil {
			return nil, err
		}
		return []journal.Line{{Job: id, Head: &r.Head, Discard: times}}, nil
	})
}

func notDiscarded(path, id string) error {
	return &fault.Error{Kind: fault.ErrNoJob, Path: path, Fact: fmt.Sprintf("job %q is not discarded", id)}
}

// renewJournal writes a journal of an older form anew, before the first line that such a
// form does not know: a program that knows no more than that form then refuses it as a
// whole, and does not read it without that line.
func (s *Store) renewJournal() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	state, err := s.ready()
	if err != nil || s.journal.Form == journal.Version {
		return err
	}
	old := s.journal
	m, err := journal.WriteOver(old.Path, state.lines(nil, s.step))
	if err != nil {
		return fault.Unwritten(old.Path, err)
	}
	if err := errors.Join(s.takeUp(state, old.Path, m), old.Close()); err != nil {
		return s.uncertain(old.Path, err)
	}
	return nil
}

// Discarded returns the heads of the discarded jobs, the last started first. It reads
// what is stored of every job besides its entries.
func (s *Store) Discarded() (heads []guide.Head, err error) {
	err = s.view(func(state snapshot) error {
		for e, err := range state.Records(record.Jobs, nil, false) {
			if err != nil {
				return err
			}
			var r record.Job
			if !bytes.Contains(e.Value, []byte(`"discards":`)) {
				continue // most are decided by this, which is quick
			}
			if err := json.Unmarshal(e.Value, &r); err != nil {
				return fault.Damage(s.path, "%s %q: %v", record.Jobs, e.Key, err)
			}
			if r.Discarded() {
				heads = append(heads, r.Head)
			}
		}
		return nil
	})
	slices.SortStableFunc(heads, func(a, b guide.Head) int { return b.Started.Compare(a.Started) })
	return heads, err
}

// purgedSuffix names the new file while it is written.
const purgedSuffix = ".purged"

// Purge removes discarded jobs from both files, for good: both are written anew without
// them, as nothing that is only deleted in such a file is gone from it. Until the new
// journal has its name nothing is changed. If the power fails between the two names, the
// next opening writes the journal anew from the store, and no job is purged. It is an
// error if a job is not discarded, or if another window has the store open.
func Purge(path string, ids ...string) error {
	s, err := Open(path, Options{}) // mends what is to be mended first
	if err != nil {
		return err
	}
	path = s.path
	if err := s.Close(); err != nil {
		return fault.Uncertain(path, err)
	}
	f, err := openLocked(path, Options{}, nil)
	if err != nil {
		return err
	}
	s = &Store{path: path, file: f} // not mapped into memory: it is to be replaced
	defer s.Close()
	state, version, err := s.inspect(Options{}, current())
	if err != nil {
		return err
	}
	j, rest, problem, err := s.compare(state, false)
	if j != nil {
		defer j.Close()
	}
	switch {
	case err != nil:
		return err
	case problem != "" || len(rest.Lines) > 0 || rest.Torn || version != schemaVersion:
		return fault.Locked(path, errBusy)
	}
	gone := map[string]bool{}
	for _, id := range ids {
		r, found, err := state.Job(id)
		switch {
		case err != nil:
			return err
		case !found:
			return fault.NoJob(path, id)
		case !r.Discarded():
			return notDiscarded(path, id)
		}
		gone[id] = true
	}
	return s.purge(state, gone)
}

// purge writes both files without some jobs, looks them through, and puts them in place:
// the journal first, which alone says nothing of those jobs.
func (s *Store) purge(state snapshot, gone map[string]bool) error {
	temp := s.path + purgedSuffix
	defer disk.Remove(temp, temp+journal.Suffix)
	if err := disk.Remove(temp, temp+journal.Suffix); err != nil {
		return fault.Unwritten(s.path, err)
	}
	m, err := journal.WriteOver(temp+journal.Suffix, state.lines(gone, s.step))
	if err == nil {
		err = disk.WriteWhole(temp, disk.PutInPlace, func(f *os.File) error { return state.copyBut(gone, f.Name(), m) })
	}
	if err != nil {
		return fault.Unwritten(temp, err)
	}
	r, err := Verify(temp, nil)
	if err = errors.Join(err, r.Err()); err != nil {
		return err
	}
	if err := disk.Replace(temp+journal.Suffix, s.path+journal.Suffix); err != nil {
		return fault.Unwritten(s.path+journal.Suffix, err)
	}
	return fault.Unwritten(s.path, disk.Replace(temp, s.path))
}

// copiedAtOnce is how many records are copied in one transaction.
const copiedAtOnce = 10_000

// copyBut writes the state into an empty file, without some jobs, and with its place in
// a journal.
func (s snapshot) copyBut(gone map[string]bool, path string, m journal.Mark) error {
	id, err := s.storeID()
	if err == nil {
		err = fillNew(path, schemaVersion, id)
	}
	if err != nil {
		return err
	}
	db, err := bbolt.Open(path, disk.FileMode, &bbolt.Options{PageSize: pages.Size, NoStatistics: true, NoSync: true})
	if err != nil {
		return err
	}
	for _, name := range record.Tables {
		var some []pages.Element
		flush := func() error {
			err := record.PutAll(db, name, some)
			some = some[:0]
			return err
		}
		for e, readErr := range s.Records(name, nil, false) {
			if err = errors.Join(err, readErr); err != nil {
				break
			}
			if some = s.kept(some, name, e, gone); len(some) == copiedAtOnce {
				err = flush()
			}
		}
		err = errors.Join(err, flush())
	}
	mark, markErr := json.Marshal(m)
	err = errors.Join(err, markErr, record.PutAll(db, record.About, []pages.Element{{Key: []byte(markKey), Value: mark}}))
	return errors.Join(err, db.Close())
}

// kept adds a record to others, unless it is of a job that is to go, or of the file.
func (s snapshot) kept(some []pages.Element, bucket string, e pages.Element, gone map[string]bool) []pages.Element {
	of := string(e.Key)
	switch bucket {
	case record.About:
		if of == versionKey || of == storeKey || of == markKey {
			return some
		}
	case record.Entries:
		of, _ = record.EntryOf(e.Key)
	}
	if gone[of] {
		return some
	}
	return append(some, e)
}
