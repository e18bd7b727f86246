// Package text measures, breaks and cuts texts for a terminal of fixed columns,
// and makes visible what does not show by itself. A text of a stranger goes
// through Visible first: the width of a control character is that of nothing.
package text

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
)

// Width is the number of columns a text takes, styled or not: two for a wide
// character, none for a combining mark.
func Width(s string) int {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return ansi.StringWidth(s)
		}
	}
	return len(s) // most are plain, and quick to tell
}

// PadRight fills a text up with blanks to a width.
func PadRight(s string, width int) string {
	return s + strings.Repeat(" ", max(width-Width(s), 0))
}

// nbsp is a blank that no line is broken at.
const nbsp = "\u00a0"

// Wrap breaks a text at blanks into lines of at most width columns, none where
// the width is below 1. A word that is longer is broken where it must be; a
// figure stays whole where a line has room for it.
func Wrap(s string, width int) []string {
	if width < 1 {
		return nil
	}
	var lines []string
	line := ""
	add := func() {
		lines, line = append(lines, strings.ReplaceAll(strings.TrimRight(line, " "), nbsp, " ")), ""
	}
	for word := range strings.SplitAfterSeq(glued(s), " ") {
		if line != "" && Width(strings.TrimRight(line+word, " ")) > width {
			add()
		}
		if word == " " && (line == "" && len(lines) > 0 || Width(line) >= width) {
			continue // blanks neither begin nor end a line
		}
		for line == "" {
			head := beginning(word, width)
			if len(head) >= len(strings.TrimRight(word, " ")) {
				break
			}
			line, word = head, word[len(head):]
			add()
		}
		line += word
	}
	if line != "" || len(lines) == 0 {
		add()
	}
	return lines
}

// beginning is as much of a word as fits, at least one character.
func beginning(word string, width int) string {
	end := 0
	for used := 0; end < len(word); {
		character, columns := ansi.FirstGraphemeCluster(word[end:], ansi.GraphemeWidth)
		if used += columns; used > width && end > 0 {
			break
		}
		end += len(character)
	}
	return word[:end]
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

// Cut cuts a text, styled or not, to at most width columns, with tail (which
// must be no wider) at its end where it is cut. A character that the next one
// makes wider, as a variation selector does, is cut whole.
func Cut(s string, width int, tail string) string {
	for room := width; room > 0; room-- {
		if out := ansi.Truncate(s, room, tail); Width(out) <= width {
			return out
		}
	}
	return ""
}

// Visible is a text with everything that does not show written as an escape:
// control characters, line ends, the marks that turn the direction of writing
// (Unicode categories Cc, Cf, Co, Cs, Zl, Zp), and bytes that are not UTF-8.
// The two joiners that scripts and emoji need stay.
func Visible(s string) string {
	if utf8.ValidString(s) && strings.IndexFunc(s, Hidden) < 0 {
		return s
	}
	var b strings.Builder
	for len(s) > 0 {
		r, n := utf8.DecodeRuneInString(s)
		if Hidden(r) || r == utf8.RuneError && n == 1 {
			quoted := fmt.Sprintf("%+q", s[:n])
			b.WriteString(quoted[1 : len(quoted)-1])
		} else {
			b.WriteRune(r)
		}
		s = s[n:]
	}
	return b.String()
}

// Hidden reports whether a character does not show by itself. The zero-width
// joiner and non-joiner (U+200C, U+200D) only shape the letters beside them.
func Hidden(r rune) bool {
	if r < '\u007f' { // most of all that is read
		return r < ' '
	}
	return r != '\u200c' && r != '\u200d' && unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Cs, unicode.Zl, unicode.Zp)
}

// VisibleJSON writes what does not show in JSON as \u escapes. It can only stand within
// strings, where an escape means the same; the line ends between them stay.
func VisibleJSON(b []byte) []byte {
	hidden := func(r rune) bool { return r != '\n' && Hidden(r) }
	if !bytes.ContainsFunc(b, hidden) {
		return b
	}
	out := make([]byte, 0, len(b)+len(b)/8)
	for _, r := range string(b) {
		switch {
		case !hidden(r):
			out = utf8.AppendRune(out, r)
		case r > 0xffff:
			hi, lo := utf16.EncodeRune(r)
			out = fmt.Appendf(out, `\u%04x\u%04x`, hi, lo)
		default:
			out = fmt.Appendf(out, `\u%04x`, r)
		}
	}
	return out
}
