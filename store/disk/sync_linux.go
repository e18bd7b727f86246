package disk

import (
	"os"

	"golang.org/x/sys/unix"
)

func syncData(f *os.File) error { return unix.Fdatasync(int(f.Fd())) }

// forget drops what is kept of a file in memory, but what waits to be written.
func forget(f *os.File) { _ = unix.Fadvise(int(f.Fd()), 0, 0, unix.FADV_DONTNEED) }
