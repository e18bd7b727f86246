package pages

// This file reads everything in a state and accounts for every page: each must be in
// use once, or free.

import (
	"fmt"
	"io"
)

// Survey reads everything: it calls element for each element of every bucket, and fault
// for each damage.
func (t *Tree) Survey(element func(bucket string, e Element), fault func(error)) {
	s := survey{tree: t, fault: fault, taken: make([]bool, t.Meta.Pages)}
	s.walk(Bucket{tree: t, root: t.Meta.Root}, func(e Element) {
		b, err := t.bucketOf(e)
		if err != nil {
			fault(err)
			return
		}
		name := string(e.Key)
		s.walk(b, func(e Element) { element(name, e) })
	})
	s.account()
}

type survey struct {
	tree  *Tree
	fault func(error)
	taken []bool // pages in use so far
}

// walk calls each for all elements of a bucket.
func (s *survey) walk(b Bucket, each func(Element)) {
	w := walk{
		tree: s.tree, fault: s.fault,
		enter: func(p page) error { return s.take(p.id, p.span, "twice") },
		each:  func(e Element) bool { each(e); return true },
	}
	_, _ = w.bucket(b) // errors go to fault
}

// take marks pages as in use; it is an error if one already is.
func (s *survey) take(id, span uint64, how string) error {
	for i := id; i < id+span; i++ {
		if s.taken[i] {
			return fmt.Errorf("page %d is in use %s", id, how)
		}
		s.taken[i] = true
	}
	return nil
}

// account compares the pages in use with the list of free ones.
func (s *survey) account() {
	free, span, err := s.tree.Meta.Free(s.tree.file)
	if err != nil {
		s.fault(err)
		return
	}
	if err := s.take(s.tree.Meta.Freelist, span, "twice"); err != nil {
		s.fault(err)
	}
	for _, id := range free {
		if err := s.take(id, 1, "and free"); err != nil {
			s.fault(err)
		}
	}
	for id := uint64(FirstData); id < s.tree.Meta.Pages; id++ {
		if !s.taken[id] {
			s.fault(fmt.Errorf("page %d is neither in use nor free", id))
		}
	}
}

// EachInLeaves calls each for every element of every leaf page, in use or not. It is
// for a file whose tree is damaged.
func EachInLeaves(file io.ReaderAt, sizeBytes int64, each func(Element)) {
	t := New(file, Meta{Pages: uint64(sizeBytes / Size)})
	for id := uint64(FirstData); id < t.Meta.Pages; id++ {
		p, err := t.readPage(id)
		if err != nil || !p.leaf {
			continue
		}
		for _, e := range p.items {
			if !e.IsBucket {
				each(e)
				continue
			}
			b, _ := t.bucketOf(e) // a damaged one has no elements
			for _, inner := range b.inline.items {
				each(inner)
			}
		}
	}
}
