package store

// This file holds the store and the two ways to use it: view for reading, accept for
// what must never be lost.

import (
	"errors"
	"os"
	"slices"
	"sync"
	"time"

	"go.etcd.io/bbolt"

	"garage/tundish/store/disk"
	"garage/tundish/store/fault"
	"garage/tundish/store/finding"
	"garage/tundish/store/journal"
	"garage/tundish/store/pages"
	"garage/tundish/store/record"
	"garage/tundish/store/steps"
)

// Options say how to open a store. The zero value suits most.
type Options struct {
	// ReadOnly changes nothing, and the file must exist. If another window is
	// writing to it, what it has stored by now is read.
	ReadOnly bool

	// Step is told how far the opening has come, where that takes long. Where its error
	// ends it, nothing was changed, but for the lines that were taken up.
	Step steps.Func

	lockWait time.Duration // how long to wait for another window; 0 is 2 s
	noSync   bool          // only while a new file is filled
	noSurvey bool          // as for a large file: not all of it is checked
	suspect  bool          // damage was met in it: all of it is checked
	rebuilt  bool          // it was made anew just now; it is not tried again
}

const defaultLockWait = 2 * time.Second

// What is told of a store.
type (
	Opening = finding.Opening
	Report  = finding.Report
	Finding = finding.Finding
)

// Store is an open store. Its methods may be called from several goroutines.
type Store struct {
	mu       sync.RWMutex
	path     string
	file     *os.File         // nil when closed; locked, shared with bbolt
	db       *bbolt.DB        // nil when read-only
	journal  *journal.Journal // nil when read-only
	opening  Opening
	broken   error // why nothing can be stored any more
	panicked bool  // bbolt panicked and may hold its own locks for ever
	noSync   bool
	step     steps.Func // of what takes long
}

// Path returns the store's file, with links resolved.
func (s *Store) Path() string { return s.path }

// Opening returns what Open had to do.
func (s *Store) Opening() Opening {
	s.mu.RLock()
	defer s.mu.RUnlock()
	return s.opening
}

// Close closes the files and releases the lock. It may be called again.
func (s *Store) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.file == nil {
		return nil
	}
	return s.close()
}

func (s *Store) close() error {
	var errs []error
	if s.journal != nil {
		errs = append(errs, s.journal.Close())
	}
	switch {
	case s.opening.Beside:
		errs = append(errs, s.file.Close(), disk.Remove(s.file.Name()))
	case s.db != nil && !s.panicked:
		errs = append(errs, s.db.Close()) // closes the file too
	default:
		errs = append(errs, disk.Unlock(s.file), s.file.Close())
	}
	s.file, s.db, s.journal = nil, nil, nil
	if s.broken != nil {
		s.forget()
	}
	return errors.Join(errs...)
}

// view reads from one committed state.
func (s *Store) view(read func(snapshot) error) error {
	s.mu.RLock()
	defer s.mu.RUnlock()
	if s.file == nil {
		return s.closed()
	}
	state, err := snap(s.path, s.file)
	if err != nil {
		return err
	}
	return s.met(read(state))
}

func (s *Store) closed() error {
	return &fault.Error{Kind: fault.ErrClosed, Path: s.path, Fact: "the store is closed"}
}

// ready returns the state from which to store, or why nothing can be stored.
func (s *Store) ready() (snapshot, error) {
	switch {
	case s.file == nil:
		return snapshot{}, s.closed()
	case s.broken != nil:
		return snapshot{}, s.broken
	case s.db == nil:
		return snapshot{}, fault.ReadOnly(s.path, nil)
	case !disk.IsAt(s.path, s.file):
		return snapshot{}, fault.Moved(s.path)
	case s.journal.Moved():
		return snapshot{}, fault.Moved(s.journal.Path)
	}
	return snap(s.path, s.file)
}

// accept stores lines, all or none: journal first, then bbolt. plan makes them from
// the state, each of a different job; none means there is nothing to store.
func (s *Store) accept(plan func(snapshot) ([]journal.Line, error)) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	state, err := s.ready()
	if err != nil {
		return err
	}
	lines, err := plan(state)
	if err != nil || len(lines) == 0 {
		return s.met(err)
	}
	text, to, was, err := s.encode(state, lines)
	if err != nil {
		return err
	}
	before := s.journal.Place
	if err = s.journal.Add(text, to); err != nil {
		err = s.failed(s.journal.Path, err)
	} else {
		err = s.syncAndCommit(state, lines, was)
	}
	if err == nil || errors.Is(err, fault.ErrUncertain) {
		return err
	}
	err = s.met(err)
	if back := s.journal.TakeBack(before); back != nil {
		return s.uncertain(s.journal.Path, back)
	}
	return err
}

// encode returns the text of lines, the mark after it, and the record of each line's
// job. It is an error if one does not continue the state.
func (s *Store) encode(state snapshot, lines []journal.Line) (text []byte, to journal.Mark, was []record.Job, err error) {
	to, was = s.journal.Mark, make([]record.Job, len(lines))
	texts := make([][]byte, len(lines))
	for i := range lines {
		if len(lines) > 1 {
			lines[i].First = s.journal.Mark.N + 1
		}
		if texts[i], to, err = to.Next(&lines[i]); err != nil {
			return nil, journal.Mark{}, nil, &fault.Error{Kind: fault.ErrInvalid, Path: s.path, Fact: "not stored", Cause: err}
		}
		if was[i], err = state.previous(lines[i]); err != nil {
			return nil, journal.Mark{}, nil, err
		}
	}
	return slices.Concat(texts...), to, was, nil
}

// syncAndCommit syncs lines that are written to the journal, and commits them. A single
// line is synced meanwhile: if the power fails and only bbolt has it, Open sees that
// the last line is missing. Of several, one before the last could be missing unseen.
func (s *Store) syncAndCommit(state snapshot, lines []journal.Line, was []record.Job) error {
	fill := func(c *change) error { return c.apply(lines, was, s.journal.Mark) }
	if len(lines) > 1 {
		if err := s.journal.Sync(); err != nil {
			return s.failed(s.journal.Path, err)
		}
		return s.commit(state, fill)
	}
	synced := make(chan error, 1)
	go func() { synced <- s.journal.Sync() }()
	err := s.commit(state, fill)
	unsynced := <-synced
	switch {
	case err == nil && unsynced != nil: // it is in bbolt, and perhaps not in the journal
		return s.uncertain(s.journal.Path, unsynced)
	case unsynced != nil:
		if also := s.failed(s.journal.Path, unsynced); !errors.Is(err, fault.ErrUncertain) { // else it is told once
			return errors.Join(err, also)
		}
	}
	return err
}

// commit runs one bbolt transaction. On an error nothing of it is stored, unless the
// error is fault.ErrUncertain.
func (s *Store) commit(state snapshot, fill func(*change) error) error {
	var refused error // error of fill; bbolt is intact
	err, broke := guard(s.path, func() error {
		return s.db.Update(func(tx *bbolt.Tx) error {
			refused = fill(&change{record.Change{Tx: tx, From: state.Snapshot}})
			return refused
		})
	})
	switch {
	case err == nil:
		return nil
	case broke:
		s.broken, s.panicked = err, true
	case refused != nil:
		return refused
	default:
		err = s.failed(s.path, err)
	}
	if m, wrong := pages.Latest(disk.Reader{File: s.file}); wrong != pages.Fine || m.TxID != state.Tree.Meta.TxID {
		return s.uncertain(s.path, err)
	}
	return err
}

// failed returns the error for a write that the system refused. Unless the disk is
// full, its contents are no longer known, so nothing more is stored.
func (s *Store) failed(path string, err error) error {
	if disk.IsFull(err) {
		return fault.Full(path, err)
	}
	return s.uncertain(path, err)
}

// uncertain ends the storing: whether it is stored is seen by what the disk gives when it
// is opened again.
func (s *Store) uncertain(path string, err error) error {
	s.broken = fault.Uncertain(path, err)
	s.suspect()
	return s.broken
}
