// Package disk is what a store needs of the operating system: locks, syncs, files that
// appear complete or not at all, and whether a disk is full.
package disk

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// Modes of what is made: for its owner alone.
const (
	FileMode   = 0o600
	folderMode = 0o700
)

// WriteWhole lets fill write a file under a temporary name, so that nobody finds an
// incomplete one, syncs it, and lets place rename it.
func WriteWhole(path string, place func(temp, path string) error, fill func(*os.File) error) error {
	folder, base := filepath.Split(path)
	Sweep(folder, func(of string) bool { return of == base })
	temp, err := CreateTemp(filepath.Clean(folder), TempName(base, "*"))
	if err != nil {
		return err
	}
	defer os.Remove(temp.Name())
	if err := errors.Join(fill(temp), SyncData(temp), temp.Close()); err != nil {
		return err
	}
	return place(temp.Name(), path)
}

// TempName is the name of a file that is to become another, by its process, so that a
// later one can tell what a killed one left behind; which tells those of a process apart.
func TempName(base, which string) string {
	return "." + base + newMark + strconv.Itoa(os.Getpid()) + "-" + which
}

const newMark = ".new-"

// Sweep removes what processes that are gone have left behind in a folder: files that were
// to become those that are meant.
func Sweep(folder string, meant func(base string) bool) {
	names, err := os.ReadDir(filepath.Clean(folder))
	if err != nil {
		return // whoever writes there is told
	}
	for _, e := range names {
		at := strings.LastIndex(e.Name(), newMark)
		if at < 1 || e.Name()[0] != '.' || !meant(e.Name()[1:at]) {
			continue
		}
		digits, _, _ := strings.Cut(e.Name()[at+len(newMark):], "-")
		if pid, err := strconv.Atoi(digits); err == nil && !alive(pid) {
			_ = os.Remove(filepath.Join(folder, e.Name()))
		}
	}
}

// Replace renames a finished file, over an existing one.
func Replace(temp, path string) error {
	if err := os.Rename(temp, path); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(path))
}

// PutInPlace renames a finished file; fs.ErrExist if the name exists.
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

// MakeFolder creates a folder and its parents, durably.
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

// syncFolder makes a new name in a folder durable, if the system can.
func syncFolder(path string) error {
	d, err := os.Open(path)
	if err != nil {
		return nil
	}
	defer d.Close()
	_ = d.Sync() // file systems that need it can do it
	return nil
}

// Remove removes files, which need not exist.
func Remove(paths ...string) error {
	for _, path := range paths {
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}

// SetAside renames a file, in its folder, and returns the new name; none if there is no
// such file.
func SetAside(path string) (aside string, err error) {
	if _, err := os.Lstat(path); err != nil {
		return "", nil
	}
	if aside, err = freeName(path+".aside", 1); err != nil {
		return "", err
	}
	return aside, os.Rename(path, aside)
}

// KeepBeside gives a file that is to be replaced a second name, of that day: what it is,
// then the day. Where the file system knows no links it has that name alone.
func KeepBeside(path, what string, day time.Time) (aside string, err error) {
	if aside, err = freeName(path+"."+what+"-"+day.Format(time.DateOnly), 2); err != nil {
		return "", err
	}
	if err = os.Link(path, aside); err != nil {
		err = os.Rename(path, aside)
	}
	return aside, err
}

// freeName returns a name that no file has: the one given, with a number from the given
// one on.
func freeName(path string, from int) (string, error) {
	for k := 1; ; k++ {
		name := path
		if k >= from {
			name += "-" + strconv.Itoa(k)
		}
		if _, err := os.Lstat(name); errors.Is(err, fs.ErrNotExist) {
			return name, nil
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

// Locate makes a path absolute and follows links, as far as it exists.
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
