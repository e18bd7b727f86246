package tui

// This file is the pointer in a list: moved by arrows, or by the number shown
// beside an item, of one digit or more. Every list on the screens has one.

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/text"
)

// pointer is where a list is pointed at, and the number typed so far.
type pointer struct {
	at    int // -1: nowhere yet
	typed int
}

// key moves a pointer in a list of n items numbered from 1.
func (p pointer) key(msg tea.KeyMsg, k keymap, n int) pointer {
	return p.among(msg, k, n, n, func(number int) int { return number - 1 })
}

// among moves a pointer in a list of n items whose numbers go up to most and
// may be any: index says where a number stands, below 0 nowhere.
func (p pointer) among(msg tea.KeyMsg, k keymap, n, most int, index func(number int) int) pointer {
	switch {
	case n == 0:
	case matches(msg, k.Up):
		return pointer{at: (max(p.at, 0) + n - 1) % n}
	case matches(msg, k.Down):
		return pointer{at: (p.at + 1) % n}
	case msg.Type == tea.KeyRunes && !msg.Paste:
		for _, r := range msg.Runes {
			p = p.digit(r, most, index)
		}
	}
	return p
}

// digit takes one more digit of a number; one too many begins a new number.
func (p pointer) digit(r rune, most int, index func(number int) int) pointer {
	if r < '0' || r > '9' {
		return p
	}
	if p.typed = p.typed*10 + int(r-'0'); p.typed > most {
		p.typed = int(r - '0')
	}
	if i := index(p.typed); i >= 0 && p.typed > 0 && p.typed <= most {
		p.at = i
	}
	return p
}

// awaits reports whether a key goes on with the number that is typed.
func (p pointer) awaits(msg tea.KeyMsg, most int) bool {
	return typedDigit(msg, "0") && p.typed > 0 && p.typed*10 <= most
}

// firstShown is the first of n items to be shown in a number of rows, so that the
// one pointed at is among them.
func (p pointer) firstShown(rows int) int { return max(p.at-max(rows, 1)+1, 0) }

// item is one of a list to choose from.
type item struct {
	label, hint string
	want        intent // when it is chosen
}

// lines draw an item: its number, its label and, where there is room or where
// it is pointed at, what it leads to. No word of either is cut off.
func (it item) lines(sc scene, i int, pointedAt bool) []string {
	t := sc.theme
	mark, style := "  ", t.Text
	if pointedAt {
		mark, style = t.Glyphs.ArrowRight+" ", t.Strong
	}
	var lines []string
	for n, l := range text.Wrap(text.Visible(it.label), sc.width-itemIndent-1) {
		head := strings.Repeat(" ", itemIndent)
		if n == 0 {
			head = " " + mark + t.Key.Render(text.PadRight(" "+itoa(i+1), itemIndent-4)) + " "
		}
		lines = append(lines, head+style.Render(l))
	}
	hint := text.Visible(it.hint)
	last := len(lines) - 1
	switch room := sc.width - text.Width(lines[last]) - 3; {
	case hint == "":
	case text.Width(hint) <= room:
		lines[last] += "  " + t.Dim.Render(hint)
	case pointedAt:
		for _, l := range text.Wrap(hint, sc.width-itemIndent-1) {
			lines = append(lines, strings.Repeat(" ", itemIndent)+t.Dim.Render(l))
		}
	}
	return lines
}

// itemIndent is where the label of an item begins.
const itemIndent = 7
