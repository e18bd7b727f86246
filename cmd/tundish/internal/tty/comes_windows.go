package tty

import (
	"os"
	"time"
)

// comes: Bubble Tea reads a console past Input.
func comes(*os.File, time.Duration) bool { return true }
