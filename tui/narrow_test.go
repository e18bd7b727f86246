package tui

// This file tests that on the narrowest screen nothing that matters is cut off.

import (
	"fmt"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// Whatever lies over the job says how it is left.
func TestTheWayBackIsAlwaysSaid(t *testing.T) {
	st := newStage(t, newMemory(), minWidth, minHeight)
	st.upTo(job.LeakCheck)
	for number, back := range map[string]string{"2": "0 back", "4": "Enter back", "5": "Enter back", "6": "Enter back"} {
		st.press(tea.KeyEsc)
		st.sees("0 back to the job")
		st.typed(number)
		st.press(tea.KeyEnter)
		if st.app.overlay == nil {
			t.Fatalf("nothing opens with %s", number)
		}
		rows := strings.Split(st.screen(), "\n")
		if last := rows[len(rows)-1]; !strings.Contains(last, back) {
			t.Errorf("%s: the line of keys does not say how to leave: %s", number, last)
		}
		st.typed("0")
	}
}

// A running clock is seen, and not only what is to be done when it is over,
// before any gauge is.
func TestTheClockIsSeenOnTheSmallestScreen(t *testing.T) {
	for _, answers := range []map[job.Topic]string{nil, levelPort} {
		st := newStage(t, newMemory(), minWidth, minHeight)
		st.answers = answers
		for !st.app.guide.finished {
			if figure, caption, ok := clockFigure(st.app.scene(minWidth, minHeight)); ok && !strings.Contains(st.screen(), caption) &&
				strings.Contains(st.screen(), "▲manual") {
				t.Errorf("%v: the gauge is on the screen in place of the clock, %s %s\n%s", st.app.guide.answer.prompt.Topic, caption, figure,
					st.screen())
			}
			st.answerOne()
		}
	}
}

// The sums are read whole, and so is when the next change is due.
func TestSumsAreNotCutOff(t *testing.T) {
	st := newStage(t, newMemory(), minWidth, 60)
	st.answers = troubled()["small job"]
	st.answers[job.Odometer], st.answers[job.IntervalKm], st.answers[job.IntervalMonths] = "118 400", "60 000", "48"
	st.upTo(job.Decision)
	if words := strings.Join(strings.Fields(st.screen()), " "); !strings.Contains(words, "km, whichever is first") {
		t.Errorf("the next change is cut off\n%s", st.screen())
	}
	for _, line := range sumLines(st.app.scene(minWidth, 1000)) {
		if shown := st.app.fit([]string{line}); strings.Contains(shown, st.app.theme.Glyphs.Ellipsis) {
			t.Errorf("cut off: %s", line)
		}
	}
}

// The job that is pointed at is on the screen, however long the names are.
func TestThePickIsSeen(t *testing.T) {
	heads := make([]guide.Head, 12)
	for i := range heads {
		heads[i] = guide.Head{ID: fmt.Sprint("job", i), Vehicle: fmt.Sprintf("the very long green estate car number %d", i+1),
			UnitName: "rear axle, limited slip"}
	}
	st := newStage(t, newMemory(), minWidth, minHeight)
	st.app.picker, st.app.screen = newPicker(heads, nil), screenPicking
	for i := range heads {
		if st.app.picker.chosen.at != i {
			t.Fatalf("points at %d, want %d", st.app.picker.chosen.at, i)
		}
		st.sees(fmt.Sprintf("number %d,", i+1), st.app.theme.Glyphs.ArrowRight+fmt.Sprintf("  %d ", i+1))
		st.press(tea.KeyDown)
	}
}
