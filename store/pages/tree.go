package pages

// This file reads the tree of one state: buckets of keys and values in pages.

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"iter"
	"sort"
)

const (
	elementBytes    = 16
	bucketHeadBytes = 16
	bucketFlag      = 0x01
	maxDepth        = 24  // a tree of 2 elements a page is less deep with maxPages pages
	maxKept         = 256 // pages that a tree keeps
)

// Tree is one committed state of a bbolt file.
type Tree struct {
	Meta  Meta
	file  io.ReaderAt
	whole []byte          // all pages, where they were read at once
	ahead []byte          // pages that were read together
	first uint64          // the first of those
	next  uint64          // the one after the last that was asked for
	kept  map[uint64]page // some of the pages read already: each call comes to the same ones again
}

// New returns the state that a meta page of a file names.
func New(file io.ReaderAt, m Meta) *Tree {
	return &Tree{file: file, Meta: m, kept: map[uint64]page{}}
}

// Again is the same state, to be read by another goroutine.
func (t *Tree) Again() *Tree {
	return &Tree{Meta: t.Meta, file: t.file, whole: t.whole, kept: map[uint64]page{}}
}

// ReadWhole reads all pages at once, for a small file that is checked entirely.
func (t *Tree) ReadWhole() error {
	whole := make([]byte, t.Meta.Pages*Size)
	if _, err := t.file.ReadAt(whole, 0); err != nil {
		return err
	}
	t.whole = whole
	return nil
}

// Element is one element of a page: a key with its value, or with its child.
type Element struct {
	Key      []byte
	Value    []byte
	IsBucket bool   // the value is a bucket
	child    uint64 // page of a branch's child
}

// page is one page, checked.
type page struct {
	id    uint64
	leaf  bool
	span  uint64 // pages it takes
	items []Element
}

// page reads and checks one page, unless it is kept.
func (t *Tree) page(id uint64) (p page, err error) {
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
func (t *Tree) readPage(id uint64) (page, error) {
	if id < FirstData || id >= t.Meta.Pages {
		return page{}, fmt.Errorf("page %d is outside the file", id)
	}
	buf, err := t.bytes(id, 1)
	if err != nil {
		return page{}, err
	}
	span := uint64(binary.NativeEndian.Uint32(buf[12:])) + 1
	if span > t.Meta.Pages || id+span > t.Meta.Pages {
		return page{}, fmt.Errorf("page %d runs out of the file", id)
	}
	if span > 1 {
		if buf, err = t.bytes(id, span); err != nil {
			return page{}, err
		}
	}
	p, used, err := parsePage(buf, id)
	if err != nil {
		return page{}, fmt.Errorf("page %d: %w", id, err)
	}
	if p.span = span; uint64(used-1)/Size+1 != span {
		return page{}, fmt.Errorf("page %d takes %d pages for %d bytes", id, span, used)
	}
	return p, nil
}

// bytes reads pages as they are.
func (t *Tree) bytes(id, span uint64) ([]byte, error) {
	if t.whole != nil {
		return t.whole[id*Size : (id+span)*Size], nil
	}
	if at := id - t.first; id < t.first || (at+span)*Size > uint64(len(t.ahead)) {
		count := span
		if id == t.next { // whoever goes on there may want those behind it too
			count = max(span, min(aheadPages, t.Meta.Pages-id))
		}
		buf := make([]byte, count*Size)
		if _, err := t.file.ReadAt(buf, int64(id)*Size); err != nil {
			return nil, fmt.Errorf("page %d: %w", id, err)
		}
		t.ahead, t.first = buf, id
	}
	t.next = id + span
	return t.ahead[(id-t.first)*Size:][: span*Size : span*Size], nil
}

// aheadPages are read together.
const aheadPages = 16

// parsePage reads the elements of a page, which must follow each other without gaps
// and with rising keys. It returns how many bytes the page uses.
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
	p = page{id: id, leaf: flags == leafFlag, items: make([]Element, count)}
	for i := range p.items {
		head := uint64(pageHeadBytes + i*elementBytes)
		field := func(n int) uint64 { return uint64(order.Uint32(buf[int(head)+4*n:])) }
		e, flags, pos, keyBytes, valueBytes := &p.items[i], field(0), field(1), field(2), field(3)
		if !p.leaf {
			flags, pos, keyBytes, valueBytes = 0, field(0), field(1), 0
			e.child = order.Uint64(buf[head+8:])
		}
		middle := used + keyBytes
		end := middle + valueBytes
		if head+pos != used || end > size || keyBytes == 0 || flags > bucketFlag {
			return page{}, 0, fmt.Errorf("element %d is out of place", i)
		}
		e.Key, e.Value, e.IsBucket = buf[used:middle:middle], buf[middle:end:end], flags == bucketFlag
		if i > 0 && bytes.Compare(p.items[i-1].Key, e.Key) >= 0 {
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
	first, last := p.items[0].Key, p.items[len(p.items)-1].Key
	return bytes.Compare(first, b.low) >= 0 && (b.high == nil || bytes.Compare(last, b.high) < 0)
}

// below returns the range of a branch's child.
func (b bounds) below(p page, i int) bounds {
	inner := bounds{low: p.items[i].Key, high: b.high}
	if i+1 < len(p.items) {
		inner.high = p.items[i+1].Key
	}
	return inner
}

// checked reads a page and checks that its keys lie in a range.
func (t *Tree) checked(id uint64, within bounds, depth int) (page, error) {
	if depth > maxDepth {
		return page{}, errors.New("its pages lie deeper than they can")
	}
	p, err := t.page(id)
	if err == nil && !within.hold(p) {
		return page{}, fmt.Errorf("page %d holds keys of another page", id)
	}
	return p, err
}

// walk visits the elements of a tree from a key on, in one direction.
type walk struct {
	tree *Tree
	from []byte // forward: first key ≥ from; back: last key < from; nil from the end
	back bool
	each func(Element) (more bool)

	enter func(page) error // called for each page before its elements, if set
	fault func(error)      // called for each damaged page, which is skipped; nil: the walk ends there
}

// bucket walks over a bucket.
func (w *walk) bucket(b Bucket) (more bool, err error) {
	if b.root == 0 {
		return w.page(b.inline, bounds{}, 0)
	}
	return w.subtree(b.root, bounds{}, 0)
}

func (w *walk) subtree(id uint64, within bounds, depth int) (more bool, err error) {
	p, err := w.tree.checked(id, within, depth)
	if err == nil && w.enter != nil {
		err = w.enter(p)
	}
	if err != nil && w.fault != nil {
		w.fault(err)
		return true, nil
	}
	if err != nil {
		return false, err
	}
	return w.page(p, within, depth)
}

func (w *walk) page(p page, within bounds, depth int) (more bool, err error) {
	step := 1
	if w.back {
		step = -1
	}
	more = true
	for i := p.start(w.from, w.back); more && err == nil && i >= 0 && i < len(p.items); i += step {
		if p.leaf {
			more = w.each(p.items[i])
		} else {
			more, err = w.subtree(p.items[i].child, within.below(p, i), depth+1)
		}
	}
	return more, err
}

// start returns the index of the first element of a page to visit.
func (p page) start(from []byte, back bool) int {
	n := len(p.items)
	i := sort.Search(n, func(i int) bool { return bytes.Compare(p.items[i].Key, from) >= 0 })
	switch {
	case back && from == nil:
		return n - 1
	case back || !p.leaf && i > 0 && (i == n || !bytes.Equal(p.items[i].Key, from)):
		return i - 1
	}
	return i
}

// Bucket is a tree's bucket: a subtree, or a page kept inside the root's.
type Bucket struct {
	tree   *Tree
	root   uint64
	inline page
}

// bucketOf reads a bucket from an element that is one.
func (t *Tree) bucketOf(e Element) (Bucket, error) {
	if !e.IsBucket || len(e.Value) < bucketHeadBytes {
		return Bucket{}, fmt.Errorf("%q is not a bucket", e.Key)
	}
	if root := binary.NativeEndian.Uint64(e.Value); root != 0 {
		return Bucket{tree: t, root: root}, nil
	}
	p, used, err := parsePage(e.Value[bucketHeadBytes:], 0)
	if err == nil && (!p.leaf || used != uint64(len(e.Value)-bucketHeadBytes)) {
		err = errors.New("is no leaf")
	}
	if err != nil {
		return Bucket{}, fmt.Errorf("bucket %q: %w", e.Key, err)
	}
	return Bucket{tree: t, inline: p}, nil
}

// Elements returns the elements from a key on (backwards: before a key; nil: from the
// end). It ends after an error.
func (b Bucket) Elements(from []byte, back bool) iter.Seq2[Element, error] {
	return func(yield func(Element, error) bool) {
		w := walk{tree: b.tree, from: from, back: back, each: func(e Element) bool { return yield(e, nil) }}
		if _, err := w.bucket(b); err != nil {
			yield(Element{}, err)
		}
	}
}

// Get returns the element of a key or, if there is none, its neighbours. The caller
// checks them, so that a damaged page cannot hide a key.
func (b Bucket) Get(key []byte) (met []Element, found bool, err error) {
	for _, back := range []bool{false, true} {
		for e, err := range b.Elements(key, back) {
			if err != nil {
				return nil, false, err
			}
			if bytes.Equal(e.Key, key) {
				return []Element{e}, true, nil
			}
			met = append(met, e)
			break
		}
	}
	return met, false, nil
}

// Around checks the pages on the path to a key and their neighbours on every level:
// all that bbolt uses when it changes that key.
func (b Bucket) Around(key []byte) error {
	if b.root == 0 {
		return nil
	}
	id, within := b.root, bounds{}
	for depth := 0; ; depth++ {
		p, err := b.tree.checked(id, within, depth)
		if err != nil || p.leaf {
			return err
		}
		i := p.start(key, false)
		for beside := max(i-1, 0); beside <= min(i+1, len(p.items)-1); beside++ {
			if _, err := b.tree.checked(p.items[beside].child, within.below(p, beside), depth+1); err != nil {
				return err
			}
		}
		id, within = p.items[i].child, within.below(p, i)
	}
}

// Bucket returns a top-level bucket.
func (t *Tree) Bucket(name string) (b Bucket, found bool, err error) {
	met, found, err := Bucket{tree: t, root: t.Meta.Root}.Get([]byte(name))
	if err != nil || !found {
		return Bucket{}, false, err
	}
	b, err = t.bucketOf(met[0])
	return b, err == nil, err
}
