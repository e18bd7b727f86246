package tui

// This file is a list to choose from, by number or with the arrows.

import (
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/text"
	"garage/tundish/tui/input"
)

// list is a list of items to choose from by number.
type list struct {
	items  []item
	chosen input.Pointer
}

// key gives a key to a list: want is what was chosen, left whether the key leaves it.
func (l list) key(msg tea.KeyMsg, k input.Keys) (now list, want intent, left bool) {
	switch n := len(l.items); {
	case leaves(msg, k) && !l.chosen.Awaits(msg, n):
		return l, nil, true
	case input.Matches(msg, k.Enter) && n > 0:
		return l, l.items[l.chosen.At].want, false
	default:
		l.chosen = l.chosen.Among(msg, k, n, n, func(number int) int { return number - 1 })
		return l, nil, false
	}
}

// under draws a list below the rows of its head, so far down that what is pointed at is seen.
func (l list) under(head []string, sc scene) []string {
	var rows []string
	end := 0 // of the item pointed at, which may take several rows
	for i, it := range l.items {
		rows = append(rows, it.lines(sc, i, i == l.chosen.At)...)
		if i == l.chosen.At {
			end = len(rows)
		}
	}
	room := max(sc.height-len(head), 1)
	return append(head, page{top: max(end-room, 0)}.cut(rows, room)...)
}

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
			head = " " + mark + t.Key.Render(text.PadRight(" "+strconv.Itoa(i+1), itemIndent-4)) + " "
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
