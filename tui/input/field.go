package input

// This file is the field of the line that is typed into.

import (
	"strings"
	"unicode"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/text"
)

// Field is what stands in a line. Keys go to its end.
type Field struct {
	Text  string
	Stood bool // it was typed before: the first key replaces it
	Said  bool // and it is the answer that stands
}

// maxTyped is how many letters a field takes.
const maxTyped = 300

// Half reports whether something is typed that is not an answer yet.
func (f Field) Half() bool { return f.Text != "" && !f.Said }

// add types characters.
func (f Field) add(typed []rune) Field {
	if f.Stood {
		f = Field{}
	}
	all := append([]rune(f.Text), typed...)
	f.Text = string(all[:min(len(all), maxTyped)])
	return f
}

// drop deletes the last character; all that was typed before.
func (f Field) drop() Field {
	all := []rune(f.Text)
	if f.Stood || len(all) == 0 {
		return Field{}
	}
	f.Text = string(all[:len(all)-1])
	return f
}

// Letters reports whether a letter was typed: signs of the number pad are then text.
func (f Field) Letters() bool { return !f.Stood && strings.ContainsFunc(f.Text, unicode.IsLetter) }

// Typing reports whether something is being typed now.
func (f Field) Typing() bool { return f.Text != "" && !f.Stood }

// Edit gives a key to the field; false where it is none of a field's.
func (f Field) Edit(msg tea.KeyMsg) (Field, bool) {
	switch msg.Type {
	case tea.KeyRunes:
		if msg.Alt {
			return f, false
		}
		return f.add(msg.Runes), true
	case tea.KeySpace:
		return f.add([]rune{' '}), true
	case tea.KeyBackspace, tea.KeyDelete, tea.KeyCtrlH:
		return f.drop(), true
	case tea.KeyCtrlU, tea.KeyCtrlK, tea.KeyCtrlW:
		return Field{}, true
	}
	return f, false
}

// Shown is the end of what is typed, in a number of columns.
func (f Field) Shown(columns int) string {
	s := []rune(text.Visible(f.Text))
	for len(s) > 0 && text.Width(string(s)) > columns {
		s = s[1:]
	}
	return text.PadRight(string(s), columns)
}
