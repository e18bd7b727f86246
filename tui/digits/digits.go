// Package digits draws a short reading or word in characters large enough to be
// read from two metres, where the screen has room for it. It knows no colour:
// the caller styles what it returns.
//
// There are shapes for A to Z, 0 to 9 and what units are written in, 5 pixels
// high (shapes5.txt) and 7 (shapes7.txt); font.go has the sizes they are drawn in.
package digits

import (
	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model/text"
)

// Fit draws s as large as a box of maxWidth by maxHeight cells allows, in lines
// of one width, joined by "\n". With ascii set the strokes are "#" (and "_" and
// "'" where a stroke is half a line high). Where no size fits, or s holds a
// character that has no shape, s comes back as plain text cut to maxWidth: the
// caller makes it bold. A box without room gives "".
func Fit(s string, maxWidth, maxHeight int, ascii bool) string {
	if maxWidth <= 0 || maxHeight <= 0 {
		return ""
	}
	for _, f := range sizes {
		if f.height <= maxHeight && f.has(s) && f.width(s) <= maxWidth {
			return f.render(s, ascii)
		}
	}
	return ansi.Truncate(text.Visible(s), maxWidth, "")
}
