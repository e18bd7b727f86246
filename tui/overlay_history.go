package tui

// This file shows the unit over the years.

import (
	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/job"
	"garage/tundish/tui/history"
	"garage/tundish/tui/input"
	"garage/tundish/tui/session"
)

// historyMsg: the jobs of the unit were read; handled by App.
type historyMsg struct {
	id   string // of the job it was read for
	data history.Data
	err  error
}

func readHistory(j session.Journal, job job.Job) tea.Cmd {
	return func() tea.Msg {
		data, err := j.History(job)
		return historyMsg{job.ID, data, err}
	}
}

type historyOverlay struct{ data history.Data }

func (o historyOverlay) key(msg tea.KeyMsg, k input.Keys) (overlay, intent) {
	switch {
	case leaves(msg, k) || msg.Type == tea.KeyEnter:
		return nil, nil
	case msg.Type == tea.KeyLeft || msg.Type == tea.KeyRight || msg.Type == tea.KeySpace || input.IsTyped(msg, "6"):
		o.data.First = o.data.First.Next()
	default:
		o.data.Skip = min(scrolled(msg, k, o.data.Skip), max(len(o.data.Points)-1, 0))
	}
	return o, nil
}

func (o historyOverlay) lines(sc scene) ([]string, []hint) {
	hints := []hint{{"+ -", "page"}, {"6 or →", "another chart"}, {"Enter", "back to the job"}, {"↑↓", "scroll"}}
	return history.View(o.data, sc.width, sc.height, sc.theme), hints
}
