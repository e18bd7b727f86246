package store

import (
	"path/filepath"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"garage/tundish/store/disk"
	"garage/tundish/store/record"
)

// A row that is missing, or of no unit, is found; without who made them none counts, and
// a store that is repaired has none.
func TestVerifyFindsRowsThatAreOff(t *testing.T) {
	for want, spoil := range map[string]func(*bbolt.Bucket) error{
		"":             func(*bbolt.Bucket) error { return nil },
		"is not there": func(b *bbolt.Bucket) error { k, _ := b.Cursor().First(); return b.Delete(k) },
		"which no job has": func(b *bbolt.Bucket) error {
			key := record.MadeKey("no car", "")
			return b.Put(key, record.Seal(record.Made, key, []byte("{}")))
		},
	} {
		path := filepath.Join(memory(t), "jobs.db")
		s, err := Open(path, Options{})
		must(t, err)
		createJob(t, s, jobOf(1, 3))
		must(t, s.BeginMade("a"))
		createJob(t, s, jobOf(2, 3))
		rows, fits, err := s.Made("a")
		if err != nil || !fits || len(rows) == 0 {
			t.Fatalf("%+v, %v, %v", rows, fits, err)
		}
		if _, fits, err := s.Made("b"); err != nil || fits {
			t.Errorf("rows of a count for b (%v)", err)
		}
		closeNow(t, s)
		db, err := bbolt.Open(path, disk.FileMode, nil)
		must(t, err)
		must(t, db.Update(func(tx *bbolt.Tx) error { return spoil(tx.Bucket([]byte(record.Made))) }))
		must(t, db.Close())
		r, err := Verify(path, nil)
		must(t, err)
		if text := ""; !r.OK() {
			text = r.Findings[0].Fact
			if want == "" || !strings.Contains(text, want) {
				t.Errorf("%q, want %q", text, want)
			}
		} else if want != "" {
			t.Errorf("nothing found, want %q", want)
		}
		into := filepath.Join(memory(t), "new.db")
		if r, err = Repair(path, into, nil, nil); err != nil || !r.OK() {
			t.Errorf("%+v, %v", r, err)
		}
		if r, err = Verify(into, nil); err != nil || !r.OK() || r.Jobs != 2 {
			t.Errorf("repaired: %+v, %v", r, err)
		}
	}
}
