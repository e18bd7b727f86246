// The marks of the gauge: the columns, and a line of a mark as a name, a row of
// cells and a number. What the marks are held against is in ground.go.

package gauge

import (
	"strings"

	"garage/tundish/model/text"
	"garage/tundish/tui/theme"
)

// mark is a Mark with the gauge's own name where it has none, and its ink.
type mark struct {
	Mark
	ink     theme.Ink
	planned bool // an intention, not oil that is there
}

// words are the texts beside a row.
type words struct {
	label, number       string
	labelInk, numberInk theme.Ink
}

// view is one drawing: the data, the columns and the scale.
type view struct {
	data                             Data
	theme                            *theme.Theme
	say                              speller
	drained, planned, inUnit, target mark
	width, labels, cells, numbers    int
	scale                            scale
}

func newView(d Data, width int, t theme.Theme) view {
	v := view{data: d, theme: &t, say: newSpeller(d, t.Glyphs), width: width}
	name := func(m Mark, label string, k theme.Ink) mark {
		if m.Label == "" {
			m.Label = label
		}
		return mark{Mark: m, ink: k, planned: k == &v.theme.Planned}
	}
	v.drained = name(d.Drained, "Drained", &v.theme.Drained)
	v.planned = name(d.Planned, "Planned", &v.theme.Planned)
	v.inUnit = name(d.InUnit, "In unit", &v.theme.InUnit)
	v.target = name(d.Target, "Target", &v.theme.Window)
	v.columns()
	v.scale = newScale(d, v.cells)
	return v
}

// The columns keep these widths while the texts fit, so that the bars do not
// jump about as numbers are typed.
const (
	labelCells     = 8
	numberCells    = 18
	mostLabelCells = 16
	leastBarCells  = 12
	narrowBelow    = 72 // below this width numbers start from narrowNumbers
	narrowNumbers  = 15
)

// columns shares out the width between names, bars and numbers; where it is
// too narrow for a bar there is none.
func (v *view) columns() {
	v.labels, v.numbers = labelCells, numberCells
	if v.width < narrowBelow {
		v.numbers = narrowNumbers
	}
	v.numbers += text.Width(v.theme.Glyphs.PlusMinus) - 1
	for _, m := range []mark{v.drained, v.planned, v.inUnit, v.target} {
		v.labels = max(v.labels, text.Width(v.say.text(m.Label)))
		v.numbers = max(v.numbers, text.Width(v.numberOf(m).number))
	}
	v.numbers = max(v.numbers, text.Width(v.windowWords().number), text.Width(v.capacityWords().number))
	v.labels = min(v.labels, mostLabelCells)
	v.numbers = min(v.numbers, v.width*9/20)
	v.cells = v.width - v.labels - v.numbers - 2
	if v.cells < leastBarCells {
		v.cells = 0
		v.labels = min(v.labels, v.width/2)
		v.numbers = max(0, v.width-v.labels-1)
	}
}

// line joins name, row and number to one line without blanks at its end.
func (v view) line(r theme.Row, w words) string {
	var b strings.Builder
	label := v.say.fit(w.label, v.labels)
	b.WriteString(theme.Styled(label, w.labelInk))
	b.WriteString(strings.Repeat(" ", v.labels-text.Width(label)))
	if v.cells > 0 {
		b.WriteString(" " + r.String())
	}
	if w.number != "" && v.numbers > 0 {
		b.WriteString(" " + theme.Styled(v.say.fit(w.number, v.numbers), w.numberInk))
	}
	return strings.TrimRight(b.String(), " ")
}

// numberOf is the name and the number of a mark.
func (v view) numberOf(m mark) words {
	w := words{label: v.say.text(m.Label), labelInk: &v.theme.Text, numberInk: &v.theme.Strong}
	switch {
	case !m.Known:
		w.number, w.numberInk = "not yet", &v.theme.Dim
	case m.Draft:
		w.number, w.numberInk = v.say.amount(m.ML, m.UML)+" typing", &v.theme.Accent
	default:
		w.number = v.say.amount(m.ML, m.UML)
	}
	return w
}

// bar is the lines of one mark.
func (v view) bar(m mark, l layout) []string {
	w := v.numberOf(m)
	var out []string
	for i := range l.barLines {
		r := v.groundRow()
		v.paintBar(r, m)
		if !l.whiskerLine {
			v.paintWhisker(r, m)
		}
		if i > 0 {
			w = words{}
		}
		out = append(out, v.line(r, w))
	}
	if l.whiskerLine {
		r := v.groundRow()
		if !v.paintWhisker(r, m) && m.UML > 0 {
			v.paintMiddle(r, m)
		}
		out = append(out, v.line(r, words{}))
	}
	return out
}

// drawable reports whether a mark has a place on, or off an end of, the scale.
func (v view) drawable(m mark) bool {
	return m.Known && finite(m.ML) && v.scale.maxML > 0
}

// paintBar paints the bar: solid what is there, a double line what is planned,
// a thin line and "?" what is being typed.
func (v view) paintBar(r theme.Row, m mark) {
	if !v.drawable(m) || m.ML == 0 {
		return
	}
	g := v.theme.Glyphs
	x := v.scale.at(m.ML)
	if x < 0 {
		r.Put(0, g.OffLow, m.ink)
		return
	}
	body, tip := g.Full, g.Half
	switch {
	case m.Draft:
		body, tip = g.Thin, "?"
	case m.planned:
		body, tip = g.Double, g.Double
	}
	end := int(min(x, float64(v.cells)))
	r.Fill(0, end, body, m.ink)
	if x-float64(end) >= 0.5 || end == 0 || m.Draft {
		r.Put(end, tip, m.ink)
	}
	v.edges(r)
	if x >= float64(v.cells) {
		r.Put(v.cells-1, g.OffHigh, m.ink)
	}
}

// paintWhisker paints the uncertainty around the end of a bar, where it is
// wide enough to be seen, and reports whether it was. The window's edges stay on
// top of its line, its ends and its middle stay on top of them.
func (v view) paintWhisker(r theme.Row, m mark) bool {
	if !v.drawable(m) || !finite(m.UML) || m.UML <= 0 {
		return false
	}
	g := v.theme.Glyphs
	clip := func(ml float64) int {
		return int(max(-1, min(v.scale.at(ml), float64(v.cells))))
	}
	low, high := clip(m.ML-m.UML), clip(m.ML+m.UML)
	if m.ML-m.UML < 0 {
		low = -1
	}
	if high-low < 2 || low >= v.cells || high < 0 {
		return false
	}
	r.Fill(low+1, high, g.WhiskerLine, m.ink)
	v.edges(r)
	r.Put(low, g.WhiskerLow, m.ink)
	r.Put(high, g.WhiskerHigh, m.ink)
	if high >= v.cells {
		r.Put(v.cells-1, g.OffHigh, m.ink)
	}
	v.paintMiddle(r, m)
	return true
}

// paintMiddle marks the value itself on a whisker.
func (v view) paintMiddle(r theme.Row, m mark) {
	glyph := v.theme.Glyphs.WhiskerMid
	if m.Draft {
		glyph = "?"
	}
	if at, on := v.scale.cell(m.ML); on && v.drawable(m) {
		r.Put(at, glyph, m.ink)
	}
}
