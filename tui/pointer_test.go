package tui

// This file tests lists, and what lies over the job, with the keys of a number
// pad and of a presenter.

import (
	"fmt"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/job"
)

// Every item of a list can be pointed at with digits alone, however long it is.
func TestEveryNumberOfAListCanBeTyped(t *testing.T) {
	k := newKeymap()
	for _, n := range []int{1, 4, 9, 10, 37, 120} {
		for number := 1; number <= n; number++ {
			p := pointer{at: -1}
			for _, r := range fmt.Sprint(number) {
				msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}}
				if leaves(msg, k) && !p.awaits(msg, n) {
					t.Fatalf("of %d items, number %d: %c leaves the list", n, number, r)
				}
				p = p.key(msg, k, n)
			}
			if p.at != number-1 {
				t.Errorf("of %d items, %d points at index %d", n, number, p.at)
			}
		}
	}
}

func TestPointerStaysInItsList(t *testing.T) {
	k := newKeymap()
	for typed, want := range map[string]int{"0": 1, "9": 1, "x": 1, "3": 2, "17": 1, "13": 2, "44": 3} {
		p := pointer{at: 1}
		if p = p.key(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(typed)}, k, 4); p.at != want && (typed != "17" || p.at != 0) {
			t.Errorf("%q in a list of 4 points at index %d, want %d", typed, p.at, want)
		}
	}
	if p := (pointer{at: 1}).key(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("3"), Paste: true}, k, 4); p.at != 1 {
		t.Errorf("a pasted number moved the pointer to %d", p.at)
	}
}

// An answer far back is asked for again with the keys of a number pad: its
// number, then Enter. What was answered is never cut from its line.
func TestCorrectionByItsNumber(t *testing.T) {
	st := newStage(t, newMemory(), 60, 20)
	st.upTo(job.LoadedAmount)
	e, _ := st.app.guide.state.Answer(job.Place{Topic: job.Capacity})
	st.typed("*")
	st.typed("2")
	st.press(tea.KeyEnter)
	st.sees("Which answer is wrong?")
	for _, line := range strings.Split(st.screen(), "\n") {
		if strings.Contains(line, "How much came out?") && !strings.Contains(line, "550 ml") {
			t.Errorf("the answer is cut off: %q", line)
		}
	}
	for _, r := range fmt.Sprint(e.Seq) {
		st.typed(string(r))
	}
	st.press(tea.KeyEnter)
	st.sees("CORRECTING", "Stated quantity", "600")
}

// A presenter has a key for back and one for on, and no other: the one that
// opened the list of answers closes it again.
func TestPresenterIsNotCaughtInTheList(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.upTo(job.MagnetLook)
	st.press(tea.KeyPgUp)
	st.sees("Which answer is wrong?")
	st.press(tea.KeyPgDown)
	st.press(tea.KeyPgUp)
	st.sees("Which answer is wrong?")
	st.press(tea.KeyPgUp)
	st.sees("What is on the plug's magnet?")
}

// However many jobs are not finished, each can be chosen and a new one begun.
func TestPickerOfManyJobs(t *testing.T) {
	mem := newMemory()
	for i := range 30 {
		st := newStage(t, newMemory(), 80, 24)
		st.app.cfg.Journal = mem
		id := job.NewID(morning, uint32(1000+i))
		st.app.guide.job.ID = id
		st.upTo(job.UnitName)
		if mem.jobs[id].ID == "" {
			t.Fatal("the job was not begun")
		}
	}
	st := newStage(t, mem, 80, 24)
	st.sees("Which job?")
	fresh := 0
	for i, p := range st.app.picker.picks {
		if w, ok := p.want.(wantNew); ok && w.like == nil {
			fresh = i + 1
		}
	}
	if fresh != 31 {
		t.Fatalf("a new job is number %d of %d, want 31", fresh, len(st.app.picker.picks))
	}
	for _, r := range fmt.Sprint(fresh) {
		st.typed(string(r))
	}
	st.sees("New job, a new unit")
	st.press(tea.KeyEnter)
	st.sees("Which units do you work in?")
}

// The long pages are read to their end with the keys of a number pad.
func TestPagesTurnOnTheNumberPad(t *testing.T) {
	st := newStage(t, newMemory(), 60, 20)
	st.upTo(job.Decision)
	st.typed("/")
	top := st.screen()
	st.typed("+")
	if st.screen() == top {
		t.Fatal("+ does not turn the page")
	}
	st.typed("-")
	if st.screen() != top {
		t.Errorf("- does not turn it back:\n%s", st.screen())
	}
}
