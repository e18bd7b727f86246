package store

// This file opens and closes a store and holds the two ways into it: view for
// reading, accept for what must never be lost.

import (
	"errors"
	"fmt"
	"os"
	"sync"
	"time"

	"go.etcd.io/bbolt"

	"garage/tundish/store/disk"
	"garage/tundish/store/journal"
	"garage/tundish/store/pages"
)

// Options say how to open a store. The zero value is right for most.
type Options struct {
	// ReadOnly changes nothing, and the file must be there. Where another window
	// is writing to it, what it has stored by now is read.
	ReadOnly bool

	lockWait time.Duration // how long to wait for another window; 0 is 2 s
	noSync   bool          // only while a new file is filled
	noSurvey bool          // as for a large file: it is not looked through
}

const defaultLockWait = 2 * time.Second

// Opening says what Open had to do, beside opening. All empty: nothing.
type Opening struct {
	Beside        bool   // read only, while another window writes: what was stored at that moment
	Replayed      int    // lines of the journal that the store had missed
	JournalMade   string // why the journal was written anew
	JournalAside  string // file that the old journal was moved to
	MigratedFrom  int    // schema before, where SchemaBackup is set
	SchemaBackup  string // copy of the file before its schema was changed
	TornTailTaken bool   // a line that was cut off in the writing was taken out
}

// Notes is what a user should be told of it, one line each; none as a rule.
func (o Opening) Notes() (notes []string) {
	if o.Beside {
		notes = append(notes, "another window has it open; this is what it had stored by now")
	}
	if o.Replayed > 0 {
		notes = append(notes, fmt.Sprintf("%d line(s) of the journal had not reached the store when the program was cut off; they are in it now", o.Replayed))
	}
	if o.TornTailTaken {
		notes = append(notes, "a line that was cut off in the writing was taken out of the journal; it had not been accepted")
	}
	if o.JournalMade != "" {
		note := "the journal was written anew: " + o.JournalMade
		if o.JournalAside != "" {
			note += "; the old one is " + o.JournalAside
		}
		notes = append(notes, note)
	}
	if o.SchemaBackup != "" {
		notes = append(notes, fmt.Sprintf("brought up to date from schema %d; the file as it was is %s", o.MigratedFrom, o.SchemaBackup))
	}
	return notes
}

// Store is an open store. Its methods may be called from several goroutines.
type Store struct {
	mu      sync.RWMutex
	path    string
	file    *os.File         // nil when closed; locked, shared with bbolt
	db      *bbolt.DB        // nil when read-only
	journal *journal.Journal // nil when read-only
	opening Opening
	broken  error // why nothing can be stored any more
	left    bool  // bbolt was left in the middle and may hold locks of its own that nobody frees
	noSync  bool
}

// Path is the store's file, with links resolved.
func (s *Store) Path() string { return s.path }

// Opening says what Open had to do.
func (s *Store) Opening() Opening { return s.opening }

// Close gives the file free. It may be called again.
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
		errs = append(errs, discard(s.file))
	case s.db != nil && !s.left:
		errs = append(errs, s.db.Close()) // closes the file too
	default:
		errs = append(errs, disk.Unlock(s.file), s.file.Close())
	}
	s.file, s.db, s.journal = nil, nil, nil
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
	return read(state)
}

func (s *Store) closed() error {
	return &Error{Kind: ErrClosed, Path: s.path, Fact: "the store is closed"}
}

// ready says whether something can be stored now, and from which state.
func (s *Store) ready() (snapshot, error) {
	switch {
	case s.file == nil:
		return snapshot{}, s.closed()
	case s.broken != nil:
		return snapshot{}, s.broken
	case s.db == nil:
		return snapshot{}, readOnly(s.path, nil)
	case !disk.IsAt(s.path, s.file):
		return snapshot{}, moved(s.path)
	case s.journal.Moved():
		return snapshot{}, moved(s.journal.Path)
	}
	return snap(s.path, s.file)
}

// accept stores lines, all or none: journal first, then bbolt. The plan makes
// them from the state, each of another job; none is nothing to store.
func (s *Store) accept(plan func(snapshot) ([]journal.Line, error)) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	state, err := s.ready()
	if err != nil {
		return err
	}
	lines, err := plan(state)
	if err != nil || len(lines) == 0 {
		return err
	}
	text, to, was, err := s.fit(state, lines)
	if err != nil {
		return err
	}
	before := s.journal.Place
	if err = s.journal.Add(text, to); err != nil {
		err = s.failed(s.journal.Path, err)
	} else {
		err = s.both(state, lines, was)
	}
	if err == nil || errors.Is(err, ErrUncertain) {
		return err
	}
	if back := s.journal.TakeBack(before); back != nil {
		s.broken = uncertain(s.journal.Path, back)
		return s.broken
	}
	return err
}

// fit makes the text of lines, and gives the mark behind it and what is stored
// of each line's job. It is an error where one does not go on from the state.
func (s *Store) fit(state snapshot, lines []journal.Line) (text []byte, to journal.Mark, was []jobRecord, err error) {
	to = s.journal.Mark
	for i := range lines {
		if len(lines) > 1 {
			lines[i].First = s.journal.Mark.N + 1
		}
		one, after, err := to.Next(&lines[i])
		if err != nil {
			return nil, journal.Mark{}, nil, &Error{Kind: ErrInvalid, Path: s.path, Fact: "not stored", Cause: err}
		}
		r, err := state.fitting(lines[i])
		if err != nil {
			return nil, journal.Mark{}, nil, err
		}
		text, to, was = append(text, one...), after, append(was, r)
	}
	return text, to, was, nil
}

// both puts lines that are written in the journal into bbolt. One line the disk
// may take meanwhile: if the power goes and bbolt alone has it, Open sees that the
// last line is missing. Of many, one before the last would be missing unseen.
func (s *Store) both(state snapshot, lines []journal.Line, was []jobRecord) error {
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
		s.broken = uncertain(s.journal.Path, unsynced)
		return s.broken
	case unsynced != nil:
		return errors.Join(err, s.failed(s.journal.Path, unsynced))
	}
	return err
}

// commit makes one bbolt transaction. On an error nothing of it is stored,
// except where the error is ErrUncertain.
func (s *Store) commit(state snapshot, fill func(*change) error) error {
	var refused error // by fill, with bbolt unharmed
	err, broke := guard(s.path, func() error {
		return s.db.Update(func(tx *bbolt.Tx) error {
			refused = fill(&change{tx, state})
			return refused
		})
	})
	switch {
	case err == nil:
		return nil
	case broke:
		s.broken, s.left = err, true
	case refused != nil:
		return refused
	default:
		err = s.failed(s.path, err)
	}
	if m, fault := pages.Latest(s.file); fault != pages.Fine || m.TxID != state.tree.Meta.TxID {
		s.broken = uncertain(s.path, err)
		return s.broken
	}
	return err
}

// failed is the error of a write that the system refused. After all but a full
// disk what the disk holds is no longer known, so nothing more is stored.
func (s *Store) failed(path string, err error) error {
	if disk.IsFull(err) {
		return full(path, err)
	}
	s.broken = uncertain(path, err)
	return s.broken
}
