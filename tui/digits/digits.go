// Package digits draws a short reading in characters large enough to be read
// from two metres, where the screen has room for it. It knows no colour: the
// caller styles what it returns.
//
// The shapes are in shapes5.go (heights 3 and 5) and shapes7.go (height 7).
package digits

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model/text"
)

// The heights there are shapes for, largest first.
var heights = [...]int{7, 5, 3}

// render draws s in letters of the given height. A height between two sizes
// takes the smaller one; below 3, or where s holds a character that has no
// shape, s comes back as one line of plain text. Lines are joined by "\n" and
// all are width(s, height) cells wide. With ascii set the strokes are "#"
// (and "_" and "'" where a stroke is half a line high).
func render(s string, height int, ascii bool) string {
	f, ok := fontFor(s, height)
	if !ok {
		return text.Visible(s)
	}
	lines := make([]string, f.height)
	for row := range lines {
		var b strings.Builder
		for i, r := range []rune(s) {
			if i > 0 {
				b.WriteString(strings.Repeat(" ", f.gap))
			}
			f.drawRow(&b, f.shape(r), row, ascii)
		}
		lines[row] = b.String()
	}
	return strings.Join(lines, "\n")
}

// width is the number of cells render(s, height, ...) is wide.
func width(s string, height int) int {
	f, ok := fontFor(s, height)
	if !ok {
		return text.Width(text.Visible(s))
	}
	width := 0
	for i, r := range []rune(s) {
		if i > 0 {
			width += f.gap
		}
		width += f.pixelCells * len(f.shape(r)[0])
	}
	return width
}

// Fit draws s as large as a box of maxWidth by maxHeight cells allows. Where
// no shapes fit, s comes back as plain text cut to maxWidth: the caller makes
// it bold. A box without room gives "".
func Fit(s string, maxWidth, maxHeight int, ascii bool) string {
	if maxWidth <= 0 || maxHeight <= 0 {
		return ""
	}
	for _, h := range heights {
		if h > maxHeight || width(s, h) > maxWidth {
			continue
		}
		if _, ok := fontFor(s, h); ok {
			return render(s, h, ascii)
		}
	}
	return ansi.Truncate(text.Visible(s), maxWidth, "")
}
