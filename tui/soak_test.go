package tui

// This file presses keys at random for a long time.

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"pgregory.net/rapid"

	"garage/tundish/model/job"
)

// soakEvents is how many events one random walk has.
const soakEvents = 2000

// Whatever is pressed, pasted or resized, the screens do not panic, lose no
// entry that was accepted, and never draw past the terminal.
func TestSoak(t *testing.T) {
	walks := 3
	if testing.Short() {
		walks = 1
	}
	for walk := range walks {
		events := rapid.SliceOfN(event(), soakEvents, soakEvents).Example(walk + 1)
		soak(t, events)
	}
}

// The same for short walks that rapid can make smaller.
func TestSoakShort(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		soak(t, rapid.SliceOfN(event(), 1, 60).Draw(rt, "events"))
	})
}

// soak runs events against a new job and checks after each that the entries
// only grow and the last frame fits.
func soak(t *testing.T, events []func(*stage)) {
	t.Helper()
	mem := newMemory()
	st := newStage(t, mem, 80, 24)
	longest := map[string]int{}
	for i, do := range events {
		do(st)
		for id, job := range mem.jobs {
			if len(job.Entries) < longest[id] {
				t.Fatalf("event %d: job %s has %d entries, it had %d", i, id, len(job.Entries), longest[id])
			}
			longest[id] = len(job.Entries)
			if err := job.Check(); err != nil {
				t.Fatalf("event %d: %v", i, err)
			}
		}
		if i%7 == 0 {
			checkFits(t, st.app)
			st.saysHowTheUnitIs()
		}
		if st.out { // left: start again, as an owner would
			st = newStage(t, mem, st.app.width, st.app.height)
		}
	}
	checkFits(t, st.app)
}

// saysHowTheUnitIs checks that whatever lies over the job, the screen says the
// state of the unit.
func (st *stage) saysHowTheUnitIs() {
	st.t.Helper()
	if st.app.screen == screenGuide && st.app.fatal == nil && st.app.width >= 15 {
		st.sees(st.app.guide.state.UnitState().String())
	}
}

// event draws something that can happen. Answering properly is likely enough
// for a walk to get to the later steps.
func event() *rapid.Generator[func(*stage)] {
	keys := []tea.KeyType{
		tea.KeyEnter, tea.KeyEsc, tea.KeyUp, tea.KeyDown, tea.KeyPgUp, tea.KeyPgDown, tea.KeyTab, tea.KeyBackspace,
		tea.KeyDelete, tea.KeyLeft, tea.KeyRight, tea.KeyHome, tea.KeyEnd, tea.KeyF1, tea.KeyF2, tea.KeyF3, tea.KeyCtrlJ, tea.KeyCtrlU,
		tea.KeySpace, tea.KeyCtrlC,
	}
	return rapid.Custom(func(rt *rapid.T) func(*stage) {
		switch n := rapid.IntRange(0, 19).Draw(rt, "kind"); {
		case n < 9:
			return properAnswer
		case n < 13:
			text := rapid.SampledFrom([]string{"1", "2", "3", "9", "0", "*", "/", "?", "+", ".", "-", "550", "600", "1,5", "500+330",
				"830@60", "905 g", "x", "é漢字"}).Draw(rt, "text")
			return func(st *stage) { st.typed(text) }
		case n < 16:
			k := rapid.SampledFrom(keys).Draw(rt, "key")
			return func(st *stage) { st.press(k) }
		case n == 16:
			w, h := rapid.IntRange(1, 200).Draw(rt, "w"), rapid.IntRange(1, 70).Draw(rt, "h")
			return func(st *stage) { st.send(tea.WindowSizeMsg{Width: w, Height: h}) }
		case n == 17:
			text := rapid.StringN(0, 400, -1).Draw(rt, "pasted")
			return func(st *stage) { st.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true}) }
		case n == 18:
			d := time.Duration(rapid.IntRange(0, 100000).Draw(rt, "seconds")) * time.Second
			return func(st *stage) { st.clock(d) }
		}
		return func(st *stage) { st.send(HangupMsg{}) }
	})
}

// properAnswer answers what is on the screen, whatever lies over it.
func properAnswer(st *stage) {
	switch {
	case st.app.overlay != nil:
		st.press(tea.KeyEsc)
	case st.app.screen == screenPicking:
		st.press(tea.KeyEnter)
	case st.app.screen == screenGuide && !st.app.guide.finished && st.app.guide.answer.prompt.Spec != nil:
		if st.app.guide.answer.prompt.Kind != job.Choose && st.app.guide.answer.text() != "" {
			st.app.guide.answer = st.app.guide.answer.withText("")
		}
		st.answerOne()
	}
}
