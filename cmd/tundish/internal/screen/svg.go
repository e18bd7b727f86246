// This file holds the drawing of a screen as an SVG picture: a grid of cells in
// the reader's own fixed-width font. Lines and blocks are drawn as shapes
// (shapes.go), so that frames and bars join whatever the font.

//go:build unix

package screen

import (
	"encoding/xml"
	"fmt"
	"image/color"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// Sizes in pixels. Odd, so that a line of one pixel lies in the middle of a cell.
const (
	cellWidth   = 9
	cellHeight  = 19
	fontSize    = 15 // most fixed-width fonts are 0.6 of it wide: one cell
	baseline    = 14
	padding     = 14
	titleHeight = 30
)

// palette is the terminal's own colours.
type palette struct {
	fg, bg, bar color.RGBA
	basic       [16]color.RGBA // black red green yellow blue magenta cyan white, then bright
}

func rgb(hex uint32) color.RGBA {
	return color.RGBA{uint8(hex >> 16), uint8(hex >> 8), uint8(hex), 0xff}
}

func newPalette(dark bool) palette {
	p := palette{fg: rgb(0x22272e), bg: rgb(0xfdfcf9), bar: rgb(0xe9e6df)}
	basic := [16]uint32{
		0x22272e, 0xb3261e, 0x2e7031, 0x8a6100, 0x1f5fa8, 0x86408f, 0x1a6f78, 0x8b9097,
		0x5d646c, 0xd13a30, 0x3c8a40, 0xa87800, 0x2f77c6, 0xa253ac, 0x248a95, 0xfdfcf9,
	}
	if dark {
		p = palette{fg: rgb(0xdcdfe3), bg: rgb(0x15191e), bar: rgb(0x252b32)}
		basic = [16]uint32{
			0x15191e, 0xe5675e, 0x7bbf72, 0xe0b252, 0x6fa8e6, 0xc78fd0, 0x67bcc4, 0xc3c8ce,
			0x78818b, 0xff8b82, 0x9bdc91, 0xf6cd75, 0x93c1f5, 0xdfaee6, 0x8ad7de, 0xffffff,
		}
	}
	for i, hex := range basic {
		p.basic[i] = rgb(hex)
	}
	return p
}

// resolve turns a colour of the screen into one of the picture.
func (p palette) resolve(c color.Color, own color.RGBA) color.RGBA {
	switch c := c.(type) {
	case nil:
		return own
	case ansi.BasicColor:
		return p.basic[c%16]
	case ansi.IndexedColor:
		if c < 16 {
			return p.basic[c]
		}
	}
	r, g, b, _ := c.RGBA()
	return color.RGBA{uint8(r >> 8), uint8(g >> 8), uint8(b >> 8), 0xff}
}

func (p palette) inkAndPaper(s Style) (ink, paper color.RGBA) {
	ink, paper = p.resolve(s.Fg, p.fg), p.resolve(s.Bg, p.bg)
	if s.Reverse {
		ink, paper = paper, ink
	}
	if s.Faint {
		ink = mix(ink, paper)
	}
	return ink, paper
}

// mix is two parts of a and one of b.
func mix(a, b color.RGBA) color.RGBA {
	part := func(a, b uint8) uint8 { return uint8((2*int(a) + int(b)) / 3) }
	return color.RGBA{part(a.R, b.R), part(a.G, b.G), part(a.B, b.B), 0xff}
}

func hex(c color.RGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// SVG draws the screen as it is now. The title is shown in a bar on top (no bar
// when empty) and told to screen readers. Nothing is fetched to show it, and
// the same screen gives the same bytes.
func (s *Session) SVG(title string, dark bool) string {
	return drawSVG(s.Cells(), title, newPalette(dark))
}

// svg is a picture being drawn. No coordinate is outside the picture.
type svg struct {
	strings.Builder
	p palette
}

func drawSVG(rows [][]Cell, title string, p palette) string {
	top, cols := padding, 0
	if title != "" {
		top += titleHeight
	}
	if len(rows) > 0 {
		cols = len(rows[0])
	}
	v := &svg{p: p}
	v.open(title, 2*padding+cols*cellWidth, top+len(rows)*cellHeight+padding)
	for y, row := range rows {
		v.papers(row, top+y*cellHeight)
	}
	for y, row := range rows {
		v.inks(row, top+y*cellHeight)
	}
	v.WriteString("</svg>\n")
	return v.String()
}

// open writes the head, the window and its title.
func (v *svg) open(title string, width, height int) {
	fmt.Fprintf(v, `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d" role="img"`, width, height, width, height)
	fmt.Fprintf(v, ` font-family="ui-monospace, 'DejaVu Sans Mono', Menlo, Consolas, monospace" font-size="%d">`+"\n", fontSize)
	fmt.Fprintf(v, "<title>%s</title>\n", escape(title))
	fmt.Fprintf(v, `<rect x="0.5" y="0.5" width="%d" height="%d" rx="8" fill="%s" stroke="%s"/>`+"\n", width-1, height-1, hex(v.p.bg), hex(v.p.bar))
	if title != "" {
		fmt.Fprintf(v, `<path d="M0 %d V8 A8 8 0 0 1 8 0 H%d A8 8 0 0 1 %d 8 V%d Z" fill="%s"/>`+"\n", titleHeight, width-8, width, titleHeight, hex(v.p.bar))
		fmt.Fprintf(v, `<text x="%d" y="20" text-anchor="middle" font-size="13" fill="%s">%s</text>`+"\n", width/2, hex(v.p.fg), escape(title))
	}
}

// papers fills the backgrounds of one row, one rectangle for a run of a colour.
func (v *svg) papers(row []Cell, top int) {
	for x := 0; x < len(row); {
		_, paper := v.p.inkAndPaper(row[x].Style)
		end := x + 1
		for end < len(row) {
			if _, next := v.p.inkAndPaper(row[end].Style); next != paper && row[end].Cols > 0 {
				break
			}
			end++
		}
		if paper != v.p.bg {
			v.rect(padding+x*cellWidth, top, (end-x)*cellWidth, cellHeight, hex(paper))
		}
		x = end
	}
}

func (v *svg) rect(x, y, width, height int, fill string) {
	fmt.Fprintf(v, `<rect x="%d" y="%d" width="%d" height="%d" fill="%s" shape-rendering="crispEdges"/>`+"\n", x, y, width, height, fill)
}

// inks writes the characters of one row: shapes one by one, words as text.
func (v *svg) inks(row []Cell, top int) {
	for x := 0; x < len(row); {
		c := row[x]
		ink, paper := v.p.inkAndPaper(c.Style)
		switch {
		case v.shape(c.Text, padding+x*cellWidth, top, hex(ink), hex(paper)):
			x++
		case isWordCell(c):
			end := x + 1
			for end < len(row) && isWordCell(row[end]) && row[end].Style == c.Style && !isShape(row[end].Text) {
				end++
			}
			v.text(row[x:end], padding+x*cellWidth, top+baseline, hex(ink))
			x = end
		case c.Cols > 1:
			v.text(row[x:x+1], padding+x*cellWidth, top+baseline, hex(ink))
			x += c.Cols
		default: // a blank, or the right half of a wide character
			if c.Underline || c.Strike {
				v.text(row[x:x+1], padding+x*cellWidth, top+baseline, hex(ink))
			}
			x++
		}
	}
}

func isWordCell(c Cell) bool { return c.Cols == 1 && c.Text != "" && c.Text != " " }

// text writes cells of one style, held to the grid by textLength.
func (v *svg) text(cells []Cell, x, y int, fill string) {
	var word strings.Builder
	cols := 0
	for _, c := range cells {
		word.WriteString(c.Text)
		cols += c.Cols
	}
	fmt.Fprintf(v, `<text x="%d" y="%d" textLength="%d" lengthAdjust="spacingAndGlyphs" xml:space="preserve" fill="%s"`, x, y, cols*cellWidth, fill)
	s := cells[0].Style
	if s.Bold {
		v.WriteString(` font-weight="bold"`)
	}
	if s.Italic {
		v.WriteString(` font-style="italic"`)
	}
	if line := strings.TrimSpace(pick(s.Underline, "underline ") + pick(s.Strike, "line-through")); line != "" {
		fmt.Fprintf(v, ` text-decoration="%s"`, line)
	}
	fmt.Fprintf(v, ">%s</text>\n", escape(word.String()))
}

func pick(on bool, text string) string {
	if on {
		return text
	}
	return ""
}

// escape makes text safe inside XML; what XML cannot hold becomes U+FFFD.
func escape(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(text)) // a Builder does not fail
	return b.String()
}
