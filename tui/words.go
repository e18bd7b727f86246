package tui

// This file holds the small functions on text that several screens use.

import (
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model"
)

func itoa(n int) string { return strconv.Itoa(n) }

// entryWords are the name of an entry, and what was answered.
func entryWords(s *model.State, e model.Entry) (name, echo string) {
	p, ok := model.PromptOf(e)
	if !ok {
		return "line " + itoa(e.Seq), ""
	}
	return p.NameText(), s.AnswerText(e)
}

func entryName(s *model.State, e model.Entry) string {
	name, echo := entryWords(s, e)
	return name + ": " + echo
}

// nameColumns has room for the name of nearly every answer.
const nameColumns = 24

// columns lays out pairs in two columns of the given width for the first.
func columns(pairs [][2]string, first int) []string {
	lines := make([]string, len(pairs))
	for i, p := range pairs {
		lines[i] = " " + padRight(p[0], first) + " " + p[1]
	}
	return lines
}

func padRight(s string, width int) string {
	return s + strings.Repeat(" ", max(width-ansi.StringWidth(s), 0))
}

// visible shows control characters, which an imported name may hold, as signs.
func visible(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r < ' ':
			return 0x2400 + r
		case r == 0x7f:
			return 0x2421
		case r >= 0x80 && r < 0xa0, r >= 0x2028 && r <= 0x202e, r == 0x061c, r >= 0x2066 && r <= 0x2069, r == 0x200e, r == 0x200f:
			return 0xfffd
		}
		return r
	}, s)
}

func exportNotice(msg exportedMsg) string {
	if msg.err != nil {
		return "record not written: " + msg.err.Error()
	}
	return "record written: " + msg.path
}
