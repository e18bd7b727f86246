// Package sums lays a sum out: its terms in columns, then what goes with them.
package sums

import (
	"slices"
	"strings"

	"garage/tundish/model/guide"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
)

// Columns is how wide the lines of a sum need be at most.
const Columns = 76

// Of are the sums of a job that say something.
func Of(s *guide.Guide) []verdict.Breakdown {
	list := []verdict.Breakdown{s.DrainedBreakdown(), s.TargetBreakdown()}
	for r := range s.Rounds() {
		list = append(list, s.PreloadBreakdown(r))
	}
	r, judged := s.JudgedRound()
	list = append(list, s.NetBreakdown(r))
	if v, err := s.VerdictBreakdown(r); err == nil && judged {
		list = append(list, v)
	}
	return slices.DeleteFunc(list, func(sum verdict.Breakdown) bool { return len(sum.Terms) == 0 && sum.Advice == "" })
}

// All are the sums of a job without a screen, a line each, in lines of at most Columns.
func All(s *guide.Guide) []string {
	lines := []string{Note(s)}
	for _, sum := range Of(s) {
		lines = append(lines, Lines(s, sum, Columns)...)
	}
	return lines
}

// Note says what ± means, and at what temperature volumes are.
func Note(s *guide.Guide) string {
	return "± holds 19 times in 20. Volumes are at " + s.Units().FormatTemperature(20) + "."
}

// Widths of the parts of a line, in columns.
const (
	labelColumns = 32
	noteIndent   = 4
)

// Lines prints a sum in the owner's units: the terms in columns, then what goes
// with them, in lines of a width in columns. The terms need some 58.
func Lines(s *guide.Guide, sum verdict.Breakdown, width int) []string {
	lines := []string{oneLine(sum.Title, width)}
	lines = append(lines, termLines(s, sum.Terms, width)...)
	if len(sum.Facts) > 0 {
		lines = append(lines, "")
	}
	for _, fact := range sum.Facts {
		lines = append(lines, text.Wrap(text.Visible(fact), width)...)
	}
	if len(sum.Doubt) > 0 {
		lines = append(lines, text.Wrap(text.Visible("Most of the doubt: "+sum.DoubtText()+"."), width)...)
	}
	if sum.Advice != "" {
		lines = append(lines, text.Wrap(text.Visible(sum.Advice), width)...)
	}
	return lines
}

// widths are those of the columns of the terms: label and the most that it may
// have, number before and after the decimal point, and what follows it.
type widths struct{ label, mostLabel, whole, decimals, tail int }

func termLines(s *guide.Guide, terms []verdict.Term, width int) []string {
	var w widths
	for _, t := range terms {
		whole, decimals, tail := split(s, t)
		w.whole = max(w.whole, text.Width(whole))
		w.decimals = max(w.decimals, text.Width(decimals))
		w.tail = max(w.tail, text.Width(tail))
	}
	w.mostLabel = min(labelColumns, width-len("+   ")-w.whole-w.decimals-len(" ")-w.tail)
	for _, t := range terms {
		w.label = max(w.label, text.Width(oneLine(t.Label, w.mostLabel)))
	}
	var lines []string
	for i, t := range terms {
		if t.Sign == "" && i > 0 {
			lines = append(lines, "")
		}
		lines = append(lines, termLine(s, t, w, width)...)
	}
	return lines
}

func termLine(s *guide.Guide, t verdict.Term, w widths, width int) []string {
	whole, decimals, tail := split(s, t)
	sign := t.Sign
	if sign == "" {
		sign = " "
	}
	line := sign + " " + text.PadRight(oneLine(t.Label, w.mostLabel), w.label) + "  " +
		strings.Repeat(" ", w.whole-text.Width(whole)) + whole + text.PadRight(decimals, w.decimals) + " " + tail
	note := text.Visible(t.Note)
	if note == "" {
		return []string{line}
	}
	if wide := line + strings.Repeat(" ", w.tail-text.Width(tail)) + "  " + note; text.Width(wide) <= width {
		return []string{wide}
	}
	lines := []string{line}
	for _, l := range text.Wrap(note, width-noteIndent) {
		lines = append(lines, strings.Repeat(" ", noteIndent)+l)
	}
	return lines
}

// oneLine is a text on one line of a width.
func oneLine(label string, width int) string { return text.Cut(text.Visible(label), width, "…") }

// split parts a value into "25", ".0" and "± 2.5 ml".
func split(s *guide.Guide, t verdict.Term) (whole, decimals, tail string) {
	number, tail, _ := strings.Cut(s.FormatU(t.Value), " ")
	if verdict.Negligible(t.Value) {
		return "0", "", tail
	}
	if point := strings.Index(number, "."); point >= 0 {
		return number[:point], number[point:], tail
	}
	return number, "", tail
}
