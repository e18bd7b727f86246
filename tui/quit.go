package tui

// This file keeps a quit waiting for the save in flight: Bubble Tea leaves
// running commands behind when it quits, and a reading with them.

import (
	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/tui/status"
)

// Filter holds back a quit while a reading is being written. The quit is taken
// up again when the write has come back. A second request gets out at once: the
// reading is then not promised, and the caller can say so by Unsaved.
func Filter(m tea.Model, msg tea.Msg) tea.Msg {
	app, ok := m.(App)
	if !ok {
		return msg
	}
	switch msg.(type) {
	case tea.QuitMsg, tea.InterruptMsg:
		if app.job.saving && !app.quitting {
			return quitWantedMsg{}
		}
	case tea.SuspendMsg:
		if app.job.saving {
			return nil
		}
	}
	return msg
}

// quitWantedMsg: a quit came while a reading was being written; from Filter.
type quitWantedMsg struct{}

// Unsaved reports whether the program ended with a reading not known to be
// stored.
func (a App) Unsaved() bool { return a.job.saving }

// Failure is why nothing could be shown but that, nil where that is not so.
func (a App) Failure() error { return a.fatal }

// Farewell is what is to be read when the screen is gone, a line each.
func (a App) Farewell() []string {
	switch {
	case a.fatal != nil:
		return nil
	case a.screen == screenPicking:
		return status.Farewell(nil, a.picker.unfinished, a.cfg.Passing, a.theme.Glyphs)
	}
	return status.Farewell(a.job.state(), nil, a.cfg.Passing, a.theme.Glyphs)
}
