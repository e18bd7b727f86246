package disk

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// TryLock locks one byte next to the one that bbolt locks, since a byte cannot be
// locked twice. It reports whether it got the lock.
func TryLock(f *os.File, shared bool) (bool, error) {
	how := uint32(windows.LOCKFILE_FAIL_IMMEDIATELY)
	if !shared {
		how |= windows.LOCKFILE_EXCLUSIVE_LOCK
	}
	err := windows.LockFileEx(windows.Handle(f.Fd()), how, 0, 1, 0, lockPlace())
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return false, nil
	}
	return err == nil, err
}

func lockPlace() *windows.Overlapped {
	return &windows.Overlapped{Offset: ^uint32(0) - 1, OffsetHigh: ^uint32(0)}
}

// Unlock releases the lock.
func Unlock(f *os.File) error {
	return windows.UnlockFileEx(windows.Handle(f.Fd()), 0, 1, 0, lockPlace())
}

// roomErrors are the system's errors for a full disk.
var roomErrors = []error{windows.ERROR_DISK_FULL, windows.ERROR_HANDLE_DISK_FULL}

// alive reports whether there is a process of that number.
func alive(pid int) bool {
	p, err := windows.OpenProcess(windows.SYNCHRONIZE, false, uint32(pid))
	if err == nil {
		_ = windows.CloseHandle(p)
	}
	return err == nil || errors.Is(err, windows.ERROR_ACCESS_DENIED)
}
