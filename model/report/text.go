package report

// This file prints a record as plain text, at most 80 columns where words can
// be broken, control characters made visible.

import (
	"bytes"
	"io"
	"strings"

	"garage/tundish/model/text"
)

const textColumns = 80

func writeText(w io.Writer, r record) error {
	var b bytes.Buffer
	line := func(indent, s string) {
		for _, l := range text.Wrap(text.Visible(s), textColumns-len(indent)) {
			b.WriteString(indent + l + "\n")
		}
	}
	line("", r.Title)
	b.WriteString(strings.Repeat("=", textColumns) + "\n")
	state, lines := r.leadLines()
	line("", state)
	for _, l := range lines {
		line("", l)
	}
	for _, bl := range r.blocks() {
		b.WriteString("\n")
		line("", strings.ToUpper(bl.title))
		if !bl.list {
			textTable(&b, bl)
			for _, l := range bl.after {
				line("  ", l)
			}
			continue
		}
		for _, row := range bl.rows {
			item := text.Wrap(text.Visible(row.cells[0]), textColumns-4)
			b.WriteString("  - " + strings.Join(item, "\n    ") + "\n")
		}
	}
	b.WriteString("\n")
	line("", r.foot())
	_, err := w.Write(b.Bytes())
	return err
}

func textTable(b *bytes.Buffer, bl block) {
	var rows [][]string
	if bl.head != nil {
		rows = append(rows, bl.head)
	}
	for _, r := range bl.rows {
		rows = append(rows, r.cells)
	}
	text.Table(b, rows, bl.tight, textColumns)
}
