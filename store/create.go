package store

// This file makes a new store. It is made under another name and put in its
// place whole, so that a half-made store is never met.

import (
	"crypto/rand"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"go.etcd.io/bbolt"
)

// create makes an empty store, unless its journal is there: then jobs were
// lost with the file, and an empty one in its place would hide that.
func create(path string, version int) error {
	if err := makeFolder(filepath.Dir(path)); err != nil {
		return unwritten(filepath.Dir(path), err)
	}
	if journalBeside(path) == heldJournal {
		if _, err := os.Stat(path); err == nil {
			return nil // another window was quicker
		}
		return lost(path)
	}
	temp, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".new-*")
	if err != nil {
		return readOnly(path, err)
	}
	defer os.Remove(temp.Name())
	if err := fill(temp, version); err != nil {
		return unwritten(path, err)
	}
	if err := putInPlace(temp.Name(), path); !errors.Is(err, ErrExists) {
		return err
	}
	return nil // another window was quicker: its file is as good
}

// makeFolder makes a folder and those above it, durably.
func makeFolder(path string) error {
	if _, err := os.Stat(path); err == nil {
		return nil
	}
	above := filepath.Dir(path)
	if above != path {
		if err := makeFolder(above); err != nil {
			return err
		}
	}
	if err := os.Mkdir(path, folderMode); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return syncFolder(above)
}

// fill makes the buckets of an empty store in an empty file, and closes it.
func fill(f *os.File, version int) error {
	s := &Store{path: f.Name(), noSync: true} // nobody knows it yet: it is synced once, when it is whole
	db, err := bbolt.Open(f.Name(), fileMode, s.boltOptions(f))
	if err != nil {
		return err
	}
	err = db.Update(func(tx *bbolt.Tx) error {
		for _, name := range allBuckets() {
			if _, err := tx.CreateBucket([]byte(name)); err != nil {
				return err
			}
		}
		return setAbout(tx, version, rand.Text())
	})
	return errors.Join(err, db.Sync(), db.Close())
}

// putInPlace gives a finished file its name, where no other file has it.
func putInPlace(temp, path string) error {
	err := os.Link(temp, path)
	switch {
	case errors.Is(err, fs.ErrExist):
		return exists(path, "name another file")
	case err != nil: // the file system knows no links
		err = os.Rename(temp, path)
	}
	if err != nil {
		return readOnly(path, err)
	}
	return syncFolder(filepath.Dir(path))
}
