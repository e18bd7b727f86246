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

	"garage/tundish/model/car"
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
		return writeHTML(w, p)
	}
	_, err := io.WriteString(w, asText(p))
	return err
}

// WriteCar prints the units of a car that are done in one go: what to buy and to have at
// hand, then the sheets of each.
func WriteCar(w io.Writer, html bool, s car.Session, now time.Time) error {
	list := part{Head: "BUY, AND HAVE AT HAND"}
	for _, l := range s.Buy(0).Lines() {
		list.Lines = append(list.Lines, line{Text: strings.TrimSpace(l)})
	}
	order := part{Head: "IN THIS ORDER, ONE OPEN AT A TIME, ENGINE OFF UNTIL ALL ARE CLOSED"}
	pages := []page{{Title: s.Vehicle() + " · " + s.ID + " · " + now.Format("2 Jan 2006"), Foot: "One tag for the car: tundish tag --car."}}
	for i, u := range s.Units {
		order.Lines = append(order.Lines, line{Text: fmt.Sprintf("%d. %s", i+1, strings.TrimSuffix(u.UnitName()+": "+u.Reason, ": "))})
		pages = append(pages, pageOf(u.Guide, now))
	}
	pages[0].Parts = []part{order, list}
	if html {
		return writeHTML(w, pages...)
	}
	var texts []string
	for _, p := range pages {
		texts = append(texts, asText(p))
	}
	_, err := io.WriteString(w, strings.Join(texts, "\n\f\n"))
	return err
}

func asText(p page) string {
	var b strings.Builder
	b.WriteString(" " + text.Visible(p.Title) + "\n")
	for _, part := range p.Parts {
		b.WriteString("\n " + part.Head + "\n")
		for _, l := range part.Lines {
			writeLine(&b, l)
		}
		for _, x := range part.Loads {
			b.WriteString("    came out " + x.text(p.guide) + "\n")
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

func writeHTML(w io.Writer, pages ...page) error {
	form, err := template.New("pages").Funcs(template.FuncMap{"show": text.Visible}).Parse(pageTemplate)
	if err != nil {
		return fmt.Errorf("page of the sheets: %w", err)
	}
	var b bytes.Buffer
	if err := form.Execute(&b, pages); err != nil {
		return fmt.Errorf("page of the sheets: %w", err)
	}
	_, err = w.Write(b.Bytes())
	return err
}
