package summary

// This file makes visible what does not show by itself, so that text from a
// stranger cannot steer a terminal, turn a line round or hide.

import (
	"fmt"
	"strings"
	"unicode"
)

// Visible is a text with everything that does not show written as an escape:
// control characters, line ends, and the marks that turn the direction of
// writing (Unicode categories Cc, Cf, Co, Cs, Zl, Zp). The two joiners that
// scripts and picture signs need stay.
func Visible(text string) string {
	if strings.IndexFunc(text, hidden) < 0 {
		return text
	}
	var b strings.Builder
	for _, r := range text {
		if !hidden(r) {
			b.WriteRune(r)
			continue
		}
		quoted := fmt.Sprintf("%+q", string(r))
		b.WriteString(quoted[1 : len(quoted)-1])
	}
	return b.String()
}

// hidden reports whether a rune does not show by itself. Zero-width joiner and
// non-joiner (U+200C, U+200D) only shape the letters beside them.
func hidden(r rune) bool {
	switch {
	case r == '\u200c' || r == '\u200d':
		return false
	case r < ' ', r == 0x7f:
		return true
	}
	return r > 0x7f && unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Cs, unicode.Zl, unicode.Zp)
}
