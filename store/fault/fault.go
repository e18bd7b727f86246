// Package fault holds the errors of a store: which file, what is wrong, what to do.
package fault

// This file holds the errors, grouped by the moment at which they occur, and the
// sentence of each: the file's name, the fact, what to do.

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
	ErrGone     = errors.New("gone") // the file, and its journal is there
	ErrUnread   = errors.New("cannot be read")
	ErrForeign  = errors.New("not a store of this program")
	ErrNewer    = errors.New("written by a newer version")
	ErrOlder    = errors.New("written by an older version")
	ErrReadOnly = errors.New("cannot be written")
	ErrNotFile  = errors.New("not a file")
	ErrAbsent   = errors.New("not there")
)

// When something is stored.
var (
	ErrFull       = errors.New("disk full")          // nothing was stored; works again once there is room
	ErrUncertain  = errors.New("disk failed")        // whether it was stored is seen on opening again
	ErrMoved      = errors.New("moved while open")   // nothing was stored
	ErrExists     = errors.New("exists")             // a job with that id, a file with that name
	ErrOutOfOrder = errors.New("entry out of order") // the next entry must be number count+1
	ErrInvalid    = errors.New("not valid")          // a job, entry, head or name that cannot be stored
	ErrClosed     = errors.New("closed")
)

// When something is looked up.
var (
	ErrNoJob     = errors.New("no such job")
	ErrAmbiguous = errors.New("more than one job")
	ErrDiscarded = errors.New("discarded")
)

// Error is a failure of a store: which file, what is wrong and what the user can do.
// errors.Is finds the kind, one of the sentinels above, and the cause.
type Error struct {
	Path  string // the file concerned
	Kind  error
	Fact  string // what is wrong
	Next  string // what to do, if anything
	Cause error  // error of the system, if any
}

// Error returns the sentence: file, fact, cause, what to do next.
func (e *Error) Error() string {
	s := e.Path + ": " + e.Fact
	if e.Kind == ErrDamaged {
		s = e.Path + ": damaged: " + e.Fact
	}
	if e.Cause != nil {
		s += fmt.Sprintf(" (%v)", e.Cause)
	}
	if e.Next != "" {
		s += "; " + e.Next
	}
	return s
}

// Uncertain reports whether what was to be stored may be stored.
func (e *Error) Uncertain() bool { return e.Kind == ErrUncertain }

// Unwrap returns the sentinel and the system's error.
func (e *Error) Unwrap() []error {
	if e.Cause == nil {
		return []error{e.Kind}
	}
	return []error{e.Kind, e.Cause}
}

// Unwritten returns the error for a file that could not be written; nil for nil.
func Unwritten(path string, err error) error {
	var told *Error
	switch {
	case err == nil || errors.As(err, &told):
		return err
	case disk.IsFull(err):
		return Full(path, err)
	}
	return ReadOnly(path, err)
}

// Damage returns the error of every check of a file's contents, so that all give the
// same advice; of the system's where that is why it could not be checked.
func Damage(path, format string, a ...any) error {
	for _, arg := range a {
		if err, ok := arg.(error); ok && disk.IsIO(err) {
			return Unread(path, err)
		}
	}
	return &Error{Kind: ErrDamaged, Path: path, Fact: fmt.Sprintf(format, a...),
		Next: "nothing was changed; run: tundish verify, then: tundish repair"}
}

// Unread returns the error of a file that the system does not let be read.
func Unread(path string, cause error) error {
	return &Error{Kind: ErrUnread, Path: path, Fact: "cannot be read", Cause: disk.Plain(cause),
		Next: advice(cause, "make file and folder readable for you",
			"copy the file and its journal to another disk, then run: tundish repair")}
}

// advice is what to do about an error of the system: where rights are missing, where the
// disk fails, else by the error.
func advice(cause error, rights, onFailure string) string {
	switch {
	case cause == nil || disk.IsForbidden(cause):
		return rights + ", or name another file with --store"
	case disk.IsCrowded(cause):
		return "close other programs and try again"
	case disk.IsFailing(cause):
		return "the disk may be failing: " + onFailure
	}
	return "name another file with --store"
}

// Uncopied returns the error of a store that another window has open, and that cannot be
// copied to be read meanwhile.
func Uncopied(path string, cause error) error {
	return &Error{Kind: ErrUnread, Path: path, Fact: "another window has it open, and it cannot be copied to be read meanwhile",
		Cause: disk.Plain(cause),
		Next:  "make room for temporary files, or name a folder for them in TMPDIR"}
}

// Locked returns the error for a file that another window has open; why is the reason
// that it cannot be read meanwhile, nil if that was not tried.
func Locked(path string, why error) error {
	return &Error{Kind: ErrLocked, Path: path, Fact: "another window has it open", Cause: why,
		Next: "close that window, or wait until it is done, and try again"}
}

// Foreign returns the error of a file that is no store, and why that is seen.
func Foreign(path, why string) error {
	return &Error{Kind: ErrForeign, Path: path, Fact: "not a store of this program: " + why,
		Next: "it was not changed; name another file with --store"}
}

// Newer returns the error of a file of a newer version than the program knows.
func Newer(path string, has, knows int) error {
	return &Error{Kind: ErrNewer, Path: path,
		Fact: fmt.Sprintf("written by a newer version of this program (schema %d, this one knows %d)", has, knows),
		Next: "it was not changed; install the newer version"}
}

// Older returns the error of a file of an older version, and what to do.
func Older(path string, has int, why string) error {
	return &Error{Kind: ErrOlder, Path: path, Fact: fmt.Sprintf("written by an older version (schema %d)", has), Next: why}
}

// ReadOnly returns the error of a file that the system does not let be written.
func ReadOnly(path string, cause error) error {
	return &Error{Kind: ErrReadOnly, Path: path, Fact: "cannot be written", Cause: disk.Plain(cause),
		Next: advice(cause, "make file and folder writable for you", "name a file on another disk")}
}

// Full returns the error of a full disk.
func Full(path string, cause error) error {
	return &Error{Kind: ErrFull, Path: path, Fact: "no room on the disk, nothing was stored", Cause: cause,
		Next: "make room and try again"}
}

// Uncertain returns the error of a disk that failed in the middle.
func Uncertain(path string, cause error) error {
	return &Error{Kind: ErrUncertain, Path: path,
		Fact: "the disk failed while storing, and whether the last entry is stored cannot be told", Cause: disk.Plain(cause),
		Next: "make a backup to another disk with: tundish backup; then open it again and look"}
}

// Exists returns the error of a file that is not written over, and what to do.
func Exists(path, next string) error {
	return &Error{Kind: ErrExists, Path: path, Fact: "a file of that name is there, it was not written over", Next: next}
}

// Invalid returns the error of what cannot be stored.
func Invalid(path, format string, a ...any) error {
	return &Error{Kind: ErrInvalid, Path: path, Fact: fmt.Sprintf(format, a...)}
}

// NoJob returns the error of an id that no job has.
func NoJob(path, id string) error {
	return &Error{Kind: ErrNoJob, Path: path, Fact: fmt.Sprintf("no job %q", id), Next: "run: tundish jobs"}
}

// Discarded returns the error of a job that is discarded.
func Discarded(path, id string) error {
	return &Error{Kind: ErrDiscarded, Path: path, Fact: fmt.Sprintf("job %q is discarded", id),
		Next: "to have it again run: tundish discard --undo " + id}
}

// Moved returns the error of a file that is no longer at its path.
func Moved(path string) error {
	return &Error{Kind: ErrMoved, Path: path, Fact: "moved, replaced or removed while open, nothing was stored",
		Next: "put it back, or close the program and open it again"}
}

// Empty returns the error of a file with nothing in it.
func Empty(path string) error {
	next := "if it never held jobs, remove it and start again"
	if journal.Beside(path) == journal.Held {
		next = "its journal is there; run: tundish repair"
	}
	return &Error{Kind: ErrDamaged, Path: path, Fact: "the file is empty", Next: next}
}

// Lost returns the error of a file that is gone while its journal is there.
func Lost(path string) error {
	return &Error{Kind: ErrGone, Path: path, Fact: "the file is gone, its journal is there",
		Next: "put the file back, or run: tundish repair"}
}
