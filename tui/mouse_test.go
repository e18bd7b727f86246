package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"garage/tundish/model/job"
)

// click clicks on the first row that shows a text.
func (st *stage) click(text string) {
	st.t.Helper()
	for y, row := range strings.Split(st.screen(), "\n") {
		if strings.Contains(row, text) {
			st.send(tea.MouseMsg{X: 10, Y: y, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
			return
		}
	}
	st.t.Fatalf("nowhere on the screen: %q\n%s", text, st.screen())
}

func TestMousePointsAtItems(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.upTo(job.CapacityMeans)
	for number, label := range []string{"Dry fill:", "Refill:", "Up to the level hole", "The figure does not say"} {
		st.click(label)
		if at := st.app.guide.answer.chosen.at; at != number {
			t.Errorf("a click on %q points at %d", label, at)
		}
	}
	st.press(tea.KeyEnter)
	if e, _ := st.app.guide.state.Answer(job.Place{Topic: job.CapacityMeans}); e.Value.Choice != "unknown" {
		t.Errorf("accepted %q", e.Value.Choice)
	}

	st.press(tea.KeyEsc)
	st.click("This unit over the years")
	if m, ok := st.app.overlay.(menu); !ok || m.items[m.chosen.at].label != "This unit over the years" {
		t.Errorf("the menu points elsewhere: %+v", st.app.overlay)
	}
	st.click("Correct an earlier answer")
	st.press(tea.KeyEnter)
	st.click("fill quantity (manual)")
	c, ok := st.app.overlay.(corrections)
	if !ok || c.entries[c.chosen.at].Topic != job.Capacity {
		t.Fatalf("the list points elsewhere: %+v", st.app.overlay)
	}
	st.send(tea.MouseMsg{Button: tea.MouseButtonWheelDown, Action: tea.MouseActionPress})
	if next := st.app.overlay.(corrections).chosen.at; next != c.chosen.at+1 {
		t.Errorf("the wheel went from %d to %d", c.chosen.at, next)
	}
}

func TestMouseChoosesTheJob(t *testing.T) {
	mem := newMemory()
	st := newStage(t, mem, 80, 24)
	st.upTo(job.Capacity)
	st.press(tea.KeyEsc)
	st.click("Another job")
	st.press(tea.KeyEnter)
	st.click("New job, a new unit")
	if p := st.app.picker; p.picks[p.chosen.at].label != "New job, a new unit" {
		t.Errorf("the list points at %q", p.picks[p.chosen.at].label)
	}
}

// Wherever it is clicked, on whatever screen, the mouse accepts, confirms,
// types and leaves nothing.
func TestMouseDoesNoHarm(t *testing.T) {
	for _, topic := range []job.Topic{job.Capacity, job.GroundAndChocks, job.DrainedAmount, job.PlanAccepted,
		job.Decision, job.NoTopic} {
		st := newStage(t, newMemory(), 80, 24)
		st.upTo(topic)
		rapid.Check(t, func(t *rapid.T) {
			before := st.app.guide
			st.send(tea.MouseMsg{
				X: rapid.IntRange(-1, 200).Draw(t, "x"), Y: rapid.IntRange(-1, 60).Draw(t, "y"),
				Button: tea.MouseButton(rapid.IntRange(0, 11).Draw(t, "button")), Action: tea.MouseAction(rapid.IntRange(0, 2).Draw(t, "action")),
			})
			after := st.app.guide
			if st.out || st.app.overlay != nil || after.saving || after.state != before.state || after.answer.text() != before.answer.text() {
				t.Fatalf("something happened\n%s", ansi.Strip(st.app.View()))
			}
		})
	}
}
