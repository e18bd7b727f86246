package verdict

// This file prints a sum as plain text, for the screen and the summary, and says
// how a reading in it was taken.

import (
	"math"
	"strings"

	"garage/tundish/model/job"
	"garage/tundish/model/text"
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
func Lines(s *Assessment, sum Sum, width int) []string {
	lines := []string{oneLine(sum.Title, width)}
	lines = append(lines, s.termLines(sum.Terms, width)...)
	if len(sum.Facts) > 0 {
		lines = append(lines, "")
	}
	for _, fact := range sum.Facts {
		lines = append(lines, text.Wrap(text.Visible(fact), width)...)
	}
	if len(sum.Doubt) > 0 {
		lines = append(lines, text.Wrap(text.Visible("The doubt: "+doubtList(sum.Doubt)+"."), width)...)
	}
	if sum.Advice != "" {
		lines = append(lines, text.Wrap(text.Visible(sum.Advice), width)...)
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

// widths are those of the columns of the terms: label and the most that it may
// have, number before and after the decimal point, and what follows it.
type widths struct{ label, mostLabel, whole, decimals, tail int }

func (s *Assessment) termLines(terms []Term, width int) []string {
	var w widths
	for _, t := range terms {
		whole, decimals, tail := s.split(t)
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
		lines = append(lines, s.termLine(t, w, width)...)
	}
	return lines
}

func (s *Assessment) termLine(t Term, w widths, width int) []string {
	whole, decimals, tail := s.split(t)
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
func (s *Assessment) split(t Term) (whole, decimals, tail string) {
	number, tail, _ := strings.Cut(s.FormatU(t.Value), " ")
	if Negligible(t.Value) {
		return "0", "", tail
	}
	if point := strings.Index(number, "."); point >= 0 {
		return number[:point], number[point:], tail
	}
	return number, "", tail
}

// readNote says how an amount was read: "jug: 500 ml + 330 ml, 60 °C".
func (s *Assessment) readNote(with, amount, temp job.Topic, p job.Place) string {
	e, ok := s.Answer(job.At(amount, p.Round, p.Item))
	if !ok || e.Value.Unknown {
		return ""
	}
	d, ok := s.Device(with, p)
	if !ok || d.Scale != (e.Value.Unit == job.DimG) {
		d = s.StandIn(e)
	}
	if e.Value.Number == 0 && len(e.Value.Parts) == 0 {
		return "none"
	}
	note := d.Name + ": " + s.readParts(e.Value)
	if t, _ := s.TemperatureOf(e, temp, p); !d.Scale {
		note += ", " + s.Units().FormatTemperature(t)
	}
	return note
}

// readParts prints the terms of a reading as they were typed.
func (s *Assessment) readParts(v job.Value) string {
	if len(v.Parts) == 0 {
		return s.Show(v.Number, v.Unit)
	}
	text := s.Show(v.Parts[0], v.Unit)
	for _, x := range v.Parts[1:] {
		sign := " + "
		if x < 0 {
			sign = " - "
		}
		text += sign + s.Show(math.Abs(x), v.Unit)
	}
	return text
}
