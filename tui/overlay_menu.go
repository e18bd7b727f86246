package tui

// This file is the menu: everything that is not the next answer, by number.

import (
	"time"

	"garage/tundish/tui/input"
	"garage/tundish/tui/status"

	tea "github.com/charmbracelet/bubbletea"
)

type menu struct{ list }

func newMenu(g jobScreen) menu {
	items := []item{
		{"Correct an earlier answer", "the old one is kept, struck out", wantOverlay{overlayCorrect}},
		{"Undo the last answer", lastWords(g), wantUndo{}},
		{"How it was worked out", "every sum, and where its give or take is from", wantOverlay{overlaySums}},
		{"Print the sheets", "one page, to be filled in under the car", wantPrint{}},
		{"Type in a printed page", "what is confirmed then is recorded as from paper", wantPaper{}},
		{"This unit over the years", "", wantHistory{}},
		{"The units of this car", "order, state, another one in the same go", wantCar{g.Job}},
		{"Write the record to a file", "F3 at any time", wantExport{}},
		{"Another job", "this one stays as it is", wantPicker{}},
		{"Leave tundish", "everything accepted is kept", wantQuit{}},
	}
	return menu{list{items: items}}
}

// lastWords says what undo would strike out.
func lastWords(g jobScreen) string {
	if undo, ok := g.state().UndoEntry(time.Time{}); ok {
		return status.Entry(g.state(), g.Job.Entries[undo.Strikes-1])
	}
	return "nothing yet"
}

func (m menu) key(msg tea.KeyMsg, k input.Keys) (overlay, intent) {
	if input.Matches(msg, k.Help) {
		return m, wantOverlay{overlayHelp}
	}
	now, want, left := m.list.key(msg, k)
	if left {
		return nil, nil
	}
	return menu{now}, want
}

func (m menu) lines(sc scene) ([]string, []hint) {
	lines := m.under([]string{" " + sc.theme.Strong.Render("Menu"), ""}, sc)
	if sc.state != nil {
		where := "job " + sc.state.ID + ", " + sc.state.StateWords() + ", step " + sc.state.Step().String()
		lines = append(lines, "", " "+sc.theme.Dim.Render(where))
	}
	return lines, []hint{{"its number", "choose"}, {"Enter", "do it"}, {"0", "back to the job"}, {"?", "help"}}
}
