package store

// This file reads the pages of a bbolt file with suspicion. bbolt trusts its
// pages: on a damaged one it may panic, recurse without end or read outside
// the file, and the last two end the program. So reading goes this way, with
// plain reads, and writing looks this way before bbolt follows.

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"sort"
)

const (
	elementBytes    = 16
	bucketHeadBytes = 16
	bucketFlag      = 0x01
	maxDepth        = 24 // a tree of 2 elements a page is less deep with maxPages pages
)

var errDeep = errors.New("its pages lie deeper than they can")

// tree is one committed state of a bbolt file.
type tree struct {
	file  io.ReaderAt
	meta  metaPage
	whole []byte          // all pages of meta, where they were read at once
	kept  map[uint64]page // some of the pages read already
}

func treeOf(file io.ReaderAt, m metaPage) *tree {
	return &tree{file: file, meta: m, kept: map[uint64]page{}}
}

const maxKept = 256 // pages

// element is one element of a page: a key with its value, or with its child.
type element struct {
	key    []byte
	value  []byte
	child  uint64 // page of a branch's child
	bucket bool   // the value is a bucket
}

// page is one page, checked.
type page struct {
	id    uint64
	leaf  bool
	span  uint64 // pages it takes
	items []element
}

// page is one page, checked. A tree is read by one call, which comes to the
// same pages again and again.
func (t *tree) page(id uint64) (p page, err error) {
	if p, ok := t.kept[id]; ok {
		return p, nil
	}
	if p, err = t.readPage(id); err != nil {
		return page{}, err
	}
	if len(t.kept) == maxKept {
		clear(t.kept)
	}
	t.kept[id] = p
	return p, nil
}

// readPage reads and checks one page with the pages that it overflows into.
func (t *tree) readPage(id uint64) (page, error) {
	if id < firstDataPage || id >= t.meta.pages {
		return page{}, fmt.Errorf("page %d is outside the file", id)
	}
	buf, err := t.bytes(id, 1)
	if err != nil {
		return page{}, fmt.Errorf("page %d: %w", id, err)
	}
	span := uint64(binary.NativeEndian.Uint32(buf[12:])) + 1
	if span > t.meta.pages || id+span > t.meta.pages {
		return page{}, fmt.Errorf("page %d runs out of the file", id)
	}
	if span > 1 {
		if buf, err = t.bytes(id, span); err != nil {
			return page{}, fmt.Errorf("page %d: %w", id, err)
		}
	}
	p, used, err := parsePage(buf, id)
	if err != nil {
		return page{}, fmt.Errorf("page %d: %w", id, err)
	}
	if p.span = span; uint64(used-1)/pageBytes+1 != span {
		return page{}, fmt.Errorf("page %d takes %d pages for %d bytes", id, span, used)
	}
	return p, nil
}

// bytes reads pages as they are.
func (t *tree) bytes(id, span uint64) ([]byte, error) {
	if t.whole != nil {
		return t.whole[id*pageBytes : (id+span)*pageBytes], nil
	}
	buf := make([]byte, span*pageBytes)
	_, err := t.file.ReadAt(buf, int64(id)*pageBytes)
	return buf, err
}

// slot is the fixed part of an element.
type slot struct {
	flags, pos, keyBytes, valueBytes uint64
	child                            uint64
}

func parseSlot(b []byte, leaf bool) slot {
	u := func(at int) uint64 { return uint64(binary.NativeEndian.Uint32(b[at:])) }
	if leaf {
		return slot{flags: u(0), pos: u(4), keyBytes: u(8), valueBytes: u(12)}
	}
	return slot{pos: u(0), keyBytes: u(4), child: binary.NativeEndian.Uint64(b[8:])}
}

// parsePage reads the elements of a page: each in its place directly behind
// the one before, keys rising. It says how many bytes the page uses.
func parsePage(buf []byte, id uint64) (p page, used uint64, err error) {
	order, size := binary.NativeEndian, uint64(len(buf))
	if size < pageHeadBytes || order.Uint64(buf) != id {
		return page{}, 0, errors.New("is another page")
	}
	flags, count := order.Uint16(buf[8:]), uint64(order.Uint16(buf[10:]))
	if flags != leafFlag && (flags != branchFlag || count == 0) {
		return page{}, 0, errors.New("is of no known kind")
	}
	used = pageHeadBytes + count*elementBytes
	if used > size {
		return page{}, 0, errors.New("has too many elements")
	}
	p = page{id: id, leaf: flags == leafFlag, items: make([]element, count)}
	for i := range p.items {
		head := uint64(pageHeadBytes + i*elementBytes)
		s := parseSlot(buf[head:head+elementBytes], p.leaf)
		end := used + s.keyBytes + s.valueBytes
		if head+s.pos != used || end > size || s.keyBytes == 0 || s.flags > bucketFlag {
			return page{}, 0, fmt.Errorf("element %d is out of place", i)
		}
		middle := used + s.keyBytes
		p.items[i] = element{key: buf[used:middle:middle], value: buf[middle:end:end], child: s.child, bucket: s.flags == bucketFlag}
		if i > 0 && bytes.Compare(p.items[i-1].key, p.items[i].key) >= 0 {
			return page{}, 0, fmt.Errorf("key %d is out of order", i)
		}
		used = end
	}
	return p, used, nil
}

// bounds is the range of keys in which all of a subtree must lie: low ≤ key <
// high; nil is no bound.
type bounds struct{ low, high []byte }

func (b bounds) hold(p page) bool {
	if len(p.items) == 0 {
		return true
	}
	first, last := p.items[0].key, p.items[len(p.items)-1].key
	return (b.low == nil || bytes.Compare(first, b.low) >= 0) && (b.high == nil || bytes.Compare(last, b.high) < 0)
}

// below is the range of a branch's child.
func (b bounds) below(p page, i int) bounds {
	inner := bounds{low: p.items[i].key, high: b.high}
	if i+1 < len(p.items) {
		inner.high = p.items[i+1].key
	}
	return inner
}

// scan is one walk over a tree, from a key on, in one direction.
type scan struct {
	tree *tree
	from []byte // forward: first key ≥ from; back: last key < from; nil from the end
	back bool
	each func(element) (more bool, err error)
}

// run walks over the subtree of one page.
func (s *scan) run(id uint64, within bounds, depth int) (more bool, err error) {
	if depth > maxDepth {
		return false, errDeep
	}
	p, err := s.tree.checked(id, within)
	if err != nil {
		return false, err
	}
	return s.page(p, within, depth)
}

// checked reads a page whose keys must lie in a range.
func (t *tree) checked(id uint64, within bounds) (page, error) {
	p, err := t.page(id)
	if err == nil && !within.hold(p) {
		return page{}, fmt.Errorf("page %d holds keys of another page", id)
	}
	return p, err
}

func (s *scan) page(p page, within bounds, depth int) (more bool, err error) {
	step, i := 1, s.start(p)
	if s.back {
		step = -1
	}
	for more = true; more && i >= 0 && i < len(p.items); i += step {
		if p.leaf {
			more, err = s.each(p.items[i])
		} else {
			more, err = s.run(p.items[i].child, within.below(p, i), depth+1)
		}
		if err != nil {
			return false, err
		}
	}
	return more, nil
}

// start is the first element of a page that the scan looks at.
func (s *scan) start(p page) int {
	n := len(p.items)
	switch {
	case s.from == nil && s.back:
		return n - 1
	case s.from == nil:
		return 0
	}
	i := sort.Search(n, func(i int) bool { return bytes.Compare(p.items[i].key, s.from) >= 0 })
	if s.back {
		return i - 1
	}
	if !p.leaf && i > 0 && (i == n || !bytes.Equal(p.items[i].key, s.from)) {
		return i - 1
	}
	return i
}

// bucket is a tree's bucket: a subtree, or a page kept inside the root's.
type bucket struct {
	tree   *tree
	root   uint64
	inline page
}

// bucketOf reads a bucket from an element that is one.
func (t *tree) bucketOf(e element) (bucket, error) {
	if !e.bucket || len(e.value) < bucketHeadBytes {
		return bucket{}, fmt.Errorf("%q is not a bucket", e.key)
	}
	root := binary.NativeEndian.Uint64(e.value)
	if root != 0 {
		return bucket{tree: t, root: root}, nil
	}
	p, used, err := parsePage(e.value[bucketHeadBytes:], 0)
	if err == nil && (!p.leaf || used != uint64(len(e.value)-bucketHeadBytes)) {
		err = errors.New("is no leaf")
	}
	if err != nil {
		return bucket{}, fmt.Errorf("bucket %q: %w", e.key, err)
	}
	return bucket{tree: t, inline: p}, nil
}

// walk calls each for every element from a key on, in one direction.
func (b bucket) walk(from []byte, back bool, each func(element) (bool, error)) error {
	s := scan{tree: b.tree, from: from, back: back, each: each}
	var err error
	if b.root == 0 {
		_, err = s.page(b.inline, bounds{}, 0)
	} else {
		_, err = s.run(b.root, bounds{}, 0)
	}
	return err
}

// get finds the element of a key. Where there is none it gives those on both
// sides of its place: they are looked at so that a damaged page cannot hide it.
func (b bucket) get(key []byte) (met []element, found bool, err error) {
	one := func(e element) (bool, error) {
		met = append(met, e)
		found = bytes.Equal(e.key, key)
		return false, nil
	}
	if err := b.walk(key, false, one); err != nil || found {
		return met, found, err
	}
	return met, false, b.walk(key, true, one)
}

// around looks at the pages on the way to a key and at those beside them on
// every level: all that bbolt touches when it changes that key.
func (b bucket) around(key []byte) error {
	if b.root == 0 {
		return nil
	}
	s := scan{tree: b.tree, from: key}
	id, within := b.root, bounds{}
	for range maxDepth {
		p, err := b.tree.checked(id, within)
		if err != nil || p.leaf {
			return err
		}
		i := s.start(p)
		for beside := max(i-1, 0); beside <= min(i+1, len(p.items)-1); beside++ {
			if beside == i {
				continue
			}
			if _, err := b.tree.checked(p.items[beside].child, within.below(p, beside)); err != nil {
				return err
			}
		}
		id, within = p.items[i].child, within.below(p, i)
	}
	return errDeep
}

// bucket finds a top-level bucket.
func (t *tree) bucket(name string) (b bucket, found bool, err error) {
	met, found, err := bucket{tree: t, root: t.meta.root}.get([]byte(name))
	if err != nil || !found {
		return bucket{}, false, err
	}
	b, err = t.bucketOf(met[0])
	return b, err == nil, err
}
