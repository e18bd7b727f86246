// One line of cells: what is painted on it, in which order, and how it
// becomes a styled string. What the lines mean is in view.go.

package gauge

import (
	"strings"

	"github.com/charmbracelet/lipgloss"

	"garage/tundish/model/text"
)

// ink is the style that a cell is drawn in, by its place in the theme; nil for a
// blank.
type ink = *lipgloss.Style

// styled is s in the style of an ink; blanks alone, and those at its end, are
// left bare, so that a line loses the same blanks in every theme.
func styled(s string, i ink) string {
	inked := strings.TrimRight(s, " ")
	if i == nil || strings.TrimSpace(inked) == "" {
		return s
	}
	return i.Render(inked) + s[len(inked):]
}

type cell struct {
	glyph string
	ink   ink
}

// row is the cells of one line of the bar column.
type row []cell

func newRow(cells int) row {
	r := make(row, cells)
	for i := range r {
		r[i].glyph = " "
	}
	return r
}

// put paints one cell; a cell off the row is left out.
func (r row) put(i int, glyph string, k ink) {
	if i >= 0 && i < len(r) {
		r[i] = cell{glyph, k}
	}
}

// fill paints cells from first up to, not including, end.
func (r row) fill(first, end int, glyph string, k ink) {
	for i := max(first, 0); i < min(end, len(r)); i++ {
		r[i] = cell{glyph, k}
	}
}

// write paints a text of single-cell characters from cell first on.
func (r row) write(first int, s string, k ink) {
	for i, c := range []rune(s) {
		r.put(first+i, string(c), k)
	}
}

// oneCellEach says whether every character of s is one cell wide, as write
// needs.
func oneCellEach(s string) bool {
	for _, r := range s {
		if text.Width(string(r)) != 1 {
			return false
		}
	}
	return true
}

// render joins the cells, neighbours of one ink in one styled run.
func (r row) render() string {
	var b strings.Builder
	for i := 0; i < len(r); {
		j := i
		var run strings.Builder
		for ; j < len(r) && r[j].ink == r[i].ink; j++ {
			run.WriteString(r[j].glyph)
		}
		b.WriteString(styled(run.String(), r[i].ink))
		i = j
	}
	return b.String()
}
