package tui

// This file is the field of the line that is typed into.

import (
	"strings"
	"unicode"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/text"
)

// field is what stands in a line. Keys go to its end.
type field struct {
	text  string
	stood bool // it was typed before: the first key replaces it
	said  bool // and it is the answer that stands
}

// maxTyped is how many letters a field takes.
const maxTyped = 300

// half reports whether something is typed that is not an answer yet.
func (f field) half() bool { return f.text != "" && !f.said }

// add types characters.
func (f field) add(typed []rune) field {
	if f.stood {
		f = field{}
	}
	all := append([]rune(f.text), typed...)
	f.text = string(all[:min(len(all), maxTyped)])
	return f
}

// drop deletes the last character; all that was typed before.
func (f field) drop() field {
	all := []rune(f.text)
	if f.stood || len(all) == 0 {
		return field{}
	}
	f.text = string(all[:len(all)-1])
	return f
}

// letters reports whether a letter was typed: signs of the number pad are then text.
func (f field) letters() bool { return !f.stood && strings.ContainsFunc(f.text, unicode.IsLetter) }

// typing reports whether something is being typed now.
func (f field) typing() bool { return f.text != "" && !f.stood }

// edit gives a key to the field; false where it is none of a field's.
func (f field) edit(msg tea.KeyMsg) (field, bool) {
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
		return field{}, true
	}
	return f, false
}

// shown is the end of what is typed, in a number of columns.
func (f field) shown(columns int) string {
	s := []rune(text.Visible(f.text))
	for len(s) > 0 && text.Width(string(s)) > columns {
		s = s[1:]
	}
	return text.PadRight(string(s), columns)
}
