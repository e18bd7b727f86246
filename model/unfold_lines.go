package model

// This file prints a sum as plain text, for the screen and the summary.

import (
	"strings"
	"unicode"
)

// sumColumns is how wide the lines of a sum are at most.
const sumColumns = 76

// Widths of the parts of a line, in columns.
const (
	labelColumns = 32
	noteIndent   = 4
)

// Lines prints a sum in the owner's units: the terms in columns, then what goes
// with them. No line is wider than 76 columns.
func Lines(s *State, sum Sum) []string {
	lines := []string{fit(sum.Title, sumColumns)}
	lines = append(lines, s.termLines(sum.Terms)...)
	if len(sum.Facts) > 0 {
		lines = append(lines, "")
	}
	for _, fact := range sum.Facts {
		lines = append(lines, wrap(fact, sumColumns, 0)...)
	}
	if len(sum.Doubt) > 0 {
		lines = append(lines, wrap("The doubt: "+doubtList(sum.Doubt)+".", sumColumns, 0)...)
	}
	if sum.Advice != "" {
		lines = append(lines, wrap(sum.Advice, sumColumns, 0)...)
	}
	return lines
}

func doubtList(doubt []DoubtShare) string {
	parts := make([]string, len(doubt))
	for i, d := range doubt {
		parts[i] = d.Name + " " + percent(d.Share)
	}
	return strings.Join(parts, ", ")
}

// columns3 are the widths of label, number and what follows the number.
type columns3 struct{ label, number, tail int }

func (s *State) termLines(terms []Term) []string {
	var w columns3
	for _, t := range terms {
		number, tail := s.split(t)
		w.label = max(w.label, min(columns(visible(t.Label)), labelColumns))
		w.number = max(w.number, columns(number))
		w.tail = max(w.tail, columns(tail))
	}
	var lines []string
	for i, t := range terms {
		if t.Sign == "" && i > 0 {
			lines = append(lines, "")
		}
		lines = append(lines, s.termLine(t, w)...)
	}
	return lines
}

func (s *State) termLine(t Term, w columns3) []string {
	number, tail := s.split(t)
	sign := t.Sign
	if sign == "" {
		sign = " "
	}
	label := fit(t.Label, labelColumns)
	line := sign + " " + label + spaces(w.label-columns(label)) + "  " + spaces(w.number-columns(number)) + number + " " + tail
	note := visible(t.Note)
	if note == "" {
		return []string{line}
	}
	line += spaces(w.tail - columns(tail))
	if columns(line)+2+columns(note) <= sumColumns {
		return []string{line + "  " + note}
	}
	return append([]string{strings.TrimRight(line, " ")}, wrap(spaces(noteIndent)+note, sumColumns, noteIndent)...)
}

// split parts a value into its number and what follows: "830" and "± 18 ml".
func (s *State) split(t Term) (number, tail string) {
	number, tail, _ = strings.Cut(s.FormatU(t.Value), " ")
	return number, tail
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
	for _, word := range strings.Fields(text) {
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
