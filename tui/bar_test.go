package tui

// This file tests the state, the steps and the row of keys, and the field.

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/model/text"
	"garage/tundish/tui/session/sessiontest"
)

func TestSinceClock(t *testing.T) {
	for d, want := range map[time.Duration]string{
		-time.Minute: "0:00", 56 * time.Minute: "0:56", 9*time.Hour + 59*time.Minute: "9:59", 14 * time.Hour: "14 h",
		72 * time.Hour: "3 days",
	} {
		if got := sinceClock(d); got != want {
			t.Errorf("%v: %q, want %q", d, got, want)
		}
	}
}

// The first row says how the unit is, since when, and that the car stays.
func TestStateBar(t *testing.T) {
	st := small(t).upTo(sheet.Drain)
	st.clock(56 * time.Minute)
	if row, _, _ := strings.Cut(st.screen(), "\n"); !strings.Contains(row, "EMPTY 0:56: do not move") || !strings.HasSuffix(row,
		"rear axle ") {
		t.Errorf("the state says %q", row)
	}
	st = small(t)
	st.slow = 9 * time.Minute
	st.upTo(sheet.Close)
	if row, _, _ := strings.Cut(st.screen(), "\n"); !strings.Contains(row, ": close out") || strings.Contains(row, "do not move") {
		t.Errorf("the state says %q", row)
	}
}

// The steps are one row: all of them, or which one of how many and the next.
func TestStepLine(t *testing.T) {
	for width, want := range map[int]string{80: "✓prepare ✓isolate ►DRAIN measure", 60: "3 of 9  DRAIN   next: measure"} {
		st := newStage(t, sessiontest.NewMemory(), width, 24).upTo(sheet.Drain)
		if got := strings.Split(st.screen(), "\n")[1]; !strings.Contains(got, want) {
			t.Errorf("%d columns: %q", width, got)
		}
	}
}

// The row of keys never runs over, and always says how to go on.
func TestKeysRow(t *testing.T) {
	st := newStage(t, sessiontest.NewMemory(), minWidth, minHeight)
	st.slow = 9 * time.Minute
	for st.app.job.on && st.app.job.sheet.ID != sheet.Later {
		rows := strings.Split(st.screen(), "\n")
		row := rows[len(rows)-1]
		if text.Width(row) > minWidth || !strings.Contains(row, "=") {
			t.Fatalf("%v: %q", st.app.job.sheet.ID, row)
		}
		st.answer()
	}
}

func TestField(t *testing.T) {
	f := field{text: "30", stood: true, said: true}
	if f.half() || f.typing() {
		t.Error("an answer that stands is half typed")
	}
	if f = f.add([]rune("2")); f.text != "2" || !f.half() {
		t.Errorf("the first key made %+v", f)
	}
	if f = f.add([]rune("5")).drop(); f.text != "2" {
		t.Errorf("deleting left %q", f.text)
	}
	if f, _ = f.edit(tea.KeyMsg{Type: tea.KeyCtrlU}); f.text != "" {
		t.Errorf("clearing left %q", f.text)
	}
	if f = f.add([]rune(strings.Repeat("9", 2*maxTyped))); len(f.text) != maxTyped {
		t.Errorf("%d characters", len(f.text))
	}
	if got := (field{text: "123456"}).shown(4); got != "3456" {
		t.Errorf("of what is too long %q is shown", got)
	}
}

// In a line of words the signs of the number pad are text once a letter is typed.
func TestSignsInWords(t *testing.T) {
	st := small(t).upTo(sheet.Prepare2)
	if to, ok := st.app.job.goTo(job.Place{Topic: job.OilGrade}, st.now); ok {
		st.app.job = to
	}
	st.typed("GL-5 1/2*?")
	if got := st.app.job.field.text; got != "GL-5 1/2*?" {
		t.Errorf("typed %q", got)
	}
}
