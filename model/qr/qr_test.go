package qr

// This file reads codes back with a reader that knows nothing of the writer.

import (
	"fmt"
	"image"
	"image/color"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	"pgregory.net/rapid"
)

// picture is a code as a camera sees it: four pixels a module.
func picture(size int, dark func(x, y int) bool) image.Image {
	const scale = 4
	img := image.NewGray(image.Rect(0, 0, scale*size, scale*size))
	for y := range scale * size {
		for x := range scale * size {
			c := color.Gray{Y: 255}
			if dark(x/scale, y/scale) {
				c.Y = 0
			}
			img.SetGray(x, y, c)
		}
	}
	return img
}

func read(t interface{ Fatalf(string, ...any) }, img image.Image) string {
	bits, err := gozxing.NewBinaryBitmapFromImage(img)
	if err != nil {
		t.Fatalf("%v", err)
	}
	found, err := qrcode.NewQRCodeReader().Decode(bits, map[gozxing.DecodeHintType]interface{}{
		gozxing.DecodeHintType_CHARACTER_SET: "UTF-8", gozxing.DecodeHintType_PURE_BARCODE: true,
	})
	if err != nil {
		t.Fatalf("not read: %v", err)
	}
	return found.GetText()
}

// fromLines is what stands in a terminal: the module of each half of a letter.
func fromLines(lines []string, darkTerminal bool) func(x, y int) bool {
	return func(x, y int) bool {
		letter := []rune(lines[y/2])[x]
		lit := letter == '█' || letter == '▀' && y%2 == 0 || letter == '▄' && y%2 == 1
		return lit != darkTerminal
	}
}

var run = regexp.MustCompile(`M(\d+) (\d+)h(\d+)v1h-(\d+)z`)

// fromPath fills a path of SVG.
func fromPath(t *testing.T, path string) func(x, y int) bool {
	filled := map[image.Point]bool{}
	for _, m := range run.FindAllStringSubmatch(path, -1) {
		x, _ := strconv.Atoi(m[1])
		y, _ := strconv.Atoi(m[2])
		n, _ := strconv.Atoi(m[3])
		for i := range n {
			filled[image.Pt(x+i, y)] = true
		}
	}
	if rest := run.ReplaceAllString(path, ""); rest != "" {
		t.Errorf("%q in the path", rest)
	}
	return func(x, y int) bool { return filled[image.Pt(x, y)] }
}

func TestWhatIsDrawnIsTheText(t *testing.T) {
	for _, text := range []string{"x", "Ölwechsel 834 ± 21 ml\nrear axle", strings.Repeat("a line of it\n", 20)} {
		c, err := Of(text)
		if err != nil {
			t.Fatal(err)
		}
		drawn := map[string]func(x, y int) bool{"path": fromPath(t, c.Path())}
		for _, dark := range []bool{true, false} {
			lines := c.Lines(dark)
			for _, l := range lines {
				if utf8.RuneCountInString(l) != c.Size() {
					t.Errorf("a line of %d letters, want %d", utf8.RuneCountInString(l), c.Size())
				}
			}
			drawn[fmt.Sprintf("terminal, dark %v", dark)] = fromLines(lines, dark)
		}
		for what, dark := range drawn {
			if got := read(t, picture(c.Size(), dark)); got != text {
				t.Errorf("%s: %q is read as %q", what, text, got)
			}
		}
	}
}

// 271 octets are whole (ISO/IEC 18004, table 7, version 10-L); of more, what is cut is cut after a whole letter.
func TestLongTextIsCut(t *testing.T) {
	x := strings.Repeat("x", 269)
	for text, want := range map[string]string{x + "xx": x + "xx", x + "xxx": x + "xx", x + "ß": x + "ß", x + "x€": x + "x", x + "€": x} {
		c, err := Of(text)
		if err != nil {
			t.Fatal(err)
		}
		if got := read(t, picture(c.Size(), c.dark)); got != want || c.Size() != 57+2*4 {
			t.Errorf("%d octets: %q, %d wide", len(text), got, c.Size())
		}
	}
}

// Any text is drawn and read back, cut where it is too long, never within a letter,
// and fits a terminal of 80 columns.
func TestAnyTextIsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[ -~äß€]{1,200}`).Draw(t, "text")
		c, err := Of(text)
		if err != nil {
			t.Fatal(err)
		}
		got := read(t, picture(c.Size(), c.dark))
		if !strings.HasPrefix(text, got) || len(got) < min(len(text), MostBytes-3) || c.Size() > 80 {
			t.Fatalf("%q is read as %q, %d wide", text, got, c.Size())
		}
	})
}
