package store

// This file keeps what a program makes of the jobs of each unit, so that its lists need
// not fold them. It can be made anew at any time, and the journal knows nothing of it.
//
// Where the place in the journal names who made it (journal.Mark), every unit has a row,
// and so has every job of no unit; a row without anything in it is to be made anew. Each
// line that is stored empties those that it may change, in its own transaction. A program
// that knows nothing of all this drops that name, and nothing of it counts any more.

import (
	"garage/tundish/model/guide"
	"garage/tundish/store/journal"
	"garage/tundish/store/record"
)

// Made is what a program makes of the jobs of a unit, or of a job of no unit.
type Made struct {
	Unit  string       // key of the unit, empty where it is a job
	Job   string       // id of the job, empty where it is a unit
	Row   []byte       // JSON; nil: it is to be made anew, or, where it is kept, there is no such unit or job
	Heads []guide.Head // to be kept: of its jobs
}

// Made returns all that was made of units and jobs by a program; nothing of it counts
// where fits is false: it was made by another one, or never.
func (s *Store) Made(by string) (rows []Made, fits bool, err error) {
	err = s.view(func(state snapshot) error {
		if fits, err = state.madeBy(by); err != nil || !fits {
			return err
		}
		for e, err := range state.Records(record.Made, nil, false) {
			if err != nil {
				return err
			}
			unit, id := record.MadeOf(e.Key)
			rows = append(rows, Made{Unit: unit, Job: id, Row: e.Value})
		}
		return nil
	})
	return rows, fits, err
}

// madeBy reports whether what was made is by a program.
func (s snapshot) madeBy(by string) (bool, error) {
	var m journal.Mark
	_, err := s.GetJSON(record.About, []byte(markKey), &m)
	return m.Made == by && by != "", err
}

// BeginMade has all rows made anew, by a program.
func (s *Store) BeginMade(by string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	state, err := s.ready()
	if err != nil {
		return err
	}
	if _, found, err := state.Tree.Bucket(record.Made); err != nil || !found {
		err = s.commit(state, func(c *change) error { return c.CreateMade() })
		if err == nil {
			state, err = s.ready()
		}
		if err != nil {
			return err
		}
	}
	m := s.journal.Mark
	m.Made = by
	err = s.commit(state, func(c *change) error {
		if err := c.EmptyMade(); err != nil {
			return err
		}
		return c.PutJSON(record.About, []byte(markKey), m)
	})
	if err == nil {
		s.journal.Mark = m
	}
	return err
}

// KeepMade keeps what was made of units and jobs, and their heads, all or none. It is an
// error if a head is not of the job as it is. Rows are kept only where what is there is by
// the same program.
func (s *Store) KeepMade(by string, rows ...Made) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	state, err := s.ready()
	if err != nil || len(rows) == 0 {
		return err
	}
	return s.commit(state, func(c *change) error {
		for _, r := range rows {
			if err := c.PutHeads(r.Heads); err != nil {
				return err
			}
			if key := record.MadeKey(r.Unit, r.Job); s.journal.Mark.Made != by || by == "" {
				continue
			} else if r.Row == nil {
				err = c.Del(record.Made, key)
			} else {
				err = c.Put(record.Made, key, r.Row)
			}
			if err != nil {
				return err
			}
		}
		return nil
	})
}
