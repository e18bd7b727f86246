package tui

// This file looks at when the screens ask for a tick of the clock: as often as something
// on them changes, and not more often.

import (
	"maps"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/sheet"
	"garage/tundish/tui/session/sessiontest"
)

// later is the frame that a tick shows after a time.
func (st *stage) later(d time.Duration) string {
	st.t.Helper()
	app, now := st.app, st.now
	defer func() { st.app, st.now = app, now }()
	st.clock(d)
	return st.screen()
}

// ticksWell holds the next tick against what changes at all: nothing before it; where it
// comes within a second, something with it; where there is none, nothing in a day.
func (st *stage) ticksWell() (next time.Duration) {
	st.t.Helper()
	const instant = time.Millisecond
	st.clock(instant)
	at, shown := st.app.changes(), st.screen()
	if at.IsZero() {
		for _, d := range []time.Duration{time.Second, time.Minute, 3 * time.Hour, 24 * time.Hour} {
			if st.later(d) != shown {
				st.t.Fatalf("no tick is asked for, and in %v the screen is another:\n%s\n%s", d, shown, st.later(d))
			}
		}
		return 0
	}
	next = at.Sub(st.now)
	for _, d := range []time.Duration{next / 3, next - instant} {
		if d > 0 && st.later(d) != shown {
			st.t.Fatalf("the next tick comes in %v, and in %v the screen is another:\n%s\n%s", next, d, shown, st.later(d))
		}
	}
	noRoom := st.app.job.sheet.ID == sheet.Level // how long the engine runs goes first
	if next <= time.Second && st.later(next+instant) == shown && !noRoom {
		st.t.Fatalf("a tick comes in %v for nothing:\n%s", next, shown)
	}
	if next > time.Minute {
		st.t.Fatalf("the next tick comes in %v", next)
	}
	return next
}

func TestTheClockTicksWhereItChangesSomething(t *testing.T) {
	for _, p := range jobsPlayed {
		if !p.way && p.name != "drain_port" && p.name != "dry_start" {
			continue
		}
		t.Run(p.name, func(t *testing.T) {
			st := newStage(t, sessiontest.NewMemory(), 80, 24)
			maps.Copy(st.typing, p.typing)
			seconds, none := map[sheet.ID]bool{}, map[sheet.ID]bool{}
			for range 300 {
				if !st.app.job.on {
					break
				}
				next := st.ticksWell()
				seconds[st.app.job.sheet.ID] = seconds[st.app.job.sheet.ID] || next > 0 && next <= time.Second
				none[st.app.job.sheet.ID] = none[st.app.job.sheet.ID] || next == 0
				st.answer()
			}
			if st.app.job.on {
				t.Fatalf("the job does not come to its end:\n%s", st.screen())
			}
			if next := st.ticksWell(); next != 0 {
				t.Errorf("a tick in %v where the job is done", next)
			}
			if !none[sheet.Prepare1] || !none[sheet.Prepare2] || !none[sheet.Verdict] || seconds[sheet.Prepare1] || seconds[sheet.Measure] {
				t.Errorf("ticks each second at %v, never at %v", seconds, none)
			}
			if p.name == "drain_port" && (!seconds[sheet.Drain] || !seconds[sheet.Cap]) {
				t.Errorf("ticks each second at %v alone", seconds)
			}
			if running := p.name == "dipstick" || p.name == "overflow_tube"; running && !seconds[sheet.Level] {
				t.Errorf("no tick each second while the engine runs: %v", seconds)
			}
		})
	}
}

// What lies over a clock stops it, and it is right as soon as it is seen again.
func TestAClockIsRightWhenItIsSeenAgain(t *testing.T) {
	st := newStage(t, sessiontest.NewMemory(), 80, 24)
	st.upTo(sheet.Drain)
	st.now = st.app.job.words.Counted.Add(3*time.Minute + 4*time.Second + 500*time.Millisecond)
	st.typed("?")
	if at := st.app.changes(); at.Sub(st.now) <= time.Second {
		t.Errorf("under the help it ticks in %v", at.Sub(st.now))
	}
	st.now = st.now.Add(time.Minute)
	st.typed("0")
	if want := "4:04"; st.app.job.words.Figure != want {
		t.Errorf("the clock shows %s, want %s", st.app.job.words.Figure, want)
	}
	st.sees("DRIPPING FOR")
}

// Two ticks are never waited for, and one that is no longer wanted counts for nothing.
func TestOneTickAtATime(t *testing.T) {
	st := newStage(t, sessiontest.NewMemory(), 80, 24)
	asked := 0
	st.app.cfg.After = func(time.Duration, func(time.Time) tea.Msg) tea.Cmd { asked++; return nil }
	st.upTo(sheet.Drain)
	asked = 0
	for range 20 {
		st.typed("+")
		st.typed("/")
	}
	if asked > 2 {
		t.Errorf("%d ticks asked for within a second", asked)
	}
	was := st.app.ticks
	st.clock(time.Second)
	if asked, st.now = 0, st.now.Add(time.Minute); st.app.ticks == was {
		t.Fatal("no tick follows a tick")
	}
	st.send(tickMsg{was})
	if asked != 0 {
		t.Errorf("an old tick asks for %d more", asked)
	}
}
