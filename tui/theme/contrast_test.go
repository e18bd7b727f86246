// Tests that every foreground and background of the theme stands 4.5:1 apart.
//
// Source of the formula and of the threshold: W3C, Web Content Accessibility
// Guidelines 2.2, definitions of "relative luminance" and "contrast ratio",
// and success criterion 1.4.3 (minimum contrast).

package theme

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"testing"

	"github.com/charmbracelet/lipgloss"
)

const minContrast = 4.5

type rgb struct{ r, g, b uint8 }

// luminance is the relative luminance of WCAG 2.2, 0 black to 1 white.
func (c rgb) luminance() float64 {
	channel := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*channel(c.r) + 0.7152*channel(c.g) + 0.0722*channel(c.b)
}

// contrast is the contrast ratio of WCAG 2.2, 1 to 21.
func contrast(a, b rgb) float64 {
	la, lb := a.luminance(), b.luminance()
	return (math.Max(la, lb) + 0.05) / (math.Min(la, lb) + 0.05)
}

func hexRGB(t *testing.T, s string) rgb {
	t.Helper()
	var c rgb
	if n, err := fmt.Sscanf(s, "#%02x%02x%02x", &c.r, &c.g, &c.b); n != 3 || err != nil {
		t.Fatalf("colour %q: want #rrggbb", s)
	}
	return c
}

// paletteRGB is the fixed part of the 256-colour palette: a 6x6x6 cube with
// levels 0, 95, 135, 175, 215, 255 and a ramp of 24 greys, 8 to 238.
// Source: xterm, file 256colres.pl (from memory).
func paletteRGB(t *testing.T, n int) rgb {
	t.Helper()
	if n < 16 || n > 255 {
		t.Fatalf("palette index %d: only 16 to 255 are the same on every terminal", n)
	}
	if n >= 232 {
		v := uint8(8 + 10*(n-232))
		return rgb{v, v, v}
	}
	levels := [6]uint8{0, 95, 135, 175, 215, 255}
	n -= 16
	return rgb{levels[n/36], levels[n/6%6], levels[n%6]}
}

func TestContrastFormulaAgainstPublishedPairs(t *testing.T) {
	tests := []struct {
		fg, bg string
		want   float64
		tol    float64
		source string
	}{
		{"#000000", "#ffffff", 21, 1e-9, "WCAG 2.2, contrast ratio: ranges from 1 to 21"},
		{"#ffffff", "#ffffff", 1, 1e-9, "WCAG 2.2, contrast ratio: ranges from 1 to 21"},
		{"#767676", "#ffffff", 4.54, 0.005, "WebAIM, Contrast and Color Accessibility: the lightest grey that passes (from memory)"},
		{"#777777", "#ffffff", 4.48, 0.005,
			"W3C working group on rounding, 2016, kept at davidmacd.com/test/check-color.html: 4.48, fails"},
	}
	for _, tt := range tests {
		got := contrast(hexRGB(t, tt.fg), hexRGB(t, tt.bg))
		if math.Abs(got-tt.want) > tt.tol {
			t.Errorf("contrast(%s, %s) = %.4f, want %.4f (%s)", tt.fg, tt.bg, got, tt.want, tt.source)
		}
	}
}

// styles lists the theme's styles by field name.
func styles(th Theme) map[string]lipgloss.Style {
	found := map[string]lipgloss.Style{}
	v := reflect.ValueOf(th)
	for i := range v.NumField() {
		if s, ok := v.Field(i).Interface().(lipgloss.Style); ok {
			found[v.Type().Field(i).Name] = s
		}
	}
	return found
}

// grounds are the terminal backgrounds assumed: the darkest and the lightest
// of each kind, both of which a theme must stand out from.
func grounds(dark bool) []rgb {
	if dark {
		return []rgb{{0, 0, 0}, {0x1e, 0x1e, 0x2e}}
	}
	return []rgb{{0xff, 0xff, 0xff}, {0xfd, 0xf6, 0xe3}}
}

func TestEveryPairIsReadable(t *testing.T) {
	for _, dark := range []bool{true, false} {
		for _, level := range []Colour{TrueColour, ANSI256} {
			for name, s := range styles(New(Options{Dark: dark, Colour: level})) {
				t.Run(fmt.Sprintf("dark=%v/%v/%s", dark, level, name), func(t *testing.T) {
					fg, ok := resolve(t, level, s.GetForeground())
					if !ok {
						t.Fatal("no foreground")
					}
					backs := grounds(dark)
					if bg, ok := resolve(t, level, s.GetBackground()); ok {
						backs = []rgb{bg}
					}
					for _, bg := range backs {
						if got := contrast(fg, bg); got < minContrast {
							t.Errorf("%v on %v: contrast %.2f, want at least %.1f", fg, bg, got, minContrast)
						}
					}
				})
			}
		}
	}
}

// at is a colour of a style as it is written at a level, "" where the style sets none.
func at(level Colour, c lipgloss.TerminalColor) string {
	of, _ := c.(lipgloss.CompleteColor) // NoColor is none
	return map[Colour]string{TrueColour: of.TrueColor, ANSI256: of.ANSI256, ANSI16: of.ANSI}[level]
}

// resolve is the colour of a style; false where the style sets none.
func resolve(t *testing.T, level Colour, c lipgloss.TerminalColor) (rgb, bool) {
	t.Helper()
	text := at(level, c)
	if text == "" {
		return rgb{}, false
	}
	if n, err := strconv.Atoi(text); err == nil {
		return paletteRGB(t, n), true
	}
	return hexRGB(t, text), true
}

// terminal is the part of a terminal's own sixteen colours that the themes
// use, by index.
type terminal map[int]rgb

// terminals are the default palettes of five terminals. Source: Wikipedia,
// "ANSI escape code", table of colours; the last white from memory.
func terminals() map[string]terminal {
	return map[string]terminal{
		"VGA": {0: {0, 0, 0}, 1: {170, 0, 0}, 4: {0, 0, 170}, 7: {170, 170, 170}, 9: {255, 85, 85}, 10: {85, 255, 85},
			11: {255, 255, 85}, 13: {255, 85, 255}, 14: {85, 255, 255}, 15: {255, 255, 255}},
		"Windows XP": {0: {0, 0, 0}, 1: {128, 0, 0}, 4: {0, 0, 128}, 7: {192, 192, 192}, 9: {255, 0, 0}, 10: {0, 255, 0},
			11: {255, 255, 0}, 13: {255, 0, 255}, 14: {0, 255, 255}, 15: {255, 255, 255}},
		"PuTTY": {0: {0, 0, 0}, 1: {187, 0, 0}, 4: {0, 0, 187}, 7: {187, 187, 187}, 9: {255, 85, 85}, 10: {85, 255, 85},
			11: {255, 255, 85}, 13: {255, 85, 255}, 14: {85, 255, 255}, 15: {255, 255, 255}},
		"xterm": {0: {0, 0, 0}, 1: {205, 0, 0}, 4: {0, 0, 238}, 7: {229, 229, 229}, 9: {255, 0, 0}, 10: {0, 255, 0},
			11: {255, 255, 0}, 13: {255, 0, 255}, 14: {0, 255, 255}, 15: {255, 255, 255}},
		"Terminal.app": {0: {0, 0, 0}, 1: {194, 54, 33}, 4: {73, 46, 225}, 7: {203, 204, 205}, 9: {252, 57, 31}, 10: {49, 231, 34},
			11: {234, 236, 35}, 13: {249, 53, 248}, 14: {20, 240, 240}, 15: {233, 235, 235}},
	}
}

// A terminal's own colours are not ours to know: this holds on the palettes
// listed, on a black and on a white ground.
func TestSixteenColoursAreReadableOnUsualTerminals(t *testing.T) {
	for name, own := range terminals() {
		for _, dark := range []bool{true, false} {
			for role, s := range styles(New(Options{Dark: dark, Colour: ANSI16})) {
				ground, text := rgb{255, 255, 255}, rgb{0, 0, 0}
				if dark {
					ground, text = text, own[7]
				}
				fg, bg := own.resolve(t, s.GetForeground(), text), own.resolve(t, s.GetBackground(), ground)
				if got := contrast(fg, bg); got < minContrast {
					t.Errorf("%s, dark %v, %s: contrast %.2f, want at least %.1f", name, dark, role, got, minContrast)
				}
			}
		}
	}
}

// resolve is the colour of a style on this terminal; unset where it sets none.
func (own terminal) resolve(t *testing.T, c lipgloss.TerminalColor, unset rgb) rgb {
	t.Helper()
	text := at(ANSI16, c)
	if text == "" {
		return unset
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatalf("colour %q is not one of the sixteen", text)
	}
	found, ok := own[n]
	if !ok {
		t.Fatalf("colour %d is not in the table", n)
	}
	return found
}
