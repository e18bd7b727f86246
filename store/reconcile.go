package store

// This file makes bbolt and journal agree when a store is opened.
//
//	journal has lines after the mark       they are added to bbolt
//	an incomplete line follows them        it is removed: it was never accepted
//	journal missing, short or another's    it is renamed and rewritten from bbolt,
//	                                       unless it holds what bbolt does not have

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"iter"
	"os"

	"garage/tundish/model/job"
	"garage/tundish/store/disk"
	"garage/tundish/store/fault"
	"garage/tundish/store/journal"
	"garage/tundish/store/pages"
	"garage/tundish/store/record"
	"garage/tundish/store/steps"
)

// reconcile opens the journal and makes both files agree.
func (s *Store) reconcile(state snapshot) error {
	j, rest, problem, err := s.compare(state, true)
	if err != nil {
		return err
	}
	if problem != "" {
		return s.rebuildJournal(state, problem)
	}
	s.journal = j
	s.setFlush()
	if len(rest.Lines) > 0 { // a killed process may not have synced them
		if err := j.Sync(); err != nil {
			return s.failed(j.Path, err)
		}
	}
	for i, l := range rest.Lines {
		err := s.step.Step(steps.TakingUp, i, len(rest.Lines))
		if err == nil {
			err = s.replay(l, rest.Marks[i])
		}
		if err != nil {
			return err
		}
	}
	if rest.Torn {
		s.opening.TornTailTaken = true
		if err := j.Clean(); err != nil {
			return s.failed(j.Path, err)
		}
	}
	if j.Mark.End > smallPages*pages.Size {
		return nil // MendJournal looks through it
	}
	s.mend(context.Background())
	return nil
}

// MendJournal looks through a journal that is too large to be looked through whenever it
// is opened, and writes it anew from the store where a line is damaged, which Opening
// then tells. It may take seconds; the context ends it.
func (s *Store) MendJournal(ctx context.Context) {
	s.mu.RLock()
	j := s.journal
	if j == nil || j.Mark.End <= smallPages*pages.Size {
		s.mu.RUnlock()
		return
	}
	so := j.UpTo(j.Mark.End)
	s.mu.RUnlock()
	if so.Sound(ctx) == nil {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.journal == j {
		s.mend(ctx)
	}
}

// mend writes the journal anew where a line of it is damaged. Where that cannot be done
// the store goes on with it as it is: every entry is in the store.
func (s *Store) mend(ctx context.Context) {
	old := s.journal
	wrong := old.Sound(ctx)
	if wrong == nil {
		return
	}
	state, err := s.ready()
	if err == nil {
		err = s.rebuildJournal(state, fmt.Sprintf("it was damaged, %v", disk.Plain(wrong)))
	}
	if err == nil {
		err = old.Close()
	}
	if err != nil {
		s.opening.JournalBad = fmt.Sprintf("%v, and it could not be written anew: %v", disk.Plain(wrong), err)
	}
}

// compare opens the journal and returns what follows bbolt's place in it, or, without
// the journal, why it does not belong to this state.
func (s *Store) compare(state snapshot, writable bool) (j *journal.Journal, rest journal.Tail, problem string, err error) {
	path := s.path + journal.Suffix
	opened, first, err := openJournal(path, writable)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, journal.Tail{}, missing, nil
	}
	if disk.IsFailing(err) {
		return nil, journal.Tail{}, unreadable(err), nil
	}
	if err != nil {
		return nil, journal.Tail{}, "", unopened(path, err, writable)
	}
	rest, problem, err = fit(opened, state, first)
	if err != nil || problem != "" {
		opened.Close()
		return nil, journal.Tail{}, problem, err
	}
	return opened, rest, "", nil
}

// missing is the problem of a journal that is not there.
const missing = "it was missing"

// unreadable is the problem of a journal that the disk does not give.
func unreadable(err error) string { return fmt.Sprintf("it could not be read (%v)", disk.Plain(err)) }

// fit sets the journal to bbolt's place in it, and reads what follows.
func fit(j *journal.Journal, state snapshot, first journal.Line) (rest journal.Tail, problem string, err error) {
	id, err := state.storeID()
	if err != nil {
		return journal.Tail{}, "", err
	}
	switch {
	case first.Journal > journal.Version:
		return journal.Tail{}, "", fault.Newer(j.Path, first.Journal, journal.Version)
	case first.Journal == 0:
		return journal.Tail{}, "it could not be read", nil
	case first.Store != id:
		return journal.Tail{}, "it was of another store", nil
	}
	if _, err = state.GetJSON(record.About, []byte(markKey), &j.Mark); err != nil {
		return journal.Tail{}, "", err
	}
	rest, fits, err := j.Behind(j.Mark)
	switch {
	case disk.IsFailing(err):
		return journal.Tail{}, unreadable(err), nil
	case err != nil:
		return journal.Tail{}, "", fault.Unread(j.Path, err)
	case !fits:
		return journal.Tail{}, "it did not hold the last line that the store knows", nil
	case rest.Unrelated:
		return journal.Tail{}, "it held more than goes on from the store", nil
	}
	return rest, "", nil
}

// replay adds a line that bbolt does not have.
func (s *Store) replay(l journal.Line, m journal.Mark) error {
	state, err := snap(s.path, s.file)
	if err != nil {
		return err
	}
	was, err := state.previous(l)
	if err != nil {
		return fault.Damage(s.path+journal.Suffix, "line %d: %v", l.N, err)
	}
	err = s.commit(state, func(c *change) error { return c.apply([]journal.Line{l}, []record.Job{was}, m) })
	if err == nil {
		s.opening.Replayed++
		s.journal.Mark = m
	}
	return err
}

// behindJournal returns an error if the journal of a store that is opened for reading
// only holds lines that the store does not.
func (s *Store) behindJournal(state snapshot) error {
	j, rest, problem, err := s.compare(state, false)
	if j != nil {
		defer j.Close()
		if j.Mark.End <= smallPages*pages.Size {
			if wrong := j.Sound(context.Background()); wrong != nil {
				problem = fmt.Sprintf("%v", disk.Plain(wrong))
			}
		}
	}
	if problem != missing { // a copy by itself has none
		s.opening.JournalBad = problem
	}
	if errors.Is(err, fault.ErrDamaged) || len(rest.Lines) == 0 {
		return nil
	}
	return &fault.Error{Kind: fault.ErrReadOnly, Path: s.path, Fact: fmt.Sprintf("%d line(s) of its journal are not in it yet",
		len(rest.Lines)),
		Next: "open it once for writing"}
}

// holdsAll returns an error if a journal that does not belong to the state holds an
// entry that the state does not: renaming that journal would hide it. Of one that cannot
// be read on it says nothing.
func (s *Store) holdsAll(state snapshot) error {
	path := s.path + journal.Suffix
	j, _, err := openJournal(path, false)
	if errors.Is(err, fs.ErrNotExist) || disk.IsFailing(err) {
		return nil
	}
	if err != nil {
		return unopened(path, err, false)
	}
	defer j.Close()
	for l, err := range j.Lines(0) {
		if disk.IsFailing(err) {
			return nil
		}
		if err != nil {
			return fault.Unread(path, err)
		}
		if l.Bad == nil && l.N > 0 {
			if err := state.holds(path, l.Line); err != nil {
				return err
			}
		}
	}
	return nil
}

// holds returns an error if an entry of a line is not in the state.
func (s snapshot) holds(path string, l journal.Line) error {
	r, found, err := s.Job(l.Job)
	found = found && l.Discard <= r.Discards
	for _, e := range l.Entries {
		if err != nil || !found {
			break
		}
		var ours job.Entry
		found, err = s.GetJSON(record.Entries, record.EntryKey(l.Job, e.Seq), &ours)
		found = found && journal.Same(ours, e)
	}
	if err == nil && !found {
		return fault.Damage(path, "it holds of job %q what the store has not", l.Job)
	}
	return err
}

// setFlush turns syncing of the journal off while a new store is filled.
func (s *Store) setFlush() {
	if s.noSync {
		s.journal.Flush = func(*os.File) error { return nil }
	}
}

// openJournal opens a store's journal and returns its first line, empty if it cannot
// be read.
func openJournal(path string, writable bool) (*journal.Journal, journal.Line, error) {
	j, first, err := journal.Open(path, writable)
	if errors.Is(err, journal.ErrNotFile) {
		err = &fault.Error{Kind: fault.ErrNotFile, Path: path, Fact: "not a file", Next: "move it out of the way"}
	}
	return j, first, err
}

// lines returns the lines of a new journal: a first one, one for each job but those that
// are to go, and one for each that was discarded.
func (s snapshot) lines(gone map[string]bool, step steps.Func) iter.Seq2[journal.Line, error] {
	return func(yield func(journal.Line, error) bool) {
		done, total := 0, 0
		if step != nil {
			total, _ = s.Count(record.Jobs) // what cannot be read is met below
		}
		id, err := s.storeID()
		worked, workedErr := s.worked()
		if err = errors.Join(err, workedErr); !yield(journal.Line{Journal: journal.Version, Store: id}, err) || err != nil {
			return
		}
		for e, walkErr := range s.Records(record.Jobs, nil, false) {
			if gone[string(e.Key)] {
				continue
			}
			job, r, loadErr := s.Load(string(e.Key))
			err = errors.Join(err, walkErr, loadErr)
			err = errors.Join(err, step.Step(steps.Journaling, done, total))
			done++
			l := journal.Line{Job: job.ID, Started: &job.Started, Entries: job.Entries, Head: &r.Head, Merged: job.ID != worked}
			if !yield(l, err) || err != nil {
				return
			}
			if r.Discards > 0 && !yield(journal.Line{Job: job.ID, Head: &r.Head, Discard: r.Discards}, nil) {
				return
			}
		}
	}
}

// rebuildJournal writes a new journal from bbolt and renames the one that is there.
func (s *Store) rebuildJournal(state snapshot, why string) error {
	if err := s.holdsAll(state); err != nil {
		return err
	}
	path := s.path + journal.Suffix
	m, aside, err := journal.Write(path, state.lines(nil, s.step))
	s.opening.JournalAside = aside
	if err != nil {
		return fault.Unwritten(path, err)
	}
	if m.N > 0 {
		s.opening.JournalMade = why
	}
	return s.takeUp(state, path, m)
}

// takeUp goes on with a journal that was written of the state, up to a mark.
func (s *Store) takeUp(state snapshot, path string, m journal.Mark) error {
	j, _, err := openJournal(path, true)
	if err != nil {
		return unopened(path, err, true)
	}
	s.journal, j.Mark = j, m
	s.setFlush()
	return s.commit(state, func(c *change) error { return c.apply(nil, nil, m) })
}
