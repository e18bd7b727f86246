package store

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
	errLocked   = errors.New("in use by another window")
	ErrDamaged  = errors.New("damaged")
	errGone     = errors.New("gone") // the file, and its journal is there
	errUnread   = errors.New("cannot be read")
	errForeign  = errors.New("not a store of this program")
	errNewer    = errors.New("written by a newer version")
	ErrOlder    = errors.New("written by an older version")
	ErrReadOnly = errors.New("cannot be written")
	errNotFile  = errors.New("not a file")
	ErrAbsent   = errors.New("not there")
)

// When something is stored.
var (
	errFull       = errors.New("disk full")          // nothing was stored; works again once there is room
	errUncertain  = errors.New("disk failed")        // whether it was stored is seen on opening again
	errMoved      = errors.New("moved while open")   // nothing was stored
	errExists     = errors.New("exists")             // a job with that id, a file with that name
	errOutOfOrder = errors.New("entry out of order") // the next entry must be number count+1
	errInvalid    = errors.New("not valid")          // a job, entry, head or name that cannot be stored
	errClosed     = errors.New("closed")
)

// When something is looked up.
var (
	errNoJob     = errors.New("no such job")
	errAmbiguous = errors.New("more than one job")
	errDiscarded = errors.New("discarded")
)

// Error is a failure of a store: which file, what is wrong and what the user can do.
// errors.Is finds the kind, one of the sentinels above, and the cause.
type Error struct {
	Path  string // the file concerned
	kind  error
	fact  string // what is wrong
	next  string // what to do, if anything
	cause error  // error of the system, if any
}

// Error returns the sentence: file, fact, cause, what to do next.
func (e *Error) Error() string {
	s := e.Path + ": " + e.fact
	if e.kind == ErrDamaged {
		s = e.Path + ": damaged: " + e.fact
	}
	if e.cause != nil {
		s += fmt.Sprintf(" (%v)", e.cause)
	}
	if e.next != "" {
		s += "; " + e.next
	}
	return s
}

// Uncertain reports whether what was to be stored may be stored.
func (e *Error) Uncertain() bool { return e.kind == errUncertain }

// Unwrap returns the sentinel and the system's error.
func (e *Error) Unwrap() []error {
	if e.cause == nil {
		return []error{e.kind}
	}
	return []error{e.kind, e.cause}
}

// unwritten returns the error for a file that could not be written; nil for nil.
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

// damage returns the error of every check of a file's contents, so that all give the
// same advice; of the system's where that is why it could not be checked.
func damage(path, format string, a ...any) error {
	for _, arg := range a {
		if err, ok := arg.(error); ok && disk.IsIO(err) {
			return unread(path, err)
		}
	}
	return &Error{kind: ErrDamaged, Path: path, fact: fmt.Sprintf(format, a...),
		next: "nothing was changed; run: tundish verify, then: tundish repair"}
}

// unread returns the error of a file that the system does not let be read.
func unread(path string, cause error) error {
	return &Error{kind: errUnread, Path: path, fact: "cannot be read", cause: disk.Plain(cause),
		next: advice(cause, "make file and folder readable for you",
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

// uncopied returns the error of a store that another window has open, and that cannot be
// copied to be read meanwhile.
func uncopied(path string, cause error) error {
	return &Error{kind: errUnread, Path: path, fact: "another window has it open, and it cannot be copied to be read meanwhile",
		cause: disk.Plain(cause),
		next:  "make room for temporary files, or name a folder for them in TMPDIR"}
}

// locked returns the error for a file that another window has open; why is the reason
// that it cannot be read meanwhile, nil if that was not tried.
func locked(path string, why error) error {
	return &Error{kind: errLocked, Path: path, fact: "another window has it open", cause: why,
		next: "close that window, or wait until it is done, and try again"}
}

func foreign(path, why string) error {
	return &Error{kind: errForeign, Path: path, fact: "not a store of this program: " + why,
		next: "it was not changed; name another file with --store"}
}

func newer(path string, has, knows int) error {
	return &Error{kind: errNewer, Path: path,
		fact: fmt.Sprintf("written by a newer version of this program (schema %d, this one knows %d)", has, knows),
		next: "it was not changed; install the newer version"}
}

func older(path string, has int, why string) error {
	return &Error{kind: ErrOlder, Path: path, fact: fmt.Sprintf("written by an older version (schema %d)", has), next: why}
}

func readOnly(path string, cause error) error {
	return &Error{kind: ErrReadOnly, Path: path, fact: "cannot be written", cause: disk.Plain(cause),
		next: advice(cause, "make file and folder writable for you", "name a file on another disk")}
}

func full(path string, cause error) error {
	return &Error{kind: errFull, Path: path, fact: "no room on the disk, nothing was stored", cause: cause,
		next: "make room and try again"}
}

func uncertain(path string, cause error) error {
	return &Error{kind: errUncertain, Path: path,
		fact: "the disk failed while storing, and whether the last entry is stored cannot be told", cause: disk.Plain(cause),
		next: "make a backup to another disk with: tundish backup; then open it again and look"}
}

func exists(path, next string) error {
	return &Error{kind: errExists, Path: path, fact: "a file of that name is there, it was not written over", next: next}
}

func invalid(path, format string, a ...any) error {
	return &Error{kind: errInvalid, Path: path, fact: fmt.Sprintf(format, a...)}
}

func noJob(path, id string) error {
	return &Error{kind: errNoJob, Path: path, fact: fmt.Sprintf("no job %q", id), next: "run: tundish jobs"}
}

func discarded(path, id string) error {
	return &Error{kind: errDiscarded, Path: path, fact: fmt.Sprintf("job %q is discarded", id),
		next: "to have it again run: tundish discard --undo " + id}
}

func moved(path string) error {
	return &Error{kind: errMoved, Path: path, fact: "moved, replaced or removed while open, nothing was stored",
		next: "put it back, or close the program and open it again"}
}

func empty(path string) error {
	next := "if it never held jobs, remove it and start again"
	if journal.Beside(path) == journal.Held {
		next = "its journal is there; run: tundish repair"
	}
	return &Error{kind: ErrDamaged, Path: path, fact: "the file is empty", next: next}
}

func lost(path string) error {
	return &Error{kind: errGone, Path: path, fact: "the file is gone, its journal is there",
		next: "put the file back, or run: tundish repair"}
}
