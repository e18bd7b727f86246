package store

// This file holds the version of the file's form, how an older one is brought
// up to date, and the records that tell which version a file has.

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"strconv"

	"go.etcd.io/bbolt"

	"garage/tundish/store/journal"
)

// schemaVersion is the form that this program writes. The record that holds it
// keeps its place and its form in every version, so that any program can tell
// that a file is newer than itself.
//
//	1  the first
//	2  entries keep questions as they were asked, the place in the journal names
//	   the job last worked in the guide
const schemaVersion = 2

// oldestRead is the oldest form that can be read as it is, without bringing it
// up to date: what a newer one has beside it is optional.
const oldestRead = 1

// Keys of the about bucket.
const (
	versionKey = "schema"  // number
	storeKey   = "store"   // id of the store, by which a journal is known as its own
	markKey    = "journal" // mark: the last line that is in the buckets
)

// schema is a version and the ways to it.
type schema struct {
	version int
	reads   int                         // oldest version that is read as it is
	steps   map[int]func(*change) error // from each older version to the next
}

// current is what this program writes and can bring up to date.
func current() schema {
	return schema{version: schemaVersion, reads: oldestRead, steps: map[int]func(*change) error{1: findWorked}}
}

// findWorked brings schema 1 to 2. Schema 1 kept the job of the last line,
// imported or not; whose it is the journal can tell: only the guide goes on with
// a job line by line. Where it does not tell, no job is the last until the guide
// has worked one.
func findWorked(c *change) error {
	var m journal.Mark
	found, err := c.from.getJSON(aboutBucket, []byte(markKey), &m)
	if err != nil || !found { // a file without a place in a journal has no last job either
		return err
	}
	if m.Worked, err = workedIn(c.from.path + journal.Suffix); err != nil {
		return err
	}
	if _, found, err := c.from.job(m.Worked); err != nil || !found {
		m.Worked = ""
	}
	return c.putJSON(aboutBucket, []byte(markKey), m)
}

// workedIn is the job that a journal last saw worked in the guide, line by line;
// empty where it saw none, or is not there.
func workedIn(path string) (id string, err error) {
	j, _, err := openJournal(path, false)
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	defer j.Close()
	for l, err := range j.Lines(0) {
		if err != nil {
			return "", err
		}
		if l.Worked() {
			id = l.Job
		}
	}
	return id, nil
}

// reaches returns nil where there are steps all the way from a version.
func (w schema) reaches(path string, from int) error {
	for at := from; at < w.version; at++ {
		if w.steps[at] == nil {
			return older(path, from, fmt.Sprintf("this program cannot bring schema %d up to date; it was not changed", at))
		}
	}
	return nil
}

// migrate copies the file, then takes all steps in one transaction.
func (s *Store) migrate(state snapshot, from int, to schema) error {
	backup := s.path + ".schema-" + strconv.Itoa(from)
	if err := s.copyTo(backup, true); err != nil {
		return err
	}
	err := s.commit(state, func(c *change) error {
		for at := from; at < to.version; at++ {
			if err := to.steps[at](c); err != nil {
				return &Error{Kind: ErrOlder, Path: s.path, Fact: fmt.Sprintf("cannot be brought from schema %d to %d", at, at+1),
					Cause: err, Next: "it was not changed"}
			}
		}
		return c.putJSON(aboutBucket, []byte(versionKey), to.version)
	})
	if err == nil {
		s.opening.MigratedFrom, s.opening.SchemaBackup = from, backup
	}
	return err
}

// version is the file's schema. A file without one is not a store.
func (s snapshot) version() (int, error) {
	b, found, err := s.tree.Bucket(aboutBucket)
	if err != nil {
		return 0, damage(s.path, "%v", err)
	}
	if found {
		if _, found, err = b.Get([]byte(versionKey)); err != nil {
			return 0, damage(s.path, "%v", err)
		}
	}
	if !found && journal.Beside(s.path) == journal.None {
		return 0, foreign(s.path, "it holds something else")
	}
	var version int
	if found, err = s.getJSON(aboutBucket, []byte(versionKey), &version); err == nil && !found {
		return 0, damage(s.path, "it does not say its schema")
	}
	return version, err
}

// storeID is the id that the file shares with its journal.
func (s snapshot) storeID() (id string, err error) {
	found, err := s.getJSON(aboutBucket, []byte(storeKey), &id)
	if err == nil && (!found || id == "") {
		return "", damage(s.path, "it has no id")
	}
	return id, err
}

// setAbout writes what a new file says of itself.
func setAbout(tx *bbolt.Tx, version int, id string) error {
	for key, value := range map[string]any{versionKey: version, storeKey: id} {
		payload, err := json.Marshal(value)
		if err != nil {
			return err
		}
		if err := tx.Bucket([]byte(aboutBucket)).Put([]byte(key), seal(aboutBucket, []byte(key), payload)); err != nil {
			return err
		}
	}
	return nil
}
