package store

// This file leads the reading of pages astray, one way at a time: what the
// damage tests meet only by chance.

import (
	"bytes"
	"encoding/binary"
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"garage/tundish/model/job"
	"garage/tundish/store/fault"
	"garage/tundish/store/pages"
	"garage/tundish/store/record"
)

// leavesOf gives the pages in use, with one leaf each, that hold entries of a job.
func leavesOf(t *testing.T, file []byte, id string) (leaves []uint64) {
	t.Helper()
	m, _ := pages.Latest(bytes.NewReader(file))
	free, _, err := m.Free(bytes.NewReader(file))
	must(t, err)
	for page := uint64(firstDataPage); page < m.Pages; page++ {
		text := file[page*pageBytes : (page+1)*pageBytes]
		if isLeaf := text[8] == 2; isLeaf && !slices.Contains(free, page) && bytes.Contains(text, record.EntryKey(id, 0)[:len(id)+4]) {
			leaves = append(leaves, page)
		}
	}
	return leaves
}

// TestFreelistThatLies would have bbolt write over pages in use.
func TestFreelistThatLies(t *testing.T) {
	dir, file, journal, jobs := sample(t)
	m, _ := pages.Latest(bytes.NewReader(file))
	free, _, err := m.Free(bytes.NewReader(file))
	must(t, err)
	if len(free) < 2 {
		t.Fatal("the sample is too small")
	}
	ids := int(m.Freelist)*pageBytes + 16
	put := func(file []byte, i int, id uint64) { binary.NativeEndian.PutUint64(file[ids+8*i:], id) }
	leaves := leavesOf(t, file, jobID(2))
	for name, lie := range map[string]struct {
		spoil func([]byte)
		large bool // seen without looking the whole file through
	}{
		"out of order":    {func(b []byte) { put(b, 0, free[1]); put(b, 1, free[0]) }, true},
		"twice":           {func(b []byte) { put(b, 1, free[0]) }, true},
		"outside":         {func(b []byte) { put(b, len(free)-1, m.Pages) }, true},
		"the root":        {func(b []byte) { put(b, 0, m.Root) }, true},
		"a state page":    {func(b []byte) { put(b, 0, 1) }, true},
		"itself":          {func(b []byte) { put(b, 0, m.Freelist) }, true},
		"too many":        {func(b []byte) { binary.NativeEndian.PutUint16(b[ids-6:], 600) }, true},
		"far too many":    {func(b []byte) { binary.NativeEndian.PutUint16(b[ids-6:], 0xFFFF); put(b, 0, 1<<62) }, true},
		"a page in use":   {func(b []byte) { setFree(b[ids:], free, leaves[0]) }, false},
		"one page missed": {func(b []byte) { binary.NativeEndian.PutUint16(b[ids-6:], uint16(len(free)-1)) }, false},
	} {
		bad := slices.Clone(file)
		lie.spoil(bad)
		path := filepath.Join(dir, "free.db")
		if damaged(t, name, path, bad, journal, jobs, Options{}) {
			t.Errorf("%s: a small store opened", name)
		}
		if lie.large && damaged(t, name, path, bad, journal, jobs, Options{noSurvey: true}) {
			t.Errorf("%s: a large store opened", name)
		}
	}
}

// setFree writes the list with one page of it replaced, in order.
func setFree(at []byte, free []uint64, id uint64) {
	list := slices.Clone(free)
	list[0] = id
	slices.Sort(list)
	for i, id := range list {
		binary.NativeEndian.PutUint64(at[8*i:], id)
	}
}

// edited changes a store through bbolt, as this program never would.
func edited(t *testing.T, path string, change func(tx *bbolt.Tx) error) {
	t.Helper()
	db, err := bbolt.Open(path, fileMode, nil)
	must(t, err)
	must(t, db.Update(change))
	must(t, db.Close())
}

// TestRecordsThatLie are whole, each by itself, and do not fit together.
func TestRecordsThatLie(t *testing.T) {
	put := func(tx *bbolt.Tx, bucket string, key []byte, payload string) error {
		return tx.Bucket([]byte(bucket)).Put(key, record.Seal(bucket, key, []byte(payload)))
	}
	for _, c := range []struct {
		name string
		lie  func(tx *bbolt.Tx) error
		seen string
	}{
		{"a job in a second place", func(tx *bbolt.Tx) error {
			return put(tx, record.Started, append(record.TimeKey(at(9, 0)), jobID(1)...), "")
		}, "index, list"},
		{"a place of no job", func(tx *bbolt.Tx) error {
			return put(tx, record.Started, append(record.TimeKey(at(9, 0)), jobID(9)...), "")
		}, "list"},
		{"a job in no place", func(tx *bbolt.Tx) error {
			return tx.Bucket([]byte(record.Started)).Delete(append(record.TimeKey(at(1, 0)), jobID(1)...))
		}, ""},
		{"an entry too many", func(tx *bbolt.Tx) error {
			return put(tx, record.Entries, record.EntryKey(jobID(1), 6), `{"seq":6,"at":"2026-04-01T08:00:00Z","topic":"close.remark"}`)
		}, "load"},
		{"an entry too few", func(tx *bbolt.Tx) error {
			return tx.Bucket([]byte(record.Entries)).Delete(record.EntryKey(jobID(1), 5))
		}, "load"},
		{"another entry's number", func(tx *bbolt.Tx) error {
			return put(tx, record.Entries, record.EntryKey(jobID(1), 5), `{"seq":4,"at":"2026-04-01T08:00:00Z","topic":"close.remark"}`)
		}, "load"},
		{"an entry that is none", func(tx *bbolt.Tx) error { return put(tx, record.Entries, record.EntryKey(jobID(1), 5), `{"seq":5}`) },
			"load"},
		{"no JSON", func(tx *bbolt.Tx) error { return put(tx, record.Jobs, []byte(jobID(1)), `{`) }, "load, list"},
		{"another job's line", func(tx *bbolt.Tx) error {
			return put(tx, record.Jobs, []byte(jobID(1)), `{"count":5,"head":{"id":"x","phase":"open","unit_state":"empty"}}`)
		}, "load, list"},
		{"a bucket more", func(tx *bbolt.Tx) error {
			b, err := tx.CreateBucket([]byte("more"))
			if err != nil {
				return err
			}
			return b.Put([]byte("a"), record.Seal("more", []byte("a"), nil))
		}, ""},
		{"entries of nobody", func(tx *bbolt.Tx) error {
			return put(tx, record.Entries, record.EntryKey("nobody", 1), `{"seq":1,"at":"2026-04-01T08:00:00Z","topic":"close.remark"}`)
		}, ""},
	} {
		path, jobs := storeWith(t, 3, 5)
		edited(t, path, c.lie)
		if r, err := Verify(path, nil); err != nil || r.OK() {
			t.Errorf("%s: verify: %+v, %v", c.name, r, err)
		}
		s, err := Open(path, Options{})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		_, _, listErr := s.List(ListOptions{})
		_, loadErr := s.Load(jobs[1].ID)
		for call, err := range map[string]error{"list": listErr, "load": loadErr} {
			if errors.Is(err, fault.ErrDamaged) != strings.Contains(c.seen, call) {
				t.Errorf("%s: %s: %v", c.name, call, err)
			}
		}
		closeNow(t, s)
	}
}

// TestPageInTwoPlaces points one bucket at another's page.
func TestPageInTwoPlaces(t *testing.T) {
	path, _ := storeWith(t, 3, 30, 30)
	file := read(t, path)
	m, _ := pages.Latest(bytes.NewReader(file))
	// A bucket's value is its root page, then a number and, where that page is 0,
	// the page itself: the name of a bucket stands right before its own.
	root := func(bucket string) []byte {
		at := bytes.Index(file[m.Root*pageBytes:], []byte(bucket)) + int(m.Root)*pageBytes + len(bucket)
		return file[at : at+8]
	}
	copy(root(record.Drafts), root(record.Entries))
	write(t, path, file)
	seen := false
	pages.New(bytes.NewReader(file), m).Survey(func(string, pages.Element) {}, func(err error) {
		seen = seen || strings.Contains(err.Error(), "in use twice")
	})
	if !seen {
		t.Error("nobody saw it")
	}
	if _, err := Open(path, Options{rebuilt: true}); !errors.Is(err, fault.ErrDamaged) {
		t.Errorf("%v", err)
	}
}

// TestLongTexts: records that take pages of their own.
func TestLongTexts(t *testing.T) {
	path := filepath.Join(memory(t), "jobs.db")
	s := open(t, path, Options{})
	j := jobOf(1, 0)
	for seq := 1; seq <= 30; seq++ {
		e := reading(1, seq)
		e.Typed = strings.Repeat("ü", job.MaxTextBytes/2)
		e.Value.Text, e.Value.Choice = e.Typed, e.Typed
		e.Value.Parts = make([]float64, job.MaxIndex)
		for i := range e.Value.Parts {
			e.Value.Parts[i] = float64(i) / 3
		}
		j.Entries = append(j.Entries, e)
	}
	createJob(t, s, j)
	if got, err := s.Load(j.ID); err != nil || !sameJob(got, j) {
		t.Errorf("%d entries, %v", len(got.Entries), err)
	}
}
