// How a shape, a grid of pixels, becomes lines of cells at each height.

package digits

import "strings"

// shape is a grid of pixels, one string a row, '#' set. All rows of a shape
// are equally long; all shapes of one font are equally high.
type shape []string

// font says how the pixels of a set of shapes are drawn.
type font struct {
	height     int  // lines
	pixelCells int  // cells a pixel is wide
	gap        int  // cells between characters
	halved     bool // two pixel rows to a line, the first line holding one
	shape      func(rune) shape
}

// fontFor is the font of the largest size up to height; false where there is
// none or it lacks a character of s.
func fontFor(s string, height int) (font, bool) {
	var f font
	switch {
	case height >= 7:
		f = font{height: 7, pixelCells: 2, gap: 2, shape: shape7}
	case height >= 5:
		f = font{height: 5, pixelCells: 2, gap: 2, shape: shape5}
	case height >= 3:
		f = font{height: 3, pixelCells: 1, gap: 1, halved: true, shape: shape5}
	default:
		return font{}, false
	}
	if s == "" {
		return font{}, false
	}
	for _, r := range s {
		if f.shape(r) == nil {
			return font{}, false
		}
	}
	return f, true
}

// drawRow writes one line of a shape.
func (f font) drawRow(b *strings.Builder, sh shape, row int, ascii bool) {
	for col := range len(sh[0]) {
		var cell string
		if f.halved {
			// Five pixel rows hang from the bottom of three lines.
			upper := row > 0 && sh[2*row-1][col] == '#'
			lower := sh[2*row][col] == '#'
			cell = halfCell(upper, lower, ascii)
		} else {
			cell = halfCell(sh[row][col] == '#', sh[row][col] == '#', ascii)
		}
		b.WriteString(strings.Repeat(cell, f.pixelCells))
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
