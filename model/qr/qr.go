// Package qr draws a text as a QR code (ISO/IEC 18004), so that a phone can keep it:
// as lines of a terminal and as a path of SVG. What stands in it is the text alone, no
// address.
package qr

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/boombuler/barcode"
	"github.com/boombuler/barcode/qr"
)

// MostBytes is how long a text may be: what version 10 with the lowest correction of
// errors takes (ISO/IEC 18004, table 7: 271), which is 57 modules wide, in a terminal
// with its margin 65 columns.
const MostBytes = 271

// margin is the quiet zone, in modules (ISO/IEC 18004, 6.3.8).
const margin = 4

// Code is a text as a square of modules.
type Code struct{ b barcode.Barcode }

// Of makes the code of a text. One that is too long is cut after a whole letter.
func Of(text string) (Code, error) {
	if len(text) > MostBytes {
		text = text[:MostBytes]
		for !utf8.ValidString(text) {
			text = text[:len(text)-1]
		}
	}
	b, err := qr.Encode(text, qr.L, qr.Unicode)
	if err != nil {
		return Code{}, fmt.Errorf("QR code: %w", err)
	}
	return Code{b}, nil
}

// Size is how many modules the code is wide and high, with its margin.
func (c Code) Size() int { return c.b.Bounds().Dx() + 2*margin }

// dark reports whether a module is; the margin is not.
func (c Code) dark(x, y int) bool {
	x, y = x-margin, y-margin
	if n := c.b.Bounds().Dx(); x < 0 || y < 0 || x >= n || y >= n {
		return false
	}
	r, _, _, _ := c.b.At(x, y).RGBA()
	return r == 0
}

// Lines are the code in letters, two rows of modules a line. On a dark terminal the
// letters are the light modules, on a light one the dark ones.
func (c Code) Lines(darkTerminal bool) []string {
	var lines []string
	ink := func(x, y int) bool { return y < c.Size() && c.dark(x, y) != darkTerminal }
	for y := 0; y < c.Size(); y += 2 {
		var b strings.Builder
		for x := range c.Size() {
			switch upper, lower := ink(x, y), ink(x, y+1); {
			case upper && lower:
				b.WriteRune('█')
			case upper:
				b.WriteRune('▀')
			case lower:
				b.WriteRune('▄')
			default:
				b.WriteRune(' ')
			}
		}
		lines = append(lines, b.String())
	}
	return lines
}

// Path is the dark modules as a path of SVG, in a square of Size.
func (c Code) Path() string {
	var b strings.Builder
	for y := range c.Size() {
		for x := 0; x < c.Size(); x++ {
			if !c.dark(x, y) {
				continue
			}
			from := x
			for x < c.Size() && c.dark(x, y) {
				x++
			}
			fmt.Fprintf(&b, "M%d %dh%dv1h-%dz", from, y, x-from, x-from)
		}
	}
	return b.String()
}
