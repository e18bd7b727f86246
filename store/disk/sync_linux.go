package disk

import (
	"os"

	"golang.org/x/sys/unix"
)

// SyncData makes what was written durable; the file's times may wait.
func SyncData(f *os.File) error { return unix.Fdatasync(int(f.Fd())) }
