// Package files writes the files that commands make: whole or not at all, over a file
// that is there only when told to, and never over the store.
package files

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"garage/tundish/store/disk"
)

// Force lets a file that is there be written over.
type Force struct {
	Force bool `help:"Write over a file that is there."`
}

// Write writes a text into a file that the store does not own. A device or a pipe is
// written as it is.
func (f Force) Write(owned func(path string) bool, path string, text []byte) error {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() && !info.IsDir() {
		return Unwritten(path, os.WriteFile(path, text, 0))
	}
	return f.Commit(owned, path, func(temp string) error {
		out, err := os.OpenFile(temp, os.O_WRONLY|os.O_TRUNC, 0)
		if err != nil {
			return Unwritten(path, err)
		}
		_, err = out.Write(text)
		return Unwritten(path, errors.Join(err, out.Sync(), out.Close()))
	})
}

// Commit has a file made under another name in the same folder, durably, and then
// gives it its own. What is there stays until then; without --force it stays
// even if it came to be there meanwhile, and the error is fs.ErrExist. The
// error of fill is passed on.
func (f Force) Commit(owned func(path string) bool, path string, fill func(temp string) error) error {
	if err := f.mayWrite(owned, path); err != nil {
		return err
	}
	folder := filepath.Dir(path)
	temp, err := createTemp(folder)
	if err != nil {
		return Unwritten(path, err)
	}
	defer os.Remove(temp)
	if err := fill(temp); err != nil {
		return err
	}
	if err := f.place(temp, path); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return errExists(path)
		}
		return Unwritten(path, err)
	}
	if err := syncFolder(folder); err != nil {
		return fmt.Errorf("%s: written, but it may not outlast a power failure (%v); write it again", path, err)
	}
	return nil
}

// mayWrite refuses the store, a folder, and, without --force, a file.
func (f Force) mayWrite(owned func(string) bool, path string) error {
	if owned(path) {
		return fmt.Errorf("%s: that is the store itself; name another file", path)
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return Unwritten(path, err)
	case info.IsDir():
		return fmt.Errorf("%s: that is a folder; name a file in it", path)
	case !info.Mode().IsRegular():
		return fmt.Errorf("%s: that is not an ordinary file; name another", path)
	case !f.Force:
		return errExists(path)
	}
	return nil
}

// errExists is the error of a file that must not be written over.
func errExists(path string) error {
	return fmt.Errorf("%s: %w; name another, or write over it with --force", path, fs.ErrExist)
}

// tempBase is in the names of files that have not got their own yet.
const tempBase = "tundish"

// createTemp makes an empty file of a name that no other has, and removes those that a
// killed run has left.
func createTemp(folder string) (path string, err error) {
	disk.Sweep(folder, func(of string) bool { return of == tempBase || strings.HasPrefix(of, "."+tempBase+".") })
	path = filepath.Join(folder, disk.TempName(tempBase, fmt.Sprintf("%016x", rand.Uint64())))
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return "", err
	}
	return path, f.Close()
}

// place gives a file its name.
func (f Force) place(temp, path string) error {
	if f.Force {
		if real, err := filepath.EvalSymlinks(path); err == nil {
			path = real // a link goes on pointing to it
		}
		return os.Rename(temp, path)
	}
	err := os.Link(temp, path)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	return placeWithoutLink(temp, path)
}

// placeWithoutLink gives a file its name, where no other has it, on a disk that
// knows no links: it takes the name with an empty file first.
func placeWithoutLink(temp, path string) error {
	taken, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	if err = errors.Join(taken.Close(), os.Rename(temp, path)); err != nil {
		err = errors.Join(err, os.Remove(path))
	}
	return err
}

// syncFolder makes the names in a folder durable, where the system can.
func syncFolder(folder string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	f, err := os.Open(folder)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// Unwritten is the error of a file that cannot be written.
func Unwritten(path string, err error) error {
	if err == nil {
		return nil
	}
	if pathError, ok := errors.AsType[*fs.PathError](err); ok {
		err = pathError.Err
	} else if linkError, ok := errors.AsType[*os.LinkError](err); ok {
		err = linkError.Err
	}
	return fmt.Errorf("%s: cannot be written, nothing was changed (%v); choose another place", path, err)
}
