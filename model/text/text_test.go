package text

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// What a terminal shows of a text, and in how many columns: those of Unicode
// Standard Annex 11 (wide is two) and 29 (a cluster of marks or an emoji
// sequence is one character).
func TestVisibleAndItsWidth(t *testing.T) {
	for _, row := range []struct {
		name, text, visible string
		width               int
	}{
		{"nothing", "", "", 0},
		{"Latin", "plain ünïcode", "plain ünïcode", 13},
		{"composed marks", "xe tải ế", "xe tải ế", 8},
		{"combining marks", "xe ta\u0309i e\u0302\u0301", "xe ta\u0309i e\u0302\u0301", 8},
		{"CJK", "変速機オイル", "変速機オイル", 12},
		{"full width", "ｗｉｄｅ", "ｗｉｄｅ", 8},
		{"half width", "ｶﾀｶﾅ", "ｶﾀｶﾅ", 4},
		{"Hangul", "오일", "오일", 4},
		{"emoji", "\U0001f697", "\U0001f697", 2},
		{"emoji joined", "\U0001f468\u200d\U0001f527", "\U0001f468\u200d\U0001f527", 2},
		{"emoji by variation", "❤\ufe0f", "❤\ufe0f", 2},
		{"Arabic", "دفتر", "دفتر", 4},
		{"Devanagari joined", "क\u200dष", "क\u200dष", 2},
		{"blank that does not break", "8\u00a0mm", "8\u00a0mm", 4},
		{"tab", "a\tb", `a\tb`, 4},
		{"line ends", "a\r\nb\u2028c\u2029", `a\r\nb\u2028c\u2029`, 19},
		{"C0", "\x00\x07\x1b[2J\x7f", `\x00\a\x1b[2J\x7f`, 17},
		{"C1", "\u0085\u009b31m", `\u0085\u009b31m`, 15},
		{"turned direction", "\u202egnp\u2066x\u2069\u200e\u061c", `\u202egnp\u2066x\u2069\u200e\u061c`, 34},
		{"zero width", "a\u200bb\ufeff\u00ad", `a\u200bb\ufeff\u00ad`, 20},
		{"tag characters", "\U000e0041", `\U000e0041`, 10},
		{"private use", "\ue000", `\ue000`, 6},
		{"not UTF-8", "a\xffb\x9b", `a\xffb\x9b`, 10},
		{"half a character", "\xe6\xb2", `\xe6\xb2`, 8},
		{"replacement character", "\ufffd", "\ufffd", 1},
	} {
		got := Visible(row.text)
		if got != row.visible {
			t.Errorf("%s: %q is shown as %q, want %q", row.name, row.text, got, row.visible)
		}
		if n := Width(got); n != row.width {
			t.Errorf("%s: %q is %d columns wide, want %d", row.name, got, n, row.width)
		}
		if n := Width(PadRight(got, 40)); n != 40 {
			t.Errorf("%s: filled up to %d columns, want 40", row.name, n)
		}
	}
}

func TestWrap(t *testing.T) {
	for _, row := range []struct {
		text  string
		width int
		want  []string
	}{
		{"too low < 1 %, too high > 99 %", 11, []string{"too low", "< 1 %, too", "high > 99 %"}},
		{"needed: 824 ± 57 ml of it", 15, []string{"needed:", "824 ± 57 ml of", "it"}},
		{"or at 178 400 km", 12, []string{"or at", "178 400 km"}},
		{"longer than a line", 5, []string{"longe", "r", "than", "a", "line"}},
		{"変速機オイル", 5, []string{"変速", "機オ", "イル"}},
		{"xe ta\u0309i e\u0302\u0301", 6, []string{"xe ta\u0309i", "e\u0302\u0301"}},
		{"", 5, []string{""}},
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
			if Width(l) > width {
				t.Fatalf("%q is wider than %d", l, width)
			}
		}
		if got := squeezed(strings.Join(lines, " ")); got != squeezed(text) {
			t.Fatalf("%q of %q", got, text)
		}
	})
}

func squeezed(s string) string { return strings.Join(strings.Fields(s), "") }

// Whatever is cut, plain or styled, fits, and what fits is not cut.
func TestCutFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.SampledFrom([]rune("aA\ufe0f\u0300\u200d\U0001f697 ")))).Draw(t, "text")
		text = strings.ReplaceAll(strings.ToValidUTF8(text, "?"), "\x1b", "")
		width := rapid.IntRange(0, 30).Draw(t, "width")
		tail := rapid.SampledFrom([]string{"", "…"}).Draw(t, "tail")
		for _, in := range []string{text, "\x1b[1m" + text + "\x1b[0m"} {
			got := Cut(in, width, tail)
			if n := Width(got); n > width {
				t.Fatalf("%q is %d wide, want %d at most", got, n, width)
			}
			if Width(in) <= width && width > 0 && got != in {
				t.Fatalf("%q fits and became %q", in, got)
			}
		}
	})
}

// A visible text is valid, hides nothing and stays as it is when it is made
// visible again; broken into lines of any width it is still whole.
func FuzzVisible(f *testing.F) {
	for _, s := range []string{"", "a\tb\r\n", "\x1b]0;x\a", "\u202e\u009b\xff", "変\u0301 \U0001f468\u200d\U0001f527 ❤\ufe0f",
		"1 ± 2 ml - 3"} {
		f.Add(s, 7)
	}
	f.Fuzz(func(t *testing.T, s string, width int) {
		shown := Visible(s)
		if !utf8.ValidString(shown) || strings.ContainsFunc(shown, Hidden) {
			t.Fatalf("%q is shown as %q", s, shown)
		}
		if again := Visible(shown); again != shown {
			t.Fatalf("%q became %q", shown, again)
		}
		if width = width&63 + 2; squeezed(strings.Join(Wrap(shown, width), " ")) != squeezed(shown) {
			t.Fatalf("%q in lines of %d: %q", shown, width, Wrap(shown, width))
		}
		for _, l := range Wrap(shown, width) {
			if Width(l) > width {
				t.Fatalf("%q is %d columns wide, want %d at most", l, Width(l), width)
			}
		}
	})
}
