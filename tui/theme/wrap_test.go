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
