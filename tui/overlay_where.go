package tui

// This file asks for the folder that something of the job is written to.

import (
	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/tui/input"
)

// where asks for a folder, with one on offer.
type where struct {
	to    wantWrite
	typed input.Field
}

func (o where) key(msg tea.KeyMsg, k input.Keys) (overlay, intent) {
	switch {
	case msg.Type == tea.KeyEsc:
		return nil, nil
	case input.Matches(msg, k.Enter):
		if o.typed.Text == "" {
			return o, nil
		}
		o.to.folder = o.typed.Text
		return nil, o.to
	case input.Matches(msg, k.Menu):
		o.typed = input.Field{}
	default:
		o.typed, _ = o.typed.Edit(msg)
	}
	return o, nil
}

func (o where) lines(sc scene) ([]string, []hint) {
	t := sc.theme
	rows := []string{" " + t.Strong.Render("Write the "+o.to.what), "", " Into which folder?", " > " + o.typed.Shown(sc.width-5), ""}
	rows = append(rows, sc.paragraph(t.Dim, 1, "It is made where it is not there. A file that is there is kept.")...)
	return rows, []hint{{"Enter", "write it there"}, {"*", "clear"}, {"Esc", "back to the job"}}
}
