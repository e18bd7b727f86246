package store

// This file says where the store lies when nobody says otherwise, and which
// files are a store's.

import (
	"fmt"
	"path/filepath"

	"garage/tundish/store/disk"
	"garage/tundish/store/fault"
	"garage/tundish/store/journal"
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

// Owns reports whether a path names, by whatever link, a file of the store at
// storePath: the store itself or its journal. Neither need be there.
func Owns(storePath, path string) bool {
	at, err := locate(storePath)
	return err == nil && (disk.SamePath(path, at) || disk.SamePath(path, at+journal.Suffix))
}

// locate makes a path absolute and follows links, so that the journal is always
// looked for beside the file itself.
func locate(path string) (string, error) {
	at, err := disk.Locate(path)
	if err != nil {
		err = &fault.Error{Kind: fault.ErrNotFile, Path: path, Fact: "not a path", Cause: err}
	}
	return at, err
}

// CardFiles is the pattern of the names of unit cards.
const CardFiles = "card-*.json"

// CardsBeside is the folder of the unit cards of a store.
func CardsBeside(path string) string { return filepath.Join(filepath.Dir(path), "cards") }
