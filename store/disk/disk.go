// Package disk is what a store asks of the operating system: locks, syncs, files
// that are put in their place whole, and whether a disk is full.
package disk

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// Modes of what is made: for its owner alone.
const (
	FileMode   = 0o600
	folderMode = 0o700
)

// IsFull reports whether the system refused for want of room. bbolt quotes some
// errors without wrapping them, so the words count too.
func IsFull(err error) bool {
	for _, room := range roomErrors() {
		if errors.Is(err, room) || strings.Contains(err.Error(), room.Error()) {
			return true
		}
	}
	return false
}

// WriteWhole makes a file of what fill writes, under another name, so that a
// half-made one is never met; syncs it; and has place give it its name.
func WriteWhole(path string, place func(temp, path string) error, fill func(*os.File) error) error {
	temp, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".new-*")
	if err != nil {
		return err
	}
	defer os.Remove(temp.Name())
	if err := errors.Join(fill(temp), temp.Sync(), temp.Close()); err != nil {
		return err
	}
	return place(temp.Name(), path)
}

// Replace gives a finished file its name, whatever has it.
func Replace(temp, path string) error {
	if err := os.Rename(temp, path); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(path))
}

// PutInPlace gives a finished file its name; fs.ErrExist where another file has it.
func PutInPlace(temp, path string) error {
	err := os.Link(temp, path)
	switch {
	case err == nil:
		return syncFolder(filepath.Dir(path))
	case errors.Is(err, fs.ErrExist):
		return err
	}
	return Replace(temp, path) // the file system knows no links
}

// MakeFolder makes a folder and those above it, durably.
func MakeFolder(path string) error {
	if _, err := os.Stat(path); err == nil {
		return nil
	}
	above := filepath.Dir(path)
	if above != path {
		if err := MakeFolder(above); err != nil {
			return err
		}
	}
	if err := os.Mkdir(path, folderMode); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return syncFolder(above)
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

// Remove removes files, which need not be there.
func Remove(paths ...string) error {
	for _, path := range paths {
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}

// SetAside gives a file another name, beside its own, and returns it; none where
// there is no such file.
func SetAside(path string) (aside string, err error) {
	if _, err := os.Lstat(path); err != nil {
		return "", nil
	}
	for k := 1; ; k++ {
		aside = path + ".aside-" + strconv.Itoa(k)
		if _, err := os.Lstat(aside); errors.Is(err, fs.ErrNotExist) {
			return aside, os.Rename(path, aside)
		} else if err != nil {
			return "", err
		}
	}
}

// IsAt reports whether an open file is still the one at a path.
func IsAt(path string, f *os.File) bool {
	there, err := os.Stat(path)
	if err != nil {
		return false
	}
	here, err := f.Stat()
	return err == nil && os.SameFile(there, here)
}

// Locate makes a path absolute and follows links, as far as it is there.
func Locate(path string) (string, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	if real, err := filepath.EvalSymlinks(abs); err == nil {
		return real, nil
	}
	if folder, err := filepath.EvalSymlinks(filepath.Dir(abs)); err == nil {
		return filepath.Join(folder, filepath.Base(abs)), nil
	}
	return abs, nil
}

// SamePath reports whether two paths are of one file, or would be.
func SamePath(a, b string) bool {
	infoA, errA := os.Stat(a)
	infoB, errB := os.Stat(b)
	if errA == nil && errB == nil {
		return os.SameFile(infoA, infoB)
	}
	a, errA = Locate(a)
	b, errB = Locate(b)
	return errA == nil && errB == nil && a == b
}
