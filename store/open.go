package store

// This file opens the store's file, or creates it. Nothing is mapped into memory or
// changed before the file has been locked and checked.

import (
	"context"
	"crypto/rand"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"time"

	"go.etcd.io/bbolt"

	"garage/tundish/store/disk"
	"garage/tundish/store/fault"
	"garage/tundish/store/journal"
	"garage/tundish/store/pages"
	"garage/tundish/store/record"
	"garage/tundish/store/steps"
)

// Open opens the store at a path, or creates it with mode 0600, and its folder with
// mode 0700. A file that is damaged, foreign, newer, locked or not writable is left
// unchanged, and the error says what to do.
func Open(path string, o Options) (*Store, error) { return openAs(path, o, current()) }

func openAs(path string, o Options, want schema) (*Store, error) {
	path, err := locate(path)
	if err != nil {
		return nil, err
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		if o.ReadOnly {
			return nil, unopened(path, err, false)
		}
		if err := create(path, want.version); err != nil {
			return nil, err
		}
	}
	s := &Store{path: path, noSync: o.noSync, step: o.Step}
	if o.ReadOnly {
		s.file, s.opening.Beside, err = openToRead(path, o)
	} else {
		s.file, err = openLocked(path, o, nil)
	}
	if err != nil {
		return nil, err
	}
	if !o.ReadOnly {
		s.sweep()
	}
	if o.suspect = s.suspected(); o.suspect {
		s.forget()
	}
	err = s.start(o, want)
	if err == nil && !o.ReadOnly {
		_ = disk.Remove(s.path + suspectSuffix) // where it stays, all is looked through again
	}
	if s.step = nil; err == nil {
		return s, nil
	}
	aside := ""
	if errors.Is(err, fault.ErrDamaged) && !o.ReadOnly && !o.rebuilt {
		var why error // where it cannot be, what is wrong with the file counts
		if aside, why = s.rebuild(o.Step); errors.Is(why, context.Canceled) {
			err = why
		}
	}
	_ = s.close() // the first error counts
	if aside == "" {
		return nil, err
	}
	o.rebuilt, o.Step = true, nil // it is as it is to be
	if s, err = openAs(path, o, want); err == nil {
		s.opening.Rebuilt = aside
	}
	return s, err
}

// create makes an empty store, unless its journal is there: then jobs were
// lost with the file, and an empty one in its place would hide that.
func create(path string, version int) error {
	if err := disk.MakeFolder(filepath.Dir(path)); err != nil {
		return fault.Unwritten(filepath.Dir(path), err)
	}
	if journal.Beside(path) == journal.Held {
		if _, err := os.Stat(path); err == nil {
			return nil // another window was quicker
		}
		return fault.Lost(path)
	}
	err := disk.WriteWhole(path, disk.PutInPlace, func(f *os.File) error { return fillNew(f.Name(), version, rand.Text()) })
	if errors.Is(err, fs.ErrExist) {
		return nil // another window was quicker: its file is as good
	}
	return fault.Unwritten(path, err)
}

// fillNew makes the buckets of an empty store in an empty file.
func fillNew(path string, version int, id string) error {
	db, err := bbolt.Open(path, disk.FileMode, &bbolt.Options{PageSize: pages.Size, NoStatistics: true, NoSync: true})
	if err != nil {
		return err
	}
	return errors.Join(db.Update(func(tx *bbolt.Tx) error {
		for _, name := range record.Tables {
			if _, err := tx.CreateBucket([]byte(name)); err != nil {
				return err
			}
		}
		return setAbout(tx, version, id)
	}), db.Close())
}

// openLocked opens a file that is there, and waits a little for its lock. While
// another holds that, instead, where there is one, may give a file in its place.
func openLocked(path string, o Options, instead func(held *os.File) (*os.File, error)) (*os.File, error) {
	wait := o.lockWait
	if wait <= 0 {
		wait = defaultLockWait
	}
	for deadline := time.Now().Add(wait); ; time.Sleep(lockPause) {
		f, err := openFile(path, o.ReadOnly)
		if err != nil {
			return nil, err
		}
		got, err := disk.TryLock(f, o.ReadOnly)
		if got && disk.IsAt(path, f) {
			return f, nil
		}
		var other *os.File
		var why error // there is none
		if err == nil && !got && instead != nil {
			other, why = instead(f)
		}
		f.Close()
		switch {
		case other != nil:
			return other, nil
		case err != nil:
			return nil, &fault.Error{Kind: fault.ErrReadOnly, Path: path, Fact: "cannot be locked", Cause: err,
				Next: "keep it on a local disk"}
		case errors.Is(why, fault.ErrUnread), errors.Is(why, context.Canceled):
			return nil, why
		case !time.Now().Before(deadline):
			return nil, fault.Locked(path, why)
		}
	}
}

const lockPause = 20 * time.Millisecond

func openFile(path string, readonly bool) (*os.File, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil: // os.OpenFile says why
	case info.IsDir():
		return nil, &fault.Error{Kind: fault.ErrNotFile, Path: path, Fact: "a folder, not a file", Next: "name a file in it with --store"}
	case !info.Mode().IsRegular():
		return nil, &fault.Error{Kind: fault.ErrNotFile, Path: path, Fact: "not an ordinary file", Next: "name another file with --store"}
	}
	f, err := disk.Open(path, !readonly)
	if err != nil {
		return nil, unopened(path, err, !readonly)
	}
	return f, nil
}

// unopened returns the error of a file that could not be opened.
func unopened(path string, err error, writable bool) error {
	switch {
	case errors.Is(err, fs.ErrNotExist) && journal.Beside(path) == journal.Held:
		return fault.Lost(path)
	case errors.Is(err, fs.ErrNotExist):
		return &fault.Error{Kind: fault.ErrAbsent, Path: path, Fact: "there is no such file", Next: "name another file with --store"}
	case writable && (errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS)):
		return fault.ReadOnly(path, err)
	case disk.IsIO(err):
		return fault.Unread(path, err)
	}
	return err
}

// start brings a locked file into use: looked at, mapped, migrated, and in step
// with its journal.
func (s *Store) start(o Options, want schema) error {
	state, version, err := s.inspect(o, want)
	if err != nil {
		return err
	}
	if o.ReadOnly {
		if version < want.reads {
			return fault.Older(s.path, version, "open it once for writing, so that it can be brought up to date")
		}
		if s.opening.Beside { // its journal goes on meanwhile
			return nil
		}
		return s.behindJournal(state)
	}
	if err := want.reaches(s.path, version); err != nil {
		return err
	}
	if err := s.mapFile(); err != nil {
		return err
	}
	if version < want.version {
		if err := s.migrate(state, version, want); err != nil {
			return err
		}
		if state, err = snap(s.path, s.file); err != nil {
			return err
		}
	}
	return s.reconcile(state)
}

// inspect looks at the file before it is mapped: the pages that name its
// state, its size, its free pages, its schema; all of it where it is small, or where
// damage was met.
func (s *Store) inspect(o Options, want schema) (state snapshot, version int, err error) {
	info, err := s.file.Stat()
	if err != nil {
		return snapshot{}, 0, fault.Damage(s.path, "%v", err)
	}
	_, wrong := pages.Latest(disk.Reader{File: s.file})
	switch {
	case info.Size() == 0:
		return snapshot{}, 0, fault.Empty(s.path)
	case wrong == pages.Foreign && journal.Beside(s.path) == journal.None:
		return snapshot{}, 0, fault.Foreign(s.path, "it begins like no such file")
	}
	if state, err = snap(s.path, s.file); err != nil {
		return snapshot{}, 0, err
	}
	if version, err = state.version(); err != nil {
		return snapshot{}, 0, err
	}
	if version > want.version {
		return snapshot{}, 0, fault.Newer(s.path, version, want.version)
	}
	if _, _, err := state.Tree.Meta.Free(disk.Reader{File: s.file}); err != nil {
		return snapshot{}, 0, fault.Damage(s.path, "%v", err)
	}
	if state.Tree.Meta.Pages <= smallPages && !o.noSurvey || o.suspect {
		if err := state.Tree.ReadWhole(); err != nil {
			return snapshot{}, 0, fault.Damage(s.path, "%v", err)
		}
		step := o.Step
		if state.Tree.Meta.Pages <= smallPages {
			step = nil // it takes no time
		}
		err = state.sound(step)
	}
	return state, version, err
}

// smallPages is the size up to which a file is looked through whenever it is
// opened: 2 MB, some thousand entries, one or two milliseconds.
const smallPages = 1 << 9

// sound says the first thing that is wrong anywhere in the file.
func (s snapshot) sound(step steps.Func) (err error) {
	seen := 0
	s.Survey(func(_ string, key, payload []byte) {
		if seen += len(key) + len(payload); err == nil {
			err = step.Step(steps.Looking, seen/steps.PageBytes, int(s.Tree.Meta.Pages))
		}
	}, func(wrong error) {
		if err == nil {
			err = fault.Damage(s.Path, "%v", wrong)
		}
	})
	return err
}

// mapFile gives the file to bbolt.
func (s *Store) mapFile() error {
	err, broke := guard(s.path, func() (err error) {
		s.db, err = bbolt.Open(s.path, disk.FileMode, s.boltOptions(s.file))
		return err
	})
	if err == nil {
		return nil
	}
	s.db = nil // bbolt has closed the file, or was left in the middle
	if broke {
		return err
	}
	return fault.Damage(s.path, "%v", err)
}

func (s *Store) boltOptions(f *os.File) *bbolt.Options {
	return &bbolt.Options{
		Timeout:  time.Second, // the lock is ours already
		PageSize: pages.Size, NoStatistics: true, NoSync: s.noSync,
		OpenFile: func(string, int, os.FileMode) (*os.File, error) { return f, nil },
	}
}
