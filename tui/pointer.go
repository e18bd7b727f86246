package tui

// This file is the pointer in a list: moved by arrows, or by the number shown
// beside an item, of one digit or more. Every list on the screens has one.

import (
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/text"
	"garage/tundish/tui/input"
)

// pointer is where a list is pointed at, and the number typed so far.
type pointer struct {
	at    int // -1: nowhere yet
	typed int
}

// key moves a pointer in a list of n items numbered from 1.
func (p pointer) key(msg tea.KeyMsg, k input.Keys, n int) pointer {
	return p.among(msg, k, n, n, func(number int) int { return number - 1 })
}

// among moves a pointer in a list of n items whose numbers go up to most and
// may be any: index says where a number stands, below 0 nowhere.
func (p pointer) among(msg tea.KeyMsg, k input.Keys, n, most int, index func(number int) int) pointer {
	switch {
	case n == 0:
	case input.Matches(msg, k.Up):
		return pointer{at: (max(p.at, 0) + n - 1) % n}
	case input.Matches(msg, k.Down):
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
	return input.IsTyped(msg, "0") && p.typed > 0 && p.typed*10 <= most
}

// list is a list of items to choose from by number.
type list struct {
	items  []item
	chosen pointer
}

// key gives a key to a list: want is what was chosen, left whether the key leaves it.
func (l list) key(msg tea.KeyMsg, k input.Keys) (now list, want intent, left bool) {
	switch n := len(l.items); {
	case leaves(msg, k) && !l.chosen.awaits(msg, n):
		return l, nil, true
	case input.Matches(msg, k.Enter) && n > 0:
		return l, l.items[l.chosen.at].want, false
	default:
		l.chosen = l.chosen.key(msg, k, n)
		return l, nil, false
	}
}

// under draws a list below the rows of its head, so far down that what is pointed at is seen.
func (l list) under(head []string, sc scene) []string {
	var rows []string
	end := 0 // of the item pointed at, which may take several rows
	for i, it := range l.items {
		rows = append(rows, it.lines(sc, i, i == l.chosen.at)...)
		if i == l.chosen.at {
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
