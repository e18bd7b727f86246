//go:build unix

package disk

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// TryLock takes the lock that bbolt takes, on the same open file: bbolt, given
// that file, finds it locked by itself. It is false where another holds it.
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

// Unlock gives the lock free. Closing the file does not while it is mapped.
func Unlock(f *os.File) error { return unix.Flock(int(f.Fd()), unix.LOCK_UN) }

// roomErrors is what the system says for want of room: disk, quota, the
// greatest size of a file.
func roomErrors() []error { return []error{unix.ENOSPC, unix.EDQUOT, unix.EFBIG} }
