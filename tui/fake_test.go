package tui

// This file holds a driver that presses keys, for the tests of the screens.

import (
	"fmt"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/tui/session/sessiontest"
	"garage/tundish/tui/theme"
)

var morning = time.Date(2026, 4, 18, 9, 0, 0, 0, time.UTC)

// stage drives an App as Bubble Tea does, commands run at once; ticks only when
// the test says so.
type stage struct {
	t   testing.TB
	app App
	mem *sessiontest.Memory
	now time.Time
	out bool // the program has quit

	typing map[job.Topic]string // what the person types, or the digit of a choice
	keys   int                  // pressed
	slow   time.Duration        // that an answer takes
}

func newStage(t testing.TB, mem *sessiontest.Memory, w, h int) *stage {
	t.Helper()
	st := &stage{t: t, mem: mem, now: morning, typing: drainPort(), slow: 2 * time.Minute}
	for _, j := range mem.Jobs {
		for _, e := range j.Entries {
			if e.At.After(st.now) {
				st.now = e.At
			}
		}
	}
	made := uint32(len(mem.Jobs))
	cfg := Config{Journal: mem, Clock: func() time.Time { return st.now }, Chance: func() uint32 { made++; return made }, After: never}
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
	st.send(tickMsg{st.app.ticks})
}

// typed presses the keys of a text, one by one.
func (st *stage) typed(text string) {
	st.t.Helper()
	for _, r := range text {
		st.keys++
		st.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
	}
}

func (st *stage) press(k tea.KeyType) {
	st.t.Helper()
	st.keys++
	st.send(tea.KeyMsg{Type: k})
}

func (st *stage) enter() { st.t.Helper(); st.press(tea.KeyEnter) }

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

// seesNot is that words are not on the screen.
func (st *stage) seesNot(words ...string) {
	st.t.Helper()
	for _, w := range words {
		if strings.Contains(st.screen(), w) {
			st.t.Fatalf("the screen says %q:\n%s", w, st.screen())
		}
	}
}

// drainPort is what a person types in the small job: 600-680 ml by the drain port.
func drainPort() map[job.Topic]string {
	return map[job.Topic]string{
		job.Capacity: "600-680", job.HoseHolds: "25", job.DrainedAmount: "588", job.LoadedAmount: "730", job.LeftInVessel: "22",
		job.EscapedAmount: "46", job.OilTemperature: "2", job.PriorLevel: "2", job.Decision: "6", job.LoadedTemperature: "20",
	}
}

// answer answers the line that keys go to as the person does who is played.
func (st *stage) answer() {
	st.t.Helper()
	st.now = st.now.Add(st.slow)
	l, ok := st.app.job.line()
	if !ok {
		st.enter()
		return
	}
	said := ""
	for _, topic := range l.Topics() {
		if s, ok := st.typing[topic]; ok {
			said = s
		}
	}
	switch l.Kind {
	case sheet.Confirm:
		st.typed(string(l.Key))
	case sheet.Choice:
		if said == "" {
			said = string(l.Options[0].Key)
		}
		st.typed(said)
	default:
		st.typed(said)
		st.enter()
	}
}

// upTo answers until a sheet is before the person.
func (st *stage) upTo(id sheet.ID) *stage {
	st.t.Helper()
	for range 300 {
		if st.app.job.on && st.app.job.sheet.ID == id {
			return st
		}
		if !st.app.job.on {
			break
		}
		before := st.at()
		st.answer()
		if st.at() == before {
			st.t.Fatalf("stuck at %s\n%s", before, st.screen())
		}
	}
	st.t.Fatalf("never at %v\n%s", id, st.screen())
	return st
}

// upToLine answers until keys go to the line of a topic.
func (st *stage) upToLine(topic job.Topic) *stage {
	st.t.Helper()
	for range 300 {
		if l, ok := st.app.job.line(); ok && hasTopic(l, topic) {
			return st
		}
		before := st.at()
		st.answer()
		if st.at() == before {
			st.t.Fatalf("stuck at %s\n%s", before, st.screen())
		}
	}
	st.t.Fatalf("never at %v\n%s", topic, st.screen())
	return st
}

// at says where the person is.
func (st *stage) at() string {
	return fmt.Sprint(st.app.job.sheet.At, st.app.job.focus, st.state().Count, st.app.job.passed)
}

func (st *stage) state() *guide.Guide { return st.app.job.state() }

// line is the line that keys go to.
func (st *stage) line() sheet.Line {
	st.t.Helper()
	l, ok := st.app.job.line()
	if !ok {
		st.t.Fatalf("keys go to no line\n%s", st.screen())
	}
	return l
}
