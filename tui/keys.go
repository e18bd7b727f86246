package tui

// This file holds the keys. The number pad does the whole job; every key has
// a second one beside it for a keyboard or a presenter.

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

type keymap struct {
	Accept, Up, Down, Menu, Clear, Sums, Help, TakeAll, Back, Record, PageUp, PageDown key.Binding
}

func newKeymap() keymap {
	bind := func(keys ...string) key.Binding { return key.NewBinding(key.WithKeys(keys...)) }
	return keymap{
		Accept:  bind("enter", "pgdown"),
		Up:      bind("up", "shift+tab"),
		Down:    bind("down", "tab"),
		Menu:    bind("*", "esc"),
		Clear:   bind("*", "ctrl+u"), // a number pad has no backspace
		Sums:    bind("/", "f2"),
		Help:    bind("?", "f1"),
		TakeAll: bind("+"),
		Back:    bind("pgup"),
		Record:  bind("-", "f3"),

		PageUp:   bind("-", "pgup"),
		PageDown: bind("+", "pgdown"),
	}
}

// matches reports whether a key was pressed that a binding holds: a pasted one is
// text.
func matches(msg tea.KeyMsg, b key.Binding) bool { return !msg.Paste && key.Matches(msg, b) }
