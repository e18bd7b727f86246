// The names and numbers beside the bars: always one line, always in the
// theme's characters, never wider than their column.

package gauge

import (
	"math"
	"strconv"

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
		return v.said(b, 0) + " typing", &v.theme.Accent
	}
	return v.said(b, b.UML), &v.theme.Strong
}

// said is how far a bar goes, or how far its end lies from the aim, with an uncertainty
// in the same steps.
func (v view) said(b Bar, uML float64) string {
	switch fault := unsayable(b.ML, uML); {
	case b.Off == "":
		return v.say.amount(b.ML, uML)
	case fault != "":
		return fault
	case uML == 0:
		return v.say.text(b.Off)
	}
	return v.say.with(b.Off, v.say.numbers(v.data.Aim.ML, uML)[1], uML)
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
	if v.data.Unit != "" && v.data.Unit != "ml" {
		unit := " " + v.say.text(v.data.Unit)
		long, short = long+unit, short+unit
	}
	if v.data.WithStays {
		return [3]string{"went in + what stays: " + long, "with what stays: " + short, short}
	}
	return [3]string{long, short, short}
}

// speller writes text for one gauge.
type speller struct {
	glyphs  theme.Glyphs
	numbers func(volumesML ...float64) []string
	unit    string
}

func newSpeller(d Data, g theme.Glyphs) speller {
	if d.Numbers == nil {
		return speller{g, millilitres, "ml"}
	}
	return speller{g, d.Numbers, d.Unit}
}

// millilitres writes volumes where the caller does not.
func millilitres(volumesML ...float64) []string {
	texts := make([]string, len(volumesML))
	for i, ml := range volumesML {
		texts[i] = strconv.FormatFloat(ml, 'f', 0, 64)
	}
	return texts
}

// text makes s one printable line in the theme's characters.
func (s speller) text(in string) string { return s.glyphs.Spell(text.Visible(in)) }

// unsayable says why a volume or its uncertainty cannot be written; "" where it can.
func unsayable(ml, uML float64) string {
	switch {
	case math.IsNaN(ml+uML) || math.IsInf(ml+uML, 0) || uML < 0:
		return "not computable"
	case math.Abs(ml)+uML > largestML:
		return "too large"
	}
	return ""
}

// amount is a volume with its unit, and with its uncertainty where that is not 0.
func (s speller) amount(ml, uML float64) string {
	if fault := unsayable(ml, uML); fault != "" {
		return fault
	}
	if uML == 0 {
		return s.with(s.bare(ml), "", 0)
	}
	numbers := s.numbers(ml, uML)
	return s.with(numbers[0], numbers[1], uML)
}

// with is a figure with its uncertainty, where that is not 0, and their unit.
func (s speller) with(figure, give string, uML float64) string {
	if uML != 0 {
		figure += " ±" + give
	}
	return s.text(figure + " " + s.unit)
}

// bare is a volume without its unit.
func (s speller) bare(ml float64) string {
	if fault := unsayable(ml, 0); fault != "" {
		return fault
	}
	if ml == 0 {
		return "0"
	}
	return s.text(s.numbers(ml)[0])
}

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
