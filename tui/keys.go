package tui

// This file holds the keys. The number pad does the whole job; most keys have
// a second one beside it for a keyboard or a presenter.

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

type keymap struct {
	Enter, Up, Down, Menu, Back, More, Sums, Help, Record, Earlier, Later, PageUp, PageDown key.Binding
}

func newKeymap() keymap {
	bind := func(keys ...string) key.Binding { return key.NewBinding(key.WithKeys(keys...)) }
	return keymap{
		Enter: bind("enter"), Up: bind("up", "shift+tab"), Down: bind("down", "tab"), Menu: bind("*"), Back: bind("/", "esc"),
		More: bind("+"), Sums: bind("f2"), Help: bind("?", "f1"), Record: bind("f3"), Earlier: bind("pgup"), Later: bind("pgdown"),
		PageUp: bind("-", "pgup"), PageDown: bind("+", "pgdown"),
	}
}

// matches reports whether a key was pressed that a binding holds: a pasted one is
// text.
func matches(msg tea.KeyMsg, b key.Binding) bool { return !msg.Paste && key.Matches(msg, b) }

// pressed is the one character of a key that was pressed; 0 of any other key, and
// of what was pasted.
func pressed(msg tea.KeyMsg) rune {
	if msg.Type != tea.KeyRunes || msg.Paste || msg.Alt || len(msg.Runes) != 1 {
		return 0
	}
	return msg.Runes[0]
}

// isDigit reports whether a character is a digit of the number pad.
func isDigit(r rune) bool { return r >= '0' && r <= '9' }
