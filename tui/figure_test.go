package tui

// This file tests that the figure that matters is large in every unit.

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/job"
	"garage/tundish/tui/digits"
)

func TestTheFigureIsLargeInEveryUnit(t *testing.T) {
	for units, capacity := range map[string]string{"1": "600", "2": "20", "3": "20"} {
		st := newStage(t, newMemory(), 80, 24)
		st.typed(units)
		st.press(tea.KeyEnter)
		st.upTo(job.Capacity)
		st.typed(capacity)
		st.press(tea.KeyEnter)
		st.upTo(job.DrainedAmount)
		st.typed(strings.Repeat("1", len(capacity)))
		figure, _ := figureOf(st.app.scene(80, 24))
		for _, width := range []int{60, 80} {
			if drawn := digits.Fit(figure, width-4, leastDigitRows, false); strings.Count(drawn, "\n") != leastDigitRows-1 {
				t.Errorf("units %s: %q is not large on %d columns: %q", units, figure, width, drawn)
			}
		}
	}
}
