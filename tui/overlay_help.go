package tui

// This file is the help: what this line is, and the keys.

import (
	"strings"

	"garage/tundish/model/sheet"
	"garage/tundish/model/text"
)

// keyHelp is what the keys do, on a number pad and on a keyboard.
var keyHelp = [][2]string{
	{"a digit", "ticks the line marked, or chooses on it, at once; 0 not looked"},
	{"Enter", "takes a figure; sheet complete; never a caution"},
	{".", "figure seen from far; in a field the point; alone: not known"},
	{"-  and a digit", "that line is NOT so; in a field a range or minutes ago"},
	{"+", "worth knowing; on the verdict how it was worked out; a sum"},
	{"*  in a field", "clears; in the hose 6*1.5 is bore times length"},
	{"*", "menu: undo, correct, record, other job, leave"},
	{"/  or Esc", "back one line, before the first one sheet; 1 1/2 in a field"},
	{"Tab, arrows", "the line below or above: what is on offer can be changed"},
	{"PgUp, PgDn", "look at the sheet before or after"},
	{"F1  or ?", "this help"},
	{"F2", "how every number was worked out"},
	{"F3", "write the record to a file"},
	{"the mouse", "a click on a line or an option is its digit; no caution"},
	{"Ctrl+C", "leave; everything accepted is kept"},
}

// amountHelp is how amounts are typed.
var amountHelp = [][2]string{
	{"830  0.83 L  28.1 floz", "a volume, in your unit or another"},
	{"500+330", "two goes with one jug: two readings"},
	{"830@60", "read at 60 degrees"},
	{"1235-330 g", "on the scale: gross less tare"},
	{"1 1/2 qt", "fractions"},
}

// lineHelp is what there is to say of a line.
func lineHelp(sc scene, l sheet.Line) []string {
	t := sc.theme
	lines := []string{" " + t.Strong.Render(text.Cut(text.Visible(l.Ask), sc.width-2, "…"))}
	for _, words := range []string{l.Why, l.Hint} {
		lines = append(lines, sc.paragraph(t.Text, 2, words)...)
	}
	if l.Unknown {
		if words := l.Prompt().UnknownText(sc.state); words != "" {
			lines = append(lines, sc.paragraph(t.Dim, 2, "not known means: "+words)...)
		}
	}
	for _, o := range l.Options {
		lines = append(lines, sc.paragraph(t.Text, 2, strings.TrimSuffix(string(o.Key)+" "+o.Label+": "+o.Hint, ": "))...)
	}
	return append(lines, "")
}

func helpLines(sc scene) []string {
	t := sc.theme
	var lines []string
	if l, ok := sc.job.line(); ok {
		lines = lineHelp(sc, l)
	}
	lines = append(lines, " "+t.Strong.Render("Keys"))
	lines = append(lines, columns(keyHelp, 16, sc.width)...)
	lines = append(lines, "", " "+t.Strong.Render("Amounts"))
	return append(lines, columns(amountHelp, 24, sc.width)...)
}

// columns lays out pairs in two columns, the first of a given width, in lines of at
// most width.
func columns(pairs [][2]string, first, width int) []string {
	var lines []string
	for _, p := range pairs {
		for i, l := range text.Wrap(p[1], width-first-3) {
			head := ""
			if i == 0 {
				head = p[0]
			}
			lines = append(lines, " "+text.PadRight(head, first)+" "+l)
		}
	}
	return lines
}
