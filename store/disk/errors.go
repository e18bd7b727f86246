package disk

// This file tells errors of the system apart.

import (
	"errors"
	"io/fs"
	"os"
	"slices"
	"strings"
	"syscall"
)

// IsFull reports whether an error means that the disk is full. bbolt quotes some errors
// without wrapping them, so the words count too.
func IsFull(err error) bool {
	for _, room := range roomErrors {
		if errors.Is(err, room) || strings.Contains(err.Error(), room.Error()) {
			return true
		}
	}
	return false
}

// IsIO reports whether an error is of the system, and not of what a file holds.
func IsIO(err error) bool {
	var path *fs.PathError
	var link *os.LinkError
	var call *os.SyscallError
	var number syscall.Errno
	return errors.As(err, &path) || errors.As(err, &link) || errors.As(err, &call) || errors.As(err, &number)
}

// IsForbidden reports whether an error means that a right is missing.
func IsForbidden(err error) bool { return isOne(err, fs.ErrPermission, syscall.EROFS) }

// IsCrowded reports whether an error means that too much is open.
func IsCrowded(err error) bool { return isOne(err, syscall.EMFILE, syscall.ENFILE, syscall.ENOMEM) }

// IsFailing reports whether an error means that the disk fails, and nothing that a person
// can grant or name otherwise.
func IsFailing(err error) bool {
	return err != nil && IsIO(err) && !IsFull(err) && !IsForbidden(err) && !IsCrowded(err) &&
		!isOne(err, fs.ErrNotExist, syscall.ENOTDIR, syscall.ELOOP, syscall.ENAMETOOLONG, syscall.EINVAL)
}

func isOne(err error, of ...error) bool {
	return slices.ContainsFunc(of, func(one error) bool { return errors.Is(err, one) })
}

// Plain returns the system's error without the name of a file, where that is said
// already.
func Plain(err error) error {
	if e, ok := errors.AsType[*fs.PathError](err); ok {
		return e.Err
	}
	if e, ok := errors.AsType[*os.LinkError](err); ok {
		return e.Err
	}
	return err
}
