package tui

// This file holds everything that the screens do beside drawing: each effect is
// a command made here, given plain values, and comes back as a message.

import (
	"io"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/guide"
	"garage/tundish/model/text"
	"garage/tundish/tui/session"
)

func listJobs(j session.Journal, asked bool) tea.Cmd {
	return func() tea.Msg {
		unfinished, units, err := session.Known(j)
		return listedMsg{unfinished, units, asked, err}
	}
}

func (a App) loadJob(id string) tea.Cmd {
	return func() tea.Msg {
		s, err := session.Load(a.cfg.Journal, id, a.cfg.Clock())
		return loadedMsg{s, err}
	}
}

// startJob makes a job of the same unit as an earlier one, or of a new unit.
func startJob(j session.Journal, id string, now time.Time, like *guide.Head) tea.Cmd {
	return func() tea.Msg {
		s, err := session.Start(j, id, now, like)
		return loadedMsg{s, err}
	}
}

// save stores entries.
func save(j session.Journal, request int, x session.Saving) tea.Cmd {
	return func() tea.Msg {
		saved, err := x.Do(j)
		if err != nil {
			return saveFailedMsg{request, err}
		}
		return savedMsg{request, saved}
	}
}

func export(want wantWrite, id string) tea.Cmd {
	return func() tea.Msg {
		path, err := want.write(id, want.folder)
		return exportedMsg{id, want.what, path, err}
	}
}

// bell rings, and notifies the desktop where the terminal knows how (OSC 9,
// which others ignore).
func bell(w io.Writer, words string) tea.Cmd {
	if w == nil {
		return nil
	}
	return func() tea.Msg {
		// A terminal that cannot ring has still shown the words.
		_, _ = io.WriteString(w, "\a\x1b]9;tundish: "+text.Visible(words)+"\x1b\\")
		return nil
	}
}
