// The names and numbers beside the bars: always one line, always in the
// theme's characters, never wider than their column.

package gauge

import (
	"fmt"
	"math"
	"strings"

	"garage/tundish/model/text"
	"garage/tundish/tui/theme"
)

// speller writes text for one gauge.
type speller struct {
	glyphs theme.Glyphs
	format func(ml, uML float64) string
}

func newSpeller(d Data, g theme.Glyphs) speller {
	s := speller{glyphs: g, format: d.Format}
	if s.format == nil {
		s.format = millilitres
	}
	return s
}

// millilitres is the format where the caller gives none.
func millilitres(ml, uML float64) string {
	if uML == 0 {
		return fmt.Sprintf("%.0f ml", ml)
	}
	return fmt.Sprintf("%.0f ml ±%.0f", ml, uML)
}

// text makes s one printable line in the theme's characters.
func (s speller) text(in string) string {
	in = text.Visible(in)
	return s.glyphs.Spell(in)
}

// amount is a mark's number; an uncertainty that is no number is shown as
// unknown rather than left out.
func (s speller) amount(ml, uML float64) string {
	switch {
	case !finite(ml):
		return "not computable"
	case math.Abs(ml) > largestML:
		return "too large"
	case !finite(uML) || uML < 0 || uML > largestML:
		return s.text(s.format(ml, 0) + " ±?")
	}
	return s.text(s.format(ml, uML))
}

// span is "779–879 ml": two volumes that share the unit they end in.
func (s speller) span(b Band) string {
	low, high := s.amount(b.LowML, 0), s.amount(b.HighML, 0)
	number, unit := splitUnit(low)
	if _, highUnit := splitUnit(high); unit == highUnit && finite(b.LowML) && finite(b.HighML) {
		low = number
	}
	return low + s.glyphs.Dash + high
}

// splitUnit parts "879 ml" or "1.5 US fl oz" into its number and its unit.
func splitUnit(amount string) (number, unit string) {
	end := strings.LastIndexAny(amount, "0123456789") + 1
	return amount[:end], strings.TrimSpace(amount[end:])
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// fit cuts s to width cells, the cut shown.
func (s speller) fit(in string, width int) string {
	if width <= 0 {
		return ""
	}
	tail := s.glyphs.Ellipsis
	if text.Width(tail) >= width {
		tail = ""
	}
	return text.Cut(in, width, tail)
}
