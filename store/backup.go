package store

// This file copies a store while it is open.

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
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
	temp, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".new-*")
	if err != nil {
		return unwritten(path, err)
	}
	defer os.Remove(temp.Name())
	err = copyState(temp, s.file, state.tree.meta)
	if err == nil {
		err = soundCopy(temp, s.path)
	}
	if err = errors.Join(err, temp.Sync(), temp.Close()); err == nil {
		err = os.Rename(temp.Name(), path)
	}
	if err == nil {
		err = syncFolder(filepath.Dir(path))
	}
	if err != nil {
		return unwritten(path, err)
	}
	return nil
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

// copyState copies one committed state. Both pages that name a state name this
// one in the copy, so that damage to one of them loses nothing.
func copyState(to io.Writer, from io.ReaderAt, m metaPage) error {
	for slot := range uint64(2) {
		if _, err := to.Write(m.page(slot)); err != nil {
			return err
		}
	}
	_, err := io.Copy(to, io.NewSectionReader(from, firstDataPage*pageBytes, int64(m.pages-firstDataPage)*pageBytes))
	return err
}

// soundCopy looks a copy through before it takes its name: a copy of damage is
// no backup. An error names the file that was copied.
func soundCopy(copied *os.File, path string) error {
	state, err := snap(path, copied)
	if err != nil {
		return err
	}
	return state.sound()
}

// syncFolder makes a new name in a folder durable, where the system can.
func syncFolder(path string) error {
	d, err := os.Open(path)
	if err != nil {
		return nil
	}
	defer d.Close()
	_ = d.Sync() // not every file system can sync a folder; those that need it can
	return nil
}
