// The lines of the gauge: each is a name, a row of cells and a number.

package gauge

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"garage/tundish/tui/theme"
)

// mark is a Mark with the gauge's own name where it has none, and its ink.
type mark struct {
	Mark
	ink ink
}

// words are the texts beside a row.
type words struct {
	label, number       string
	labelInk, numberInk ink
}

// view is one drawing: the data, the columns and the scale.
type view struct {
	data                             Data
	theme                            theme.Theme
	say                              speller
	drained, planned, inUnit, target mark
	width, labels, cells, numbers    int
	scale                            scale
}

func newView(d Data, width int, t theme.Theme) view {
	v := view{data: d, theme: t, say: newSpeller(d, t.Glyphs), width: width}
	name := func(m Mark, label string, k ink) mark {
		if m.Label == "" {
			m.Label = label
		}
		return mark{m, k}
	}
	v.drained = name(d.Drained, "Drained", inkDrained)
	v.planned = name(d.Planned, "Planned", inkPlanned)
	v.inUnit = name(d.InUnit, "In unit", inkInUnit)
	v.target = name(d.Target, "Target", inkWindow)
	v.columns()
	v.scale = newScale(d, v.cells)
	return v
}

// The columns keep these widths while the texts fit, so that the bars do not
// jump about as numbers are typed.
const (
	labelCells      = 8
	numberCells     = 18
	mostLabelCells  = 16
	leastBarCells   = 12
	narrowBelow     = 72
	narrowNumbers   = 15
	numbersOfTwenty = 9 // a number takes at most 9/20 of the width
)

// columns shares out the width between names, bars and numbers; where it is
// too narrow for a bar there is none.
func (v *view) columns() {
	v.labels, v.numbers = labelCells, numberCells
	if v.width < narrowBelow {
		v.numbers = narrowNumbers
	}
	for _, m := range []mark{v.drained, v.planned, v.inUnit, v.target} {
		v.labels = max(v.labels, ansi.StringWidth(v.say.text(m.Label)))
		v.numbers = max(v.numbers, ansi.StringWidth(v.numberOf(m).number))
	}
	v.numbers = max(v.numbers, ansi.StringWidth(v.windowWords().number), ansi.StringWidth(v.capacityWords().number))
	v.labels = min(v.labels, mostLabelCells)
	v.numbers = min(v.numbers, v.width*numbersOfTwenty/20)
	v.cells = v.width - v.labels - v.numbers - 2
	if v.cells < leastBarCells {
		v.cells = 0
		v.labels = min(v.labels, v.width/2)
		v.numbers = max(0, v.width-v.labels-1)
	}
}

// line joins name, row and number to one line without blanks at its end.
func (v view) line(r row, w words) string {
	var b strings.Builder
	b.WriteString(styled(v.say.padded(w.label, v.labels), w.labelInk, v.theme))
	if v.cells > 0 {
		b.WriteString(" " + r.render(v.theme))
	}
	if w.number != "" && v.numbers > 0 {
		b.WriteString(" " + styled(v.say.fit(w.number, v.numbers), w.numberInk, v.theme))
	}
	return strings.TrimRight(b.String(), " ")
}

// numberOf is the name and the number of a mark.
func (v view) numberOf(m mark) words {
	w := words{label: v.say.text(m.Label), labelInk: inkText, numberInk: inkStrong}
	switch {
	case !m.Known:
		w.number, w.numberInk = "not yet", inkDim
	case m.Draft:
		w.number, w.numberInk = v.say.amount(m.ML, m.UML)+" typing", inkDraft
	default:
		w.number = v.say.amount(m.ML, m.UML)
	}
	return w
}

func (v view) windowWords() words {
	w := words{label: "Window", labelInk: inkWindow, number: "not yet", numberInk: inkDim}
	if v.data.Window.Known {
		w.number, w.numberInk = v.say.span(v.data.Window), inkWindow
	}
	return w
}

func (v view) capacityWords() words {
	if sane(v.data.CapacityML) == 0 {
		return words{number: "capacity not yet", numberInk: inkDim}
	}
	return words{number: "capacity " + v.say.amount(v.data.CapacityML, 0), numberInk: inkCapacity}
}

// groundRow is what lies behind every bar: the window and the capacity.
func (v view) groundRow() row {
	r := newRow(v.cells)
	if low, high, ok := v.band(); ok {
		r.fill(low, high, v.theme.Glyphs.Light, inkWindow)
	}
	v.edges(r)
	return r
}

// edges paints the window's brackets and the capacity's tick, over a bar too:
// they are what a bar is read against.
func (v view) edges(r row) {
	g := v.theme.Glyphs
	if c, ok := v.scale.cell(sane(v.data.CapacityML)); ok && sane(v.data.CapacityML) > 0 {
		r.put(c, g.Tick, inkCapacity)
	}
	if low, high, ok := v.band(); ok {
		r.put(low, g.BandLow, inkWindow)
		r.put(high, g.BandHigh, inkWindow)
	}
}

// band is the cells of the window's edges; false where there is no window to
// draw. An edge off the scale is off the row.
func (v view) band() (low, high int, ok bool) {
	w := v.data.Window
	if !w.Known || !(w.LowML <= w.HighML) || sane(w.HighML) == 0 || v.scale.maxML <= 0 {
		return 0, 0, false
	}
	low = -1
	if x := v.scale.at(w.LowML); x >= 0 {
		low = min(int(x), v.cells)
	}
	high = int(min(v.scale.at(w.HighML), float64(v.cells)))
	if high == low {
		high++
	}
	return low, high, true
}

// bar is the lines of one mark.
func (v view) bar(m mark, l layout) []string {
	w := v.numberOf(m)
	var out []string
	for i := range l.barLines {
		r := v.groundRow()
		v.paintBar(r, m)
		if !l.whiskerLine {
			v.paintWhisker(r, m, v.theme.Glyphs.WhiskerMid)
		}
		if i > 0 {
			w = words{}
		}
		out = append(out, v.line(r, w))
	}
	if l.whiskerLine {
		r := v.groundRow()
		v.paintWhisker(r, m, v.theme.Glyphs.WhiskerMid)
		out = append(out, v.line(r, words{}))
	}
	return out
}

// drawable says whether a mark has a place on, or off an end of, the scale.
func (v view) drawable(m mark) bool {
	return m.Known && finite(m.ML) && v.scale.maxML > 0
}

func (v view) paintBar(r row, m mark) {
	if !v.drawable(m) || m.ML == 0 {
		return
	}
	g := v.theme.Glyphs
	x := v.scale.at(m.ML)
	if x < 0 {
		r.put(0, g.OffLow, m.ink)
		return
	}
	full := g.Full
	if m.Draft {
		full = g.Hollow
	}
	end := int(min(x, float64(v.cells)))
	r.fill(0, end, full, m.ink)
	switch half := x-float64(end) >= 0.5 || end == 0; {
	case x >= float64(v.cells):
		v.edges(r)
		r.put(v.cells-1, g.OffHigh, m.ink)
		return
	case m.Draft:
		r.put(end, "?", m.ink)
	case half:
		r.put(end, g.Half, m.ink)
	}
	v.edges(r)
}

// paintWhisker paints the uncertainty around the end of a bar, where it is
// wide enough to be seen. The window's edges stay on top of its line, its
// ends and its middle stay on top of them.
func (v view) paintWhisker(r row, m mark, mid string) {
	if !v.drawable(m) || !finite(m.UML) || m.UML <= 0 {
		return
	}
	g := v.theme.Glyphs
	clip := func(ml float64) int {
		return int(max(-1, min(v.scale.at(ml), float64(v.cells))))
	}
	low, middle, high := clip(m.ML-m.UML), clip(m.ML), clip(m.ML+m.UML)
	if m.ML-m.UML < 0 {
		low = -1
	}
	if high-low < 2 || low >= v.cells || high < 0 {
		return
	}
	r.fill(low+1, high, g.WhiskerLine, m.ink)
	v.edges(r)
	r.put(low, g.WhiskerLow, m.ink)
	r.put(high, g.WhiskerHigh, m.ink)
	if high >= v.cells {
		r.put(v.cells-1, g.OffHigh, m.ink)
	}
	if middle > low && middle < high {
		r.put(middle, mid, m.ink)
	}
}

// windowLine is the window as a band, with the target on it where the target
// has no line of its own.
func (v view) windowLine(withTarget bool) string {
	r := newRow(v.cells)
	g := v.theme.Glyphs
	low, high, ok := v.band()
	if ok {
		r.fill(low+1, high, g.BandLine, inkWindow)
	}
	v.edges(r)
	if at, on := v.scale.cell(v.data.Target.ML); withTarget && v.drawable(v.target) && on {
		r.put(at, g.Target, inkStrong)
		w := v.numberOf(v.target)
		text := strings.ToLower(w.label[:1]) + w.label[1:] + " " + w.number
		if ok {
			at = min(at, low)
		}
		if n := ansi.StringWidth(text); n < at {
			r.write(at-n-1, text, w.numberInk)
		}
	}
	return v.line(r, v.windowWords())
}

// targetLine is the target with its whisker.
func (v view) targetLine() string {
	r := newRow(v.cells)
	v.edges(r)
	v.paintWhisker(r, v.target, v.theme.Glyphs.Target)
	if at, on := v.scale.cell(v.data.Target.ML); v.drawable(v.target) && on {
		r.put(at, v.theme.Glyphs.Target, inkStrong)
	}
	return v.line(r, v.numberOf(v.target))
}

// axisLine is the scale with a tick at each number.
func (v view) axisLine() string {
	r := newRow(v.cells)
	g := v.theme.Glyphs
	if v.scale.maxML > 0 {
		r.fill(0, v.cells, g.AxisLine, inkDim)
		for _, t := range v.tickWords() {
			r.put(t.cell, g.AxisTick, inkDim)
		}
		r.put(0, g.AxisOrigin, inkDim)
	}
	if c, ok := v.scale.cell(v.data.CapacityML); ok && sane(v.data.CapacityML) > 0 {
		r.put(c, g.Tick, inkCapacity)
	}
	return v.line(r, v.capacityWords())
}

// axisNumbers is the numbers under the axis. Where it is the whole axis it
// carries the capacity as well.
func (v view) axisNumbers(alone bool) string {
	r := newRow(v.cells)
	var w words
	if alone {
		w = v.capacityWords()
		if c, ok := v.scale.cell(v.data.CapacityML); ok && sane(v.data.CapacityML) > 0 {
			r.put(c, v.theme.Glyphs.Tick, inkCapacity)
		}
	}
	for _, t := range v.tickWords() {
		r.write(t.first, t.text, inkDim)
	}
	return v.line(r, w)
}

// tickWord is one number of the axis.
type tickWord struct {
	cell, first int
	text        string
}

// axisGap is the least distance of two numbers' middles on the axis, cells.
const axisGap = 8

// tickWords are the numbers that fit the axis; the first carries the unit.
func (v view) tickWords() []tickWord {
	var out []tickWord
	free := 0
	for _, ml := range v.scale.ticks(v.data.DisplayUnitML, axisGap) {
		text := v.say.amount(ml, 0)
		if len(out) > 0 {
			text, _ = splitUnit(text)
		}
		c, ok := v.scale.cell(ml)
		n := ansi.StringWidth(text)
		first := max(0, c-n/2)
		if !ok || first < free || first+n > v.cells || n != len([]rune(text)) {
			continue
		}
		out = append(out, tickWord{c, first, text})
		free = first + n + 1
	}
	return out
}
