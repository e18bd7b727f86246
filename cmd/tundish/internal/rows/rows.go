// Package rows keeps in the store what lists show of each unit, so that they need not fold
// its jobs, and has those folded of which that is not kept, or no longer right.
package rows

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	jsonv2 "github.com/go-json-experiment/json"

	"garage/tundish/cmd/tundish/internal/about"
	"garage/tundish/cmd/tundish/internal/ahead"
	"garage/tundish/cmd/tundish/internal/progress"
	"garage/tundish/model/agenda"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/report"
	"garage/tundish/model/share"
	"garage/tundish/store"
)

// Row is what lists show of the jobs of a unit, or of a job of no unit.
type Row struct {
	agenda.Unit
	Lines map[string]Line       `json:"lines,omitempty"` // by id
	heads map[string]guide.Head // of a row that was made just now
}

// Head is a job's head as it is now: that which is stored, unless the row was made just
// now.
func (r Row) Head(stored guide.Head) guide.Head {
	if h, ok := r.heads[stored.ID]; ok {
		return h
	}
	return stored
}

// Line is what a list shows of a job beside its head.
type Line struct {
	report.Brief
	Words string `json:"words,omitempty"` // that in words
}

// Key names a unit by its key, or a job of no unit by its id.
type Key struct{ Unit, Job string }

// KeyOf is that of a job. One that others have shared is of no unit here.
func KeyOf(h guide.Head) Key {
	if key := h.UnitKey(); key != "" && !share.IsCopy(h.ID) {
		return Key{Unit: key}
	}
	return Key{Job: h.ID}
}

// KeyOfJob is that of a job.
func KeyOfJob(j job.Job) Key {
	if key := job.Fold(j).UnitKey(); key != "" && !share.IsCopy(j.ID) {
		return Key{Unit: key}
	}
	return Key{Job: j.ID}
}

// Jobs is a store, and what folds its jobs.
type Jobs struct {
	*store.Store
	// Fold folds the jobs of a unit, each after those before it, newest first, or a job by
	// itself. After an error it is those that could be read.
	Fold func(Key) ([]*guide.Guide, error)
	// Bar begins to show how far folding has come; nil shows nothing.
	Bar func(doing, of, then string) *progress.Bar
}

// bar is one, and what is true where it is stopped.
func (j Jobs) bar(then string) *progress.Bar {
	if j.Bar == nil {
		return nil
	}
	return j.Bar("working out", "units", then)
}

// made makes a row.
func (j Jobs) made(of Key) (Row, error) {
	jobs, err := j.Fold(of)
	return Make(of, jobs), err
}

// Make makes a row of jobs, newest first.
func Make(of Key, jobs []*guide.Guide) (r Row) {
	if !share.IsCopy(of.Job) {
		r.Unit = agenda.UnitOf(jobs)
	}
	r.Lines, r.heads = make(map[string]Line, len(jobs)), make(map[string]guide.Head, len(jobs))
	for _, s := range jobs {
		brief := report.BriefOf(s)
		r.heads[s.ID], r.Lines[s.ID] = s.Head(), Line{brief, brief.Text(s.Units())}
	}
	return r
}

// Keep is a row as it is kept.
func (r Row) Keep(of Key) (m store.Made, err error) {
	m = store.Made{Unit: of.Unit, Job: of.Job}
	m.Row, err = json.Marshal(r)
	return m, err
}

// Rows are those that are kept, the empty ones made now. The error is that of the first
// job that cannot be read, or progress.Stopped.
func (j Jobs) Rows(kept []store.Made) (map[Key]Row, error) {
	return j.rows(kept, func(r *Row) any { return r })
}

// AgendaUnits are what an agenda needs of those.
func (j Jobs) AgendaUnits(kept []store.Made) ([]agenda.Unit, error) {
	rows, err := j.rows(kept, func(r *Row) any { return &r.Unit })
	return Units(rows), err
}

// rows reads of those that are kept what is wanted.
func (j Jobs) rows(kept []store.Made, want func(*Row) any) (rows map[Key]Row, err error) {
	type read struct {
		Row
		err error
	}
	rows = make(map[Key]Row, len(kept))
	bar := j.bar("nothing was changed")
	defer bar.End()
	for i, one := range ahead.InOrder(len(kept), func(i int) (r read) {
		if k := kept[i]; len(k.Row) == 0 || jsonv2.Unmarshal(k.Row, want(&r.Row)) != nil {
			r.Row, r.err = j.made(Key{k.Unit, k.Job})
		}
		return r
	}) {
		rows[Key{kept[i].Unit, kept[i].Job}] = one.Row
		err = cmp.Or(err, one.err)
		if stopped := bar.Step(i+1, len(kept)); stopped != nil {
			return nil, stopped
		}
	}
	return rows, err
}

// AtOnce is how many rows are kept in one transaction.
const AtOnce = 500

// Remake makes rows anew, and the heads of their jobs, and keeps both. What cannot be read
// stays as it is. Where it is stopped (progress.Stopped) it keeps those that it has.
func (j Jobs) Remake(keys []Key) (failed error) {
	var rows []store.Made
	bar := j.bar("those are kept; run it again to go on")
	defer bar.End()
	for i, m := range ahead.InOrder(len(keys), func(i int) (m store.Made) {
		r, err := j.made(keys[i])
		if m = (store.Made{Unit: keys[i].Unit, Job: keys[i].Job}); err == nil && len(r.heads) > 0 {
			m, err = r.Keep(keys[i])
		}
		if err != nil {
			return store.Made{}
		}
		m.Heads = slices.Collect(maps.Values(r.heads))
		return m
	}) {
		if m.Unit+m.Job != "" {
			rows = append(rows, m)
		}
		stopped := bar.Step(i+1, len(keys))
		if len(rows) == AtOnce || i == len(keys)-1 || stopped != nil {
			failed = errors.Join(failed, j.Put(rows))
			rows = rows[:0]
		}
		if stopped != nil {
			return errors.Join(stopped, failed)
		}
	}
	return failed
}

// Put keeps rows of this program.
func (j Jobs) Put(rows []store.Made) error { return j.KeepMade(about.FoldedBy(), rows...) }

// Begin has what is kept be that of this program, where there are no jobs yet. Where it
// cannot, lists fold what they show.
func (j Jobs) Begin() {
	if n, err := j.Count(); err == nil && n == 0 {
		_ = j.BeginMade(about.FoldedBy())
	}
}

// mostFolded is how many rows a list folds whenever it is shown; more are made anew and
// kept.
const mostFolded = 50

// List opens a store to list jobs, and returns those of the rows kept that are wanted;
// empty ones are to be made. Where they are many, all that are empty were made first, if
// the store could be opened for writing.
func List(open func() (*store.Store, error), jobs func(*store.Store) Jobs,
	want func(j Jobs, kept []store.Made) ([]store.Made, error)) (j Jobs, rows []store.Made, err error) {
	for tried := false; ; tried = true {
		s, err := open()
		if err != nil {
			return Jobs{}, nil, err
		}
		j = jobs(s)
		kept, fits, err := j.kept()
		if err == nil {
			rows, err = want(j, kept)
		}
		if err == nil && (tried || len(empty(rows)) <= mostFolded || j.Opening().Beside) {
			return j, rows, nil
		}
		if err = errors.Join(err, j.Close()); err != nil {
			return Jobs{}, nil, err
		}
		if w, err := store.Open(j.Path(), store.Options{}); err == nil { // else they are folded
			err = errors.Join(jobs(w).Complete(fits), w.Close())
			if errors.Is(err, context.Canceled) {
				return Jobs{}, nil, err
			}
		}
	}
}

// Complete makes and keeps all rows that are empty, or all, where those that are there do
// not fit.
func (j Jobs) Complete(fits bool) error {
	if !fits {
		if err := j.BeginMade(about.FoldedBy()); err != nil {
			return err
		}
	}
	kept, _, err := j.kept()
	if err != nil {
		return err
	}
	return j.Remake(empty(kept))
}

func empty(kept []store.Made) (keys []Key) {
	for _, k := range kept {
		if len(k.Row) == 0 {
			keys = append(keys, Key{k.Unit, k.Job})
		}
	}
	return keys
}

// kept is what is kept of all units and jobs of no unit. Where that is by another program
// than this, fits is false, and all rows are empty.
func (j Jobs) kept() (kept []store.Made, fits bool, err error) {
	if kept, fits, err = j.Made(about.FoldedBy()); err != nil || fits {
		return kept, fits, err
	}
	heads, _, err := j.Store.List(store.ListOptions{})
	known := map[Key]bool{}
	for _, h := range heads {
		if of := KeyOf(h); !known[of] {
			known[of], kept = true, append(kept, store.Made{Unit: of.Unit, Job: of.Job})
		}
	}
	return kept, false, err
}

// Of are the rows of jobs, and of all that may have read the odometer of one of their
// cars.
func Of(heads []guide.Head, kept []store.Made) (rows []store.Made) {
	wanted, cars := map[Key]bool{}, map[string]bool{}
	for _, h := range heads {
		of := KeyOf(h)
		if wanted[of] = true; of.Unit != "" {
			cars[job.CarOf(of.Unit)] = true
		} else {
			cars[job.Canonical(h.Vehicle)] = true
		}
	}
	for _, k := range kept {
		of := Key{k.Unit, k.Job}
		if wanted[of] || k.Job != "" || cars[job.CarOf(k.Unit)] {
			delete(wanted, of)
			rows = append(rows, k)
		}
	}
	for of := range wanted {
		rows = append(rows, store.Made{Unit: of.Unit, Job: of.Job})
	}
	return rows
}

// Units are what an agenda needs of rows.
func Units(rows map[Key]Row) []agenda.Unit {
	units := make([]agenda.Unit, 0, len(rows))
	for _, r := range rows {
		units = append(units, r.Unit)
	}
	return units
}

// DueOf is what a job leaves to do.
func (j Jobs) DueOf(h guide.Head, now time.Time) ([]agenda.Item, error) {
	kept, _, err := j.kept()
	if err != nil {
		return nil, err
	}
	units, err := j.AgendaUnits(Of([]guide.Head{h}, kept))
	items := agenda.New(units, now).All(units)
	return slices.DeleteFunc(items, func(i agenda.Item) bool { return i.Job != h.ID }), err
}

// Set is keys, each once.
type Set map[Key]bool

// Sorted are its keys in order.
func (s Set) Sorted() (keys []Key) {
	for k := range s {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b Key) int {
		return cmp.Or(strings.Compare(a.Unit, b.Unit), strings.Compare(a.Job, b.Job))
	})
	return keys
}

// NoneYet is said of a store without a job.
const NoneYet = "no jobs yet; run: tundish"

// None is what is said where no job is listed: those that are discarded are there still.
func (j Jobs) None() string {
	if away, err := j.Store.Discarded(); err == nil && len(away) > 0 {
		return fmt.Sprintf("no jobs but %d discarded; see: tundish discard", len(away))
	}
	return NoneYet
}
