package theme

// This file is one line of cells: what is painted on it, and how it becomes a
// styled text.

import (
	"strings"

	"github.com/charmbracelet/lipgloss"
)

// Ink is the style that a cell is drawn in, a place in a theme; nil for a
// blank.
type Ink = *lipgloss.Style

// Styled is s in the style of an ink; blanks alone, and those at its end, are
// left bare, so that a line loses the same blanks in every theme.
func Styled(s string, i Ink) string {
	inked := strings.TrimRight(s, " ")
	if i == nil || strings.TrimSpace(inked) == "" {
		return s
	}
	return i.Render(inked) + s[len(inked):]
}

type cell struct {
	glyph string
	ink   Ink
}

// Row is a line of cells.
type Row []cell

// NewRow is a row of blanks.
func NewRow(cells int) Row {
	r := make(Row, cells)
	for i := range r {
		r[i].glyph = " "
	}
	return r
}

// Put paints one cell; a cell off the row is left out.
func (r Row) Put(i int, glyph string, k Ink) {
	if i >= 0 && i < len(r) {
		r[i] = cell{glyph, k}
	}
}

// Fill paints cells from first up to, not including, end.
func (r Row) Fill(first, end int, glyph string, k Ink) {
	for i := max(first, 0); i < min(end, len(r)); i++ {
		r[i] = cell{glyph, k}
	}
}

// Write paints a text of single-cell characters from cell first on.
func (r Row) Write(first int, s string, k Ink) {
	for i, c := range []rune(s) {
		r.Put(first+i, string(c), k)
	}
}

// String joins the cells, neighbours of one ink in one styled run.
func (r Row) String() string {
	var b strings.Builder
	for i := 0; i < len(r); {
		j := i
		var run strings.Builder
		for ; j < len(r) && r[j].ink == r[i].ink; j++ {
			run.WriteString(r[j].glyph)
		}
		b.WriteString(Styled(run.String(), r[i].ink))
		i = j
	}
	return b.String()
}
