package store

// This file holds the one transaction that puts lines of the journal into the
// buckets: for new entries, and again for a line that bbolt missed.

import (
	"bytes"
	"fmt"
	"runtime/debug"
	"slices"
	"strings"

	"garage/tundish/model/job"
	"garage/tundish/store/fault"
	"garage/tundish/store/journal"
	"garage/tundish/store/record"
)

// change is a transaction that is being built, and the state it starts from.
type change struct{ record.Change }

// apply stores lines, each of a different job, whose previous records are was, and
// the place after them in the journal. They go in by their ids, so that what is put
// between others moves few of them.
func (c *change) apply(lines []journal.Line, was []record.Job, m journal.Mark) error {
	byID := make([]int, len(lines))
	for i := range byID {
		byID[i] = i
	}
	slices.SortFunc(byID, func(a, b int) int { return strings.Compare(lines[a].Job, lines[b].Job) })
	for _, i := range byID {
		is, err := c.applyLine(lines[i], was[i])
		if err == nil && m.Made != "" {
			err = c.Outdate(lines[i].Job, was[i], is)
		}
		if err != nil {
			return err
		}
	}
	return c.PutJSON(record.About, []byte(markKey), m)
}

// applyLine stores a line's entries, head and index keys, and deletes the job's
// draft. It returns the job's record.
func (c *change) applyLine(l journal.Line, was record.Job) (is record.Job, err error) {
	is = record.Job{Started: was.Started, Count: was.Count + l.Count(), Head: *l.Head, Discards: max(was.Discards, l.Discard)}
	if l.Started != nil {
		is.Started = *l.Started
	}
	for _, e := range l.Entries {
		if err := c.PutJSON(record.Entries, record.EntryKey(l.Job, e.Seq), e); err != nil {
			return record.Job{}, err
		}
	}
	if err := c.putPacked(l); err != nil {
		return record.Job{}, err
	}
	if err := c.Reindex(l.Job, was, is); err != nil {
		return record.Job{}, err
	}
	if l.Discard == 0 {
		if err := c.Del(record.Drafts, []byte(l.Job)); err != nil {
			return record.Job{}, err
		}
	}
	return is, c.PutJSON(record.Jobs, []byte(l.Job), is)
}

// putPacked stores the packed entries of a line. No key may lie among theirs, so that all
// come into the pages that the first one's neighbours are on.
func (c *change) putPacked(l journal.Line) error {
	n := l.Packed.Len()
	if n == 0 {
		return nil
	}
	first, last := record.EntryKey(l.Job, l.Packed.Seq(0)), record.EntryKey(l.Job, l.Packed.Seq(n-1))
	if _, _, err := c.From.Get(record.Entries, first); err != nil {
		return err
	}
	for e, err := range c.From.Records(record.Entries, first, false) {
		if err == nil && bytes.Compare(e.Key, last) <= 0 {
			err = fault.Damage(c.From.Path, "job %q: there are more entries than it has", l.Job)
		}
		if err != nil {
			return err
		}
		break
	}
	b := c.Tx.Bucket([]byte(record.Entries))
	b.FillPercent = record.FillShare
	for i := range n {
		key := record.EntryKey(l.Job, l.Packed.Seq(i))
		if err := b.Put(key, record.Seal(record.Entries, key, l.Packed.Text(i))); err != nil {
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
