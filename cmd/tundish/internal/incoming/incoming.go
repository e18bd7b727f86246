// Package incoming makes jobs that were read from files ready for a store: it folds each
// after those of its unit before it, while others are being stored, and makes the rows of
// the units.
package incoming

import (
	"cmp"
	"errors"
	"iter"
	"slices"
	"strings"

	"garage/tundish/cmd/tundish/internal/ahead"
	"garage/tundish/cmd/tundish/internal/rows"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/store"
)

// Job is a job that was read from a file.
type Job struct {
	Held  *store.Incoming // nil: it is read once more
	Bytes int             // of it as it is stored
	Of    rows.Key
}

// Take packs a job that was read. Its head is still to be made.
func Take(j job.Job) (one Job, err error) {
	one = Job{Held: &store.Incoming{Job: j}, Of: rows.KeyOfJob(j)}
	err = one.Held.Pack()
	one.Bytes = one.Held.Bytes()
	return one, err
}

// unit is the jobs of a unit that were read, or one of no unit.
type unit struct {
	of     rows.Key
	places []int // of its jobs
	left   int   // of them that are not stored yet
	whole  bool  // it is new to the store, which gets all these jobs as they were read
	row    store.Made
	err    error // of a job that cannot be read back from what would be stored
}

// Units are the jobs that are to be stored, by their units.
type Units struct {
	jobs  []Job
	units []unit
	of    []int // unit of each job
	next  func() (int, store.Made, bool)
	stop  func()
	known int // units whose jobs have their heads
	store rows.Jobs
	whole []store.Made // rows of units that are in the store, to be kept
	anew  rows.Set     // to be made from the store
}

// unitsAhead is how many units are folded while jobs are being stored.
const unitsAhead = 100

// New begins with jobs that a store is to get in this order.
func New(s rows.Jobs, jobs []Job) (*Units, error) {
	heads, err := s.Units()
	if err != nil {
		return nil, err
	}
	there := rows.Set{}
	for _, h := range heads {
		there[rows.KeyOf(h)] = true
	}
	u := &Units{jobs: jobs, of: make([]int, len(jobs)), store: s, anew: rows.Set{}}
	at := map[rows.Key]int{}
	for i, j := range jobs {
		g, known := at[j.Of]
		if !known {
			g = len(u.units)
			at[j.Of], u.units = g, append(u.units, unit{of: j.Of, whole: !there[j.Of]})
		}
		one := &u.units[g]
		one.places, one.left, one.whole = append(one.places, i), one.left+1, one.whole && j.Held != nil
		u.of[i] = g
	}
	u.next, u.stop = iter.Pull2(ahead.InOrderBy(len(u.units), unitsAhead, func(g int) store.Made { return u.fold(&u.units[g]) }))
	return u, nil
}

// fold makes the heads of a unit's jobs, and its row, where it is whole.
func (u *Units) fold(one *unit) store.Made {
	type read struct {
		job.Job
		place int
	}
	var list []read
	for _, place := range one.places {
		if in := u.jobs[place].Held; in != nil {
			j, err := in.Whole()
			one.err = cmp.Or(one.err, err)
			list = append(list, read{j, place})
		}
	}
	slices.SortStableFunc(list, func(a, b read) int {
		return cmp.Or(a.Started.Compare(b.Started), strings.Compare(a.ID, b.ID))
	})
	var c guide.Chain
	folded := make([]*guide.Guide, len(list))
	for i, r := range list {
		g := c.Fold(r.Job)
		folded[len(list)-1-i], u.jobs[r.place].Held.Head = g, g.Head()
	}
	if !one.whole || one.err != nil {
		return store.Made{}
	}
	made, err := rows.Make(one.of, folded).Keep(one.of)
	one.whole = err == nil
	return made
}

// Ready makes the heads of the jobs before a place, and keeps the rows that can be kept.
func (u *Units) Ready(to int) error {
	for u.known < len(u.units) && u.units[u.known].places[0] < to {
		_, row, _ := u.next()
		one := &u.units[u.known]
		if one.row, u.known = row, u.known+1; one.err != nil {
			return one.err
		}
	}
	if len(u.whole) < rows.AtOnce {
		return nil
	}
	err := u.store.Put(u.whole)
	u.whole = u.whole[:0]
	return err
}

// Stored says what became of the job at a place, and lets go of it.
func (u *Units) Stored(place int, m store.Merged) {
	one := &u.units[u.of[place]]
	one.whole = one.whole && m.Outcome == store.Added
	if m.Outcome != store.Unchanged && m.Outcome != store.Discarded {
		key := one.of
		if key.Unit == "" {
			key.Job = m.ID
		}
		u.anew[key] = true
		if m.WasOf != "" {
			u.anew[rows.Key{Unit: m.WasOf}] = true
		}
	}
	u.jobs[place].Held = nil
	if one.left--; one.left == 0 && one.whole {
		delete(u.anew, one.of)
		u.whole, one.row = append(u.whole, one.row), store.Made{}
	}
}

// Close keeps the rows of the units of which there is something new, and makes those anew
// that the store has other jobs of.
func (u *Units) Close() error {
	u.stop()
	return errors.Join(u.store.Put(u.whole), u.store.Remake(u.anew.Sorted()))
}
