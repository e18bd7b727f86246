package store

// This file says where the store lies when nobody says otherwise, and which
// files are a store's.

import (
	"fmt"
	"os"
	"path/filepath"
)

// pathVariable names the environment variable that names the store.
const pathVariable = "TUNDISH_STORE"

// DefaultPath is the store's file: $TUNDISH_STORE, else tundish/jobs.db in
// $XDG_DATA_HOME where that is an absolute path, else in .local/share of the
// home folder (XDG Base Directory Specification 0.8). The same on every system.
func DefaultPath(getenv func(string) string, home string) (string, error) {
	if path := getenv(pathVariable); path != "" {
		return path, nil
	}
	if data := getenv("XDG_DATA_HOME"); filepath.IsAbs(data) {
		return filepath.Join(data, "tundish", "jobs.db"), nil
	}
	if home == "" {
		return "", fmt.Errorf("no home folder is known; set %s or name a file with --store", pathVariable)
	}
	return filepath.Join(home, ".local", "share", "tundish", "jobs.db"), nil
}

// Owns says whether a path names, by whatever link, a file of the store at
// storePath: the store itself or its journal. Neither need be there.
func Owns(storePath, path string) bool {
	at, err := locate(storePath)
	return err == nil && (samePath(path, at) || samePath(path, at+journalSuffix))
}

// locate makes a path absolute and follows links, as far as it is there, so
// that the journal is always looked for beside the file itself.
func locate(path string) (string, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return "", &Error{Kind: ErrNotFile, Path: path, Fact: "not a path", Cause: err}
	}
	if real, err := filepath.EvalSymlinks(abs); err == nil {
		return real, nil
	}
	if folder, err := filepath.EvalSymlinks(filepath.Dir(abs)); err == nil {
		return filepath.Join(folder, filepath.Base(abs)), nil
	}
	return abs, nil
}

// samePath says whether two paths are of one file, or would be.
func samePath(a, b string) bool {
	infoA, errA := os.Stat(a)
	infoB, errB := os.Stat(b)
	if errA == nil && errB == nil {
		return os.SameFile(infoA, infoB)
	}
	a, errA = locate(a)
	b, errB = locate(b)
	return errA == nil && errB == nil && a == b
}
