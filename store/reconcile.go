package store

// This file brings bbolt and journal into step when a store is opened.
//
//	journal goes on behind the mark      its lines are put into bbolt
//	a piece of a line lies behind them   it is taken out: it was never accepted
//	journal missing, short or another's  it is set aside and written anew from bbolt,
//	                                     unless it holds what bbolt has not

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"garage/tundish/model/job"
)

// reconcile opens the journal and brings both into step.
func (s *Store) reconcile(state snapshot) error {
	j, rest, problem, err := s.compare(state, true)
	if err != nil {
		return err
	}
	if problem != "" {
		if err := s.knowsAll(state); err != nil {
			return err
		}
		return s.remake(state, problem)
	}
	s.journal = j
	j.flush = flushFor(s.noSync)
	if len(rest.lines) > 0 { // a process that was killed may have left them unsynced
		if err := j.sync(); err != nil {
			return s.failed(j.path, err)
		}
	}
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
// why it does not belong to this state; then no journal is given.
func (s *Store) compare(state snapshot, writable bool) (j *journal, rest tail, problem string, err error) {
	path := s.path + journalSuffix
	opened, first, err := openJournal(path, writable)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, tail{}, "it was missing", nil
	}
	if err != nil {
		return nil, tail{}, "", unopened(path, err)
	}
	rest, problem, err = opened.fit(state, first)
	if err != nil || problem != "" {
		opened.file.Close()
		return nil, tail{}, problem, err
	}
	return opened, rest, "", nil
}

// fit sets the journal to bbolt's place in it, and reads what lies behind.
func (j *journal) fit(state snapshot, first line) (rest tail, problem string, err error) {
	id, err := state.storeID()
	if err != nil {
		return tail{}, "", err
	}
	switch {
	case first.Journal > journalVersion:
		return tail{}, "", newer(j.path, first.Journal, journalVersion)
	case first.Journal == 0:
		return tail{}, "it could not be read", nil
	case first.Store != id:
		return tail{}, "it was of another store", nil
	}
	if _, err = state.getJSON(aboutBucket, []byte(markKey), &j.mark); err != nil {
		return tail{}, "", err
	}
	rest, fits, err := j.behind(j.mark)
	switch {
	case err != nil:
		return tail{}, "", damage(j.path, "%v", err)
	case !fits:
		return tail{}, "it did not hold the last line that the store knows", nil
	case rest.alien:
		return tail{}, "it held more than goes on from the store", nil
	}
	return rest, "", nil
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
	err = s.commit(state, func(c *change) error { return c.apply([]line{l}, []jobRecord{was}, m) })
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
	return &Error{Kind: ErrReadOnly, Path: s.path, Fact: fmt.Sprintf("%d line(s) of its journal are not in it yet", len(rest.lines)),
		Next: "open it once for writing"}
}

// knowsAll refuses a store beside a journal that does not belong to its state
// and holds an entry that it has not: setting that aside would hide it.
func (s *Store) knowsAll(state snapshot) error {
	path := s.path + journalSuffix
	j, _, err := openJournal(path, false)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return unopened(path, err)
	}
	defer j.file.Close()
	var more error
	err = j.scan(0, func(_ int64, text []byte) bool {
		l, _, err := decodeLine(text)
		if err == nil && l.N > 0 && l.check() == nil {
			more = state.knows(path, l)
		}
		return more == nil
	})
	if err != nil {
		return damage(path, "%v", err)
	}
	return more
}

// knows says whether all entries of a line are in a state.
func (s snapshot) knows(path string, l line) error {
	_, found, err := s.job(l.Job)
	for _, e := range l.Entries {
		if err != nil || !found {
			break
		}
		var ours job.Entry
		found, err = s.getJSON(entriesBucket, entryKey(l.Job, e.Seq), &ours)
		found = found && sameEntry(ours, e)
	}
	if err == nil && !found {
		return damage(path, "it holds entries of job %q that the store has not", l.Job)
	}
	return err
}

// remake sets the journal aside and writes a new one from bbolt.
func (s *Store) remake(state snapshot, why string) error {
	path := s.path + journalSuffix
	if _, err := os.Lstat(path); err == nil {
		aside, err := setAside(path)
		if err != nil {
			return unwritten(path, err)
		}
		s.opening.JournalAside = aside
	}
	m, err := writeJournal(path, state)
	if err != nil {
		return unwritten(path, err)
	}
	if m.N > 0 {
		s.opening.JournalMade = why
	}
	j, _, err := openJournal(path, true)
	if err != nil {
		return unopened(path, err)
	}
	s.journal, j.mark, j.flush = j, m, flushFor(s.noSync)
	return s.commit(state, func(c *change) error { return c.apply(nil, nil, m) })
}
