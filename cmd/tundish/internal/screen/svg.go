// This file draws a screen as an SVG picture: a grid of cells in the reader's
// own fixed-width font. Lines and blocks are drawn as rectangles, so that frames
// and bars join whatever the font.

//go:build unix

package screen

import (
	"encoding/xml"
	"fmt"
	"image/color"
	"strings"

	uv "github.com/charmbracelet/ultraviolet"
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

// shapes are the characters that are drawn as rectangles (x, y, width, height
// in pixels of a cell), after the code charts U+2500 and U+2580 of the Unicode
// Standard: all that the program draws frames, bars and large digits with.
var shapes = map[string][][4]int{
	"─": {{0, 9, 9, 1}}, "│": {{4, 0, 1, 19}}, "┃": {{3, 0, 3, 19}}, "═": {{0, 8, 9, 1}, {0, 10, 9, 1}},
	"┌": {{4, 9, 5, 1}, {4, 9, 1, 10}}, "└": {{4, 9, 5, 1}, {4, 0, 1, 10}},
	"├": {{4, 9, 5, 1}, {4, 0, 1, 19}}, "┤": {{0, 9, 5, 1}, {4, 0, 1, 19}},
	"┬": {{0, 9, 9, 1}, {4, 9, 1, 10}}, "┴": {{0, 9, 9, 1}, {4, 0, 1, 10}}, "┼": {{0, 9, 9, 1}, {4, 0, 1, 19}},
	"█": {{0, 0, 9, 19}}, "▀": {{0, 0, 9, 10}}, "▄": {{0, 9, 9, 10}}, "▌": {{0, 0, 5, 19}}, lightShade: {{0, 0, 9, 19}},
}

// lightShade is a quarter ink.
const lightShade = "░"

// palette is the terminal's own colours: its text, its background, the bar of
// the picture's title, and the sixteen that have numbers (black red green yellow
// blue magenta cyan white, then bright).
type palette struct {
	fg, bg, bar uint32
	basic       [16]uint32
}

func newPalette(dark bool) palette {
	if dark {
		return palette{0xdcdfe3, 0x15191e, 0x252b32, [16]uint32{
			0x15191e, 0xe5675e, 0x7bbf72, 0xe0b252, 0x6fa8e6, 0xc78fd0, 0x67bcc4, 0xc3c8ce,
			0x78818b, 0xff8b82, 0x9bdc91, 0xf6cd75, 0x93c1f5, 0xdfaee6, 0x8ad7de, 0xffffff,
		}}
	}
	return palette{0x22272e, 0xfdfcf9, 0xe9e6df, [16]uint32{
		0x22272e, 0xb3261e, 0x2e7031, 0x8a6100, 0x1f5fa8, 0x86408f, 0x1a6f78, 0x8b9097,
		0x5d646c, 0xd13a30, 0x3c8a40, 0xa87800, 0x2f77c6, 0xa253ac, 0x248a95, 0xfdfcf9,
	}}
}

// resolve turns a colour of the screen into one of the picture.
func (p palette) resolve(c color.Color, own uint32) uint32 {
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
	return r>>8<<16 | g>>8<<8 | b>>8
}

// inkAndPaper are the colours of a cell's character and of what is under it.
func (p palette) inkAndPaper(s Style) (ink, paper uint32) {
	ink, paper = p.resolve(s.Fg, p.fg), p.resolve(s.Bg, p.bg)
	if s.Attrs&uv.AttrReverse != 0 {
		ink, paper = paper, ink
	}
	if s.Attrs&uv.AttrFaint != 0 {
		part := func(shift int) uint32 { return (2*(ink>>shift&0xff) + paper>>shift&0xff) / 3 << shift }
		ink = part(16) | part(8) | part(0)
	}
	return ink, paper
}

// SVG draws the screen as it is now. The title is shown in a bar on top (no bar
// when empty) and told to screen readers. Nothing is fetched to show it, and
// the same screen gives the same bytes.
func (s *Session) SVG(title string, dark bool) string {
	return drawSVG(ask(s, (*display).cells), title, newPalette(dark))
}

// svg is a picture being drawn. No coordinate is outside the picture.
type svg struct {
	strings.Builder
	p palette
}

func drawSVG(rows [][]uv.Cell, title string, p palette) string {
	top := padding
	if title != "" {
		top += titleHeight
	}
	v := &svg{p: p}
	v.open(title, 2*padding+len(rows[0])*cellWidth, top+len(rows)*cellHeight+padding)
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
	fmt.Fprintf(v, `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d" role="img"`, width, height,
		width, height)
	fmt.Fprintf(v, ` font-family="ui-monospace, 'DejaVu Sans Mono', Menlo, Consolas, monospace" font-size="%d">`+"\n", fontSize)
	fmt.Fprintf(v, "<title>%s</title>\n", escape(title))
	fmt.Fprintf(v, `<rect x="0.5" y="0.5" width="%d" height="%d" rx="8" fill="#%06x" stroke="#%06x"/>`+"\n", width-1, height-1,
		v.p.bg, v.p.bar)
	if title != "" {
		fmt.Fprintf(v, `<path d="M0 %d V8 A8 8 0 0 1 8 0 H%d A8 8 0 0 1 %d 8 V%d Z" fill="#%06x"/>`+"\n", titleHeight, width-8, width,
			titleHeight, v.p.bar)
		fmt.Fprintf(v, `<text x="%d" y="20" text-anchor="middle" font-size="13" fill="#%06x">%s</text>`+"\n", width/2, v.p.fg,
			escape(title))
	}
}

// papers fills the backgrounds of one row, one rectangle for a run of a colour.
func (v *svg) papers(row []uv.Cell, top int) {
	for x := 0; x < len(row); {
		_, paper := v.p.inkAndPaper(row[x].Style)
		end := x + 1
		for end < len(row) {
			if _, next := v.p.inkAndPaper(row[end].Style); next != paper && row[end].Width > 0 {
				break
			}
			end++
		}
		if paper != v.p.bg {
			v.rect(padding+x*cellWidth, top, (end-x)*cellWidth, cellHeight, paper, "")
		}
		x = end
	}
}

func (v *svg) rect(x, y, width, height int, fill uint32, opacity string) {
	fmt.Fprintf(v, `<rect x="%d" y="%d" width="%d" height="%d" fill="#%06x"%s shape-rendering="crispEdges"/>`+"\n", x, y, width,
		height, fill, opacity)
}

// inks writes the characters of one row: shapes one by one, words as text.
func (v *svg) inks(row []uv.Cell, top int) {
	for x := 0; x < len(row); {
		c, left := row[x], padding+x*cellWidth
		ink, _ := v.p.inkAndPaper(c.Style)
		end := x + max(c.Width, 1)
		opacity := ""
		if c.Content == lightShade {
			opacity = ` fill-opacity="0.25"`
		}
		for _, r := range shapes[c.Content] {
			v.rect(left+r[0], top+r[1], r[2], r[3], ink, opacity)
		}
		if isLetter(c) {
			for c.Width == 1 && end < len(row) && row[end].Width == 1 && isLetter(row[end]) && row[end].Style.Equal(&c.Style) {
				end++
			}
			v.text(row[x:end], left, top+baseline, ink)
		}
		x = end
	}
}

// isLetter reports whether a cell is written as text: whatever is no shape and
// shows.
func isLetter(c uv.Cell) bool {
	lined := c.Style.Underline != uv.UnderlineNone || c.Style.Attrs&uv.AttrStrikethrough != 0
	return shapes[c.Content] == nil && c.Style.Attrs&uv.AttrConceal == 0 && c.Width > 0 && (strings.TrimSpace(c.Content) != "" || lined)
}

// text writes cells of one style, held to the grid by textLength.
func (v *svg) text(cells []uv.Cell, x, y int, fill uint32) {
	var word strings.Builder
	cols := 0
	for _, c := range cells {
		word.WriteString(c.Content)
		cols += c.Width
	}
	fmt.Fprintf(v, `<text x="%d" y="%d" textLength="%d" lengthAdjust="spacingAndGlyphs" xml:space="preserve" fill="#%06x"`, x, y,
		cols*cellWidth, fill)
	s := cells[0].Style
	if s.Attrs&uv.AttrBold != 0 {
		v.WriteString(` font-weight="bold"`)
	}
	if s.Attrs&uv.AttrItalic != 0 {
		v.WriteString(` font-style="italic"`)
	}
	switch {
	case s.Underline != uv.UnderlineNone:
		v.WriteString(` text-decoration="underline"`)
	case s.Attrs&uv.AttrStrikethrough != 0:
		v.WriteString(` text-decoration="line-through"`)
	}
	fmt.Fprintf(v, ">%s</text>\n", escape(word.String()))
}

// escape makes text safe inside XML; what XML cannot hold becomes U+FFFD.
func escape(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(text)) // a Builder does not fail
	return b.String()
}
