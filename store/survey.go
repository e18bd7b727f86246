package store

// This file reads all that a file's state can reach, and accounts for every
// page: each must be in use once, or free.

import (
	"fmt"
	"io"
)

// survey is one reading of everything. What is damaged is told to fault and
// left out; every record that reads as it was written is given to record.
type survey struct {
	tree   *tree
	record func(bucket string, key, payload []byte)
	fault  func(error)

	taken []bool // pages met so far
}

func (s *survey) run() {
	s.taken = make([]bool, s.tree.meta.pages)
	s.subtree(s.tree.meta.root, bounds{}, 0, s.top)
	s.account()
}

// subtree reads the pages below one, and gives its elements to each.
func (s *survey) subtree(id uint64, within bounds, depth int, each func(element)) {
	if depth > maxDepth {
		s.fault(errDeep)
		return
	}
	p, err := s.tree.checked(id, within)
	if err == nil && !s.take(id, p.span) {
		err = fmt.Errorf("page %d is in use twice", id)
	}
	if err != nil {
		s.fault(err)
		return
	}
	for i, e := range p.items {
		if p.leaf {
			each(e)
		} else {
			s.subtree(e.child, within.below(p, i), depth+1, each)
		}
	}
}

// take notes that pages are in use; false where one was already.
func (s *survey) take(id, span uint64) bool {
	for i := id; i < id+span; i++ {
		if s.taken[i] {
			return false
		}
		s.taken[i] = true
	}
	return true
}

// top reads one bucket.
func (s *survey) top(e element) {
	name := string(e.key)
	b, err := s.tree.bucketOf(e)
	if err != nil {
		s.fault(err)
		return
	}
	each := func(e element) {
		payload, err := unseal(name, e.key, e.value)
		if err != nil || e.bucket {
			s.fault(fmt.Errorf("%s %q: %w", name, e.key, errSum))
			return
		}
		s.record(name, e.key, payload)
	}
	if b.root != 0 {
		s.subtree(b.root, bounds{}, 0, each)
		return
	}
	for _, e := range b.inline.items {
		each(e)
	}
}

// account compares the pages in use with the list of free ones.
func (s *survey) account() {
	free, span, err := readFreelist(s.tree.file, s.tree.meta)
	if err != nil {
		s.fault(err)
		return
	}
	if !s.take(s.tree.meta.freelist, span) {
		s.fault(fmt.Errorf("page %d is in use twice", s.tree.meta.freelist))
	}
	for _, id := range free {
		if !s.take(id, 1) {
			s.fault(fmt.Errorf("page %d is in use and free", id))
		}
	}
	for id := uint64(firstDataPage); id < s.tree.meta.pages; id++ {
		if !s.taken[id] {
			s.fault(fmt.Errorf("page %d is neither in use nor free", id))
		}
	}
}

// leafings reads every page of a file that is a leaf, in use or not, whatever
// its tree says, and gives every record that reads as it was written. For a
// file whose tree is damaged.
func leafings(file io.ReaderAt, sizeBytes int64, record func(bucket string, key, payload []byte)) {
	t := treeOf(file, metaPage{pages: uint64(sizeBytes / pageBytes)})
	for id := uint64(firstDataPage); id < t.meta.pages; id++ {
		p, err := t.readPage(id)
		if err != nil || !p.leaf {
			continue
		}
		for _, e := range p.items {
			if !e.bucket {
				recognise(e, record)
				continue
			}
			if b, err := t.bucketOf(e); err == nil {
				for _, inner := range b.inline.items {
					recognise(inner, record)
				}
			}
		}
	}
}

// recognise finds the bucket of a record by its checksum.
func recognise(e element, record func(bucket string, key, payload []byte)) {
	for _, name := range allBuckets() {
		if payload, err := unseal(name, e.key, e.value); err == nil {
			record(name, e.key, payload)
			return
		}
	}
}
