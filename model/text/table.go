package text

// This file lays out tables.

import (
	"bytes"
	"slices"
	"strings"
)

// Table prints rows indented by two, in columns as wide as their texts, with two
// between them; until all fit into a width, the widest column is broken, those of
// whole last. Control characters are made visible.
func Table(b *bytes.Buffer, rows [][]string, whole []int, width int) {
	shown := make([][]string, len(rows))
	for i, cells := range rows {
		shown[i] = make([]string, len(cells))
		for k, cell := range cells {
			shown[i][k] = Visible(cell)
		}
	}
	widths := columnWidths(shown, whole, width-2)
	for _, cells := range shown {
		tableRow(b, cells, widths)
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
			widths[i] = max(widths[i], Width(cells[i]))
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

func tableRow(b *bytes.Buffer, cells []string, widths []int) {
	broken := make([][]string, len(cells))
	height := 1
	for i, c := range cells {
		broken[i] = Wrap(c, widths[i])
		height = max(height, len(broken[i]))
	}
	for l := range height {
		var line strings.Builder
		for i := range cells {
			cell := ""
			if l < len(broken[i]) {
				cell = broken[i][l]
			}
			line.WriteString(PadRight(cell, widths[i]+2))
		}
		b.WriteString(strings.TrimRight("  "+line.String(), " ") + "\n")
	}
}
