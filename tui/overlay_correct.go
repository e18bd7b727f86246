package tui

// This file lists the standing answers, newest first, to ask one again.

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model"
)

type corrections struct {
	entries []model.Entry // standing, newest first
	chosen  int
}

func newCorrections(g guide) corrections { return corrections{entries: g.state.Standing()} }

func (c corrections) key(msg tea.KeyMsg, k keymap) (overlay, intent) {
	n := len(c.entries)
	switch {
	case leaves(msg, k):
		return nil, nil
	case n == 0:
	case msg.Type == tea.KeyEnter:
		return c, wantCorrect{c.entries[c.chosen].Seq}
	case matches(msg, k.Up):
		c.chosen = max(c.chosen-1, 0)
	case matches(msg, k.Down):
		c.chosen = min(c.chosen+1, n-1)
	case msg.Type == tea.KeyPgUp:
		c.chosen = max(c.chosen-10, 0)
	case msg.Type == tea.KeyPgDown:
		c.chosen = min(c.chosen+10, n-1)
	}
	return c, nil
}

func (c corrections) lines(sc scene) []string {
	t := sc.app.theme
	lines := []string{" " + t.Strong.Render("Which answer is wrong?") + t.Dim.Render("  newest first; the old one is kept, struck out"), ""}
	room := max(sc.height-len(lines), 1)
	top := 0
	if c.chosen >= room {
		top = c.chosen - room + 1
	}
	for i := top; i < len(c.entries) && i < top+room; i++ {
		lines = append(lines, c.line(sc, i))
	}
	return lines
}

func (c corrections) line(sc scene, i int) string {
	t, e := sc.app.theme, c.entries[i]
	mark, style := "  ", t.Text
	if i == c.chosen {
		mark, style = t.Glyphs.ArrowRight+" ", t.Strong
	}
	text := fmt.Sprintf("%3d  %s  %s", e.Seq, e.At.Local().Format("15:04"), entryName(sc.state, e.Seq))
	return " " + mark + style.Render(ansi.Truncate(text, sc.width-5, "…"))
}

func (c corrections) hints() []hint {
	return []hint{{"↑↓", "choose"}, {"Enter", "ask it again"}, {"0", "back to the job"}}
}
