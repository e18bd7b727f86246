package tui

// This file holds the keys. The number pad does the whole job; every key has
// a second one beside it for a keyboard or a presenter.

import "github.com/charmbracelet/bubbles/key"

type keymap struct {
	Accept, Up, Down, Menu, Sums, Help, TakeAll, Back, Clear, Interrupt, Suspend key.Binding
}

func newKeymap() keymap {
	bind := func(label, help string, keys ...string) key.Binding {
		return key.NewBinding(key.WithKeys(keys...), key.WithHelp(label, help))
	}
	return keymap{
		Accept:    bind("Enter", "accept", "enter", "pgdown"),
		Up:        bind("↑↓", "choose", "up", "shift+tab"),
		Down:      bind("↓", "choose", "down", "tab"),
		Menu:      bind("*", "menu", "*", "esc"),
		Sums:      bind("/", "sums", "/", "f2"),
		Help:      bind("?", "help", "?", "f1"),
		TakeAll:   bind("+", "take all shown", "+"),
		Back:      bind("PgUp", "correct", "pgup"),
		Clear:     bind("Ctrl+U", "clear", "ctrl+u"),
		Interrupt: bind("Ctrl+C", "quit", "ctrl+c"),
		Suspend:   bind("Ctrl+Z", "suspend", "ctrl+z"),
	}
}
