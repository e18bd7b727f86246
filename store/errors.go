package store

// This file holds what can go wrong, grouped by the moment at which it can,
// and the one sentence that each makes: the file's name, the fact, what to do.

import (
	"errors"
	"fmt"

	"garage/tundish/store/disk"
	"garage/tundish/store/journal"
)

// When a store is opened.
var (
	ErrLocked   = errors.New("in use by another window")
	ErrDamaged  = errors.New("damaged")
	ErrForeign  = errors.New("not a store of this program")
	ErrNewer    = errors.New("written by a newer version")
	ErrOlder    = errors.New("written by an older version")
	ErrReadOnly = errors.New("cannot be written")
	ErrNotFile  = errors.New("not a file")
	ErrAbsent   = errors.New("not there")
)

// When something is stored.
var (
	ErrFull       = errors.New("disk full")          // nothing was stored; goes on when there is room
	ErrUncertain  = errors.New("disk failed")        // stored or not: seen when opened again
	ErrMoved      = errors.New("moved while open")   // nothing was stored
	ErrExists     = errors.New("exists")             // a job with that id, a file with that name
	ErrOutOfOrder = errors.New("entry out of order") // entries must go on at count+1
	ErrInvalid    = errors.New("not valid")          // a job, entry, head or name that cannot be stored
	ErrClosed     = errors.New("closed")
)

// When something is looked up.
var (
	ErrNoJob     = errors.New("no such job")
	ErrAmbiguous = errors.New("more than one job")
)

// Error is a failure of a store: which file, what is the matter and what the
// user can do. errors.Is finds Kind, one of the sentinels above, and Cause.
type Error struct {
	Kind  error
	Path  string // file it speaks of
	Fact  string // what is the matter
	Next  string // what to do; empty where there is nothing to do
	Cause error  // what the system said; nil where nothing
}

// Error is the sentence: file, fact, cause, what to do next.
func (e *Error) Error() string {
	s := fmt.Sprintf("%s: %s", e.Path, e.Fact)
	if e.Cause != nil {
		s += fmt.Sprintf(" (%v)", e.Cause)
	}
	if e.Next != "" {
		s += "; " + e.Next
	}
	return s
}

// Unwrap gives the sentinel and what the system said.
func (e *Error) Unwrap() []error {
	if e.Cause == nil {
		return []error{e.Kind}
	}
	return []error{e.Kind, e.Cause}
}

// unwritten is the error of a file beside the store that could not be written,
// nil where it was.
func unwritten(path string, err error) error {
	var told *Error
	switch {
	case err == nil || errors.As(err, &told):
		return err
	case disk.IsFull(err):
		return full(path, err)
	}
	return readOnly(path, err)
}

// damage is the error of every check that finds something wrong inside the
// file, so that all say the same thing to do.
func damage(path, format string, a ...any) error {
	return &Error{Kind: ErrDamaged, Path: path, Fact: "damaged: " + fmt.Sprintf(format, a...),
		Next: "nothing was changed; run: tundish verify, then: tundish repair"}
}

// locked says that another window has the file; why it cannot be read beside
// that is nil where nobody asked.
func locked(path string, why error) error {
	return &Error{Kind: ErrLocked, Path: path, Fact: "another window has it open", Cause: why,
		Next: "close that window, or wait until it is done, and try again"}
}

func foreign(path, why string) error {
	return &Error{Kind: ErrForeign, Path: path, Fact: "not a store of this program: " + why,
		Next: "it was not changed; name another file with --store"}
}

func newer(path string, has, knows int) error {
	return &Error{Kind: ErrNewer, Path: path,
		Fact: fmt.Sprintf("written by a newer version of this program (schema %d, this one knows %d)", has, knows),
		Next: "it was not changed; install the newer version"}
}

func older(path string, has int, why string) error {
	return &Error{Kind: ErrOlder, Path: path, Fact: fmt.Sprintf("written by an older version (schema %d)", has), Next: why}
}

func readOnly(path string, cause error) error {
	return &Error{Kind: ErrReadOnly, Path: path, Fact: "cannot be written", Cause: cause,
		Next: "make file and folder writable for you, or name another file with --store"}
}

func full(path string, cause error) error {
	return &Error{Kind: ErrFull, Path: path, Fact: "no room on the disk, nothing was stored", Cause: cause,
		Next: "make room and try again"}
}

func uncertain(path string, cause error) error {
	return &Error{Kind: ErrUncertain, Path: path, Fact: "the disk failed while storing", Cause: cause,
		Next: "close the program and open it again: the last entry is shown if it was stored"}
}

func exists(path, next string) error {
	return &Error{Kind: ErrExists, Path: path, Fact: "a file of that name is there, it was not written over", Next: next}
}

func invalid(path, format string, a ...any) error {
	return &Error{Kind: ErrInvalid, Path: path, Fact: fmt.Sprintf(format, a...)}
}

func noJob(path, id string) error {
	return &Error{Kind: ErrNoJob, Path: path, Fact: fmt.Sprintf("no job %q", id), Next: "run: tundish jobs"}
}

func moved(path string) error {
	return &Error{Kind: ErrMoved, Path: path, Fact: "moved, replaced or removed while open, nothing was stored",
		Next: "put it back, or close the program and open it again"}
}

func empty(path string) error {
	next := "if it never held jobs, remove it and start again"
	if journal.Beside(path) == journal.Held {
		next = "its journal is there; run: tundish repair"
	}
	return &Error{Kind: ErrDamaged, Path: path, Fact: "damaged: the file is empty", Next: next}
}

func lost(path string) error {
	return &Error{Kind: ErrDamaged, Path: path, Fact: "the file is gone, its journal is there",
		Next: "put the file back, or run: tundish repair"}
}
