package theme

// This file breaks texts into lines, and cuts them to a width.

import (
	"strings"
	"unicode"

	"github.com/charmbracelet/x/ansi"
)

// nbsp is a blank that no line is broken at.
const nbsp = "\u00a0"

// Wrap breaks a text at spaces into lines of at most width cells, none where
// the width is below 1. A figure stays whole where a line has room for it.
func Wrap(text string, width int) []string {
	if width < 1 {
		return nil
	}
	lines := strings.Split(ansi.Wrap(glued(text), width, ""), "\n")
	for i, l := range lines {
		lines[i] = strings.ReplaceAll(l, nbsp, " ")
	}
	return lines
}

// glued keeps a number together with its groups, its ±, < or >, and its unit.
func glued(s string) string {
	for _, pm := range []string{"±", "+/-"} {
		s = strings.ReplaceAll(s, " "+pm+" ", nbsp+pm+nbsp)
	}
	var b strings.Builder
	before := ' '
	for _, r := range s {
		if r == ' ' && (unicode.IsDigit(before) || before == '<' || before == '>') {
			b.WriteString(nbsp)
		} else {
			b.WriteRune(r)
		}
		before = r
	}
	return b.String()
}

// Cut cuts a text, styled or not, to at most width cells, with tail (which must
// be no wider) at its end where it is cut. A character that the next one makes
// wider, as a variation selector does, is cut whole.
func Cut(text string, width int, tail string) string {
	for room := width; room > 0; room-- {
		if out := ansi.Truncate(text, room, tail); ansi.StringWidth(out) <= width {
			return out
		}
	}
	return ""
}
