package report

// This file prints a record as plain text, at most 80 columns where words can
// be broken, control characters made visible.

import (
	"bytes"
	"io"
	"slices"
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

// textTable prints rows in columns as wide as their texts; the widest column
// is broken to fit.
func textTable(b *bytes.Buffer, bl block) {
	rows := make([][]string, 0, len(bl.rows)+1)
	if bl.head != nil {
		rows = append(rows, bl.head)
	}
	for _, r := range bl.rows {
		cells := make([]string, len(r.cells))
		for i, c := range r.cells {
			cells[i] = text.Visible(c)
		}
		rows = append(rows, cells)
	}
	widths := columnWidths(rows, bl.tight, textColumns-2)
	for _, cells := range rows {
		textRow(b, cells, widths)
	}
}

// Columns are narrowed to least; one whose texts are to stay whole, but are
// wider than mostWhole, is narrowed like any other.
const (
	least     = 9
	mostWhole = 26
)

// columnWidths narrows the widest column until all fit, those whose texts are
// to stay whole last.
func columnWidths(rows [][]string, whole []int, room int) []int {
	widths := make([]int, len(rows[0]))
	total := 2 * (len(widths) - 1)
	for i := range widths {
		for _, cells := range rows {
			widths[i] = max(widths[i], text.Width(cells[i]))
		}
		total += widths[i]
	}
	narrow := func(may func(i int) bool) {
		for total > room {
			widest := -1
			for i, w := range widths {
				if w > least && may(i) && (widest < 0 || w > widths[widest]) {
					widest = i
				}
			}
			if widest < 0 {
				return
			}
			widths[widest]--
			total--
		}
	}
	narrow(func(i int) bool { return !slices.Contains(whole, i) || widths[i] > mostWhole })
	narrow(func(int) bool { return true })
	return widths
}

func textRow(b *bytes.Buffer, cells []string, widths []int) {
	broken := make([][]string, len(cells))
	height := 1
	for i, c := range cells {
		broken[i] = text.Wrap(c, widths[i])
		height = max(height, len(broken[i]))
	}
	for l := range height {
		var line strings.Builder
		for i := range cells {
			cell := ""
			if l < len(broken[i]) {
				cell = broken[i][l]
			}
			line.WriteString(text.PadRight(cell, widths[i]+2))
		}
		b.WriteString(strings.TrimRight("  "+line.String(), " ") + "\n")
	}
}
