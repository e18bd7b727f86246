// What is done to typed text before it is read: one form for spaces, signs,
// digits and fractions, and a refusal of what cannot be seen.

package quantity

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxTyped is the longest text a parser looks at, in bytes.
const maxTyped = 200

// maxQuoted is the most of it that an error repeats, in runes.
const maxQuoted = 24

// clean puts typed text into one form: ASCII where there is an ASCII form, one
// sign for each meaning. It refuses text that is too long, not UTF-8, or holds
// characters that do not show.
func clean(typed string) (string, error) {
	if len(typed) > maxTyped {
		return "", fmt.Errorf("too long: at most %d characters", maxTyped)
	}
	if !utf8.ValidString(typed) {
		return "", fmt.Errorf("%s is not readable text", quoted(typed))
	}
	var b strings.Builder
	for _, r := range typed {
		if !unicode.IsPrint(r) && !unicode.Is(unicode.Zs, r) {
			return "", fmt.Errorf("%s holds the control character %q", quoted(typed), r)
		}
		b.WriteString(plain(r))
	}
	return strings.TrimSpace(b.String()), nil
}

// plain is the one form of a rune. A fraction sign gets a space in front, so
// that 1½ reads as 1 1/2.
func plain(r rune) string {
	if r >= '！' && r <= '～' { // full-width forms of ASCII
		r -= '！' - '!'
	}
	switch r {
	case '−', '–', '—', '‐', '‑', '‒':
		return "-"
	case '⁄', '∕', '÷':
		return "/"
	case '⋅', '•', '∙', '×', '*':
		return "·"
	case 'º', '˚':
		return "°"
	case '℃':
		return "°C"
	case '℉':
		return "°F"
	case 'ℓ':
		return "l"
	case '″', '”', '“':
		return `"`
	case '′', '’', '‘':
		return "'"
	case '½':
		return " 1/2"
	case '⅓':
		return " 1/3"
	case '⅔':
		return " 2/3"
	case '¼':
		return " 1/4"
	case '¾':
		return " 3/4"
	case '⅛':
		return " 1/8"
	case '⅜':
		return " 3/8"
	case '⅝':
		return " 5/8"
	case '⅞':
		return " 7/8"
	}
	if unicode.Is(unicode.Zs, r) {
		return " "
	}
	return string(r)
}

// quoted is text for an error: cut short, everything that does not show made
// visible.
func quoted(text string) string {
	text = strings.TrimSpace(text)
	if utf8.RuneCountInString(text) > maxQuoted {
		text = string([]rune(text)[:maxQuoted]) + "…"
	}
	return fmt.Sprintf("%q", text)
}
