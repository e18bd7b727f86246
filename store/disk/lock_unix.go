//go:build unix

package disk

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// TryLock takes the lock that bbolt takes, on the same open file: bbolt, given that
// file, then has it already. It reports whether it got the lock.
func TryLock(f *os.File, shared bool) (bool, error) {
	how := unix.LOCK_EX
	if shared {
		how = unix.LOCK_SH
	}
	err := unix.Flock(int(f.Fd()), how|unix.LOCK_NB)
	if errors.Is(err, unix.EWOULDBLOCK) {
		return false, nil
	}
	return err == nil, err
}

// Unlock releases the lock. Closing the file does not while it is mapped.
func Unlock(f *os.File) error { return unix.Flock(int(f.Fd()), unix.LOCK_UN) }

// roomErrors are the system's errors for a full disk, a full quota, a file too large.
var roomErrors = []error{unix.ENOSPC, unix.EDQUOT, unix.EFBIG}

// alive reports whether there is a process of that number.
func alive(pid int) bool {
	err := unix.Kill(pid, 0)
	return err == nil || errors.Is(err, unix.EPERM)
}
