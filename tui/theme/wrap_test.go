package theme

import (
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"
)

func TestFiguresStayWhole(t *testing.T) {
	for _, row := range []struct {
		text  string
		width int
		want  []string
	}{
		{"too low < 1 %, too high > 99 %", 11, []string{"too low", "< 1 %, too", "high > 99 %"}},
		{"needed: 824 ± 57 ml of it", 15, []string{"needed:", "824 ± 57 ml of", "it"}},
		{"or at 178 400 km", 12, []string{"or at", "178 400 km"}},
		{"longer than a line", 5, []string{"longe", "r", "than", "a", "line"}},
		{"nothing", 0, nil},
	} {
		if got := Wrap(row.text, row.width); !slices.Equal(got, row.want) {
			t.Errorf("%q in %d: %q, want %q", row.text, row.width, got, row.want)
		}
	}
}

// No line is too wide, and no word is lost.
func TestWrapKeepsWidthAndWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`([a-z±<>%0-9]{1,9} ){0,20}`).Draw(t, "text")
		width := rapid.IntRange(1, 80).Draw(t, "width")
		lines := Wrap(text, width)
		for _, l := range lines {
			if ansi.StringWidth(l) > width {
				t.Fatalf("%q is wider than %d", l, width)
			}
		}
		squeezed := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if got := squeezed(strings.Join(lines, " ")); got != squeezed(text) {
			t.Fatalf("%q of %q", got, text)
		}
	})
}

// Whatever is cut, plain or styled, fits, and what fits is not cut.
func TestCutFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.SampledFrom([]rune("aA\ufe0f\u0300\u200d\U0001f697 ")))).Draw(t, "text")
		text = strings.ReplaceAll(strings.ToValidUTF8(text, "?"), "\x1b", "")
		width := rapid.IntRange(0, 30).Draw(t, "width")
		tail := rapid.SampledFrom([]string{"", "…"}).Draw(t, "tail")
		for _, in := range []string{text, "\x1b[1m" + text + "\x1b[0m"} {
			got := Cut(in, width, tail)
			if n := ansi.StringWidth(got); n > width {
				t.Fatalf("%q is %d wide, want %d at most", got, n, width)
			}
			if ansi.StringWidth(in) <= width && width > 0 && got != in {
				t.Fatalf("%q fits and became %q", in, got)
			}
		}
	})
}
