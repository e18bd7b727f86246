// This file holds the screen cell by cell, for checks of colour and for
// pictures.

//go:build unix

package screen

import (
	"image/color"
	"strings"

	uv "github.com/charmbracelet/ultraviolet"
)

// Cell is one place on the screen and how it is drawn.
type Cell struct {
	Text string // one character with its marks; empty for the right half of a wide one
	Cols int    // columns it takes: 1, 2, or 0 for the right half of a wide one
	Style
}

// Style is how a cell is drawn. A nil colour is the terminal's own. Colours
// are ansi.BasicColor (0 to 15), ansi.IndexedColor or an RGB type, as the
// program asked for them.
type Style struct {
	Fg, Bg                                          color.Color
	Bold, Faint, Italic, Underline, Reverse, Strike bool
}

// Cells returns the rows of the screen, each with one Cell a column.
func (s *Session) Cells() [][]Cell {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.display.cells()
}

// StyleOf returns the style of the first character of text where it first is
// on the screen, in one row. It fails the test if it is not there.
func (s *Session) StyleOf(text string) Style {
	s.t.Helper()
	for _, row := range s.Cells() {
		if x := column(row, text); x >= 0 {
			return row[x].Style
		}
	}
	s.t.Fatalf("no %q in any one row\n%s", text, s.portrait())
	return Style{}
}

// column returns where in a row text begins, or -1.
func column(row []Cell, text string) int {
	var b strings.Builder
	starts := map[int]int{} // byte offset in the row's text -> column
	for x, c := range row {
		if c.Cols > 0 {
			starts[b.Len()] = x
			b.WriteString(c.Text)
		}
	}
	if x, ok := starts[strings.Index(b.String(), text)]; ok {
		return x
	}
	return -1
}

func (d *display) cells() [][]Cell {
	rows := make([][]Cell, d.emu.Height())
	for y := range rows {
		rows[y] = make([]Cell, d.emu.Width())
		for x := range rows[y] {
			rows[y][x] = cellOf(d.emu.CellAt(x, y))
		}
	}
	return rows
}

func cellOf(c *uv.Cell) Cell {
	if c == nil {
		return Cell{Text: " ", Cols: 1}
	}
	has := func(attr uint8) bool { return c.Style.Attrs&attr != 0 }
	cell := Cell{
		Text: c.Content, Cols: c.Width,
		Style: Style{
			Fg: c.Style.Fg, Bg: c.Style.Bg,
			Bold: has(uv.AttrBold), Faint: has(uv.AttrFaint), Italic: has(uv.AttrItalic),
			Reverse: has(uv.AttrReverse), Strike: has(uv.AttrStrikethrough),
			Underline: c.Style.Underline != uv.UnderlineNone,
		},
	}
	if has(uv.AttrConceal) {
		cell.Text = strings.Repeat(" ", c.Width)
	}
	return cell
}
