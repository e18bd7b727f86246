// Package theme holds every colour, text attribute and drawing character of
// the screens, and nothing that knows what they are used for.
//
// State is told by words first, by shape second and by colour last: each
// state has its own glyph, and without colour each role keeps its own mix of
// bold, underline and reverse.
package theme

import (
	"io"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// Colour says how much colour the terminal can show.
type Colour uint8

const (
	// Plain sends no escape sequence at all (a pipe, a dumb terminal).
	Plain Colour = iota
	// NoColour sends bold, underline and reverse only (NO_COLOR is set).
	NoColour
	// ANSI16 uses the terminal's own sixteen colours.
	ANSI16
	// ANSI256 uses the fixed part (16 to 255) of the 256-colour palette.
	ANSI256
	// TrueColour uses 24-bit colours.
	TrueColour
)

// String names the colour level for messages and test names.
func (c Colour) String() string {
	return [...]string{"plain", "no colour", "16 colours", "256 colours", "true colour"}[c]
}

// ColourOf maps what termenv found out about a terminal to a Colour. noColour
// is whether the user asked for none (NO_COLOR, --no-color): attributes stay.
func ColourOf(p termenv.Profile, noColour bool) Colour {
	if noColour {
		return NoColour
	}
	return map[termenv.Profile]Colour{termenv.Ascii: Plain, termenv.ANSI: ANSI16, termenv.ANSI256: ANSI256,
		termenv.TrueColor: TrueColour}[p]
}

// Options is everything a theme depends on. The caller finds these out; the
// theme itself never asks the terminal.
type Options struct {
	Dark   bool   // the terminal's background is dark
	Colour Colour // how much colour to use; the zero value is Plain
	ASCII  bool   // draw with characters below 128 only
}

// Theme is a set of styles by role, and the drawing characters to go with
// them. It is a value: copy it freely. Make it with New; the zero Theme draws
// nothing well.
type Theme struct {
	// Words.
	Text, Dim, Strong, Accent lipgloss.Style
	Danger, Caution, Good     lipgloss.Style

	// Input. FieldError is for the field and for the line that says what is
	// allowed.
	Field, FieldError lipgloss.Style

	// The strip that says how a job stands. Each goes with the glyph of the
	// same name in Glyphs and always carries words.
	BannerEmpty    lipgloss.Style // the unit holds no oil, or nobody knows
	BannerUnproven lipgloss.Style // oil went in, the amount is not accepted yet
	BannerProven   lipgloss.Style // the amount is accepted
	BannerOpen     lipgloss.Style // a job is open, the unit has not been opened

	// The gauge: what came out and what went in, the part in which the end of
	// either lies, and the range that is right, with that part in it.
	Drained, InUnit                  lipgloss.Style
	DrainedShade, InUnitShade        lipgloss.Style
	Range, DrainedRange, InUnitRange lipgloss.Style

	// The line of keys: the key itself and what it does.
	Key, KeyHint lipgloss.Style

	Glyphs Glyphs
}

// New makes the theme for one kind of terminal.
func New(o Options) Theme {
	p := palette{renderer: newRenderer(o.Colour), colour: o.Colour, inks: darkInks()}
	if !o.Dark {
		p.inks = lightInks()
	}
	t := Theme{Glyphs: unicodeGlyphs()}
	if o.ASCII {
		t.Glyphs = asciiGlyphs()
	}
	in := p.inks
	t.Text = p.style(in.text, plain)
	t.Dim = p.style(in.dim, plain)
	t.Strong = p.style(in.strong, bold)
	t.Accent = p.style(in.accent, bold)
	t.Danger = p.style(in.danger, bold, reverse)
	t.Caution = p.style(in.caution, bold, underline)
	t.Good = p.style(in.good, bold)
	t.Field = p.style(in.field, underline, always)
	t.FieldError = p.style(in.fieldError, reverse)
	t.BannerEmpty = p.style(in.empty, bold, reverse)
	t.BannerUnproven = p.style(in.unproven, reverse)
	t.BannerProven = p.style(in.proven, bold, underline)
	t.BannerOpen = p.style(in.open, underline)
	t.Drained = p.style(in.drained, plain)
	t.InUnit = p.style(in.inUnit, bold)
	t.DrainedShade = p.style(in.drainedShade, plain)
	t.InUnitShade = p.style(in.inUnitShade, bold)
	t.Range = p.style(in.between, plain)
	t.DrainedRange = p.style(in.drainedRange, plain)
	t.InUnitRange = p.style(in.inUnitRange, bold)
	t.Key = p.style(in.accent, bold)
	t.KeyHint = p.style(in.dim, plain)
	return t
}

// newRenderer makes a renderer of our own that is told everything, so that no
// style ever sends a question to the terminal. NoColour is given the 16-colour
// profile because the profile below it drops bold and reverse as well; no
// colour is ever asked of it.
func newRenderer(c Colour) *lipgloss.Renderer {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetHasDarkBackground(true)
	r.SetColorProfile([...]termenv.Profile{
		Plain: termenv.Ascii, NoColour: termenv.ANSI, ANSI16: termenv.ANSI, ANSI256: termenv.ANSI256, TrueColour: termenv.TrueColor,
	}[c])
	return r
}
