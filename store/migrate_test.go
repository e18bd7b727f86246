package store

// This file opens stores of older and newer versions: the committed one of each
// released version, for ever, and made-up versions of tomorrow.

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"garage/tundish/model/job"
	"garage/tundish/store/fault"
	"garage/tundish/store/record"
)

var writeFixtures = flag.Bool("write-fixtures", false, "write the stores in testdata/store anew")

func fixture(name string) string { return filepath.Join("..", "testdata", "store", name) }

// fixtureJobs is what the committed stores hold.
func fixtureJobs() []job.Job {
	jobs := []job.Job{jobOf(0, 12), jobOf(1, 0), jobOf(2, 5)}
	for _, j := range jobs {
		for i, e := range j.Entries {
			if e.Topic == job.LoadedAmount { // not checked for sense when the first was made
				j.Entries[i].Topic = job.OilTemperature
			}
		}
	}
	return jobs
}

// TestFixtures writes them, when asked to.
func TestFixtures(t *testing.T) {
	if !*writeFixtures {
		t.Skip("only with -write-fixtures")
	}
	path := filepath.Join(memory(t), "jobs.db")
	s := open(t, path, Options{})
	for _, job := range fixtureJobs() {
		createJob(t, s, job)
	}
	name := fixture(fmt.Sprintf("schema-%d.db", schemaVersion))
	must(t, s.Backup(name, true, nil, nil))
	closeNow(t, s)
	write(t, name+journalSuffix, read(t, path+journalSuffix))
	setVersion(t, path, 999)
	write(t, fixture("newer.db"), read(t, path))
	whole := read(t, name)
	write(t, fixture("cut-short.db"), whole[:len(whole)-3*pageBytes])
}

// setVersion makes a store say that it is of another version.
func setVersion(t *testing.T, path string, version int) {
	t.Helper()
	db, err := bbolt.Open(path, fileMode, nil)
	must(t, err)
	must(t, db.Update(func(tx *bbolt.Tx) error { return setAbout(tx, version, "made-up") }))
	must(t, db.Close())
}

// copyFixture copies a committed store with its journal, if it has one.
func copyFixture(t *testing.T, name string) string {
	t.Helper()
	path := filepath.Join(memory(t), name)
	write(t, path, read(t, fixture(name)))
	if journal, err := os.ReadFile(fixture(name + journalSuffix)); err == nil {
		write(t, path+journalSuffix, journal)
	}
	return path
}

func TestEverySchemaOpensForEver(t *testing.T) {
	for version := 1; version <= schemaVersion; version++ {
		name := fmt.Sprintf("schema-%d.db", version)
		path := copyFixture(t, name)
		s := open(t, path, Options{ReadOnly: true})
		if !right(t, name+" read only", s, fixtureJobs()) {
			t.Error("it is damaged")
		}
		closeNow(t, s)
		s = open(t, path, Options{})
		want := Opening{}
		if version < schemaVersion {
			want = Opening{MigratedFrom: version, SchemaBackup: fmt.Sprintf("%s.schema-%d", path, version)}
		}
		if s.Opening() != want {
			t.Errorf("%s: %+v, want %+v", name, s.Opening(), want)
		}
		if !right(t, name, s, fixtureJobs()) {
			t.Error("it is damaged")
		}
	}
}

// Schema 1 did not keep which jobs were imported. Whose the last one is, its
// journal tells: the guide goes on line by line.
func TestFalseWord12LastOfASchema1Store(t *testing.T) {
	for _, c := range []struct {
		name  string
		given func(t *testing.T, s *Store)
		want  string
	}{
		{"an own job, then an import", func(t *testing.T, s *Store) {
			createJob(t, s, jobOf(0, 1))
			must(t, s.Append(jobID(0), headFor(jobOf(0, 2)), reading(0, 2)))
			createJob(t, s, jobOf(3, 9)) // as schema 1 let jobs in: whole, and not marked
		}, jobID(0)},
		{"imports only", func(t *testing.T, s *Store) { createJob(t, s, jobOf(3, 9)) }, ""},
		{"nothing", func(*testing.T, *Store) {}, ""},
	} {
		path := filepath.Join(memory(t), "jobs.db")
		s, err := openAs(path, Options{}, schema{version: 1})
		must(t, err)
		c.given(t, s)
		closeNow(t, s)
		s = open(t, path, Options{})
		if s.Opening().MigratedFrom != 1 {
			t.Fatalf("%s: %+v", c.name, s.Opening())
		}
		id, err := s.Find(job.LastJob)
		if id != c.want || (c.want == "") != errors.Is(err, fault.ErrNoJob) {
			t.Errorf("%s: last is %q, %v; want %q", c.name, id, err, c.want)
		}
	}
}

func TestCommittedDamage(t *testing.T) {
	path := copyFixture(t, "cut-short.db")
	if _, err := Open(path, Options{}); !errors.Is(err, fault.ErrDamaged) || !strings.Contains(err.Error(), "cut short") {
		t.Errorf("%v", err)
	}
	if r, err := Verify(path, nil); err != nil || r.OK() || !errors.Is(r.Err(), fault.ErrDamaged) {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestNewerVersionIsRefused(t *testing.T) {
	path := copyFixture(t, "newer.db")
	before := read(t, path)
	for _, o := range []Options{{}, {ReadOnly: true}} {
		_, err := Open(path, o)
		if !errors.Is(err, fault.ErrNewer) {
			t.Fatalf("%v", err)
		}
		sentence(t, path, err)
	}
	if _, err := Verify(path, nil); !errors.Is(err, fault.ErrNewer) {
		t.Errorf("verify: %v", err)
	}
	if _, err := Repair(path, path+".new", nil, nil); !errors.Is(err, fault.ErrNewer) {
		t.Errorf("repair: %v", err)
	}
	if string(read(t, path)) != string(before) {
		t.Error("the file was changed")
	}
	if left, _ := filepath.Glob(path + "?*"); len(left) != 0 {
		t.Errorf("left over: %v", left)
	}
}

// tomorrow is a version with two steps from today's.
func tomorrow(second func(*bbolt.Tx) error) schema {
	return schema{version: schemaVersion + 2, reads: schemaVersion + 2, steps: map[int]func(*change) error{
		schemaVersion:     func(c *change) error { _, err := c.Tx.CreateBucket([]byte("rigs")); return err },
		schemaVersion + 1: func(c *change) error { return second(c.Tx) },
	}}
}

func TestMigration(t *testing.T) {
	path := copyFixture(t, fmt.Sprintf("schema-%d.db", schemaVersion))
	before := read(t, path)
	to := tomorrow(func(tx *bbolt.Tx) error {
		return tx.Bucket([]byte("rigs")).Put([]byte("a"), record.Seal("rigs", []byte("a"), nil))
	})
	if _, err := openAs(path, Options{ReadOnly: true}, to); !errors.Is(err, fault.ErrOlder) || !strings.Contains(err.Error(),
		"once for writing") {
		t.Errorf("read only: %v", err)
	}
	s, err := openAs(path, Options{}, to)
	must(t, err)
	want := Opening{MigratedFrom: schemaVersion, SchemaBackup: fmt.Sprintf("%s.schema-%d", path, schemaVersion)}
	if s.Opening() != want {
		t.Errorf("%+v; want %+v", s.Opening(), want)
	}
	if notes := s.Opening().Notes(); len(notes) != 1 || !strings.Contains(notes[0], want.SchemaBackup) {
		t.Errorf("told %q", notes)
	}
	if !right(t, "migrated", s, fixtureJobs()) {
		t.Error("it is damaged")
	}
	closeNow(t, s)
	if _, err := Open(path, Options{}); !errors.Is(err, fault.ErrNewer) {
		t.Errorf("with today's program: %v", err)
	}
	s, err = openAs(path, Options{}, to)
	must(t, err)
	if s.Opening() != (Opening{}) {
		t.Errorf("migrated again: %+v", s.Opening())
	}
	closeNow(t, s)
	kept := open(t, want.SchemaBackup, Options{})
	if !right(t, "the copy from before", kept, fixtureJobs()) {
		t.Error("it is damaged")
	}
	if len(read(t, want.SchemaBackup)) > len(before) {
		t.Error("the copy is longer than the file was")
	}
}

// TestWhatVersion3Lacked: a store of version 3 is migrated and takes entries that only
// version 4 knows. The program of version 3 leaves it alone then, and one that knows no
// way from version 3 leaves that alone; the copy from before stays of version 3.
func TestWhatVersion3Lacked(t *testing.T) {
	three := schema{version: 3, reads: 1, steps: current().steps}
	path := copyFixture(t, "schema-3.db")
	file, journal := read(t, path), read(t, path+journalSuffix)
	for _, o := range []Options{{}, {ReadOnly: true}} {
		if _, err := openAs(path, o, schema{version: 4, reads: 4}); !errors.Is(err, fault.ErrOlder) {
			t.Errorf("%+v, no way from 3: %v", o, err)
		}
	}
	if string(read(t, path)) != string(file) || string(read(t, path+journalSuffix)) != string(journal) {
		t.Error("what is older was changed")
	}
	s := open(t, path, Options{})
	grown := fixtureJobs()[0]
	for _, topic := range []job.Topic{job.LevelAtC, job.LevelBelow, job.CardResidual} {
		e := job.Entry{Seq: len(grown.Entries) + 1, At: at(0, 50+len(grown.Entries)), Topic: topic,
			Value: job.Value{Number: 3, Unit: topic.Info().Dim}}
		grown.Entries = append(grown.Entries, e)
		must(t, s.Append(grown.ID, headFor(grown), e))
	}
	closeNow(t, s)
	file, journal = read(t, path), read(t, path+journalSuffix)
	for _, o := range []Options{{}, {ReadOnly: true}} {
		_, err := openAs(path, o, three)
		if !errors.Is(err, fault.ErrNewer) {
			t.Errorf("%+v, with the program of version 3: %v", o, err)
			continue
		}
		sentence(t, path, err)
	}
	if string(read(t, path)) != string(file) || string(read(t, path+journalSuffix)) != string(journal) {
		t.Error("what is newer was changed")
	}
	s = open(t, path, Options{})
	if got, err := s.Load(grown.ID); err != nil || !sameJob(got, grown) || s.Opening() != (Opening{}) {
		t.Errorf("%d entries, %v; want %d", len(got.Entries), err, len(grown.Entries))
	}
	before, err := openAs(path+".schema-3", Options{}, three)
	must(t, err)
	defer before.Close()
	if !right(t, "the copy from before", before, fixtureJobs()) {
		t.Error("it is damaged")
	}
}

func TestMigrationThatFails(t *testing.T) {
	for name, to := range map[string]schema{
		"the second step fails": tomorrow(func(*bbolt.Tx) error { return errors.New("no") }),
		"there is no way": {version: schemaVersion + 2,
			steps: map[int]func(*change) error{schemaVersion: tomorrow(nil).steps[schemaVersion]}},
	} {
		path := copyFixture(t, fmt.Sprintf("schema-%d.db", schemaVersion))
		before := read(t, path)
		_, err := openAs(path, Options{}, to)
		if !errors.Is(err, fault.ErrOlder) {
			t.Fatalf("%s: %v", name, err)
		}
		sentence(t, path, err)
		if string(read(t, path)) != string(before) {
			t.Errorf("%s: the file was changed", name)
		}
		if s := open(t, path, Options{}); !right(t, name, s, fixtureJobs()) {
			t.Errorf("%s: it no longer opens as it was", name)
		}
	}
}

// A program of each older version leaves what is newer alone.
func TestOlderProgramsRefuseThisVersion(t *testing.T) {
	for version := 1; version < schemaVersion; version++ {
		path := copyFixture(t, fmt.Sprintf("schema-%d.db", schemaVersion))
		before := read(t, path)
		for _, o := range []Options{{}, {ReadOnly: true}} {
			if _, err := openAs(path, o, schema{version: version, reads: 1}); !errors.Is(err, fault.ErrNewer) {
				t.Errorf("version %d: %v", version, err)
			}
		}
		if string(read(t, path)) != string(before) {
			t.Errorf("version %d: the file was changed", version)
		}
	}
}
