package tui

// This file tests breaks: what is kept of what was typed, what is asked on coming
// back, and what a failing store and a wrong clock do.

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/tui/session/sessiontest"
)

// pauses lets the time pass after which half-typed text is kept.
func (st *stage) pauses() { st.send(draftDueMsg{st.app.job.draftTag}) }

// Ticks and half-typed digits are there again; the stands and the port are asked
// first.
func TestResume(t *testing.T) {
	mem := sessiontest.NewMemory()
	st := newStage(t, mem, 80, 24)
	st.slow = 9 * time.Minute
	st.upToLine(job.DrainedAmount)
	st.typed("58")
	st.pauses()
	count := st.count()

	st = newStage(t, mem, 80, 24)
	if st.app.job.sheet.ID != sheet.Resume {
		t.Fatalf("at %v\n%s", st.app.job.sheet.ID, st.screen())
	}
	st.sees("RESUME", "EMPTY")
	st.enter()
	if st.count() != count {
		t.Fatal("Enter confirmed that the car stands")
	}
	st.typed("/") // no way round it
	if st.app.job.sheet.ID != sheet.Resume {
		t.Fatal("/ goes past what is asked first")
	}
	for st.app.job.sheet.ID == sheet.Resume {
		before := st.at()
		st.typing[job.ResumedPlug] = "3"
		st.answer()
		if st.at() == before {
			t.Fatalf("stuck\n%s", st.screen())
		}
	}
	if !hasTopic(st.line(), job.DrainedAmount) {
		t.Fatalf("at %q", st.line().Ask)
	}
	st.sees("[58       ]", "as you had typed it")
	st.typed("588")
	st.sees("[588      ]")
}

// Half-typed text is kept for its line while another is turned to.
func TestHalfTypedTextWaitsForItsLine(t *testing.T) {
	st := small(t).upToLine(job.HoseHolds)
	st.typed("3")
	st.press(tea.KeyUp)
	st.press(tea.KeyDown)
	st.sees("[3        ]")
}

// What could not be stored is said, and stays typed.
func TestNotStored(t *testing.T) {
	st := small(t).upToLine(job.Capacity)
	st.mem.Fail = errors.New("disk full")
	count := st.count()
	st.typed("640")
	st.enter()
	st.sees("NOT STORED: disk full", "[640      ]")
	st.mem.Fail = nil
	st.enter()
	if st.count() == count {
		t.Error("not stored at the second try")
	}
}

// A quit waits for the write that is under way.
func TestQuitWaitsForTheWrite(t *testing.T) {
	st := small(t)
	m, cmd := st.app.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{st.line().Key}})
	st.app = m.(App)
	if !st.app.Unsaved() || Filter(st.app, tea.QuitMsg{}) == (tea.QuitMsg{}) {
		t.Fatal("the quit does not wait")
	}
	st.send(quitWantedMsg{})
	st.run(cmd)
	if !st.out || st.app.Unsaved() {
		t.Error("it did not go on once stored")
	}
}

// Leaving says how the unit stands and how to go on.
func TestFarewell(t *testing.T) {
	st := small(t).upTo(sheet.Drain)
	said := strings.Join(st.app.Farewell(), "\n")
	for _, want := range []string{"rear axle", "EMPTY", "Do not move the car", "tundish"} {
		if !strings.Contains(said, want) {
			t.Errorf("not said: %s in %q", want, said)
		}
	}
}

// The wait for the drips rings once, after a sleep too.
func TestTheWaitRingsOnce(t *testing.T) {
	st := small(t)
	var bell bytes.Buffer
	st.app.cfg.Bell = &bell
	st.upTo(sheet.Drain)
	ends := st.app.job.wait.Ends()
	st.clock(ends.Sub(st.now) - time.Second)
	if bell.Len() != 0 {
		t.Fatalf("rings before its time: %q", bell.String())
	}
	for range 100 {
		st.clock(3 * time.Minute)
	}
	if strings.Count(bell.String(), "\a") != 1 {
		t.Errorf("rang %q, want once", bell.String())
	}
	st.sees("enough")
}

// The clock of a sheet goes on with every second.
func TestTheFigureGoesWithTheClock(t *testing.T) {
	st := small(t).upTo(sheet.Drain)
	st.clock(7 * time.Minute)
	if st.app.job.words.Figure != "7:00" {
		t.Errorf("the clock shows %s, want 7:00", st.app.job.words.Figure)
	}
}

// By a clock that does not go with the job nothing is timed, and it is said.
func TestAWrongClockIsSaid(t *testing.T) {
	for by, todo := range map[time.Duration]string{
		-6 * 365 * 24 * time.Hour: "Set it right; no wait is timed by it.", 6 * 365 * 24 * time.Hour: "Set it right if it is wrong",
	} {
		mem := sessiontest.NewMemory()
		newStage(t, mem, minWidth, minHeight).upTo(sheet.Drain)
		st := newStage(t, mem, minWidth, minHeight)
		st.now = st.now.Add(by)
		st.app = Open(st.app.cfg, st.app.theme, minWidth, minHeight)
		words := strings.Join(strings.Fields(st.screen()), " ")
		for _, want := range []string{"This computer's clock says " + st.now.Format("2 Jan 2006 15:04"), todo} {
			if !strings.Contains(words, want) {
				t.Errorf("moved by %v: not said: %s\n%s", by, want, st.screen())
			}
		}
		if strings.Contains(words, " ago") {
			t.Errorf("moved by %v: tells a time\n%s", by, st.screen())
		}
	}
}

// A job of a unit that is known is one page, as it was last time.
func TestASecondJobIsOnePage(t *testing.T) {
	mem := sessiontest.NewMemory()
	st := newStage(t, mem, 80, 24)
	st.slow = 9 * time.Minute
	st.upTo(sheet.Later)
	st.upToLine(job.LeakCheck)
	for st.app.job.on {
		st.slow = 24 * time.Hour
		st.answer()
	}
	st = newStage(t, mem, 80, 24)
	st.sees("Which job?", "New job: ")
	st.typed("2")
	st.enter()
	st.sees("AS LAST TIME", "should come out")
	keys := st.keys
	st.slow = 9 * time.Minute
	st.typing[job.PriorLevel] = "1"
	st.upTo(sheet.Isolate)
	if n := st.keys - keys; n > 6 {
		t.Errorf("%d keys to the second sheet", n)
	}
}
