package tui

// This file is the menu: everything that is not the next answer, by number.

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

type menu struct {
	items  []item
	chosen pointer
}

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
	return menu{items: items}
}

// lastWords says what undo would strike out.
func lastWords(g jobScreen) string {
	if undo, ok := g.state().UndoEntry(time.Time{}); ok {
		return EntryName(g.state(), g.Job.Entries[undo.Strikes-1])
	}
	return "nothing yet"
}

func (m menu) key(msg tea.KeyMsg, k keymap) (overlay, intent) {
	if leaves(msg, k) && !m.chosen.awaits(msg, len(m.items)) {
		return nil, nil
	}
	if matches(msg, k.Help) {
		return m, wantOverlay{overlayHelp}
	}
	if matches(msg, k.Enter) {
		return m, m.items[m.chosen.at].want
	}
	m.chosen = m.chosen.key(msg, k, len(m.items))
	return m, nil
}

func (m menu) lines(sc scene) []string {
	t := sc.theme
	lines := []string{" " + t.Strong.Render("Menu"), ""}
	for i, it := range m.items {
		lines = append(lines, it.lines(sc, i, i == m.chosen.at)...)
	}
	if sc.state != nil {
		lines = append(lines, "", " "+t.Dim.Render("job "+sc.state.ID+", "+sc.state.StateWords()+", step "+sc.state.Step().String()))
	}
	return lines
}

func (m menu) hints() []hint {
	return []hint{{"its number", "choose"}, {"Enter", "do it"}, {"0", "back to the job"}, {"?", "help"}}
}
