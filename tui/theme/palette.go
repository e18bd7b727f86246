// The inks of the dark and of the light theme, at each colour level, and how
// an ink and its attributes become a style. Roles are in theme.go.

package theme

import (
	"slices"
	"strconv"

	"github.com/charmbracelet/lipgloss"
)

// colour is one at the three levels. The 256-colour index is chosen by hand, not by
// nearest match, so that contrast holds there too; terminalOwn as the 16-colour index
// leaves the terminal's own default.
func colour(rgb string, c256, ansi16 int) lipgloss.CompleteColor {
	c := lipgloss.CompleteColor{TrueColor: rgb, ANSI256: strconv.Itoa(c256)}
	if ansi16 != terminalOwn {
		c.ANSI = strconv.Itoa(ansi16)
	}
	return c
}

// ink is a foreground and, for fields and banners, a background.
type ink struct{ fg, bg lipgloss.CompleteColor }

type inks struct {
	text, dim, strong, accent     ink
	danger, caution, good         ink
	field, fieldError             ink
	empty, unproven, proven, open ink
	drained, inUnit               ink
	drainedShade, inUnitShade     ink
	between                       ink
	drainedRange, inUnitRange     ink
}

// terminalOwn as a 16-colour index leaves the terminal's default colour.
const terminalOwn = -1

// The hues start from the eight colours of Okabe and Ito, "Color Universal
// Design" (2002, revised 2008): vermillion, yellow, bluish green, sky blue,
// blue, orange, reddish purple, black. Each is made lighter or darker until it
// stands 4.5:1 from the backgrounds it meets, and danger, caution and good
// are kept apart in lightness as well as in hue.

func darkInks() inks {
	black := colour("#000000", 16, 0)
	white := colour("#FFFFFF", 231, 15)
	sky := colour("#56B4E9", 74, 14)
	green := colour("#30C4AE", 37, 10)
	ground := colour("#0B4A2F", 22, 10) // of the range that is right
	return inks{
		text:       ink{fg: colour("#E8E8E8", 254, terminalOwn)},
		dim:        ink{fg: colour("#A9AEB8", 248, 7)},
		strong:     ink{fg: white},
		accent:     ink{fg: sky},
		danger:     ink{fg: colour("#FF6A57", 203, 9)},
		caution:    ink{fg: colour("#F0E442", 227, 11)},
		good:       ink{fg: green},
		field:      ink{fg: white, bg: colour("#34344A", 237, 0)},
		fieldError: ink{fg: white, bg: colour("#A3290B", 124, 1)},
		empty:      ink{fg: white, bg: colour("#A3290B", 124, 1)},
		unproven:   ink{fg: black, bg: colour("#F0E442", 227, 11)},
		proven:     ink{fg: black, bg: green},
		open:       ink{fg: black, bg: sky},

		drained:      ink{fg: colour("#F2A93B", 214, 11)},
		inUnit:       ink{fg: colour("#5AB0F5", 75, 14)},
		drainedShade: ink{fg: colour("#B5852B", 136, 11)},
		inUnitShade:  ink{fg: colour("#5090D0", 68, 14)},
		between:      ink{fg: colour("#D8F5E4", 157, 0), bg: ground},
		drainedRange: ink{fg: colour("#E0B060", 222, 0), bg: ground},
		inUnitRange:  ink{fg: colour("#8FC3F5", 153, 4), bg: ground},
	}
}

func lightInks() inks {
	black := colour("#000000", 16, 0)
	white := colour("#FFFFFF", 231, 15)
	blue := colour("#0068A3", 25, 4)
	ground := colour("#BFE8CF", 157, 10) // of the range that is right
	return inks{
		text:       ink{fg: colour("#1C1C1C", 234, terminalOwn)},
		dim:        ink{fg: colour("#595959", 240, terminalOwn)},
		strong:     ink{fg: colour("#000000", 16, terminalOwn)},
		accent:     ink{fg: blue},
		danger:     ink{fg: colour("#7F1000", 88, 1)},
		caution:    ink{fg: colour("#946000", 94, terminalOwn)},
		good:       ink{fg: colour("#0A6055", 23, terminalOwn)},
		field:      ink{fg: black, bg: colour("#E2E2DA", 254, 15)},
		fieldError: ink{fg: white, bg: colour("#7F1000", 88, 1)},
		empty:      ink{fg: white, bg: colour("#7F1000", 88, 1)},
		unproven:   ink{fg: black, bg: colour("#F0E442", 227, 11)},
		proven:     ink{fg: colour("#FFFFFF", 231, 0), bg: colour("#00634A", 23, 10)},
		open:       ink{fg: white, bg: blue},

		drained:      ink{fg: colour("#6B4400", 58, terminalOwn)},
		inUnit:       ink{fg: colour("#084A8C", 24, 4)},
		drainedShade: ink{fg: colour("#8A5A00", 94, terminalOwn)},
		inUnitShade:  ink{fg: colour("#2F6FB0", 26, 4)},
		between:      ink{fg: colour("#0A3A20", 22, 0), bg: ground},
		drainedRange: ink{fg: colour("#6B4400", 58, 0), bg: ground},
		inUnitRange:  ink{fg: colour("#1B4F8A", 24, 4), bg: ground},
	}
}

// attribute is a text attribute of a role.
type attribute uint8

const (
	plain attribute = iota
	bold
	underline
	reverse
	// always keeps underline where there is colour too; without it underline
	// and reverse only stand in for a missing colour.
	always
)

type palette struct {
	renderer *lipgloss.Renderer
	colour   Colour
	inks     inks
}

func (p palette) style(i ink, attributes ...attribute) lipgloss.Style {
	has := func(a attribute) bool { return slices.Contains(attributes, a) }
	s := p.renderer.NewStyle().Bold(has(bold))
	colourless := p.colour <= NoColour || p.colour == ANSI16 && i.fg.ANSI == ""
	if colourless || has(always) {
		s = s.Underline(has(underline))
	}
	if colourless {
		s = s.Reverse(has(reverse))
	}
	if p.colour <= NoColour {
		return s
	}
	return s.Foreground(i.fg).Background(i.bg)
}
