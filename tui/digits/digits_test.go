// Tests of the large characters: pictures looked over by eye, and the promise
// that nothing ever leaves its box.

package digits

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"garage/tundish/model/text"
)

// promised are the characters that have shapes: those of figures, and of the
// units that they are shown in.
const promised = "0123456789.,:+-±% mlLgCFqtoz/?°fkhinpUS"

var update = flag.Bool("update", false, "rewrite the pictures in testdata")

func TestPictures(t *testing.T) {
	texts := []string{"0123456789", "830 ml", "0.83 L", "-1,25", "± 14 %", "28.1 floz", "1.5 qt", "60 °C", "140 °F", "12 min 3/4",
		"1.2 kg: ?", "+9 g h", "20.3 US fl oz", "18.1 imp fl oz"}
	for _, tt := range []struct {
		file   string
		height int
		ascii  bool
	}{
		{"height3.txt", 3, false}, {"height5.txt", 5, false}, {"height7.txt", 7, false},
		{"height3-ascii.txt", 3, true}, {"height5-ascii.txt", 5, true}, {"height7-ascii.txt", 7, true},
	} {
		var b strings.Builder
		for _, s := range texts {
			b.WriteString(s + "\n" + render(s, tt.height, tt.ascii) + "\n\n")
		}
		path := filepath.Join("testdata", tt.file)
		if *update {
			if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if b.String() != string(want) {
			t.Errorf("%s differs; look at the new picture and run with -update:\n%s", tt.file, b.String())
		}
	}
}

func TestEveryPromisedCharacterHasAShapeOfItsOwn(t *testing.T) {
	for _, h := range heights {
		seen := map[string]rune{}
		for _, r := range promised {
			if _, ok := fontFor(string(r), h); !ok {
				t.Errorf("height %d: no shape for %q", h, r)
				continue
			}
			picture := render(string(r), h, false)
			if other, ok := seen[picture]; ok {
				t.Errorf("height %d: %q and %q look the same", h, r, other)
			}
			seen[picture] = r
		}
	}
}

func TestAShapeIsARectangleOfItsHeight(t *testing.T) {
	for _, r := range promised {
		for h, sh := range map[int]shape{5: shape5(r), 7: shape7(r)} {
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
		w, h := rapid.IntRange(-2, 130).Draw(t, "width"), rapid.IntRange(-2, 10).Draw(t, "height")
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

func TestWidthIsTheWidthDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, h := anyText().Draw(t, "s"), rapid.IntRange(-1, 12).Draw(t, "height")
		want := width(s, h)
		for _, l := range strings.Split(render(s, h, rapid.Bool().Draw(t, "ascii")), "\n") {
			if got := text.Width(l); got != want {
				t.Fatalf("line %q is %d wide, width says %d", l, got, want)
			}
		}
	})
}

func TestFitTakesTheLargestThatFits(t *testing.T) {
	for _, tt := range []struct {
		w, h, lines int
	}{
		{width("830 ml", 7), 7, 7}, {width("830 ml", 7) - 1, 7, 5}, {200, 6, 5},
		{width("830 ml", 5) - 1, 7, 3}, {200, 4, 3}, {width("830 ml", 3) - 1, 7, 1}, {200, 2, 1},
	} {
		if got := strings.Count(Fit("830 ml", tt.w, tt.h, false), "\n") + 1; got != tt.lines {
			t.Errorf("Fit in %dx%d: %d lines, want %d", tt.w, tt.h, got, tt.lines)
		}
	}
	if got := Fit("830 Ω", 80, 7, false); got != "830 Ω" {
		t.Errorf("a character without a shape: %q, want the plain text", got)
	}
}

func TestASCIIPicturesHaveNoByteAbove127(t *testing.T) {
	for _, h := range heights {
		for _, c := range []byte(render(promised, h, true)) {
			if c > 127 {
				t.Fatalf("height %d: byte %#x", h, c)
			}
		}
	}
}

func BenchmarkFit(b *testing.B) {
	for b.Loop() {
		Fit("1234.5 ml ± 14", 120, 7, false)
	}
}
