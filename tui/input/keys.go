// Package input holds what a person's keys do before anything is made of them: which keys
// there are, and the field that is typed into.
package input

// This file holds the keys. The number pad does the whole job; most keys have
// a second one beside it for a keyboard or a presenter.

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// Keys are the bindings that all parts of the screen share.
type Keys struct {
	Enter, Up, Down, Menu, Back, More, Sums, Help, Record, Earlier, Later, PageUp, PageDown key.Binding
}

// NewKeys are the keys of the guide.
func NewKeys() Keys {
	bind := func(keys ...string) key.Binding { return key.NewBinding(key.WithKeys(keys...)) }
	return Keys{
		Enter: bind("enter"), Up: bind("up", "shift+tab"), Down: bind("down", "tab"), Menu: bind("*"), Back: bind("/", "esc"),
		More: bind("+"), Sums: bind("f2"), Help: bind("?", "f1"), Record: bind("f3"), Earlier: bind("pgup"), Later: bind("pgdown"),
		PageUp: bind("-", "pgup"), PageDown: bind("+", "pgdown"),
	}
}

// Matches reports whether a key was pressed that a binding holds: a pasted one is
// text.
func Matches(msg tea.KeyMsg, b key.Binding) bool { return !msg.Paste && key.Matches(msg, b) }

// Pressed is the one character of a key that was pressed; 0 of any other key, and
// of what was pasted.
func Pressed(msg tea.KeyMsg) rune {
	if msg.Type != tea.KeyRunes || msg.Paste || msg.Alt || len(msg.Runes) != 1 {
		return 0
	}
	return msg.Runes[0]
}

// IsDigit reports whether a character is a digit of the number pad.
func IsDigit(r rune) bool { return r >= '0' && r <= '9' }

// IsTyped reports whether a digit was pressed, alone and not pasted.
func IsTyped(msg tea.KeyMsg, digit string) bool {
	return msg.Type == tea.KeyRunes && !msg.Paste && string(msg.Runes) == digit
}

// KeyHelp is what the keys do, on a number pad and on a keyboard.
var KeyHelp = [][2]string{
	{"a digit", "ticks the line marked, or chooses on it, at once; 0 not looked"},
	{"Enter", "takes a figure; sheet complete; never a caution"},
	{".", "figure seen from far; in a field the point; alone: not known"},
	{"-  and a digit", "that line is NOT so; in a field a range or minutes ago"},
	{"+", "worth knowing; on the verdict how it was worked out; a sum"},
	{"*  in a field", "clears; in the hose 6*1.5 is bore times length"},
	{"*", "menu: undo, correct, record, other job, leave"},
	{"/  or Esc", "back one line, before the first one sheet; 1 1/2 in a field"},
	{"Tab, arrows", "the line below or above: what is on offer can be changed"},
	{"PgUp, PgDn", "look at the sheet before or after"},
	{"F1  or ?", "this help"},
	{"F2", "how every number was worked out"},
	{"F3", "write the record to a file"},
	{"the mouse", "a click on a line or an option is its digit; no caution"},
	{"Ctrl+C", "leave; everything accepted is kept"},
}

// AmountHelp is how amounts are typed.
var AmountHelp = [][2]string{
	{"830  0.83 L  28.1 floz", "a volume, in your unit or another"},
	{"500+330", "two goes with one jug: two readings"},
	{"830@60", "read at 60 degrees"},
	{"1235-330 g", "on the scale: gross less tare"},
	{"1 1/2 qt", "fractions"},
}
