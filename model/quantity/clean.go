// Normalisation of typed text: one form for spaces, signs, digits and fractions, and
// an error for characters that are not printable.

package quantity

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

const (
	maxTyped  = 200 // bytes: the longest text a parser reads
	maxQuoted = 24  // runes: the most of it that an error repeats
)

// clean puts typed text into one form: ASCII where there is an ASCII form, one
// sign for each meaning. It refuses text that is too long, not UTF-8, or holds
// characters that are not printable.
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

// plainForms lists the signs that are read as each form. A fraction sign gets a
// space in front, so that 1½ reads as 1 1/2.
var plainForms = []struct{ plain, signs string }{
	{"-", "−–—‐‑‒"}, {"/", "⁄∕÷"}, {"·", "⋅•∙×*"}, {"°", "º˚"}, {"°C", "℃"}, {"°F", "℉"}, {"l", "ℓ"}, {`"`, "″”“"}, {"'", "′’‘"},
	{" 1/2", "½"}, {" 1/3", "⅓"}, {" 2/3", "⅔"}, {" 1/4", "¼"}, {" 3/4", "¾"},
	{" 1/8", "⅛"}, {" 3/8", "⅜"}, {" 5/8", "⅝"}, {" 7/8", "⅞"},
}

// plain is the one form of a rune.
func plain(r rune) string {
	if r >= '！' && r <= '～' { // full-width forms of ASCII
		r -= '！' - '!'
	}
	for _, form := range plainForms {
		if strings.ContainsRune(form.signs, r) {
			return form.plain
		}
	}
	if unicode.Is(unicode.Zs, r) {
		return " "
	}
	return string(r)
}

// quoted is text for an error: cut short, and escaped where it is not printable.
func quoted(text string) string {
	text = strings.TrimSpace(text)
	if utf8.RuneCountInString(text) > maxQuoted {
		text = string([]rune(text)[:maxQuoted]) + "…"
	}
	return fmt.Sprintf("%q", text)
}
