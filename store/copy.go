package store

// This file copies a store while it is open: for a backup, and to read it while
// another window has it open for writing.
//
// The writer's lock does not prevent reading; it only means that the bytes may change.
// But bbolt never overwrites a page of its last state before a meta page names the
// next state. So a copy of that state's pages is consistent if the meta pages name
// the same state after copying as before. If also the journal holds nothing after
// that state, the copy holds all that was accepted. Otherwise an entry is being
// stored, or lines that a crash left in the journal alone are being restored: the
// copy is discarded, and another is taken a moment later.

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"garage/tundish/store/disk"
	"garage/tundish/store/fault"
	"garage/tundish/store/pages"
	"garage/tundish/store/record"
	"garage/tundish/store/steps"
)

// Backup copies the current state of the store into a new file with mode 0600,
// synced and complete before it gets its name. It refuses to overwrite an existing
// file without force, and the store's own files always. The cards are the unit cards that
// lie beside the store, JSON, by the names of their files; nil leaves those that the store
// was restored with.
func (s *Store) Backup(path string, force bool, cards map[string][]byte, step steps.Func) error {
	return s.view(func(state snapshot) error { return s.copyTo(state, path, force, cards, step) })
}

func (s *Store) copyTo(state snapshot, path string, force bool, cards map[string][]byte, step steps.Func) error {
	if err := s.mayReplace(path, force); err != nil {
		return err
	}
	return fault.Unwritten(path, disk.WriteWhole(path, disk.Replace, func(temp *os.File) error {
		to := &steps.Writer{Writer: temp, Func: step, Pages: int(state.Tree.Meta.Pages)}
		if err := state.Tree.Meta.CopyTo(to, disk.Reader{File: s.file}); err != nil {
			return err
		}
		copied, err := snap(s.path, temp)
		if err != nil {
			return err
		}
		if err := copied.sound(step); err != nil || cards == nil { // a copy of a damaged file is no backup
			return err
		}
		return record.PutCards(temp.Name(), cards)
	}))
}

// Cards are the unit cards that the store was backed up with, by the names of their
// files; nil where they were not copied then.
func (s *Store) Cards() (cards map[string][]byte, err error) {
	err = s.view(func(state snapshot) error { cards, err = state.Cards(); return err })
	return cards, err
}

// mayReplace returns nil if a copy may take a name.
func (s *Store) mayReplace(path string, force bool) error {
	if Owns(s.path, path) {
		return &fault.Error{Kind: fault.ErrExists, Path: path, Fact: "that is the store itself", Next: "name another file"}
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fault.ReadOnly(path, err)
	case !info.Mode().IsRegular():
		return &fault.Error{Kind: fault.ErrNotFile, Path: path, Fact: "not an ordinary file", Next: "name another file"}
	case !force:
		return fault.Exists(path, "name another file, or say --force")
	}
	return nil
}

var errBusy = errors.New("it was in the middle of storing something each time")

// openToRead opens an existing file for reading and locks it or, if another window
// is writing to it, opens a copy of what is stored by now.
func openToRead(path string, o Options) (f *os.File, beside bool, err error) {
	o.ReadOnly = true
	f, err = openLocked(path, o, func(held *os.File) (*os.File, error) {
		copied, err := copyBeside(path, held, o.Step)
		beside = err == nil
		return copied, err
	})
	return f, beside, err
}

// copyBeside copies a file that another process has locked into a file without a
// name.
func copyBeside(path string, held *os.File, step steps.Func) (*os.File, error) {
	copied, err := disk.CreateTemp(os.TempDir(), "tundish-beside-*")
	if err != nil { // a folder for such files that is not there, or is full
		copied, err = disk.CreateTemp(filepath.Dir(path), "tundish-beside-*")
	}
	if err != nil {
		return nil, fault.Uncopied(path, err)
	}
	_ = os.Remove(copied.Name()) // Windows refuses to; it is removed after closing then
	if err := copyUnchanged(copied, path, held, step); err != nil {
		return nil, errors.Join(err, copied.Close(), disk.Remove(copied.Name()))
	}
	return copied, nil
}

// copyUnchanged copies a file's state. It returns an error if the file was written to
// meanwhile, or if the journal holds lines that the state does not.
func copyUnchanged(to io.Writer, path string, held *os.File, step steps.Func) error {
	state, err := snap(path, held)
	if err != nil {
		return err
	}
	to = &steps.Writer{Writer: to, Func: step, Pages: int(state.Tree.Meta.Pages)}
	if err := state.Tree.Meta.CopyTo(to, disk.Reader{File: held}); err != nil {
		if e, ok := errors.AsType[*fs.PathError](err); ok && e.Path == held.Name() {
			return fault.Unread(path, err)
		}
		return fault.Uncopied(path, err)
	}
	from := &Store{path: path, file: held}
	j, rest, problem, err := from.compare(state, false)
	if j != nil {
		j.Close()
	}
	now, wrong := pages.Latest(disk.Reader{File: held})
	switch {
	case wrong != pages.Fine || now != state.Tree.Meta || !disk.IsAt(path, held):
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
