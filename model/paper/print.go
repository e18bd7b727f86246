package paper

// This file prints a page as text of 80 columns, and as HTML.

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/text"
)

const columns = 80

//go:embed page.html.tmpl
var pageTemplate string

// Write prints the sheets of a job as text, or as an HTML page.
func Write(w io.Writer, html bool, g *guide.Guide, now time.Time) error {
	p := pageOf(g, now)
	if html {
		return writeHTML(w, p, g)
	}
	_, err := io.WriteString(w, asText(p, g))
	return err
}

func asText(p page, g *guide.Guide) string {
	var b strings.Builder
	b.WriteString(" " + text.Visible(p.Title) + "\n")
	for _, part := range p.Parts {
		b.WriteString("\n " + part.Head + "\n")
		for _, l := range part.Lines {
			writeLine(&b, l)
		}
		for _, x := range part.Loads {
			b.WriteString("    came out " + x.text(g) + "\n")
		}
		if part.Stop != "" {
			rule := " +" + strings.Repeat("-", 46) + "+\n"
			b.WriteString(rule + fmt.Sprintf(" | %-44s |\n", part.Stop+" ............ ") + rule)
		}
		for _, n := range part.Notes {
			for _, l := range text.Wrap(n, columns-5) {
				b.WriteString("    " + l + "\n")
			}
		}
	}
	b.WriteString("\n")
	for _, l := range text.Wrap(p.Foot, columns-2) {
		b.WriteString(" " + l + "\n")
	}
	return b.String()
}

// writeLine writes a line: with its box at the right edge, or with room to write in.
func writeLine(b *strings.Builder, l line) {
	room := columns - 9
	lines := text.Wrap(text.Visible(l.Text), room)
	for i, s := range lines {
		key := " "
		if i == 0 && l.Key != "" {
			key = l.Key
		}
		switch last := i == len(lines)-1; {
		case last && l.Key != "":
			s = text.PadRight(s, room) + " [ ]"
		case last && l.Gap != "":
			s += " ............ " + l.Gap
		}
		b.WriteString(" " + key + "  " + s + "\n")
	}
}

func writeHTML(w io.Writer, p page, g *guide.Guide) error {
	funcs := template.FuncMap{"show": text.Visible, "load": func(x load) string { return x.text(g) }}
	page, err := template.New("page").Funcs(funcs).Parse(pageTemplate)
	if err != nil {
		return fmt.Errorf("page of the sheets: %w", err)
	}
	var b bytes.Buffer
	if err := page.Execute(&b, p); err != nil {
		return fmt.Errorf("page of the sheets: %w", err)
	}
	_, err = w.Write(b.Bytes())
	return err
}
