package store

import (
	"os"

	"golang.org/x/sys/unix"
)

// syncData makes what was written durable; the file's times may wait.
func syncData(f *os.File) error { return unix.Fdatasync(int(f.Fd())) }
