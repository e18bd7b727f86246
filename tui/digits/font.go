// How a shape, a grid of pixels, becomes lines of cells at each size.

package digits

import (
	_ "embed"
	"strings"
	"sync"
)

// The shapes 5 pixels high, for heights 3, 5 and 10, and 7 high, for heights 7 and 14,
// as they look: rows of shapes, a line of names, each above the left edge of its shape,
// then the lines of pixels. The space is named "_". Nought is crossed where it is 7
// high: it stands beside words.
var (
	//go:embed shapes5.txt
	sheet5 string
	//go:embed shapes7.txt
	sheet7 string
)

// shape is a grid of pixels, one string a row, '#' set. All rows of a shape
// are equally long; all shapes of one font are equally high.
type shape []string

// font says how the pixels of a set of shapes are drawn.
type font struct {
	height     int // lines
	pixelCells int // cells a pixel is wide
	pixelLines int // lines a pixel is high; 0 half a line, the first line holding one
	gap        int // cells between characters
	pixelRows  int // 5 or 7, of the shapes
}

// sizes are the fonts, that which is read from furthest away first: strokes two
// cells wide are before taller ones of one cell, which are for long words.
var sizes = []font{
	{14, 4, 2, 4, 7}, {10, 4, 2, 4, 5},
	{7, 2, 1, 2, 7}, {5, 2, 1, 2, 5},
	{7, 1, 1, 2, 7}, {5, 1, 1, 1, 5},
	{3, 1, 0, 1, 5},
}

// has reports whether there is a shape for all of s.
func (f font) has(s string) bool {
	for _, r := range s {
		if known(f.pixelRows, r) == nil {
			return false
		}
	}
	return s != ""
}

// width is the number of cells that s is wide.
func (f font) width(s string) int {
	width := -f.gap
	for _, r := range s {
		width += f.gap + f.pixelCells*len(known(f.pixelRows, r)[0])
	}
	return width
}

// render draws s.
func (f font) render(s string, ascii bool) string {
	lines := make([]string, f.height)
	for row := range lines {
		var b strings.Builder
		for i, r := range []rune(s) {
			if i > 0 {
				b.WriteString(strings.Repeat(" ", f.gap))
			}
			f.drawRow(&b, known(f.pixelRows, r), row, ascii)
		}
		lines[row] = b.String()
	}
	return strings.Join(lines, "\n")
}

// drawRow writes one line of a shape.
func (f font) drawRow(b *strings.Builder, sh shape, row int, ascii bool) {
	for col := range len(sh[0]) {
		var upper, lower bool
		if f.pixelLines == 0 { // five pixel rows hang from the bottom of three lines
			upper, lower = row > 0 && sh[2*row-1][col] == '#', sh[2*row][col] == '#'
		} else {
			upper = sh[row/f.pixelLines][col] == '#'
			lower = upper
		}
		b.WriteString(strings.Repeat(halfCell(upper, lower, ascii), f.pixelCells))
	}
}

// halfCell is one cell whose upper and lower half may be set.
func halfCell(upper, lower, ascii bool) string {
	switch {
	case upper && lower && ascii:
		return "#"
	case upper && lower:
		return "█"
	case upper && ascii:
		return "'"
	case upper:
		return "▀"
	case lower && ascii:
		return "_"
	case lower:
		return "▄"
	}
	return " "
}

// shapes are those that were asked for so far, by how many pixels high they are and by
// character: each row of each frame asks for all of its own.
var shapes sync.Map

// known is the shape of a character, so many pixels high; nil where there is none.
func known(rows int, r rune) shape {
	sheet := sheet5
	if rows == 7 {
		sheet = sheet7
	}
	type pixels struct {
		rows int
		r    rune
	}
	of := pixels{rows, r}
	sh, ok := shapes.Load(of)
	if !ok {
		sh, _ = shapes.LoadOrStore(of, cut(sheet, rows, r))
	}
	return sh.(shape)
}

// cut takes the shape of r out of a sheet whose shapes are rows pixels high;
// nil where the sheet has none.
func cut(sheet string, rows int, r rune) shape {
	name := alias(r)
	lines := strings.Split(strings.Trim(sheet, "\n"), "\n")
	for top := 0; top+rows < len(lines); top += rows + 2 {
		left := -1
		for i, n := range []rune(lines[top]) {
			if n == name {
				left = i
			}
		}
		if left < 0 {
			continue
		}
		sh := make(shape, rows)
		for i := range sh {
			sh[i], _, _ = strings.Cut(lines[top+1+i][left:], " ")
		}
		return sh
	}
	return nil
}

// alias is the name under which a sheet holds r; 0 where it never does.
func alias(r rune) rune {
	switch r {
	case ' ', '\u00a0', '\u202f':
		return '_'
	case '_':
		return 0
	case '−', '–':
		return '-'
	}
	return r
}
