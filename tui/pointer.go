package tui

// This file is the pointer in a list: moved by arrows, or by the number shown
// beside an item. Every list on the screens has one.

import (
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// pointed moves a pointer into n items; -1 is none yet.
func pointed(at, n int, msg tea.KeyMsg, k keymap) int {
	switch {
	case n == 0:
		return at
	case matches(msg, k.Up):
		return (max(at, 0) + n - 1) % n
	case matches(msg, k.Down):
		return (at + 1) % n
	case msg.Type == tea.KeyRunes && !msg.Paste:
		if i := int(msg.Runes[len(msg.Runes)-1] - '1'); i >= 0 && i < min(n, 9) {
			return i
		}
	}
	return at
}

// itemLines draws one item: its number, its label and, where there is room or
// where it is pointed at, what it leads to.
func itemLines(sc scene, i int, pointedAt bool, label, hint string) []string {
	t := sc.app.theme
	mark, style := "  ", t.Text
	if pointedAt {
		mark, style = t.Glyphs.ArrowRight+" ", t.Strong
	}
	number := "   "
	if i < 9 {
		number = " " + itoa(i+1) + " "
	}
	line := " " + mark + t.Key.Render(number) + " " + style.Render(ansi.Truncate(visible(label), sc.width-8, "…"))
	hint = visible(hint)
	switch room := sc.width - ansi.StringWidth(line) - 3; {
	case hint == "":
	case ansi.StringWidth(hint) <= room:
		line += "  " + t.Dim.Render(hint)
	case pointedAt:
		return []string{line, "       " + t.Dim.Render(ansi.Truncate(hint, sc.width-9, "…"))}
	}
	return []string{line}
}
