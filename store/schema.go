package store

// This file holds the version of the schema, the migration of older files, and the
// records that identify a file.

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"strconv"

	"go.etcd.io/bbolt"

	"garage/tundish/store/fault"
	"garage/tundish/store/journal"
	"garage/tundish/store/record"
)

// schemaVersion is what this program writes. The record that holds it stays the same
// in every version, so that any program recognises a file newer than itself.
//
//	1  the first
//	2  entries keep questions as they were asked, the place in the journal names
//	   the job last worked in the guide
//	3  entries speak of more, and an event can have taken place before its entry
//	4  entries speak of levels, of what other units of the car are told, of a club's cards
//	5  jobs can be discarded
const schemaVersion = 5

// oldestRead is the oldest version that can be read without migration: what newer
// ones add is optional.
const oldestRead = 1

// Keys of the about bucket.
const (
	versionKey = "schema"  // number
	storeKey   = "store"   // id of the store, also in its journal
	markKey    = "journal" // Mark: the last line that is in the buckets
)

// schema is a version and the migrations to it.
type schema struct {
	version int
	reads   int                         // oldest version read without migration
	steps   map[int]func(*change) error // from each older version to the next
}

// current is the schema of this program.
func current() schema {
	keepAll := func(*change) error { return nil } // to a schema that only adds
	return schema{version: schemaVersion, reads: oldestRead, steps: map[int]func(*change) error{1: findWorked, 2: keepAll, 3: keepAll,
		4: keepAll}}
}

// findWorked migrates schema 1 to 2. Schema 1 recorded the job of the last line, even
// of an import. The journal shows which job was worked here: only the guide adds to a
// job line by line. If it shows none, no job is the last until the guide works one.
func findWorked(c *change) error {
	var m journal.Mark
	found, err := c.From.GetJSON(record.About, []byte(markKey), &m)
	if err != nil || !found { // without a place in a journal there is no last job
		return err
	}
	if m.Worked, err = workedIn(c.From.Path + journal.Suffix); err != nil {
		return err
	}
	if _, found, err := c.From.Job(m.Worked); err != nil || !found {
		m.Worked = ""
	}
	return c.PutJSON(record.About, []byte(markKey), m)
}

// workedIn returns the job last worked in the guide according to a journal, empty if
// there is none.
func workedIn(path string) (id string, err error) {
	j, _, err := openJournal(path, false)
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	defer j.Close()
	return j.LastWorked()
}

// reaches returns nil if there are steps from a version to this one.
func (w schema) reaches(path string, from int) error {
	for at := from; at < w.version; at++ {
		if w.steps[at] == nil {
			return fault.Older(path, from, fmt.Sprintf("this program cannot bring schema %d up to date; it was not changed", at))
		}
	}
	return nil
}

// schemaMark comes before the number in the name of the file as it was.
const schemaMark = ".schema-"

// migrate copies the file, then takes all steps in one transaction.
func (s *Store) migrate(state snapshot, from int, to schema) error {
	backup := s.path + schemaMark + strconv.Itoa(from)
	if err := s.copyTo(state, backup, true, nil, s.step); err != nil {
		return err
	}
	err := s.commit(state, func(c *change) error {
		for at := from; at < to.version; at++ {
			if err := to.steps[at](c); err != nil {
				return &fault.Error{Kind: fault.ErrOlder, Path: s.path, Fact: fmt.Sprintf("cannot be brought from schema %d to %d", at,
					at+1),
					Cause: err, Next: "it was not changed"}
			}
		}
		return c.PutJSON(record.About, []byte(versionKey), to.version)
	})
	if err == nil {
		s.opening.MigratedFrom, s.opening.SchemaBackup = from, backup
	}
	return err
}

// version returns the file's schema. A file without one is not a store.
func (s snapshot) version() (int, error) {
	b, found, err := s.Tree.Bucket(record.About)
	if err != nil {
		return 0, fault.Damage(s.Path, "%v", err)
	}
	if found {
		if _, found, err = b.Get([]byte(versionKey)); err != nil {
			return 0, fault.Damage(s.Path, "%v", err)
		}
	}
	if !found && journal.Beside(s.Path) == journal.None {
		return 0, fault.Foreign(s.Path, "it holds something else")
	}
	var version int
	if found, err = s.GetJSON(record.About, []byte(versionKey), &version); err == nil && !found {
		return 0, fault.Damage(s.Path, "it does not say its schema")
	}
	return version, err
}

// storeID returns the id that the file shares with its journal.
func (s snapshot) storeID() (id string, err error) {
	found, err := s.GetJSON(record.About, []byte(storeKey), &id)
	if err == nil && (!found || id == "") {
		return "", fault.Damage(s.Path, "it has no id")
	}
	return id, err
}

// setAbout writes version and id of a new file.
func setAbout(tx *bbolt.Tx, version int, id string) error {
	for key, value := range map[string]any{versionKey: version, storeKey: id} {
		payload, err := json.Marshal(value)
		if err != nil {
			return err
		}
		if err := tx.Bucket([]byte(record.About)).Put([]byte(key), record.Seal(record.About, []byte(key), payload)); err != nil {
			return err
		}
	}
	return nil
}
