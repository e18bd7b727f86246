package model

// This file prints a sum as plain text, for the screen and the summary, and says
// how a reading in it was taken.

import (
	"math"
	"strings"
	"unicode"
)

// SumColumns is how wide the lines of a sum need be at most.
const SumColumns = 76

// Widths of the parts of a line, in columns.
const (
	labelColumns = 32
	noteIndent   = 4
)

// Lines prints a sum in the owner's units: the terms in columns, then what goes
// with them, in lines of a width in columns. The terms need some 58.
func Lines(s *State, sum Sum, width int) []string {
	lines := []string{fit(sum.Title, width)}
	lines = append(lines, s.termLines(sum.Terms, width)...)
	if len(sum.Facts) > 0 {
		lines = append(lines, "")
	}
	for _, fact := range sum.Facts {
		lines = append(lines, wrap(fact, width, 0)...)
	}
	if len(sum.Doubt) > 0 {
		lines = append(lines, wrap("The doubt: "+doubtList(sum.Doubt)+".", width, 0)...)
	}
	if sum.Advice != "" {
		lines = append(lines, wrap(sum.Advice, width, 0)...)
	}
	return lines
}

// smallShare is the share below which a thing is not named in print.
const smallShare = 0.01

func doubtList(doubt []DoubtShare) string {
	var names []string
	var shares []float64
	rest := 1.0
	for _, d := range doubt {
		if d.Share >= smallShare {
			names, shares = append(names, d.Name), append(shares, d.Share)
			rest -= d.Share
		}
	}
	if len(names) < len(doubt) && len(names) > 0 {
		names, shares = append(names, "the rest"), append(shares, max(rest, 0))
	}
	for i, text := range percents(shares...) {
		names[i] += " " + text
	}
	return strings.Join(names, ", ")
}

// widths are those of the columns of the terms: label, number before and after
// the decimal point, and what follows it.
type widths struct{ label, whole, decimals, tail int }

func (s *State) termLines(terms []Term, width int) []string {
	var w widths
	for _, t := range terms {
		whole, decimals, tail := s.split(t)
		w.label = max(w.label, min(columns(visible(t.Label)), labelColumns))
		w.whole = max(w.whole, columns(whole))
		w.decimals = max(w.decimals, columns(decimals))
		w.tail = max(w.tail, columns(tail))
	}
	var lines []string
	for i, t := range terms {
		if t.Sign == "" && i > 0 {
			lines = append(lines, "")
		}
		lines = append(lines, s.termLine(t, w, width)...)
	}
	return lines
}

func (s *State) termLine(t Term, w widths, width int) []string {
	whole, decimals, tail := s.split(t)
	sign := t.Sign
	if sign == "" {
		sign = " "
	}
	label := fit(t.Label, labelColumns)
	line := sign + " " + label + spaces(w.label-columns(label)) + "  " +
		spaces(w.whole-columns(whole)) + whole + decimals + spaces(w.decimals-columns(decimals)) + " " + tail
	note := visible(t.Note)
	if note == "" {
		return []string{line}
	}
	wide := line + spaces(w.tail-columns(tail)) + "  " + note
	if columns(wide) <= width {
		return []string{wide}
	}
	return append([]string{line}, wrap(spaces(noteIndent)+note, width, noteIndent)...)
}

// split parts a value into "25", ".0" and "± 2.5 ml".
func (s *State) split(t Term) (whole, decimals, tail string) {
	number, tail, _ := strings.Cut(s.FormatU(t.Value), " ")
	if nothing(t.Value) {
		return "0", "", tail
	}
	if point := strings.Index(number, "."); point >= 0 {
		return number[:point], number[point:], tail
	}
	return number, "", tail
}

func spaces(n int) string { return strings.Repeat(" ", max(n, 0)) }

// visible shows signs that do not show, as in imported text, by a stand-in.
func visible(text string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return '\uFFFD'
		}
		return r
	}, text)
}

// columns is how many columns a text takes at most: letters of the east of Asia
// and pictures take two.
func columns(text string) int {
	n := 0
	for _, r := range text {
		n += columnsOf(r)
	}
	return n
}

func columnsOf(r rune) int {
	const firstWide = 0x1100
	switch {
	case unicode.Is(unicode.Mn, r):
		return 0
	case r >= firstWide && !unicode.Is(unicode.Punct, r) && r != '\uFFFD':
		return 2
	}
	return 1
}

// fit cuts a text to a width, and shows that it did.
func fit(text string, width int) string {
	text = visible(text)
	if columns(text) <= width {
		return text
	}
	return cut(text, width-1) + "…"
}

// cut is as much of a text as fits into a width.
func cut(text string, width int) string {
	n := 0
	for i, r := range text {
		if n += columnsOf(r); n > width {
			return text[:i]
		}
	}
	return text
}

// wrap breaks a text into lines of a width; those after the first are indented.
// A word wider than a line is cut.
func wrap(text string, width, indent int) []string {
	text = visible(text)
	line := text[:len(text)-len(strings.TrimLeft(text, " "))]
	var lines []string
	empty := true
	for _, word := range words(text) {
		word = fit(word, width-indent)
		if !empty && columns(line)+1+columns(word) > width {
			lines, line, empty = append(lines, line), spaces(indent), true
		}
		if !empty {
			line += " "
		}
		line, empty = line+word, false
	}
	return append(lines, line)
}

// words are those of a text; "< 1 %" and "± 5" are one.
func words(text string) []string {
	var list []string
	glue := false
	for _, word := range strings.Fields(text) {
		if last := len(list) - 1; last >= 0 && (glue || strings.HasPrefix(word, "%")) {
			list[last] += " " + word
		} else {
			list = append(list, word)
		}
		glue = word == "<" || word == ">" || word == "±"
	}
	return list
}

// readNote says how an amount was read: "jug: 500 ml + 330 ml, 60 °C".
func (s *State) readNote(with, amount, temp Topic, p Place) string {
	e, ok := s.at(Place{amount, p.Round, p.Item})
	if !ok || e.Value.Unknown {
		return ""
	}
	d, ok := s.device(with, p)
	if !ok || d.Scale != (e.Value.Unit == DimG) {
		d = s.stand(e)
	}
	if e.Value.Number == 0 && len(e.Value.Parts) == 0 {
		return "none"
	}
	note := d.Name + ": " + s.readParts(e.Value)
	if t, _ := s.temperatureOf(e, temp, p); !d.Scale {
		note += ", " + s.Units().FormatTemperature(t)
	}
	return note
}

// readParts prints the terms of a reading as they were typed.
func (s *State) readParts(v Value) string {
	if len(v.Parts) == 0 {
		return s.show(v.Number, v.Unit)
	}
	text := s.show(v.Parts[0], v.Unit)
	for _, x := range v.Parts[1:] {
		sign := " + "
		if x < 0 {
			sign = " - "
		}
		text += sign + s.show(math.Abs(x), v.Unit)
	}
	return text
}
