package tui

// This file rings: a bell, and a desktop notification where the terminal knows
// how (OSC 9, which others ignore).

import (
	"io"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
)

func bell(w io.Writer, text string) tea.Cmd {
	if w == nil {
		return nil
	}
	return func() tea.Msg {
		_ = Ring(w, text) // a terminal that cannot ring has still shown the text
		return nil
	}
}

// Ring writes bell and notification to a terminal.
func Ring(w io.Writer, text string) error {
	clean := strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || (r >= 0x80 && r < 0xa0) {
			return -1
		}
		return r
	}, text)
	_, err := io.WriteString(w, "\a\x1b]9;tundish: "+clean+"\x1b\\")
	return err
}
