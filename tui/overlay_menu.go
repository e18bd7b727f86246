package tui

// This file is the menu: everything that is not the next answer, by number.

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/job"
)

type menuItem struct {
	label string
	hint  string
	want  intent
}

type menu struct {
	items  []menuItem
	chosen pointer
}

func newMenu(g guideScreen) menu {
	items := []menuItem{
		{"Back to the job", "", wantOverlay{overlayNone}},
		{"Correct an earlier answer", "the old one is kept, struck out", wantOverlay{overlayCorrect}},
		{"Undo the last answer", lastWords(g), wantUndo{}},
		{"The sums, with what each doubt is worth", "", wantOverlay{overlaySums}},
		{"Help for this step", "", wantOverlay{overlayHelp}},
		{"This unit over the years", "", wantHistory{}},
		{"Write the record to a file", "F3 at any time", wantExport{}},
		{"Another job", "this one stays as it is", wantPicker{}},
		{"Leave tundish", "everything accepted is kept", wantQuit{}},
	}
	if g.again {
		items[0] = menuItem{"Leave the correction", "the old answer stands", wantAsk{}}
	}
	return menu{items: items}
}

// lastWords says what undo would strike out.
func lastWords(g guideScreen) string {
	if g.state == nil {
		return ""
	}
	if undo, ok := g.state.UndoEntry(time.Time{}); ok {
		return entryName(g.state, g.job.Entries[undo.Strikes-1])
	}
	return "nothing yet"
}

func (m menu) key(msg tea.KeyMsg, k keymap) (overlay, intent) {
	if leaves(msg, k) {
		return nil, nil
	}
	if matches(msg, k.Accept) {
		return m, m.items[m.chosen.at].want
	}
	m.chosen = m.chosen.key(msg, k, len(m.items))
	return m, nil
}

func (m menu) lines(sc scene) []string {
	t := sc.app.theme
	lines := []string{" " + t.Strong.Render("Menu"), ""}
	for i, item := range m.items {
		lines = append(lines, itemLines(sc, i, i == m.chosen.at, item.label, item.hint)...)
	}
	if sc.state != nil {
		lines = append(lines, "", " "+t.Dim.Render("job "+sc.state.ID+", "+sc.state.StateWords()+", step "+job.Step.String(sc.state.Step())))
	}
	return lines
}

func (m menu) hints() []hint {
	return []hint{{"its number", "choose"}, {"Enter", "do it"}, {"0", "back to the job"}}
}
