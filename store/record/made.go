package record

// This file names the keys of what a program makes of the jobs of each unit.

import (
	"bytes"

	"garage/tundish/store/fault"
)

// madeAlone begins the keys of jobs of no unit: it is no length of a unit's key.
const madeAlone = "\xff\xff"

// MadeKey is the key of what was made of a unit's jobs or, where the key of the unit is
// empty, of a job of no unit.
func MadeKey(unit, id string) []byte {
	if unit == "" {
		return append([]byte(madeAlone), id...)
	}
	return UnitPrefix(unit)
}

// MadeOf returns the key of the unit, or the id of the job of no unit.
func MadeOf(key []byte) (unit, id string) {
	if len(key) < 2 || string(key[:2]) == madeAlone {
		return "", string(key[min(2, len(key)):])
	}
	return string(key[2:]), ""
}

// MadeKeys are the keys of all rows that are there, and of those that there must be: of
// every unit, and of every job of no unit.
func (s Snapshot) MadeKeys() (there, keys [][]byte, err error) {
	for e, err := range s.Records(Made, nil, false) {
		if err != nil {
			return nil, nil, err
		}
		there = append(there, e.Key)
	}
	for e, err := range s.Records(Units, nil, false) {
		prefix, _, ok := UnitOf(e.Key)
		if err == nil && !ok {
			err = fault.Damage(s.Path, "units %q: %v", e.Key, ErrSum)
		}
		if err != nil {
			return nil, nil, err
		}
		if len(keys) == 0 || !bytes.Equal(keys[len(keys)-1], prefix) {
			keys = append(keys, prefix)
		}
	}
	for e, err := range s.Records(Started, nil, false) {
		if err != nil {
			return nil, nil, err
		}
		r, _, err := s.Job(TimedID(e.Key))
		if err != nil {
			return nil, nil, err
		}
		if r.Head.UnitKey() == "" {
			keys = append(keys, MadeKey("", r.Head.ID))
		}
	}
	return there, keys, nil
}

// outdated are the keys of the rows that rest on a job which changes, and are not empty
// yet: those of its unit and of the one that it was of, or its own. gone is that of its
// own where there must be none any more.
func (s Snapshot) outdated(id string, was, is Job) (keys [][]byte, gone []byte, err error) {
	own, unit := MadeKey("", id), is.Head.UnitKey()
	of := [][]byte{MadeKey(unit, id)}
	if before := was.Head.UnitKey(); before != "" && before != unit {
		of = append(of, MadeKey(before, ""))
	}
	if unit != "" || is.Discarded() {
		if _, found, err := s.Get(Made, own); err != nil {
			return nil, nil, err
		} else if found {
			gone = own
		}
	}
	for _, key := range of {
		row, found, err := s.Get(Made, key)
		if err != nil {
			return nil, nil, err
		}
		if (len(row) > 0 || !found) && !(bytes.Equal(key, own) && is.Discarded()) {
			keys = append(keys, key)
		}
	}
	return keys, gone, nil
}

// CreateMade makes the table of rows, which not every store has.
func (c Change) CreateMade() error {
	_, err := c.Tx.CreateBucket([]byte(Made))
	return err
}

// EmptyMade leaves an empty row of every unit and of every job of no unit, and no others.
func (c Change) EmptyMade() error {
	there, keys, err := c.From.MadeKeys()
	for _, key := range there {
		if err == nil {
			err = c.Del(Made, key)
		}
	}
	for _, key := range keys {
		if err == nil {
			err = c.Put(Made, key, nil)
		}
	}
	return err
}

// Outdate empties the rows that rest on a job.
func (c Change) Outdate(id string, was, is Job) error {
	keys, gone, err := c.From.outdated(id, was, is)
	for _, key := range keys {
		if err == nil {
			err = c.Put(Made, key, nil)
		}
	}
	if err == nil && gone != nil {
		err = c.Del(Made, gone)
	}
	return err
}
