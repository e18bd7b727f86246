// This file holds the tests of colours and pictures.

//go:build unix

package screen

import (
	"encoding/xml"
	"errors"
	"image/color"
	"io"
	"strings"
	"testing"

	uv "github.com/charmbracelet/ultraviolet"
	"github.com/charmbracelet/x/ansi"
)

// SGR numbers are those of ECMA-48, 8.3.117; 38;5 and 48;2 of ITU-T T.416.
func TestStyleOf(t *testing.T) {
	s := startChild(t, "paint", Options{})
	s.WaitFor("plain")
	for text, want := range map[string]Style{
		"red":    {Fg: ansi.BasicColor(1), Attrs: uv.AttrBold},
		"mixed":  {Fg: ansi.IndexedColor(200), Bg: color.RGBA{1, 2, 3, 255}, Underline: uv.UnderlineSingle},
		"turned": {Attrs: uv.AttrReverse | uv.AttrStrikethrough | uv.AttrFaint | uv.AttrItalic},
		"plain":  {},
	} {
		if got := s.StyleOf(text); !got.Equal(&want) {
			t.Errorf("%s: %+v, want %+v", text, got, want)
		}
	}
}

func TestStyleOfAfterWideCharacters(t *testing.T) {
	d := shown(t, 20, 1, "油温 \x1b[1mx")
	row := d.cells()[0]
	if x := column(row, "x"); x != 5 || row[x].Style.Attrs != uv.AttrBold {
		t.Errorf("column %d, %+v", x, row[5])
	}
	if x := column(row, "y"); x != -1 {
		t.Errorf("column %d of what is not there", x)
	}
}

// element is one element of a picture, with its attributes and text.
type element struct {
	name string
	attr map[string]string
	text string
}

// elements parses a picture; it fails on what is not well-formed XML.
func elements(t *testing.T, picture string) []element {
	t.Helper()
	var all []element
	d := xml.NewDecoder(strings.NewReader(picture))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatalf("not well-formed: %v\n%s", err, picture)
		}
		switch token := token.(type) {
		case xml.StartElement:
			e := element{name: token.Name.Local, attr: map[string]string{}}
			for _, a := range token.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			all = append(all, e)
		case xml.CharData:
			if len(all) > 0 {
				all[len(all)-1].text += strings.TrimSpace(string(token))
			}
		}
	}
}

func picture(t *testing.T, cols, rows int, title string, dark bool, stream string) []element {
	t.Helper()
	return elements(t, drawSVG(shown(t, cols, rows, stream).cells(), title, newPalette(dark)))
}

// find returns the elements of a name for which ok holds.
func find(all []element, name string, ok func(element) bool) (found []element) {
	for _, e := range all {
		if e.name == name && ok(e) {
			found = append(found, e)
		}
	}
	return found
}

func TestPictureText(t *testing.T) {
	all := picture(t, 30, 3, "A & B", true, "ab \x1b[1;31mcd\x1b[0m 油\r\n<i>&\x1b[3;4;38;2;1;2;3mz")
	for _, row := range []struct{ text, attr, want string }{
		{"ab", "x", "14"}, {"ab", "y", "58"}, {"ab", "textLength", "18"}, {"ab", "fill", "#dcdfe3"},
		{"cd", "x", "41"}, {"cd", "font-weight", "bold"}, {"cd", "fill", "#e5675e"},
		{"油", "textLength", "18"}, {"油", "x", "68"},
		{"<i>&", "y", "77"},
		{"z", "font-style", "italic"}, {"z", "text-decoration", "underline"}, {"z", "fill", "#010203"},
	} {
		found := find(all, "text", func(e element) bool { return e.text == row.text })
		if len(found) != 1 || found[0].attr[row.attr] != row.want {
			t.Errorf("text %s: %s is not %s in %+v", row.text, row.attr, row.want, found)
		}
	}
	if title := find(all, "title", func(e element) bool { return e.text == "A & B" }); len(title) != 1 {
		t.Error("no title for screen readers")
	}
}

func TestPictureBackgrounds(t *testing.T) {
	all := picture(t, 10, 2, "", false, "a\x1b[42mbcd\x1b[0me\r\n\x1b[7mf")
	green := find(all, "rect", func(e element) bool { return e.attr["fill"] == "#2e7031" })
	if len(green) != 1 || green[0].attr["x"] != "23" || green[0].attr["width"] != "27" || green[0].attr["y"] != "14" {
		t.Errorf("green: %+v", green)
	}
	reversed := find(all, "text", func(e element) bool { return e.text == "f" })
	if len(reversed) != 1 || reversed[0].attr["fill"] != "#fdfcf9" {
		t.Errorf("reversed: %+v", reversed)
	}
	if bars := find(all, "path", func(element) bool { return true }); len(bars) != 0 {
		t.Error("a title bar without a title")
	}
}

// Shapes by the Unicode code charts U+2500 and U+2580: the area that a
// character covers, in pixels of a 9 by 19 cell.
func TestShapes(t *testing.T) {
	for _, row := range []struct {
		char string
		want [][4]string // x, y, width, height of each rectangle, from the corner of the cell
	}{
		{"█", [][4]string{{"14", "14", "9", "19"}}},
		{"▀", [][4]string{{"14", "14", "9", "10"}}},
		{"▄", [][4]string{{"14", "23", "9", "10"}}},
		{"▌", [][4]string{{"14", "14", "5", "19"}}},
		{"─", [][4]string{{"14", "23", "9", "1"}}},
		{"┃", [][4]string{{"17", "14", "3", "19"}}},
		{"═", [][4]string{{"14", "22", "9", "1"}, {"14", "24", "9", "1"}}},
		{"░", [][4]string{{"14", "14", "9", "19"}}},
		{"┌", [][4]string{{"18", "23", "5", "1"}, {"18", "23", "1", "10"}}},
	} {
		all := picture(t, 4, 1, "", true, row.char)
		found := find(all, "rect", func(e element) bool { return e.attr["fill"] == "#dcdfe3" })
		if len(found) != len(row.want) {
			t.Errorf("%s: %d rectangles, want %d: %+v", row.char, len(found), len(row.want), found)
			continue
		}
		for i, want := range row.want {
			a := found[i].attr
			if got := [4]string{a["x"], a["y"], a["width"], a["height"]}; got != want {
				t.Errorf("%s: rectangle %v, want %v", row.char, got, want)
			}
		}
	}
}

func TestPictureHoldsNoControlCharacters(t *testing.T) {
	rows := [][]uv.Cell{{{Content: "\x00\x1b\uffff<", Width: 1}}}
	if found := find(elements(t, drawSVG(rows, "\x07", newPalette(true))), "text",
		func(e element) bool { return strings.Contains(e.text, "<") }); len(found) != 1 {
		t.Errorf("found %+v", found)
	}
}

func TestSVGOfSession(t *testing.T) {
	s := startChild(t, "paint", Options{Cols: 40, Rows: 5})
	s.WaitFor("plain")
	s.Settle()
	first := s.SVG("painted", true)
	if again := s.SVG("painted", true); again != first {
		t.Error("the same screen gave another picture")
	}
	if found := find(elements(t, first), "text", func(e element) bool { return e.text == "red" }); len(found) != 1 {
		t.Errorf("found %+v", found)
	}
}
