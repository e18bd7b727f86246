// This file holds the characters that a picture draws as shapes instead of
// letters: block elements (U+2580 to U+259F), the common box drawing lines
// (U+2500 to U+257F) and braille dots (U+2800 to U+28FF), after the code charts
// of the Unicode Standard.

//go:build unix

package screen

import (
	"fmt"
	"unicode/utf8"
)

// weight of a line from the middle of a cell to one of its sides.
type weight uint8

const (
	none weight = iota
	light
	heavy
	double
)

// arms is what a box drawing character draws towards each side.
type arms struct{ up, right, down, left weight }

// boxes is a table; nothing changes it.
var boxes = map[rune]arms{
	'─': {0, 1, 0, 1}, '│': {1, 0, 1, 0}, '┌': {0, 1, 1, 0}, '┐': {0, 0, 1, 1}, '└': {1, 1, 0, 0}, '┘': {1, 0, 0, 1},
	'├': {1, 1, 1, 0}, '┤': {1, 0, 1, 1}, '┬': {0, 1, 1, 1}, '┴': {1, 1, 0, 1}, '┼': {1, 1, 1, 1},
	'━': {0, 2, 0, 2}, '┃': {2, 0, 2, 0}, '┏': {0, 2, 2, 0}, '┓': {0, 0, 2, 2}, '┗': {2, 2, 0, 0}, '┛': {2, 0, 0, 2},
	'┣': {2, 2, 2, 0}, '┫': {2, 0, 2, 2}, '┳': {0, 2, 2, 2}, '┻': {2, 2, 0, 2}, '╋': {2, 2, 2, 2},
	'═': {0, 3, 0, 3}, '║': {3, 0, 3, 0}, '╔': {0, 3, 3, 0}, '╗': {0, 0, 3, 3}, '╚': {3, 3, 0, 0}, '╝': {3, 0, 0, 3},
	'╠': {3, 3, 3, 0}, '╣': {3, 0, 3, 3}, '╦': {0, 3, 3, 3}, '╩': {3, 3, 0, 3}, '╬': {3, 3, 3, 3},
	'╴': {0, 0, 0, 1}, '╵': {1, 0, 0, 0}, '╶': {0, 1, 0, 0}, '╷': {0, 0, 1, 0},
	'╸': {0, 0, 0, 2}, '╹': {2, 0, 0, 0}, '╺': {0, 2, 0, 0}, '╻': {0, 0, 2, 0},
}

// rounded is the paths of the round corners, in pixels of a cell.
var rounded = map[rune]string{
	'╭': "M9 9.5 H8.5 A4 4 0 0 0 4.5 13.5 V19",
	'╮': "M0 9.5 H0.5 A4 4 0 0 1 4.5 13.5 V19",
	'╯': "M0 9.5 H0.5 A4 4 0 0 0 4.5 5.5 V0",
	'╰': "M9 9.5 H8.5 A4 4 0 0 1 4.5 5.5 V0",
}

// quadrants of U+2596 to U+259F: bit 0 upper left, 1 upper right, 2 lower
// left, 3 lower right.
var quadrants = [10]uint8{4, 8, 1, 13, 9, 7, 11, 2, 6, 14}

func isShape(text string) bool {
	r, n := utf8.DecodeRuneInString(text)
	if n != len(text) {
		return false
	}
	_, box := boxes[r]
	_, round := rounded[r]
	return box || round || r >= '▀' && r <= '▟' || r > 0x2800 && r <= 0x28ff
}

// shape draws a character as a shape, if it is one.
func (v *svg) shape(text string, x, y int, ink, paper string) bool {
	if !isShape(text) {
		return false
	}
	r, _ := utf8.DecodeRuneInString(text)
	switch {
	case r >= 0x2800:
		v.braille(uint8(r-0x2800), x, y, ink)
	case r >= '▀':
		v.block(r, x, y, ink)
	case rounded[r] != "":
		fmt.Fprintf(v, `<path transform="translate(%d %d)" d="%s" fill="none" stroke="%s"/>`+"\n", x, y, rounded[r], ink)
	default:
		v.box(boxes[r], x, y, ink, paper)
	}
	return true
}

// block draws a block element.
func (v *svg) block(r rune, x, y int, ink string) {
	eighth := func(n rune) int { return (int(n)*cellHeight + 4) / 8 }
	across := func(n rune) int { return (int(n)*cellWidth + 4) / 8 }
	switch {
	case r == '▀':
		v.rect(x, y, cellWidth, eighth(4), ink)
	case r == '▔':
		v.rect(x, y, cellWidth, eighth(1), ink)
	case r <= '█': // lower eighths
		h := eighth(r - '▀')
		v.rect(x, y+cellHeight-h, cellWidth, h, ink)
	case r <= '▏': // left eighths, from seven to one
		v.rect(x, y, across('▏'-r+1), cellHeight, ink)
	case r == '▐':
		v.rect(x+across(4), y, cellWidth-across(4), cellHeight, ink)
	case r == '▕':
		v.rect(x+cellWidth-across(1), y, across(1), cellHeight, ink)
	case r <= '▓':
		fmt.Fprintf(v, `<rect x="%d" y="%d" width="%d" height="%d" fill="%s" fill-opacity="%.2f"/>`+"\n",
			x, y, cellWidth, cellHeight, ink, float64(r-'░'+1)/4)
	default:
		v.quadrant(quadrants[r-'▖'], x, y, across(4), eighth(4), ink)
	}
}

func (v *svg) quadrant(bits uint8, x, y, midX, midY int, ink string) {
	if bits&1 != 0 {
		v.rect(x, y, midX, midY, ink)
	}
	if bits&2 != 0 {
		v.rect(x+midX, y, cellWidth-midX, midY, ink)
	}
	if bits&4 != 0 {
		v.rect(x, y+midY, midX, cellHeight-midY, ink)
	}
	if bits&8 != 0 {
		v.rect(x+midX, y+midY, cellWidth-midX, cellHeight-midY, ink)
	}
}

// box draws lines from the middle. A double line is a thick one with a thin
// one of the background on top, which makes its corners come out right.
func (v *svg) box(a arms, x, y int, ink, paper string) {
	v.lines(a, x, y, ink, func(w weight) int {
		if w > light {
			return 1
		}
		return 0
	})
	if a.up == double || a.right == double || a.down == double || a.left == double {
		v.lines(a, x, y, paper, func(weight) int { return 0 })
	}
}

// lines draws each arm with the half-width (pixels beside the middle one) given.
func (v *svg) lines(a arms, x, y int, fill string, half func(weight) int) {
	const midX, midY = cellWidth / 2, cellHeight / 2
	if h := half(max(a.left, a.right)); a.left != none || a.right != none {
		from, to := x+midX-half(max(a.up, a.down)), x+midX+half(max(a.up, a.down))+1
		if a.left != none {
			from = x
		}
		if a.right != none {
			to = x + cellWidth
		}
		v.rect(from, y+midY-h, to-from, 2*h+1, fill)
	}
	if h := half(max(a.up, a.down)); a.up != none || a.down != none {
		from, to := y+midY-half(max(a.left, a.right)), y+midY+half(max(a.left, a.right))+1
		if a.up != none {
			from = y
		}
		if a.down != none {
			to = y + cellHeight
		}
		v.rect(x+midX-h, from, 2*h+1, to-from, fill)
	}
}

// braille draws dots; the bits are those of the code point: 1 2 3 7 on the
// left, 4 5 6 8 on the right, from the top.
func (v *svg) braille(bits uint8, x, y int, ink string) {
	places := [8][2]int{{0, 0}, {0, 1}, {0, 2}, {1, 0}, {1, 1}, {1, 2}, {0, 3}, {1, 3}}
	for i, p := range places {
		if bits&(1<<i) != 0 {
			v.rect(x+2+p[0]*4, y+2+p[1]*5, 2, 2, ink)
		}
	}
}
