package store

// This file holds the one transaction that puts lines of the journal into the
// buckets: for new entries, and again for a line that bbolt missed.

import (
	"bytes"
	"encoding/json"
	"fmt"
	"runtime/debug"
	"slices"

	"go.etcd.io/bbolt"

	"garage/tundish/model/job"
	"garage/tundish/store/fault"
	"garage/tundish/store/journal"
	"garage/tundish/store/record"
)

// change is a transaction that is being built, and the state it starts from.
type change struct {
	tx   *bbolt.Tx
	from snapshot
}

// fillShare is how full bbolt leaves a page that it splits: nearly full, since new
// keys mostly come last. The file is a third smaller than with half-full pages.
const fillShare = 0.9

// put checks the pages on the path to a key before bbolt uses them.
func (c *change) put(name string, key, payload []byte) error {
	if _, _, err := c.from.Get(name, key); err != nil {
		return err
	}
	b := c.tx.Bucket([]byte(name))
	b.FillPercent = fillShare
	return b.Put(key, record.Seal(name, key, payload))
}

// del also checks the neighbouring pages: bbolt may merge them.
func (c *change) del(name string, key []byte) error {
	if _, found, err := c.from.Get(name, key); err != nil || !found {
		return err
	}
	b, err := c.from.Bucket(name)
	if err != nil {
		return err
	}
	if err := b.Around(key); err != nil {
		return fault.Damage(c.from.Path, "%s: %v", name, err)
	}
	return c.tx.Bucket([]byte(name)).Delete(key)
}

func (c *change) putJSON(name string, key []byte, value any) error {
	payload, err := json.Marshal(value)
	if err != nil {
		return err
	}
	return c.put(name, key, payload)
}

// apply stores lines, each of a different job, whose previous records are was, and
// the place after them in the journal.
func (c *change) apply(lines []journal.Line, was []record.Job, m journal.Mark) error {
	for i, l := range lines {
		if err := c.applyLine(l, was[i]); err != nil {
			return err
		}
	}
	return c.putJSON(record.About, []byte(markKey), m)
}

// applyLine stores a line's entries, head and index keys, and deletes the job's
// draft.
func (c *change) applyLine(l journal.Line, was record.Job) error {
	is := record.Job{Started: was.Started, Count: was.Count + l.Count(), Head: *l.Head, Discards: max(was.Discards, l.Discard)}
	if l.Started != nil {
		is.Started = *l.Started
	}
	for _, e := range l.Entries {
		if err := c.putJSON(record.Entries, record.EntryKey(l.Job, e.Seq), e); err != nil {
			return err
		}
	}
	if err := c.putPacked(l); err != nil {
		return err
	}
	if err := c.reindex(l.Job, was, is); err != nil {
		return err
	}
	if l.Discard == 0 {
		if err := c.del(record.Drafts, []byte(l.Job)); err != nil {
			return err
		}
	}
	return c.putJSON(record.Jobs, []byte(l.Job), is)
}

// putPacked stores the packed entries of a line. No key may lie among theirs, so that all
// come into the pages that the first one's neighbours are on.
func (c *change) putPacked(l journal.Line) error {
	n := l.Packed.Len()
	if n == 0 {
		return nil
	}
	first, last := record.EntryKey(l.Job, l.Packed.Seq(0)), record.EntryKey(l.Job, l.Packed.Seq(n-1))
	if _, _, err := c.from.Get(record.Entries, first); err != nil {
		return err
	}
	for e, err := range c.from.Records(record.Entries, first, false) {
		if err == nil && bytes.Compare(e.Key, last) <= 0 {
			err = fault.Damage(c.from.Path, "job %q: there are more entries than it has", l.Job)
		}
		if err != nil {
			return err
		}
		break
	}
	b := c.tx.Bucket([]byte(record.Entries))
	b.FillPercent = fillShare
	for i := range n {
		key := record.EntryKey(l.Job, l.Packed.Seq(i))
		if err := b.Put(key, record.Seal(record.Entries, key, l.Packed.Text(i))); err != nil {
			return err
		}
	}
	return nil
}

// reindex replaces a job's old index keys by its new ones.
func (c *change) reindex(id string, was, is record.Job) error {
	var old []record.IndexKey
	if was.Head.ID != "" {
		old = record.IndexKeys(id, was)
	}
	now := record.IndexKeys(id, is)
	for _, k := range now {
		if slices.Contains(old, k) {
			continue
		}
		if err := c.put(k.Bucket, []byte(k.Key), nil); err != nil {
			return err
		}
	}
	for _, k := range old {
		if slices.Contains(now, k) {
			continue
		}
		if err := c.del(k.Bucket, []byte(k.Key)); err != nil {
			return err
		}
	}
	return nil
}

// previous returns the record of a line's job, or an error if the line does not
// continue the state: it must begin a job that does not exist, hold the next entries of
// one that does and is not discarded, or discard it or take it back.
func (s snapshot) previous(l journal.Line) (record.Job, error) {
	was, found, err := s.Job(l.Job)
	switch {
	case err != nil:
		return record.Job{}, err
	case l.Started != nil && found:
		return record.Job{}, &fault.Error{Kind: fault.ErrExists, Path: s.Path, Fact: fmt.Sprintf("job %q is there already", l.Job)}
	case l.Started != nil:
		return record.Job{}, nil
	case !found:
		return record.Job{}, fault.NoJob(s.Path, l.Job)
	case l.Discard > was.Discards:
		return was, nil
	case l.Discard > 0:
		return record.Job{}, &fault.Error{Kind: fault.ErrOutOfOrder, Path: s.Path,
			Fact: fmt.Sprintf("job %q: what discards it is older than the job", l.Job)}
	case was.Discarded():
		return record.Job{}, fault.Discarded(s.Path, l.Job)
	case l.FirstSeq() != was.Count+1:
		return record.Job{}, &fault.Error{Kind: fault.ErrOutOfOrder, Path: s.Path,
			Fact: fmt.Sprintf("job %q: entry %d cannot follow entry %d", l.Job, l.FirstSeq(), was.Count),
			Next: "open the job again"}
	case was.Count+l.Count() > job.MaxEntries:
		return record.Job{}, fault.Invalid(s.Path, "job %q: more than %d entries", l.Job, job.MaxEntries)
	}
	return was, nil
}

// guard runs code that uses bbolt's mapped memory. A panic there, or a memory fault
// (the file was truncated meanwhile), becomes an error.
func guard(path string, run func() error) (err error, broke bool) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if recover() != nil { // the panic's text is of no use; Verify names the damage
			err, broke = fault.Damage(path, "its pages cannot be used"), true
		}
	}()
	return run(), false
}
