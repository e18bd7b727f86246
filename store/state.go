package store

// This file holds one committed state of a store; what can be asked of it stands with
// those who ask.

import (
	"os"

	"garage/tundish/store/record"
)

// snapshot is one committed state of a store.
type snapshot struct{ record.Snapshot }

// snap returns the current state of the file.
func snap(path string, f *os.File) (snapshot, error) {
	s, err := record.Snap(path, f)
	return snapshot{s}, err
}
