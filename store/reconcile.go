package store

// This file brings bbolt and journal into step when a store is opened.
//
//	journal goes on behind the mark      its lines are put into bbolt
//	a piece of a line lies behind them   it is taken out: it was never accepted
//	journal missing, short or another's  it is set aside and written anew from bbolt

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"garage/tundish/model"
)

// reconcile opens the journal and brings both into step.
func (s *Store) reconcile() error {
	state, err := snap(s.path, s.file)
	if err != nil {
		return err
	}
	j, rest, problem, err := s.compare(state, true)
	if err != nil {
		return err
	}
	if problem != "" {
		if j != nil {
			j.file.Close()
		}
		return s.remake(state, problem)
	}
	s.journal = j
	j.noSync = s.noSync
	for i, l := range rest.lines {
		if err := s.replay(l, rest.marks[i]); err != nil {
			return err
		}
	}
	if rest.torn {
		s.opening.TornTailTaken = true
		if err := j.clean(); err != nil {
			return s.failed(j.path, err)
		}
	}
	return nil
}

// compare opens the journal and says what lies behind bbolt's place in it, or
// why it does not belong to this state.
func (s *Store) compare(state snapshot, writable bool) (j *journal, rest tail, problem string, err error) {
	path := s.path + journalSuffix
	j, first, err := openJournal(path, writable)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, tail{}, "it was missing", nil
	}
	if err != nil {
		return nil, tail{}, "", unopened(path, err)
	}
	defer func() {
		if err != nil {
			j.file.Close()
		}
	}()
	id, err := state.storeID()
	if err != nil {
		return nil, tail{}, "", err
	}
	switch {
	case first.Journal > journalVersion:
		return nil, tail{}, "", newer(path, first.Journal, journalVersion)
	case first.Journal == 0:
		return j, tail{}, "it could not be read", nil
	case first.Store != id:
		return j, tail{}, "it was of another store", nil
	}
	var m mark
	if _, err = state.getJSON(aboutBucket, []byte(markKey), &m); err != nil {
		return nil, tail{}, "", err
	}
	rest, fits, err := j.behind(m)
	switch {
	case err != nil:
		return nil, tail{}, "", damage(path, "%v", err)
	case !fits:
		return j, tail{}, "it did not hold the last line that the store knows", nil
	case rest.alien:
		return j, tail{}, "it held lines that do not go on from the store", nil
	}
	j.mark = m
	return j, rest, "", nil
}

// replay puts a line that bbolt missed into it.
func (s *Store) replay(l line, m mark) error {
	state, err := snap(s.path, s.file)
	if err != nil {
		return err
	}
	was, err := state.fitting(l)
	if err != nil {
		return damage(s.path+journalSuffix, "line %d: %v", l.N, err)
	}
	err = s.commit(state, func(c *change) error {
		if err := c.apply(l, was); err != nil {
			return err
		}
		return c.setMark(m)
	})
	if err == nil {
		s.opening.Replayed++
		s.journal.mark = m
	}
	return err
}

// behindJournal refuses a store that was opened to read only while the journal
// holds what it lacks.
func (s *Store) behindJournal(state snapshot) error {
	j, rest, _, err := s.compare(state, false)
	if j != nil {
		j.file.Close()
	}
	if errors.Is(err, ErrDamaged) || len(rest.lines) == 0 {
		return nil
	}
	return &Error{Kind: ErrReadOnly, Path: s.path, Fact: fmt.Sprintf("%d entries of its journal are not in it yet", len(rest.lines)),
		Next: "open it once for writing"}
}

// remake sets the journal aside and writes a new one from bbolt: one line for
// each job.
func (s *Store) remake(state snapshot, why string) error {
	path := s.path + journalSuffix
	if _, err := os.Lstat(path); err == nil {
		aside, err := setAside(path)
		if err != nil {
			return readOnly(path, err)
		}
		s.opening.JournalAside = aside
	}
	jobs, err := s.writeJournal(state, path)
	if err != nil {
		return err
	}
	if jobs > 0 {
		s.opening.JournalMade = why
	}
	return s.commit(state, func(c *change) error { return c.setMark(s.journal.mark) })
}

// writeJournal writes the journal of a state under another name, and then
// gives it its own.
func (s *Store) writeJournal(state snapshot, path string) (jobs int, err error) {
	temp := path + ".new"
	f, err := os.OpenFile(temp, os.O_RDWR|os.O_CREATE|os.O_TRUNC, fileMode)
	if err != nil {
		return 0, readOnly(path, err)
	}
	j := &journal{path: path, file: f, noSync: true}
	if jobs, err = j.fill(state); err == nil {
		j.noSync = s.noSync
		err = j.sync()
	}
	if err == nil {
		err = os.Rename(temp, path)
	}
	if err == nil {
		err = syncFolder(filepath.Dir(path))
	}
	if err != nil {
		f.Close()
		os.Remove(temp)
		var told *Error
		if errors.As(err, &told) {
			return 0, err
		}
		return 0, s.failed(path, err)
	}
	s.journal = j
	return jobs, nil
}

// fill writes a journal's first line and one line for each job.
func (j *journal) fill(state snapshot) (jobs int, err error) {
	id, err := state.storeID()
	if err != nil {
		return 0, err
	}
	j.mark.N = -1
	if err := j.add(line{Journal: journalVersion, Store: id}); err != nil {
		return 0, err
	}
	return jobs, state.eachJob(func(job model.Job, r jobRecord) error {
		jobs++
		return j.add(line{Job: job.ID, Started: &job.Started, Entries: job.Entries, Head: &r.Head})
	})
}
