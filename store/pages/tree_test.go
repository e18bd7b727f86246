package pages

// This file leads the reading of pages astray, one way at a time.

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"go.etcd.io/bbolt"
)

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func key(n int) []byte { return fmt.Appendf(nil, "key %04d", 2*n) }

const many = 200 // keys in the bucket "many"

// sample is a bbolt file with a bucket of many pages, an empty one, one that lies
// in its parent's page, a value that takes pages of its own, and free pages.
func sample(t testing.TB) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "sample.db")
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{PageSize: Size})
	must(t, err)
	for _, fill := range []func(tx *bbolt.Tx) error{
		func(tx *bbolt.Tx) error { _, err := tx.CreateBucket([]byte("empty")); return err },
		func(tx *bbolt.Tx) error {
			b, err := tx.CreateBucket([]byte("few"))
			must(t, err)
			return b.Put([]byte("a"), []byte("b"))
		},
		func(tx *bbolt.Tx) error {
			b, err := tx.CreateBucket([]byte("many"))
			must(t, err)
			for n := range many {
				must(t, b.Put(key(n), bytes.Repeat([]byte{'v'}, 120)))
			}
			return nil
		},
		func(tx *bbolt.Tx) error {
			b, err := tx.CreateBucket([]byte("wide"))
			must(t, err)
			return b.Put([]byte("long"), bytes.Repeat([]byte("l"), 3*Size))
		},
		func(tx *bbolt.Tx) error { return tx.Bucket([]byte("few")).Put([]byte("c"), []byte("d")) },
	} {
		must(t, db.Update(fill))
	}
	must(t, db.Close())
	file, err := os.ReadFile(path)
	must(t, err)
	return file
}

func treeOf(t testing.TB, file []byte) *Tree {
	t.Helper()
	m, fault := Latest(bytes.NewReader(file))
	if fault != Fine {
		t.Fatalf("fault %d", fault)
	}
	return New(bytes.NewReader(file), m)
}

// TestElements walks from every kind of place in both directions.
func TestElements(t *testing.T) {
	b, found, err := treeOf(t, sample(t)).Bucket("many")
	if err != nil || !found {
		t.Fatal(found, err)
	}
	for _, c := range []struct {
		from        []byte
		back        bool
		first, many int
	}{
		{nil, false, 0, many}, {nil, true, many - 1, many},
		{key(0), false, 0, many}, {key(0), true, 0, 0}, {key(70), false, 70, many - 70}, {key(70), true, 69, 70},
		{[]byte("key 0141"), false, 71, many - 71}, {[]byte("key 0141"), true, 70, 71}, {[]byte("a"), false, 0, many},
		{[]byte("z"), false, 0, 0}, {[]byte("z"), true, many - 1, many},
	} {
		step, n := 1, 0
		if c.back {
			step = -1
		}
		for e, err := range b.Elements(c.from, c.back) {
			must(t, err)
			if want := key(c.first + n*step); !bytes.Equal(e.Key, want) || len(e.Value) != 120 || e.IsBucket {
				t.Fatalf("from %q, back %v: %d is %q, want %q", c.from, c.back, n, e.Key, want)
			}
			n++
		}
		if n != c.many {
			t.Errorf("from %q, back %v: %d elements, want %d", c.from, c.back, n, c.many)
		}
	}
}

func TestBuckets(t *testing.T) {
	tr := treeOf(t, sample(t))
	for name, want := range map[string]int{"empty": 0, "few": 2, "many": many, "wide": 1} {
		b, found, err := tr.Bucket(name)
		if err != nil || !found {
			t.Fatalf("%s: %v, %v", name, found, err)
		}
		n := 0
		for _, err := range b.Elements(nil, false) {
			must(t, err)
			n++
		}
		if n != want {
			t.Errorf("%s has %d elements, want %d", name, n, want)
		}
	}
	if _, found, err := tr.Bucket("none"); found || err != nil {
		t.Errorf("%v, %v", found, err)
	}
	wide, _, err := tr.Bucket("wide")
	must(t, err)
	if met, found, err := wide.Get([]byte("long")); err != nil || !found || len(met[0].Value) != 3*Size {
		t.Errorf("%v, %v", found, err)
	}
	b, _, _ := tr.Bucket("many")
	if met, found, err := b.Get([]byte("key 0141")); err != nil || found || len(met) != 2 || !bytes.Equal(met[0].Key, key(71)) ||
		!bytes.Equal(met[1].Key, key(70)) {
		t.Errorf("%+v, %v, %v", met, found, err)
	}
}

// TestSurvey: of a sound file every element is given once, read page by page or
// whole; of one with a page spoilt the rest, and the page is named.
func TestSurvey(t *testing.T) {
	file := sample(t)
	look := func(tr *Tree) (n int, faults []string) {
		tr.Survey(func(string, Element) { n++ }, func(err error) { faults = append(faults, err.Error()) })
		return n, faults
	}
	tr := treeOf(t, file)
	n, faults := look(tr)
	must(t, tr.ReadWhole())
	m, more := look(tr)
	if n != many+3 || m != n || len(faults)+len(more) > 0 {
		t.Errorf("%d and %d elements; %v %v", n, m, faults, more)
	}
	_, leaves := pagesOf(t, file, "many")
	bad := slices.Clone(file)
	bad[leaves[1]*Size+8] ^= 0x40
	n, faults = look(treeOf(t, bad))
	want := []string{fmt.Sprintf("page %d: is of no known kind", leaves[1]), fmt.Sprintf("page %d is neither in use nor free", leaves[1])}
	if n >= many+3 || n < many/2 || !slices.Equal(faults, want) {
		t.Errorf("%d elements, %q, want %q", n, faults, want)
	}
	seen := 0
	EachInLeaves(bytes.NewReader(bad), int64(len(bad)), func(e Element) {
		if bytes.HasPrefix(e.Key, []byte("key ")) {
			seen++
		}
	})
	if seen < n-3 {
		t.Errorf("%d elements in the leaves, %d in the tree", seen, n)
	}
}

// TestParsePage spoils one field of a page at a time.
func TestParsePage(t *testing.T) {
	file := sample(t)
	branches, leaves := pagesOf(t, file, "many")
	for _, c := range []struct {
		id   uint64
		at   int
		to   byte
		says string
	}{
		{leaves[0], 0, 0xff, "is another page"}, {leaves[0], 8, 3, "is of no known kind"}, {leaves[0], 8, 0,
			"is of no known kind"}, {leaves[0], 8, branchFlag, "out of place"},
		{leaves[0], 11, 1, "has too many elements"}, {leaves[0], 16, 2, "element 0 is out of place"}, {leaves[0], 16 + 4, 0,
			"element 0 is out of place"},
		{leaves[0], 16 + 8, 0, "element 0 is out of place"}, {leaves[0], 16 + 16 + 12, 121, "element 2 is out of place"},
		{leaves[0], 16 + 15, 0xff, "element 0 is out of place"},
		{branches[0], 10, 0, "is of no known kind"}, {branches[0], 8, leafFlag, "out of place"}, {branches[0], 16, 1,
			"element 0 is out of place"}, {branches[0], 20, 0, "element 0 is out of place"},
	} {
		page := slices.Clone(file[c.id*Size : (c.id+1)*Size])
		if c.at == 10 {
			page[11] = 0
		}
		page[c.at] = c.to
		if p, used, err := parsePage(page, c.id); err == nil || !strings.Contains(err.Error(), c.says) || p.items != nil || used != 0 {
			t.Errorf("byte %d is %d: %v, want %q", c.at, c.to, err, c.says)
		}
	}
	page := slices.Clone(file[leaves[0]*Size : (leaves[0]+1)*Size])
	at := bytes.Index(page, key(1))
	copy(page[at:], key(0))
	if _, _, err := parsePage(page, leaves[0]); err == nil || err.Error() != "key 1 is out of order" {
		t.Errorf("the same key twice: %v", err)
	}
}

// pagesOf gives the pages of a bucket that are branches, and those that are leaves.
func pagesOf(t *testing.T, file []byte, name string) (branches, leaves []uint64) {
	t.Helper()
	m, _ := Latest(bytes.NewReader(file))
	tr := New(bytes.NewReader(file), m)
	b, found, err := tr.Bucket(name)
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
	file := sample(t)
	branches, leaves := pagesOf(t, file, "many")
	if len(branches) == 0 {
		t.Fatal("the sample is too small")
	}
	m, _ := Latest(bytes.NewReader(file))
	whole := New(bytes.NewReader(file), m)
	var keys [][]byte
	for _, id := range leaves {
		p, err := whole.page(id)
		must(t, err)
		for _, e := range p.items {
			keys = append(keys, e.Key)
		}
	}
	seen := 0
	for _, id := range branches {
		p, err := whole.page(id)
		must(t, err)
		for i, e := range p.items {
			at := bytes.Index(file[int(id)*Size:], e.Key) + int(id)*Size
			for bit := range len(e.Key) * 8 {
				bad := slices.Clone(file)
				bad[at+bit/8] ^= 1 << (bit % 8)
				seen += findsAll(t, fmt.Sprintf("bit %d of key %d in branch %d", bit, i, id), New(bytes.NewReader(bad), m), keys)
			}
		}
	}
	if seen == 0 {
		t.Error("no flip was seen")
	}
}

// findsAll looks every key up, and says how often damage was met.
func findsAll(t *testing.T, what string, tr *Tree, keys [][]byte) (seen int) {
	t.Helper()
	b, _, err := tr.Bucket("many")
	must(t, err)
	for _, key := range keys {
		_, found, err := b.Get(key)
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
	file := sample(t)
	_, leaves := pagesOf(t, file, "many")
	m, _ := Latest(bytes.NewReader(file))
	p, err := New(bytes.NewReader(file), m).page(leaves[2])
	must(t, err)
	middle := p.items[len(p.items)/2].Key
	for i, id := range leaves {
		bad := slices.Clone(file)
		bad[id*Size+8] ^= 0x40
		b, _, err := New(bytes.NewReader(bad), m).Bucket("many")
		must(t, err)
		if err := b.Around(middle); (err != nil) != (i >= 1 && i <= 3) {
			t.Errorf("leaf %d of %d damaged, key in leaf 2: %v", i, len(leaves), err)
		}
	}
}

// TestSpan: a page that claims its neighbour would have it freed with itself.
func TestSpan(t *testing.T) {
	file := sample(t)
	_, leaves := pagesOf(t, file, "many")
	m, _ := Latest(bytes.NewReader(file))
	for _, span := range []uint32{1, 3, 1 << 20, 1<<32 - 1} {
		bad := slices.Clone(file)
		binary.NativeEndian.PutUint32(bad[leaves[0]*Size+12:], span)
		if p, err := New(bytes.NewReader(bad), m).readPage(leaves[0]); err == nil {
			t.Errorf("%d more pages: read as %d", span, p.span)
		}
	}
}

// FuzzPage: a page that is accepted has its elements in order and in itself.
func FuzzPage(f *testing.F) {
	file := sample(f)
	for at := 2 * Size; at < len(file); at += Size {
		f.Add(file[at:at+Size], uint64(at/Size))
	}
	f.Fuzz(func(t *testing.T, buf []byte, id uint64) {
		p, used, err := parsePage(buf, id)
		if err != nil {
			return
		}
		if used > uint64(len(buf)) || p.id != id {
			t.Fatalf("uses %d of %d bytes", used, len(buf))
		}
		for i, e := range p.items {
			if len(e.Key) == 0 || i > 0 && bytes.Compare(p.items[i-1].Key, e.Key) >= 0 {
				t.Fatalf("element %d is out of order", i)
			}
		}
	})
}
