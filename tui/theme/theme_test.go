// Tests of what each colour level may send to a terminal, and of the drawing
// characters.

package theme

import (
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/muesli/termenv"
	"pgregory.net/rapid"

	"garage/tundish/model/text"
)

// sgr finds the attribute sequences (ECMA-48, select graphic rendition).
var sgr = regexp.MustCompile("\x1b\\[([0-9;]*)m")

// attributes are the numbers of every SGR sequence in s.
func attributes(s string) []string {
	var out []string
	for _, m := range sgr.FindAllStringSubmatch(s, -1) {
		out = append(out, strings.Split(m[1], ";")...)
	}
	return out
}

func TestPlainSendsNoEscapeSequence(t *testing.T) {
	for name, s := range styles(New(Options{Dark: true, Colour: Plain})) {
		if got := s.Render("830 ml"); got != "830 ml" {
			t.Errorf("%s: %q", name, got)
		}
	}
}

// ECMA-48, 8.3.117: 1 bold, 4 underlined, 7 negative image; 30 to 49 set
// colours.
func TestNoColourSendsAttributesOnly(t *testing.T) {
	allowed := []string{"", "0", "1", "4", "7"}
	for _, dark := range []bool{true, false} {
		for name, s := range styles(New(Options{Dark: dark, Colour: NoColour})) {
			for _, a := range attributes(s.Render("830 ml")) {
				if !slices.Contains(allowed, a) {
					t.Errorf("%s sends attribute %q", name, a)
				}
			}
		}
	}
}

func TestSixteenColoursSendNoPaletteColours(t *testing.T) {
	for _, dark := range []bool{true, false} {
		for name, s := range styles(New(Options{Dark: dark, Colour: ANSI16})) {
			if a := attributes(s.Render("830 ml")); slices.Contains(a, "38") || slices.Contains(a, "48") {
				t.Errorf("%s sends %v", name, a)
			}
		}
	}
}

// The words tell the states apart; where there is no colour the strips must
// still not all look alike.
func TestBannersDifferWithoutColour(t *testing.T) {
	th := New(Options{Dark: true, Colour: NoColour})
	seen := map[string]bool{}
	for _, s := range []string{th.BannerEmpty.Render("x"), th.BannerUnproven.Render("x"), th.BannerProven.Render("x"),
		th.BannerOpen.Render("x")} {
		seen[s] = true
	}
	if len(seen) != 4 {
		t.Errorf("%d kinds of strip for 4 states", len(seen))
	}
}

func TestStateGlyphsDiffer(t *testing.T) {
	for _, g := range []Glyphs{unicodeGlyphs(), asciiGlyphs()} {
		seen := map[string]bool{g.StateEmpty: true, g.StateUnproven: true, g.StateProven: true, g.StateOpen: true}
		if len(seen) != 4 {
			t.Errorf("ascii %v: %d glyphs for 4 states", g.ASCII, len(seen))
		}
	}
}

// TestAThemeIsTheSameEveryTime guards against anything asked of the terminal
// or of the environment.
func TestAThemeIsTheSameEveryTime(t *testing.T) {
	draw := func() string {
		var b strings.Builder
		th := New(Options{Dark: false, Colour: TrueColour})
		v := reflect.TypeOf(th)
		all := styles(th)
		for i := range v.NumField() {
			if s, ok := all[v.Field(i).Name]; ok {
				b.WriteString(s.Render("x"))
			}
		}
		return b.String()
	}
	before := draw()
	t.Setenv("NO_COLOR", "1")
	t.Setenv("TERM", "dumb")
	t.Setenv("COLORFGBG", "15;0")
	if after := draw(); after != before {
		t.Errorf("the environment changed the theme:\n%q\n%q", before, after)
	}
}

// glyphs lists the drawing characters by field name.
func glyphs(g Glyphs) map[string]string {
	found := map[string]string{}
	v := reflect.ValueOf(g)
	for i := range v.NumField() {
		if v.Field(i).Kind() == reflect.String {
			found[v.Type().Field(i).Name] = v.Field(i).String()
		}
	}
	return found
}

func TestGlyphsAreOneCellWide(t *testing.T) {
	wider := []string{"PlusMinus", "Ellipsis"}
	for _, g := range []Glyphs{unicodeGlyphs(), asciiGlyphs()} {
		for name, s := range glyphs(g) {
			if n := text.Width(s); n != 1 && !(g.ASCII && slices.Contains(wider, name)) {
				t.Errorf("ascii %v: %s %q is %d cells wide", g.ASCII, name, s, n)
			}
		}
	}
}

func TestASCIIGlyphsHaveNoByteAbove127(t *testing.T) {
	for name, s := range glyphs(New(Options{ASCII: true}).Glyphs) {
		if strings.ContainsFunc(s, func(r rune) bool { return r >= 0x80 }) {
			t.Errorf("%s is %q", name, s)
		}
	}
}

func TestSpell(t *testing.T) {
	for _, tt := range []struct{ in, want string }{
		{"830 ml ±12", "830 ml +-12"},
		{"60 °C", "60 deg C"},
		{"60°C", "60 deg C"},
		{"779–879 ml", "779-879 ml"},
		{"two  spaces", "two  spaces"},
		{"≥ 3 × ½ L…", ">= 3 x 1/2 L..."},
		{"Öl", "?l"},
	} {
		if got := asciiGlyphs().Spell(tt.in); got != tt.want {
			t.Errorf("Spell(%q) = %q, want %q", tt.in, got, tt.want)
		}
		if got := unicodeGlyphs().Spell(tt.in); got != tt.in {
			t.Errorf("Unicode Spell(%q) = %q, want it unchanged", tt.in, got)
		}
	}
}

func TestSpellLeavesNoByteAbove127(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		if got := asciiGlyphs().Spell(rapid.String().Draw(t, "s")); strings.ContainsFunc(got, func(r rune) bool { return r >= 0x80 }) {
			t.Fatalf("%q", got)
		}
	})
}

func TestColourOf(t *testing.T) {
	for _, tt := range []struct {
		profile  termenv.Profile
		noColour bool
		want     Colour
	}{
		{termenv.Ascii, false, Plain}, {termenv.Ascii, true, NoColour},
		{termenv.ANSI, false, ANSI16}, {termenv.ANSI256, false, ANSI256},
		{termenv.TrueColor, false, TrueColour}, {termenv.TrueColor, true, NoColour},
	} {
		if got := ColourOf(tt.profile, tt.noColour); got != tt.want {
			t.Errorf("ColourOf(%v, %v) = %v, want %v", tt.profile, tt.noColour, got, tt.want)
		}
	}
}

func ExampleColour_String() {
	fmt.Println(NoColour, TrueColour)
	// Output: no colour true colour
}
