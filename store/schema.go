package store

// This file holds the version of the file's form, how an older one is brought
// up to date, and the records that tell which version a file has.

import (
	"encoding/json"
	"fmt"
	"strconv"

	"go.etcd.io/bbolt"
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

// step brings a file from one schema to the next.
type step struct {
	from int
	do   func(*bbolt.Tx) error
}

// schema is a version and the ways to it.
type schema struct {
	version int
	reads   int // oldest version that is read as it is
	steps   []step
}

// current is what this program writes and can bring up to date.
func current() schema {
	return schema{version: schemaVersion, reads: oldestRead, steps: []step{{1, findWorked}}}
}

// findWorked brings schema 1 to 2. Schema 1 kept the job of the last line,
// imported or not; whose it is the journal can tell: only the guide goes on with
// a job line by line. Where it does not tell, no job is the last until the guide
// has worked one.
func findWorked(tx *bbolt.Tx) error {
	about := tx.Bucket([]byte(aboutBucket))
	payload, err := unseal(aboutBucket, []byte(markKey), about.Get([]byte(markKey)))
	if err != nil {
		return nil //nolint:nilerr // a file without a place in a journal has no last job either
	}
	var m mark
	if err := json.Unmarshal(payload, &m); err != nil {
		return err
	}
	if m.Worked, err = workedIn(tx.DB().Path() + journalSuffix); err != nil {
		return err
	}
	if tx.Bucket([]byte(jobsBucket)).Get([]byte(m.Worked)) == nil {
		m.Worked = ""
	}
	if payload, err = json.Marshal(m); err != nil {
		return err
	}
	return about.Put([]byte(markKey), seal(aboutBucket, []byte(markKey), payload))
}

// plan is the steps from a version, all of them, or why there is no way.
func (w schema) plan(path string, from int) ([]step, error) {
	var plan []step
	for at := from; at < w.version; at++ {
		found := false
		for _, s := range w.steps {
			if s.from == at {
				plan, found = append(plan, s), true
			}
		}
		if !found {
			return nil, older(path, from, fmt.Sprintf("this program cannot bring schema %d up to date; it was not changed", at))
		}
	}
	return plan, nil
}

// migrate copies the file, then takes all steps in one transaction.
func (s *Store) migrate(plan []step, from int) error {
	backup := s.path + ".schema-" + strconv.Itoa(from)
	if err := s.copyTo(backup, true); err != nil {
		return err
	}
	state, err := snap(s.path, s.file)
	if err != nil {
		return err
	}
	err = s.commit(state, func(c *change) error {
		for _, step := range plan {
			if err := step.do(c.tx); err != nil {
				return &Error{Kind: ErrOlder, Path: s.path, Fact: fmt.Sprintf("cannot be brought from schema %d to %d", step.from, step.from+1),
					Cause: err, Next: "it was not changed"}
			}
		}
		return c.putJSON(aboutBucket, []byte(versionKey), plan[len(plan)-1].from+1)
	})
	if err == nil {
		s.opening.MigratedFrom, s.opening.SchemaBackup = from, backup
	}
	return err
}

// version is the file's schema. A file without one is not a store.
func (s snapshot) version() (int, error) {
	b, found, err := s.tree.bucket(aboutBucket)
	if err != nil {
		return 0, damage(s.path, "%v", err)
	}
	if found {
		if _, found, err = b.get([]byte(versionKey)); err != nil {
			return 0, damage(s.path, "%v", err)
		}
	}
	if !found && journalBeside(s.path) == noJournal {
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
