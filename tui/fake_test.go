package tui

// This file holds a journal in memory and a driver that presses keys, for the
// tests of the screens.

import (
	"errors"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
	"garage/tundish/tui/history"
	"garage/tundish/tui/theme"
)

var morning = time.Date(2026, 4, 18, 9, 0, 0, 0, time.UTC)

// memory is a journal in memory. fail, where set, is what the next writes say.
type memory struct {
	jobs  map[string]job.Job
	heads map[string]guide.Head
	draft Draft
	made  uint32 // jobs begun: the chance in the next id
	fail  error
}

func newMemory() *memory {
	return &memory{jobs: map[string]job.Job{}, heads: map[string]guide.Head{}}
}

func (m *memory) Create(job job.Job, head guide.Head) error {
	if m.fail != nil {
		return m.fail
	}
	if _, ok := m.jobs[job.ID]; ok {
		return errors.New("a job with that id exists")
	}
	m.jobs[job.ID], m.heads[job.ID] = job, head
	return nil
}

func (m *memory) Append(id string, head guide.Head, entries ...job.Entry) error {
	if m.fail != nil {
		return m.fail
	}
	job := m.jobs[id]
	for _, e := range entries {
		if e.Seq != len(job.Entries)+1 {
			return errors.New("out of order")
		}
		if err := e.Check(); err != nil {
			return err
		}
		job = with(job, e)
	}
	m.jobs[id], m.heads[id], m.draft = job, head, Draft{}
	return nil
}

func (m *memory) Load(id string) (job.Job, error) {
	job, ok := m.jobs[id]
	if !ok {
		return job, errors.New("no such job")
	}
	return job, nil
}

func (m *memory) Unfinished() ([]guide.Head, error) {
	var list []guide.Head
	for _, h := range m.heads {
		if h.Phase == guide.Open || h.Phase == guide.ToRecheck {
			list = append(list, h)
		}
	}
	return list, nil
}

func (m *memory) Units() ([]guide.Head, error) {
	var list []guide.Head
	for _, h := range m.heads {
		if h.UnitKey() != "" {
			list = append(list, h)
		}
	}
	return list, nil
}

// Offers brings the unit's job before this one, and nothing else.
func (m *memory) Offers(to job.Job) (guide.Offers, error) {
	key := job.Fold(to).UnitKey()
	unit := slices.DeleteFunc(slices.Collect(maps.Values(m.jobs)), func(j job.Job) bool {
		return key == "" || job.Fold(j).UnitKey() != key || !j.Started.Before(to.Started)
	})
	slices.SortFunc(unit, func(a, b job.Job) int { return a.Started.Compare(b.Started) })
	var c guide.Chain
	for _, j := range unit {
		c.Fold(j)
	}
	return guide.Offers{Before: c.Before(to.Started)}, nil
}

func (m *memory) History(job job.Job) (history.Data, error) {
	unit := []*guide.Guide{guide.Fold(m.jobs[job.ID], guide.Offers{})}
	var waste verdict.Waste
	for _, s := range unit {
		waste.Add(s.Assessment)
	}
	return history.Of(unit, unit[0].Lessons(), waste, time.UTC), nil
}

func (m *memory) SaveDraft(_ string, d Draft) error { m.draft = d; return nil }
func (m *memory) LoadDraft(string) (Draft, error)   { return m.draft, nil }

// stage drives an App as Bubble Tea does, commands run at once; ticks only when
// the test says so.
type stage struct {
	t   testing.TB
	app App
	mem *memory
	now time.Time
	out bool // the program has quit

	answers map[job.Topic]string // nil: those of the small job
	given   map[job.Topic]int    // how many answers each topic has had
}

func newStage(t testing.TB, mem *memory, w, h int) *stage {
	t.Helper()
	st := &stage{t: t, mem: mem, now: morning}
	if len(mem.jobs) > 0 {
		for _, j := range mem.jobs {
			for _, e := range j.Entries {
				if e.At.After(st.now) {
					st.now = e.At
				}
			}
		}
	}
	cfg := Config{Journal: mem, Clock: func() time.Time { return st.now }, Chance: func() uint32 { mem.made++; return mem.made }, After: never}
	st.app = Open(cfg, theme.New(theme.Options{Dark: true}), w, h)
	st.run(st.app.Init())
	return st
}

// never is no clock: the test moves the time on itself.
func never(time.Duration, func(time.Time) tea.Msg) tea.Cmd { return nil }

func (st *stage) send(msg tea.Msg) {
	st.t.Helper()
	if msg = Filter(st.app, msg); msg == nil {
		return
	}
	if _, ok := msg.(tea.QuitMsg); ok {
		st.out = true
		return
	}
	m, cmd := st.app.Update(msg)
	st.app = m.(App)
	st.run(cmd)
}

func (st *stage) run(cmd tea.Cmd) {
	st.t.Helper()
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case tea.BatchMsg:
		for _, c := range msg {
			st.run(c)
		}
	case nil:
	default:
		st.send(msg)
	}
}

// clock moves the time on and ticks.
func (st *stage) clock(d time.Duration) {
	st.now = st.now.Add(d)
	st.send(tickMsg{st.now})
}

func (st *stage) typed(text string) {
	st.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text)})
}

func (st *stage) press(k tea.KeyType) { st.send(tea.KeyMsg{Type: k}) }

// screen is the view without colour.
func (st *stage) screen() string { return ansi.Strip(st.app.View()) }

func (st *stage) sees(words ...string) {
	st.t.Helper()
	for _, w := range words {
		if !strings.Contains(st.screen(), w) {
			st.t.Fatalf("the screen does not say %q:\n%s", w, st.screen())
		}
	}
}
