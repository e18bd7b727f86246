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

// nowLabel names the lower bar.
func (v view) nowLabel() string {
	switch {
	case v.data.Kind == SoFar:
		return "so far"
	case v.data.Kind != WentIn:
		return "planned"
	case v.data.WithStays:
		return "in total"
	}
	return "went in"
}

// number is what stands beside a bar.
func (v view) number(b Bar) (words string, ink theme.Ink) {
	switch {
	case b.None != "":
		return v.say.text(b.None), &v.theme.Dim
	case !b.Known:
		return "not yet", &v.theme.Dim
	case b.Draft:
		return v.say.amount(b.ML, b.UML, false) + " typing", &v.theme.Accent
	}
	return v.say.amount(b.ML, b.UML, true), &v.theme.Strong
}

// rightWords say what is aimed at and what is right, at length and ever shorter.
func (v view) rightWords() [3]string {
	aim, right := v.data.Aim, v.data.Right
	if v.data.LevelHole {
		right.Known = false
	}
	var long, short string
	if aim.Known {
		long = "aim " + v.say.bare(aim.ML)
		short = long
	}
	if right.Known {
		low, high := v.say.bare(right.LowML), v.say.bare(right.HighML)
		short = "right " + low + "-" + high
		if long != "" {
			long += ", "
		}
		long += "right " + low + " to " + high
	}
	if long == "" {
		return [3]string{}
	}
	if unit := v.say.unit(); unit != "" && unit != "ml" {
		long, short = long+" "+unit, short+" "+unit
	}
	if v.data.WithStays {
		return [3]string{"went in + what stays: " + long, "with what stays: " + short, short}
	}
	return [3]string{long, short, short}
}

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
	return fmt.Sprintf("%.0f ±%.0f ml", ml, uML)
}

// text makes s one printable line in the theme's characters.
func (s speller) text(in string) string { return s.glyphs.Spell(text.Visible(in)) }

// amount is a volume with its unit, and with its uncertainty where that is asked
// for.
func (s speller) amount(ml, uML float64, withU bool) string {
	switch {
	case !finite(ml) || !finite(uML) || uML < 0:
		return "not computable"
	case math.Abs(ml)+uML > largestML:
		return "too large"
	case withU:
		return s.text(s.format(ml, uML))
	}
	return s.text(s.format(ml, 0))
}

// bare is a volume without its unit.
func (s speller) bare(ml float64) string {
	number, _ := splitUnit(s.amount(ml, 0, false))
	return number
}

// unit is the unit that volumes are written in.
func (s speller) unit() string {
	_, unit := splitUnit(s.amount(1000, 0, false))
	return unit
}

// splitUnit parts "879 ml" or "1.5 US fl oz" into its number and its unit; what
// has no number stays whole.
func splitUnit(amount string) (number, unit string) {
	end := strings.LastIndexAny(amount, "0123456789") + 1
	if end == 0 {
		return amount, ""
	}
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

// oneCellEach reports whether every character of s is one cell wide, as a row
// needs.
func oneCellEach(s string) bool {
	for _, r := range s {
		if text.Width(string(r)) != 1 {
			return false
		}
	}
	return true
}
