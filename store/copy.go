package store

// This file copies a store while it is open: for a backup, and to read it while
// another window has it open for writing.
//
// That window's lock keeps no reader away from the bytes, it only says that they
// change. But bbolt writes over no page of its last state before the next one is
// named in a state page. So a copy of that state's pages is whole where the state
// pages name the same state after the copying as before. And where the journal
// does not go on behind it, that state is all that was accepted. Otherwise an
// entry is on its way, or lines that a crash left in the journal alone are being
// put back: the copy is thrown away, and another is taken a moment later.

import (
	"errors"
	"io"
	"io/fs"
	"os"

	"garage/tundish/store/disk"
	"garage/tundish/store/pages"
)

// Backup copies the store, as it is now, into a new file with mode 0600. The
// copy is synced and put in its place whole. Without force a file that is there
// is not written over, and never one of the store's own (ErrExists).
func (s *Store) Backup(path string, force bool) error {
	s.mu.RLock()
	defer s.mu.RUnlock()
	if s.file == nil {
		return s.closed()
	}
	return s.copyTo(path, force)
}

func (s *Store) copyTo(path string, force bool) error {
	if err := s.mayReplace(path, force); err != nil {
		return err
	}
	state, err := snap(s.path, s.file)
	if err != nil {
		return err
	}
	return unwritten(path, disk.WriteWhole(path, disk.Replace, func(temp *os.File) error {
		if err := state.tree.Meta.CopyTo(temp, s.file); err != nil {
			return err
		}
		copied, err := snap(s.path, temp)
		if err != nil {
			return err
		}
		return copied.sound() // a copy of damage is no backup
	}))
}

// mayReplace says whether a copy may take a name.
func (s *Store) mayReplace(path string, force bool) error {
	if Owns(s.path, path) {
		return &Error{Kind: ErrExists, Path: path, Fact: "that is the store itself", Next: "name another file"}
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return readOnly(path, err)
	case !info.Mode().IsRegular():
		return &Error{Kind: ErrNotFile, Path: path, Fact: "not an ordinary file", Next: "name another file"}
	case !force:
		return exists(path, "name another file, or say --force")
	}
	return nil
}

var errBusy = errors.New("it was in the middle of storing something each time")

// openToRead opens a file that is there for reading, with its lock, or, where
// another window is writing to it, a copy of what is stored in it by now.
func openToRead(path string, o Options) (f *os.File, beside bool, err error) {
	o.ReadOnly = true
	f, err = openLocked(path, o, func(held *os.File) (*os.File, error) {
		copied, err := copyBeside(path, held)
		beside = err == nil
		return copied, err
	})
	return f, beside, err
}

// copyBeside copies a file, whose lock another has, into one without a name.
func copyBeside(path string, held *os.File) (*os.File, error) {
	copied, err := os.CreateTemp("", "tundish-beside-*")
	if err != nil {
		return nil, err
	}
	_ = os.Remove(copied.Name()) // where the system lets go of a name only with the file, discard does it
	if err := copyQuiet(copied, path, held); err != nil {
		return nil, errors.Join(err, discard(copied))
	}
	return copied, nil
}

// discard closes a copy, and sees to it that nothing is left of it.
func discard(copied *os.File) error {
	return errors.Join(copied.Close(), disk.Remove(copied.Name()))
}

// copyQuiet copies a file's state. It is an error where the file was written to
// meanwhile, or the journal holds what that state has not.
func copyQuiet(to io.Writer, path string, held *os.File) error {
	state, err := snap(path, held)
	if err != nil {
		return err
	}
	if err := state.tree.Meta.CopyTo(to, held); err != nil {
		return err
	}
	from := &Store{path: path, file: held}
	j, rest, problem, err := from.compare(state, false)
	if j != nil {
		j.Close()
	}
	now, fault := pages.Latest(held)
	switch {
	case fault != pages.Fine || now != state.tree.Meta || !disk.IsAt(path, held):
		return errBusy
	case err != nil:
		return err
	case problem != "":
		return errors.New("to read it beside that its journal is needed, and " + problem)
	case len(rest.Lines) > 0 || rest.Torn:
		return errBusy
	}
	return nil
}
