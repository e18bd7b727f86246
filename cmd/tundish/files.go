package main

// This file opens the files that commands read, and writes those that they make.

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

const standardInput = "-"

// open opens a file to read, or standard input, and says how to call it in an
// error.
func (o *outside) open(path string) (f io.ReadCloser, name string, err error) {
	if path == standardInput {
		return io.NopCloser(o.in), "standard input", nil
	}
	f, err = os.Open(path)
	if err != nil {
		return nil, path, unread(path, err)
	}
	return f, path, nil
}

// unread is the error of a file that cannot be read.
func unread(path string, err error) error {
	var pathError *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: there is no such file; check the name", path)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: you may not read it; change its permissions", path)
	case errors.As(err, &pathError):
		return fmt.Errorf("%s: cannot be read; %v", path, pathError.Err)
	}
	return fmt.Errorf("%s: cannot be read; %v", path, err)
}

// writeWhole writes a file whole or not at all: what is there stays until all
// of the new text is on the disk. A device or a pipe is written as it is.
func writeWhole(path string, text []byte) error {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return unwritten(path, os.WriteFile(path, text, 0o644))
	}
	temp, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".new-*")
	if err != nil {
		return unwritten(path, err)
	}
	defer os.Remove(temp.Name())
	_, err = temp.Write(text)
	err = errors.Join(err, temp.Chmod(0o644), temp.Sync(), temp.Close())
	if err == nil {
		err = os.Rename(temp.Name(), path)
	}
	return unwritten(path, err)
}

// unwritten is the error of a file that cannot be written.
func unwritten(path string, err error) error {
	if err == nil {
		return nil
	}
	if pathError, ok := errors.AsType[*fs.PathError](err); ok {
		err = pathError.Err
	}
	return fmt.Errorf("%s: cannot be written, nothing was changed (%v); name another file", path, err)
}

// sameFile says whether two names are of one file that is there.
func sameFile(a, b string) bool {
	infoA, errA := os.Stat(a)
	infoB, errB := os.Stat(b)
	return errA == nil && errB == nil && os.SameFile(infoA, infoB)
}
