package store

// This file leads the reading of pages astray, one way at a time: what the
// damage tests meet only by chance.

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"garage/tundish/model/job"
)

// pagesOf gives the pages of a bucket that are branches, and those that are leaves.
func pagesOf(t *testing.T, file []byte, name string) (branches, leaves []uint64) {
	t.Helper()
	m, _ := latestMeta(bytes.NewReader(file))
	tr := treeOf(bytes.NewReader(file), m)
	b, found, err := tr.bucket(name)
	if err != nil || !found || b.root == 0 {
		t.Fatalf("bucket %s: %v, %v", name, found, err)
	}
	for ids := []uint64{b.root}; len(ids) > 0; ids = ids[1:] {
		p, err := tr.page(ids[0])
		must(t, err)
		if p.leaf {
			leaves = append(leaves, p.id)
			continue
		}
		branches = append(branches, p.id)
		for _, e := range p.items {
			ids = append(ids, e.child)
		}
	}
	return branches, leaves
}

// TestFlipsOfBranches turns over bits of the keys in branches: these hide
// records without harming one. A key that is there is found, or the damage is.
func TestFlipsOfBranches(t *testing.T) {
	_, file, _, _ := sample(t)
	branches, leaves := pagesOf(t, file, entriesBucket)
	if len(branches) == 0 {
		t.Fatal("the sample is too small")
	}
	m, _ := latestMeta(bytes.NewReader(file))
	whole := treeOf(bytes.NewReader(file), m)
	var keys [][]byte
	for _, id := range leaves {
		p, err := whole.page(id)
		must(t, err)
		for _, e := range p.items {
			keys = append(keys, e.key)
		}
	}
	seen := 0
	for _, id := range branches {
		p, err := whole.page(id)
		must(t, err)
		for i, e := range p.items {
			at := bytes.Index(file[int(id)*pageBytes:], e.key) + int(id)*pageBytes
			for bit := range len(e.key) * 8 {
				bad := slices.Clone(file)
				bad[at+bit/8] ^= 1 << (bit % 8)
				seen += findsAll(t, fmt.Sprintf("bit %d of key %d in branch %d", bit, i, id), treeOf(bytes.NewReader(bad), m), keys)
			}
		}
	}
	if seen == 0 {
		t.Error("no flip was seen")
	}
}

// findsAll looks every key up, and says how often damage was met.
func findsAll(t *testing.T, what string, tr *tree, keys [][]byte) (seen int) {
	t.Helper()
	b, _, err := tr.bucket(entriesBucket)
	must(t, err)
	for _, key := range keys {
		_, found, err := b.get(key)
		if err != nil {
			seen++
		} else if !found {
			t.Errorf("%s: %q is hidden", what, key)
		}
	}
	return seen
}

// TestAround: a change may touch the pages beside a key's, so they are looked at.
func TestAround(t *testing.T) {
	_, file, _, _ := sample(t)
	_, leaves := pagesOf(t, file, entriesBucket)
	m, _ := latestMeta(bytes.NewReader(file))
	p, err := treeOf(bytes.NewReader(file), m).page(leaves[2])
	must(t, err)
	middle := p.items[len(p.items)/2].key
	for i, id := range leaves {
		bad := slices.Clone(file)
		bad[id*pageBytes+8] ^= 0x40
		b, _, err := treeOf(bytes.NewReader(bad), m).bucket(entriesBucket)
		must(t, err)
		if err := b.around(middle); (err != nil) != (i >= 1 && i <= 3) {
			t.Errorf("leaf %d of %d damaged, key in leaf 2: %v", i, len(leaves), err)
		}
	}
}

// TestFreelistThatLies would have bbolt write over pages in use.
func TestFreelistThatLies(t *testing.T) {
	dir, file, journal, jobs := sample(t)
	m, _ := latestMeta(bytes.NewReader(file))
	free, _, err := readFreelist(bytes.NewReader(file), m)
	must(t, err)
	if len(free) < 2 {
		t.Fatal("the sample is too small")
	}
	ids := int(m.freelist)*pageBytes + pageHeadBytes
	put := func(file []byte, i int, id uint64) { binary.NativeEndian.PutUint64(file[ids+8*i:], id) }
	_, leaves := pagesOf(t, file, entriesBucket)
	for name, lie := range map[string]struct {
		spoil func([]byte)
		large bool // seen without looking the whole file through
	}{
		"out of order":    {func(b []byte) { put(b, 0, free[1]); put(b, 1, free[0]) }, true},
		"twice":           {func(b []byte) { put(b, 1, free[0]) }, true},
		"outside":         {func(b []byte) { put(b, len(free)-1, m.pages) }, true},
		"the root":        {func(b []byte) { put(b, 0, m.root) }, true},
		"a state page":    {func(b []byte) { put(b, 0, 1) }, true},
		"itself":          {func(b []byte) { put(b, 0, m.freelist) }, true},
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

// TestSpan: a page that claims its neighbour would have it freed with itself.
func TestSpan(t *testing.T) {
	_, file, _, _ := sample(t)
	_, leaves := pagesOf(t, file, entriesBucket)
	m, _ := latestMeta(bytes.NewReader(file))
	for _, span := range []uint32{1, 3, 1 << 20, 1<<32 - 1} {
		bad := slices.Clone(file)
		binary.NativeEndian.PutUint32(bad[leaves[0]*pageBytes+12:], span)
		if p, err := treeOf(bytes.NewReader(bad), m).readPage(leaves[0]); err == nil {
			t.Errorf("%d more pages: read as %d", span, p.span)
		}
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
		return tx.Bucket([]byte(bucket)).Put(key, seal(bucket, key, []byte(payload)))
	}
	for _, c := range []struct {
		name string
		lie  func(tx *bbolt.Tx) error
		seen string
	}{
		{"a job in a second place", func(tx *bbolt.Tx) error {
			return put(tx, startedBucket, timedKey(at(9, 0), jobID(1)), "")
		}, "index, list"},
		{"a place of no job", func(tx *bbolt.Tx) error { return put(tx, startedBucket, timedKey(at(9, 0), jobID(9)), "") }, "list"},
		{"a job in no place", func(tx *bbolt.Tx) error {
			return tx.Bucket([]byte(startedBucket)).Delete(timedKey(at(1, 0), jobID(1)))
		}, ""},
		{"an entry too many", func(tx *bbolt.Tx) error {
			return put(tx, entriesBucket, entryKey(jobID(1), 6), `{"seq":6,"at":"2026-04-01T08:00:00Z","topic":"close.remark"}`)
		}, "load"},
		{"an entry too few", func(tx *bbolt.Tx) error { return tx.Bucket([]byte(entriesBucket)).Delete(entryKey(jobID(1), 5)) }, "load"},
		{"another entry's number", func(tx *bbolt.Tx) error {
			return put(tx, entriesBucket, entryKey(jobID(1), 5), `{"seq":4,"at":"2026-04-01T08:00:00Z","topic":"close.remark"}`)
		}, "load"},
		{"an entry that is none", func(tx *bbolt.Tx) error { return put(tx, entriesBucket, entryKey(jobID(1), 5), `{"seq":5}`) }, "load"},
		{"no JSON", func(tx *bbolt.Tx) error { return put(tx, jobsBucket, []byte(jobID(1)), `{`) }, "load, list"},
		{"another job's line", func(tx *bbolt.Tx) error {
			return put(tx, jobsBucket, []byte(jobID(1)), `{"count":5,"head":{"id":"x","phase":"open","unit_state":"empty"}}`)
		}, "load, list"},
		{"a bucket more", func(tx *bbolt.Tx) error {
			b, err := tx.CreateBucket([]byte("more"))
			if err != nil {
				return err
			}
			return b.Put([]byte("a"), seal("more", []byte("a"), nil))
		}, ""},
		{"entries of nobody", func(tx *bbolt.Tx) error {
			return put(tx, entriesBucket, entryKey("nobody", 1), `{"seq":1,"at":"2026-04-01T08:00:00Z","topic":"close.remark"}`)
		}, ""},
	} {
		path, jobs := storeWith(t, 3, 5)
		edited(t, path, c.lie)
		if r, err := Verify(path); err != nil || r.OK() {
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
			if errors.Is(err, ErrDamaged) != strings.Contains(c.seen, call) {
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
	m, _ := latestMeta(bytes.NewReader(file))
	jobs, _, err := treeOf(bytes.NewReader(file), m).bucket(entriesBucket)
	must(t, err)
	// A bucket's value is its root page, then a number and, where that page is 0,
	// the page itself: the name of drafts stands right before its own.
	at := bytes.Index(file[m.root*pageBytes:], []byte(draftsBucket)) + int(m.root)*pageBytes + len(draftsBucket)
	binary.NativeEndian.PutUint64(file[at:], jobs.root)
	write(t, path, file)
	seen := false
	look := survey{tree: treeOf(bytes.NewReader(file), m), record: func(string, []byte, []byte) {}, fault: func(err error) {
		seen = seen || strings.Contains(err.Error(), "in use twice")
	}}
	look.run()
	if !seen {
		t.Error("nobody saw it")
	}
	if _, err := Open(path, Options{}); !errors.Is(err, ErrDamaged) {
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
