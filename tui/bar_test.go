package tui

// This file tests the state, the steps and the row of keys, and the field.

import (
	"strings"
	"testing"
	"time"

	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/model/text"
	"garage/tundish/tui/session/sessiontest"
)

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

// In a line of words the signs of the number pad are text once a letter is typed.
func TestSignsInWords(t *testing.T) {
	st := small(t).upTo(sheet.Prepare2)
	if to, ok := st.app.job.goTo(job.Place{Topic: job.OilGrade}, st.now); ok {
		st.app.job = to
	}
	st.typed("GL-5 1/2*?")
	if got := st.app.job.field.Text; got != "GL-5 1/2*?" {
		t.Errorf("typed %q", got)
	}
}
