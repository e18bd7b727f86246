// The characters the screens draw with, in Unicode and in ASCII, and the
// spelling of any text in the chosen set. Nothing here has a colour.

package theme

import "strings"

// Glyphs is a set of drawing characters. Every one is a single cell wide
// except Ellipsis, PlusMinus and the words that stand for symbols in ASCII.
type Glyphs struct {
	ASCII bool

	// Bars: what is there, the part in which its end lies, what is only planned.
	Full, Shade, Plan string

	// A range: its walls, what is between them, the bracket over it; a mark under
	// a place on the scale.
	Wall, Between, CornerLow, CornerLine, CornerHigh, MarkUp string

	// An axis: line, tick, origin.
	AxisLine, AxisTick, AxisOrigin string

	// Marks. StateEmpty to StateOpen go with the banners of the same name.
	Done, Fault, Todo, Now, Bullet, ArrowRight        string
	StateEmpty, StateUnproven, StateProven, StateOpen string

	// Text symbols.
	PlusMinus, Dash, Ellipsis string

	// The upright line of a chart.
	Vertical string
}

func unicodeGlyphs() Glyphs {
	return Glyphs{
		Full: "█", Shade: "▒", Plan: "─",
		Wall: "│", Between: "·", CornerLow: "┌", CornerLine: "─", CornerHigh: "┐", MarkUp: "▲",
		AxisLine: "─", AxisTick: "┴", AxisOrigin: "└",
		Done: "✓", Fault: "✗", Todo: "·", Now: "►", Bullet: "•", ArrowRight: "→",
		StateEmpty: "○", StateUnproven: "◐", StateProven: "●", StateOpen: "◇",
		PlusMinus: "±", Dash: "–", Ellipsis: "…",
		Vertical: "│",
	}
}

func asciiGlyphs() Glyphs {
	return Glyphs{
		ASCII: true,
		Full:  "#", Shade: ":", Plan: "-",
		Wall: "|", Between: ".", CornerLow: "+", CornerLine: "-", CornerHigh: "+", MarkUp: "^",
		AxisLine: "-", AxisTick: "+", AxisOrigin: "+",
		Done: "x", Fault: "!", Todo: ".", Now: ">", Bullet: "*", ArrowRight: ">",
		StateEmpty: "O", StateUnproven: "?", StateProven: "#", StateOpen: ":",
		PlusMinus: "+-", Dash: "-", Ellipsis: "...",
		Vertical: "|",
	}
}

// Spell writes s in the characters of the set. The Unicode set leaves s as it
// is; the ASCII set spells out the symbols it knows and shows every other
// character above 127 as "?", so that no byte of the result exceeds 127.
func (g Glyphs) Spell(s string) string {
	if !g.ASCII || !strings.ContainsFunc(s, func(r rune) bool { return r >= 0x80 }) {
		return s
	}
	var b strings.Builder
	afterSpace := true
	for _, r := range s {
		word := string(r)
		if r >= 0x80 {
			word = spelling(r)
		}
		if afterSpace {
			word = strings.TrimPrefix(word, " ")
		}
		if r == ' ' {
			word = " "
		}
		b.WriteString(word)
		afterSpace = strings.HasSuffix(b.String(), " ")
	}
	return b.String()
}

// spelling is how a character above 127 is written in ASCII.
func spelling(r rune) string {
	for _, s := range []struct{ signs, word string }{
		{"±", "+-"}, {"°", " deg "}, {"–—−‐‑─═", "-"}, {"…", "..."}, {"×", "x"}, {"·•", "*"},
		{"→►▶›»", ">"}, {"←◄◀‹«", "<"}, {"≥", ">="}, {"≤", "<="}, {"≈", "~"}, {"√", "sqrt "},
		{"‘’", "'"}, {"“”", `"`}, {"³", "3"}, {"²", "2"}, {"½", "1/2"}, {"µμ", "u"},
		{"✓✔", "x"}, {"✗✘", "!"}, {"│┃├┤", "|"}, {"█▓▌", "#"}, {"▒░", ":"}, {"▲", "^"}, {"┌┐└┘", "+"}, {"\u00a0\u2009\u202f", " "},
	} {
		if strings.ContainsRune(s.signs, r) {
			return s.word
		}
	}
	return "?"
}
