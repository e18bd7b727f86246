// What the marks are held against: the window, the capacity, the target and
// the axis.

package gauge

import (
	"garage/tundish/model/text"
	"garage/tundish/tui/theme"
)

func (v view) windowWords() words {
	w := words{label: "Window", labelInk: &v.theme.Window, number: "not yet", numberInk: &v.theme.Dim}
	if v.data.Window.Known {
		w.number, w.numberInk = v.say.span(v.data.Window), &v.theme.Window
	}
	return w
}

func (v view) capacityWords() words {
	if sane(v.data.CapacityML) == 0 {
		return words{number: "capacity not yet", numberInk: &v.theme.Dim}
	}
	return words{number: "capacity " + v.say.amount(v.data.CapacityML, 0), numberInk: &v.theme.Capacity}
}

// groundRow is what lies behind every bar: the window and the capacity.
func (v view) groundRow() theme.Row {
	r := theme.NewRow(v.cells)
	if low, high, ok := v.band(); ok {
		r.Fill(low, high, v.theme.Glyphs.Light, &v.theme.Window)
	}
	v.edges(r)
	return r
}

// edges paints the window's brackets and the capacity's tick, over a bar too:
// they are what a bar is read against.
func (v view) edges(r theme.Row) {
	g := v.theme.Glyphs
	v.tickCapacity(r)
	if low, high, ok := v.band(); ok {
		r.Put(low, g.BandLow, &v.theme.Window)
		r.Put(high, g.BandHigh, &v.theme.Window)
	}
}

func (v view) tickCapacity(r theme.Row) {
	if c, ok := v.scale.cell(sane(v.data.CapacityML)); ok && c > 0 {
		r.Put(c, v.theme.Glyphs.Tick, &v.theme.Capacity)
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

// windowLine is the window as a band, with the target on it where the target
// has no line of its own.
func (v view) windowLine(withTarget bool) string {
	r := theme.NewRow(v.cells)
	g := v.theme.Glyphs
	low, high, ok := v.band()
	if ok {
		r.Fill(low+1, high, g.BandLine, &v.theme.Window)
	}
	v.edges(r)
	if at, on := v.scale.cell(v.data.Target.ML); on && withTarget && v.drawable(v.target) {
		r.Put(at, g.Target, &v.theme.Strong)
		w := v.numberOf(v.target)
		words := w.label + " " + w.number
		if ok {
			at = min(at, low)
		}
		if first := at - 1 - text.Width(words); first >= 0 && oneCellEach(words) {
			r.Write(first, words, w.numberInk)
		}
	}
	return v.line(r, v.windowWords())
}

// targetLine is the target with its whisker.
func (v view) targetLine() string {
	r := theme.NewRow(v.cells)
	v.edges(r)
	v.paintWhisker(r, v.target)
	if at, on := v.scale.cell(v.data.Target.ML); on && v.drawable(v.target) {
		r.Put(at, v.theme.Glyphs.Target, &v.theme.Strong)
	}
	return v.line(r, v.numberOf(v.target))
}

// axisLine is the scale with a tick at each number.
func (v view) axisLine() string {
	r := theme.NewRow(v.cells)
	g := v.theme.Glyphs
	if v.scale.maxML > 0 {
		r.Fill(0, v.cells, g.AxisLine, &v.theme.Dim)
		for _, t := range v.tickWords() {
			r.Put(t.cell, g.AxisTick, &v.theme.Dim)
		}
		r.Put(0, g.AxisOrigin, &v.theme.Dim)
	}
	v.tickCapacity(r)
	return v.line(r, v.capacityWords())
}

// axisNumbers is the numbers under the axis. Where it is the whole axis it
// carries the capacity as well.
func (v view) axisNumbers(alone bool) string {
	r := theme.NewRow(v.cells)
	var w words
	if alone {
		w = v.capacityWords()
		v.tickCapacity(r)
	}
	for _, t := range v.tickWords() {
		r.Write(t.first, t.text, &v.theme.Dim)
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

// tickWords are the numbers that fit the axis; the first carries the unit and
// is written from the origin on.
func (v view) tickWords() []tickWord {
	widest, _ := splitUnit(v.say.amount(v.scale.maxML, 0))
	gap := text.Width(v.say.amount(0, 0)) + text.Width(widest)/2 + 2
	var out []tickWord
	free := 0
	for _, ml := range v.scale.ticks(v.data.DisplayUnitML, max(gap, axisGap)) {
		number := v.say.amount(ml, 0)
		if len(out) > 0 {
			number, _ = splitUnit(number)
		}
		c, ok := v.scale.cell(ml)
		n := text.Width(number)
		first := max(0, c-n/2)
		if len(out) == 0 {
			first = c
		}
		if !ok || first < free || first+n > v.cells || !oneCellEach(number) {
			continue
		}
		out = append(out, tickWord{c, first, number})
		free = first + n + 1
	}
	return out
}

// oneCellEach reports whether every character of s is one cell wide, as write
// needs.
func oneCellEach(s string) bool {
	for _, r := range s {
		if text.Width(string(r)) != 1 {
			return false
		}
	}
	return true
}
