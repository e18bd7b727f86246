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
// is not written over (ErrExists).
func (s *Store) Backup(path string, force bool) error {
	s.mu.RLock()
	defer s.mu.RUnlock()
	if s.file == nil {
		return s.closed()
	}
	return s.copyTo(path, force)
}

func (s *Store) copyTo(path string, force bool) error {
	if info, err := os.Stat(path); err == nil {
		here, _ := s.file.Stat()
		switch {
		case os.SameFile(info, here):
			return &Error{Kind: ErrExists, Path: path, Fact: "the store itself", Next: "name another file"}
		case !info.Mode().IsRegular():
			return &Error{Kind: ErrNotFile, Path: path, Fact: "not a file", Next: "name another file"}
		case !force:
			return exists(path, "name another file, or say --force")
		}
	} else if !errors.Is(err, fs.ErrNotExist) {
		return readOnly(path, err)
	}
	state, err := snap(s.path, s.file)
	if err != nil {
		return err
	}
	temp, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".new-*")
	if err != nil {
		return readOnly(path, err)
	}
	defer os.Remove(temp.Name())
	bytes := int64(state.tree.meta.pages) * pageBytes
	_, err = io.Copy(temp, io.NewSectionReader(s.file, 0, bytes))
	err = errors.Join(err, temp.Sync(), temp.Close())
	if err == nil {
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
