package tui

// This file asks for the folder that something of the job is written to.

import (
	tea "github.com/charmbracelet/bubbletea"
)

// where asks for a folder, with one on offer.
type where struct {
	to    wantWrite
	typed field
}

func newWhere(to wantWrite) where { return where{to, field{text: to.folder, stood: true}} }

func (o where) key(msg tea.KeyMsg, k keymap) (overlay, intent) {
	switch {
	case msg.Type == tea.KeyEsc:
		return nil, nil
	case matches(msg, k.Enter):
		if o.typed.text == "" {
			return o, nil
		}
		o.to.folder = o.typed.text
		return nil, o.to
	case matches(msg, k.Menu):
		o.typed = field{}
	default:
		o.typed, _ = o.typed.edit(msg)
	}
	return o, nil
}

func (o where) lines(sc scene) []string {
	t := sc.theme
	rows := []string{" " + t.Strong.Render("Write the "+o.to.what), "", " Into which folder?", " > " + o.typed.shown(sc.width-5), ""}
	return append(rows, sc.paragraph(t.Dim, 1, "It is made where it is not there. A file that is there is kept.")...)
}

func (o where) hints() []hint {
	return []hint{{"Enter", "write it there"}, {"*", "clear"}, {"Esc", "back to the job"}}
}
