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
	if err := os.MkdirAll(filepath.Dir(path), folderMode); err != nil {
		return readOnly(filepath.Dir(path), err)
	}
	if hasJournal(path) {
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
		if outOfRoom(err) {
			return full(path, err)
		}
		return readOnly(path, err)
	}
	return putInPlace(temp.Name(), path)
}

// fill makes the buckets of an empty store in an empty file, and closes it.
func fill(f *os.File, version int) error {
	s := &Store{path: f.Name()}
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
	return errors.Join(err, db.Close())
}

// putInPlace gives a finished file its name, where no other file has it.
func putInPlace(temp, path string) error {
	err := os.Link(temp, path)
	switch {
	case errors.Is(err, fs.ErrExist):
		return nil // another window was quicker: its file is as good
	case err != nil: // the file system knows no links
		err = os.Rename(temp, path)
	}
	if err != nil {
		return readOnly(path, err)
	}
	return syncFolder(filepath.Dir(path))
}
