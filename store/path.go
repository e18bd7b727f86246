package store

// This file says where the store lies when nobody says otherwise.

import (
	"fmt"
	"path/filepath"
)

// PathVariable names the environment variable that names the store.
const PathVariable = "TUNDISH_STORE"

// DefaultPath is the store's file: $TUNDISH_STORE, else tundish/jobs.db in
// $XDG_DATA_HOME where that is an absolute path, else in .local/share of the
// home folder (XDG Base Directory Specification 0.8). The same on every system.
func DefaultPath(getenv func(string) string, home string) (string, error) {
	if path := getenv(PathVariable); path != "" {
		return path, nil
	}
	if data := getenv("XDG_DATA_HOME"); filepath.IsAbs(data) {
		return filepath.Join(data, "tundish", "jobs.db"), nil
	}
	if home == "" {
		return "", fmt.Errorf("no home folder is known; set %s or name a file with --store", PathVariable)
	}
	return filepath.Join(home, ".local", "share", "tundish", "jobs.db"), nil
}
