//go:build unix

package tty

import (
	"errors"
	"os"
	"time"

	"golang.org/x/sys/unix"
)

// comes reports whether there is something to read within a time, or the end.
func comes(f *os.File, within time.Duration) bool {
	for deadline := time.Now().Add(within); ; {
		left := max(time.Until(deadline), 0)
		n, err := unix.Poll([]unix.PollFd{{Fd: int32(f.Fd()), Events: unix.POLLIN}}, int(left.Milliseconds()))
		if !errors.Is(err, unix.EINTR) {
			return err != nil || n > 0
		}
	}
}
