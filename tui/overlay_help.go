package tui

// This file is the help: what this line is, and the keys.

import (
	"strings"

	"garage/tundish/model/sheet"
	"garage/tundish/model/text"
	"garage/tundish/tui/input"
)

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
	lines = append(lines, columns(input.KeyHelp, 16, sc.width)...)
	lines = append(lines, "", " "+t.Strong.Render("Amounts"))
	return append(lines, columns(input.AmountHelp, 24, sc.width)...)
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
