package tui

// This file tests what comes late: after another key, or another job.

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/job"
)

// A second Enter on the list of jobs loads nothing: it would come in over what
// is answered by then.
func TestAJobIsLoadedOnce(t *testing.T) {
	mem := newMemory()
	st := newStage(t, mem, 80, 24)
	st.upTo(job.LeakCheck)
	st = newStage(t, mem, 80, 24)
	st.sees("Which job?")
	enter := tea.KeyMsg{Type: tea.KeyEnter}
	m, load := st.app.Update(enter)
	m, again := m.Update(enter)
	if load == nil || again != nil {
		t.Fatal("the second Enter loads the job again")
	}
	m, _ = m.Update(load())
	if a := m.(App); a.screen != screenGuide || a.guide.job.ID == "" {
		t.Error("the first did not open it")
	}
}

// A record or a history that was asked for in one job says nothing in the next.
func TestWhatIsOfAnotherJobIsDropped(t *testing.T) {
	mem := newMemory()
	st := newStage(t, mem, 80, 24)
	st.recorder(nil)
	st.upTo(job.Capacity)
	var late []tea.Cmd
	for _, want := range []intent{wantExport{}, wantHistory{}} {
		_, cmd := st.app.carryOut(want)
		late = append(late, cmd)
	}
	_, cmd := st.app.carryOut(wantNew{})
	st.run(cmd)
	for _, cmd := range late {
		st.run(cmd)
	}
	if st.app.overlay != nil || strings.Contains(st.screen(), whereItWent) {
		t.Errorf("the new job shows what is of the other\n%s", st.screen())
	}
}
