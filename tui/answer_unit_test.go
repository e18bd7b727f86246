package tui

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/job"
)

// 0.55 where litres were meant is not taken by Enter, however often; the number
// of a reading takes it, and what is typed on is a new answer.
func TestFalseWord16UnitIsAskedInPlace(t *testing.T) {
	st := newStage(t, newMemory(), 60, 20)
	st.upTo(job.DrainedAmount)
	amount := job.Place{Topic: job.DrainedAmount}
	st.typed("0.55")
	st.sees("0.55 ml, or 0.55 L?")
	for range 3 {
		st.press(tea.KeyEnter)
		st.sees("0.55", "1: 0.55 ml, 2: 0.55 L")
		if v, ok := st.app.guide.state.Answer(amount); ok {
			t.Fatalf("Enter took %+v", v)
		}
	}
	st.typed("*") // another key ends the asking
	st.typed("2")
	if got := st.app.guide.answer.text(); got != "2" {
		t.Fatalf("the field holds %q, want 2", got)
	}
	st.typed("*")
	st.typed("0.55")
	st.press(tea.KeyEnter)
	st.typed("2")
	if v, ok := st.app.guide.state.Answer(amount); !ok || v.Value.Number != 550 || v.Typed != "0.55" {
		t.Fatalf("took %+v", v)
	}
}
