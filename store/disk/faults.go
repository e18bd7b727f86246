package disk

// This file lets tests have operations on files fail.

import (
	"io"
	"io/fs"
	"os"
)

// Operation is what is done with a file.
type Operation uint8

// The operations that can be made to fail.
const (
	Opening Operation = iota
	Creating
	Reading
	Syncing
	Forgetting
)

// Faults is set by tests alone: the error with which an operation on a file is to fail,
// nil to let it be done.
var Faults func(op Operation, path string) error

// fault returns the injected error, as the system would.
func fault(op Operation, path string) error {
	if Faults == nil {
		return nil
	}
	err := Faults(op, path)
	if err == nil {
		return nil
	}
	return &fs.PathError{Op: [...]string{"open", "create", "read", "fdatasync", "fadvise"}[op], Path: path, Err: err}
}

// Open opens a file that is there.
func Open(path string, writable bool) (*os.File, error) {
	if err := fault(Opening, path); err != nil {
		return nil, err
	}
	if writable {
		return os.OpenFile(path, os.O_RDWR, 0)
	}
	return os.Open(path)
}

// Reader is a file to read from.
type Reader struct{ *os.File }

var _ io.ReaderAt = Reader{}

// ReadAt reads as os.File does.
func (r Reader) ReadAt(p []byte, at int64) (int, error) {
	if err := fault(Reading, r.Name()); err != nil {
		return 0, err
	}
	return r.File.ReadAt(p, at)
}

// Forget has a file read from the disk again, and not from what the system keeps of it in
// memory, where the system can do that.
func Forget(path string) {
	f, err := os.Open(path)
	if err != nil {
		return
	}
	defer f.Close()
	if fault(Forgetting, path) == nil {
		forget(f)
	}
}

// CreateTemp makes a file of a name that no other has.
func CreateTemp(folder, pattern string) (*os.File, error) {
	if err := fault(Creating, folder); err != nil {
		return nil, err
	}
	return os.CreateTemp(folder, pattern)
}

// SyncData makes what was written durable; where the system can, the file's times may
// wait.
func SyncData(f *os.File) error {
	if err := fault(Syncing, f.Name()); err != nil {
		return err
	}
	return syncData(f)
}
