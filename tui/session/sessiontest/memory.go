// Package sessiontest holds a journal in memory, for the tests of the front ends.
package sessiontest

import (
	"errors"
	"slices"
	"time"

	"garage/tundish/model/car"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
	"garage/tundish/tui/history"
	"garage/tundish/tui/session"
)

// Memory is a journal in memory.
type Memory struct {
	Jobs   map[string]job.Job
	Heads  map[string]guide.Head
	Drafts map[string]session.Draft
	Writes []int // how many entries each write had
	Fail   error // where set, what writes say
}

var _ session.Journal = (*Memory)(nil)

// NewMemory is a journal without jobs.
func NewMemory() *Memory {
	return &Memory{Jobs: map[string]job.Job{}, Heads: map[string]guide.Head{}, Drafts: map[string]session.Draft{}}
}

func (m *Memory) Create(j job.Job, head guide.Head) error {
	if _, ok := m.Jobs[j.ID]; ok {
		return errors.New("a job with that id exists")
	}
	return m.keep(j, head, len(j.Entries))
}

func (m *Memory) Append(id string, head guide.Head, entries ...job.Entry) error {
	j, err := m.Load(id)
	if err != nil {
		return err
	}
	j.Entries = append(slices.Clip(j.Entries), entries...)
	return m.keep(j, head, len(entries))
}

// keep stores a job that is whole.
func (m *Memory) keep(j job.Job, head guide.Head, written int) error {
	if m.Fail != nil {
		return m.Fail
	}
	if err := j.Check(); err != nil {
		return err
	}
	m.Jobs[j.ID], m.Heads[j.ID] = j, head
	m.Writes = append(m.Writes, written)
	delete(m.Drafts, j.ID)
	return nil
}

func (m *Memory) Load(id string) (job.Job, error) {
	j, ok := m.Jobs[id]
	if !ok {
		return j, errors.New("no such job")
	}
	return j, nil
}

func (m *Memory) Unfinished() ([]guide.Head, error) {
	return m.heads(func(h guide.Head) bool { return h.Phase == guide.Open || h.Phase == guide.ToRecheck }), nil
}

func (m *Memory) Units() ([]guide.Head, error) {
	seen := map[string]bool{"": true}
	return m.heads(func(h guide.Head) bool {
		old := seen[h.UnitKey()]
		seen[h.UnitKey()] = true
		return !old
	}), nil
}

// heads are those that are wanted, newest first.
func (m *Memory) heads(wanted func(guide.Head) bool) []guide.Head {
	var all, list []guide.Head
	for _, h := range m.Heads {
		all = append(all, h)
	}
	slices.SortFunc(all, func(a, b guide.Head) int { return b.Started.Compare(a.Started) })
	for _, h := range all {
		if wanted(h) {
			list = append(list, h)
		}
	}
	return list
}

// Offers brings the unit's jobs before this one, with their facts, and nothing of
// others.
func (m *Memory) Offers(to job.Job) (guide.Offers, error) {
	var chain guide.Chain
	var unit []*guide.Guide
	for _, j := range m.before(to) {
		unit = append(unit, chain.Fold(j))
	}
	slices.Reverse(unit)
	offers := guide.OffersOf(unit, nil)
	offers.Before = chain.Before(to.Started)
	units, err := m.Car(to)
	offers.OpenUnits, offers.ToCome = units.Open(to.ID), units.ToCome(to.ID)
	return offers, err
}

func (m *Memory) Car(of job.Job) (car.Session, error) {
	id := job.Fold(of).Text(job.Session)
	var jobs []*guide.Guide
	for _, j := range m.Jobs {
		if g := guide.Fold(j, guide.Offers{}); id != "" && g.Text(job.Session) == id && g.ID != of.ID {
			jobs = append(jobs, g)
		}
	}
	if id != "" && of.ID != "" {
		jobs = append(jobs, guide.Fold(of, guide.Offers{}))
	}
	return car.New(id, jobs)
}

// before are the jobs of the same unit that began before one, oldest first.
func (m *Memory) before(to job.Job) []job.Job {
	key := job.Fold(to).UnitKey()
	var list []job.Job
	for _, j := range m.Jobs {
		if key != "" && job.Fold(j).UnitKey() == key && j.Started.Before(to.Started) {
			list = append(list, j)
		}
	}
	slices.SortFunc(list, func(a, b job.Job) int { return a.Started.Compare(b.Started) })
	return list
}

func (m *Memory) History(of job.Job) (history.Data, error) {
	unit := []*guide.Guide{guide.Fold(m.Jobs[of.ID], guide.Offers{})}
	var waste verdict.Waste
	for _, g := range unit {
		waste.Add(g.Assessment)
	}
	return history.Of(unit, unit[0].Lessons(), waste, time.UTC), nil
}

func (m *Memory) SaveDraft(id string, d session.Draft) error { m.Drafts[id] = d; return nil }

func (m *Memory) LoadDraft(id string) (session.Draft, error) { return m.Drafts[id], nil }
