// Tests of the large characters: pictures looked over by eye, and the promise
// that nothing ever leaves its box.

package digits

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"garage/tundish/model/text"
	"garage/tundish/testdata/golden"
)

// promised are the characters that have shapes: capitals for words, and those of
// figures and of the units that they are shown in.
const promised = "ABCDEFGHIJKLMNOPQRSTUVWXYZ 0123456789.,:+-±%mlgqtoz/?°fkhinp"

// words are those that the screens say large.
var words = []string{"RIGHT", "LIKELY", "LOW", "HIGH", "NOT SURE", "DISPUTED", "STOP", "ADD", "EMPTY"}

func (f font) String() string { return fmt.Sprintf("%dx%d", f.height, f.pixelCells) }

func TestPictures(t *testing.T) {
	texts := append([]string{"0123456789", "830 ml", "0.83 L", "-1,25", "± 14 %", "28.1 floz", "1.5 qt", "60 °C", "140 °F", "12 min 3/4",
		"1.2 kg: ?", "+9 g h", "20.3 US fl oz", "18.1 imp fl oz", "STOP AT 612 g", "ABCDEFGHI", "JKLMNOPQR", "STUVWXYZ"}, words...)
	for _, f := range sizes {
		for _, ascii := range []bool{false, true} {
			if f.pixelLines > 1 || ascii && f.pixelLines == 1 && f.pixelCells == 1 {
				continue // the same shapes
			}
			var b strings.Builder
			for _, s := range texts {
				b.WriteString(s + "\n" + f.render(s, ascii) + "\n\n")
			}
			name := f.String() + map[bool]string{false: ".txt", true: "-ascii.txt"}[ascii]
			golden.Check(t, filepath.Join("testdata", name), b.String())
		}
	}
}

func TestEveryPromisedCharacterHasAShapeOfItsOwn(t *testing.T) {
	for _, f := range sizes {
		seen := map[string]rune{}
		for _, r := range promised {
			if !f.has(string(r)) {
				t.Errorf("%v: no shape for %q", f, r)
				continue
			}
			picture := f.render(string(r), false)
			if other, ok := seen[picture]; ok {
				t.Errorf("%v: %q and %q look the same", f, r, other)
			}
			seen[picture] = r
		}
	}
}

func TestAShapeIsARectangleOfItsHeight(t *testing.T) {
	for _, r := range promised {
		for _, h := range []int{5, 7} {
			sh := known(h, r)
			if len(sh) != h {
				t.Errorf("%q: %d rows, want %d", r, len(sh), h)
			}
			for _, row := range sh {
				if len(row) != len(sh[0]) || strings.Trim(row, "#.") != "" {
					t.Errorf("%q: row %q of %q", r, row, sh)
				}
			}
		}
	}
}

// Every word is at least five lines high on the smallest screen, which leaves it
// 58 cells, in strokes of two cells on one of 80 columns, and in the largest size
// on one of 120 where it is short.
func TestWordsAreLarge(t *testing.T) {
	lines := func(s string, width, height int) int { return strings.Count(Fit(s, width, height, false), "\n") + 1 }
	for _, w := range words {
		if n := lines(w, 58, 7); n < 5 {
			t.Errorf("%s is %d lines high in 58 cells", w, n)
		}
		if got := Fit(w, 76, 7, false); !strings.Contains(got, "██") || strings.Contains(got, "\n") && strings.Contains(" "+got, " █ ") {
			t.Errorf("%s has thin strokes in 76 cells:\n%s", w, got)
		}
		if n := lines(w, 28, 3); n != 3 && len(w) < 8 {
			t.Errorf("%s is %d lines high in 28 cells by 3", w, n)
		}
	}
	if n := lines("RIGHT", 116, 20); n != 14 {
		t.Errorf("RIGHT is %d lines high in 116 cells by 20", n)
	}
}

// anyText draws strings that mostly have shapes, and any string at all.
func anyText() *rapid.Generator[string] {
	return rapid.OneOf(
		rapid.StringOfN(rapid.RuneFrom([]rune(promised)), 0, 12, -1),
		rapid.String(),
	)
}

func TestFitNeverLeavesItsBox(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyText().Draw(t, "s")
		w, h := rapid.IntRange(-2, 130).Draw(t, "width"), rapid.IntRange(-2, 20).Draw(t, "height")
		ascii := rapid.Bool().Draw(t, "ascii")
		got := Fit(s, w, h, ascii)
		if got == "" {
			return
		}
		lines := strings.Split(got, "\n")
		if len(lines) > h {
			t.Fatalf("%d lines in a box of %d", len(lines), h)
		}
		for _, l := range lines {
			if n := text.Width(l); n > w {
				t.Fatalf("line %q is %d wide in a box of %d", l, n, w)
			}
		}
	})
}

func TestAllLinesAreOfTheWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, f := anyText().Draw(t, "s"), rapid.SampledFrom(sizes).Draw(t, "size")
		if !f.has(s) {
			return
		}
		lines := strings.Split(f.render(s, rapid.Bool().Draw(t, "ascii")), "\n")
		if len(lines) != f.height {
			t.Fatalf("%d lines, want %d", len(lines), f.height)
		}
		for _, l := range lines {
			if got := text.Width(l); got != f.width(s) {
				t.Fatalf("line %q is %d wide, width says %d", l, got, f.width(s))
			}
		}
	})
}

func TestFitTakesTheLargestThatFits(t *testing.T) {
	for i, f := range sizes {
		w := f.width("830 ml")
		if got := strings.Count(Fit("830 ml", w, f.height, false), "\n") + 1; got != f.height {
			t.Errorf("Fit in %dx%d: %d lines, want %d", w, f.height, got, f.height)
		}
		if i > 0 && f.height == sizes[i-1].height && w >= sizes[i-1].width("830 ml") {
			t.Errorf("%v is not narrower than the size before it", f)
		}
	}
	if got := Fit("830 ml", 200, 2, false); got != "830 ml" {
		t.Errorf("without room for a size: %q, want the plain text", got)
	}
	if got := Fit("830 Ω", 80, 7, false); got != "830 Ω" {
		t.Errorf("a character without a shape: %q, want the plain text", got)
	}
}

func TestASCIIPicturesHaveNoByteAbove127(t *testing.T) {
	for _, f := range sizes {
		for _, c := range []byte(f.render(promised, true)) {
			if c > 127 {
				t.Fatalf("%v: byte %#x", f, c)
			}
		}
	}
}

func BenchmarkFit(b *testing.B) {
	for b.Loop() {
		Fit("1234.5 ml ± 14", 120, 7, false)
	}
}
