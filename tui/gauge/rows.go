// The four rows: what is right, over its place; what came out; what is planned
// or in; and the scale.

package gauge

import (
	"slices"
	"strings"

	"garage/tundish/model/text"
	"garage/tundish/tui/theme"
)

// The columns keep these widths while the texts fit, so that the bars do not
// jump about as numbers are typed.
const (
	labelCells    = 8
	barStart      = labelCells + 2 // a blank before the label and one after it
	gapCells      = 2              // between bars and numbers
	numberCells   = 16
	narrowNumbers = 13
	narrowBelow   = 72 // below this width numbers start from narrowNumbers, and words are short
	leastBarCells = 12
)

// view is one drawing: the data, the columns and the scale.
type view struct {
	data                  Data
	theme                 *theme.Theme
	say                   speller
	width, cells, numbers int // cells: of a bar, 0 where there is no room
	scale                 scale
}

func newView(d Data, width int, t theme.Theme) view {
	v := view{data: d, theme: &t, say: newSpeller(d, t.Glyphs), width: width, numbers: numberCells}
	if v.width < narrowBelow {
		v.numbers = narrowNumbers
	}
	for _, b := range []Bar{d.CameOut, d.Now} {
		b.None = ""
		n, _ := v.number(b)
		v.numbers = max(v.numbers, text.Width(n))
	}
	v.numbers = min(v.numbers, width*9/20)
	v.cells = width - barStart - gapCells - v.numbers
	if v.cells < leastBarCells {
		v.cells, v.numbers = 0, max(0, width-barStart)
	}
	v.scale = newScale(d, v.cells)
	return v
}

// oil is how a bar is drawn: its inks where it is solid, where it is shaded, and
// where it is over the range; and its glyph where it is solid.
type oil struct {
	solid, shade, inRange theme.Ink
	body                  string
}

func (v view) nowOil() oil {
	t := v.theme
	o := oil{&t.InUnit, &t.InUnitShade, &t.InUnitRange, t.Glyphs.Full}
	if v.data.Kind == Planned {
		o.body = t.Glyphs.Plan
	}
	return o
}

// put paints a cell of a bar; what does not fill its cell stands on the range's
// ground.
func (v view) put(r theme.Row, cell int, glyph string, ink theme.Ink, o oil) {
	if v.scale.walls && cell > v.scale.low && cell < v.scale.high && (glyph != v.theme.Glyphs.Full || v.theme.Glyphs.ASCII) {
		ink = o.inRange
	}
	r.Put(cell, glyph, ink)
}

// barRow is a bar between its label and its number.
func (v view) barRow(b Bar, label string, o oil) string {
	r, g := theme.NewRow(v.cells), v.theme.Glyphs
	if v.scale.walls {
		r.Fill(v.scale.low+1, v.scale.high, g.Between, &v.theme.Range)
	}
	if b.drawn() && len(v.scale.knots) > 0 {
		first, end := v.scale.part(b)
		for i := range end {
			if i < first {
				v.put(r, i, o.body, o.solid, o)
			} else {
				v.put(r, i, g.Shade, o.shade, o)
			}
		}
	}
	if v.scale.walls {
		r.Put(v.scale.low, g.Wall, &v.theme.Strong)
		r.Put(v.scale.high, g.Wall, &v.theme.Strong)
	}
	number, ink := v.number(b)
	if b.None != "" && v.fits(number, v.roomBelow()) {
		r.Write(0, number, ink)
		number = ""
	}
	line := " " + theme.Styled(text.PadRight(v.say.fit(label, v.width-2), labelCells), &v.theme.Text) + " "
	if v.cells > 0 {
		line += r.String() + strings.Repeat(" ", gapCells)
	}
	return v.whole(line + theme.Styled(v.say.fit(number, v.numbers), ink))
}

// roomBelow is how many cells are free for words before the range.
func (v view) roomBelow() int {
	if v.scale.walls {
		return v.scale.low - 1
	}
	return v.cells
}

// whole is a line without blanks at its end and, where not even the label fits,
// cut.
func (v view) whole(line string) string {
	return text.Cut(strings.TrimRight(line, " "), v.width, "")
}

// topRow is what is right in words, beside a bracket over its place.
func (v view) topRow() string {
	said := v.rightWords()
	texts := said[:]
	if v.cells == 0 {
		return v.whole(" " + theme.Styled(v.say.fit(texts[len(texts)-1], v.width-1), &v.theme.Text))
	}
	if v.width < narrowBelow {
		texts = texts[1:]
	}
	r, g := theme.NewRow(v.width), v.theme.Glyphs
	var low int
	high := v.width // without a bracket the words stand over what is aimed at
	switch {
	case v.scale.walls:
		low, high = barStart+v.scale.low, barStart+v.scale.high
		r.Fill(low, high, g.CornerLine, &v.theme.Strong)
		r.Put(low, g.CornerLow, &v.theme.Strong)
		r.Put(high, g.CornerHigh, &v.theme.Strong)
	case len(v.scale.knots) > 0:
		low = barStart + v.scale.cell(sane(v.data.Aim.ML)) + 2
		high = low - 4
	default:
		low = barStart + text.Width(texts[0]) + 1
	}
	for _, words := range texts {
		n := text.Width(words)
		switch {
		case v.fits(words, low-2):
			r.Write(low-1-n, words, &v.theme.Text)
		case v.fits(words, v.width-high-2):
			r.Write(high+2, words, &v.theme.Text)
		case v.fits(words, high-low-5):
			r.Write(low+2, " "+words+" ", &v.theme.Text)
		default:
			continue
		}
		break
	}
	return v.whole(r.String())
}

// fits reports whether words can be written into so many cells of a row.
func (v view) fits(words string, cells int) bool {
	return text.Width(words) <= cells && oneCellEach(words)
}

// scaleRow is the numbers of the axis, and what is marked on it.
func (v view) scaleRow() string {
	marks := v.marks()
	if v.cells == 0 {
		words := make([]string, len(marks))
		for i, m := range marks {
			words[i] = m.words
		}
		return v.whole(" " + theme.Styled(v.say.fit(strings.Join(words, ", "), v.width-1), &v.theme.Text))
	}
	r := theme.NewRow(v.width)
	taken := make([]bool, v.width)
	for i, m := range marks {
		end := v.width
		if i+1 < len(marks) {
			end = marks[i+1].cell - 1
		}
		n := text.Width(m.words)
		first := m.cell + 1 // the words: after the mark, or before it
		if first+n > end && m.cell-n > 0 {
			first = m.cell - n
		}
		words := v.say.fit(m.words, end-first)
		if !oneCellEach(words) {
			words = ""
		}
		r.Write(first, words, &v.theme.Text)
		r.Put(m.cell, v.theme.Glyphs.MarkUp, &v.theme.Strong)
		for c := min(first, m.cell) - 1; c <= max(first+text.Width(words), m.cell+1); c++ {
			if c >= 0 && c < v.width {
				taken[c] = true
			}
		}
	}
	v.ticks(r, taken)
	return v.whole(r.String())
}

// axisGap is the least distance of two numbers on the axis, cells.
const axisGap = 8

// ticks writes the numbers of the axis, each from its place on, where nothing
// else stands.
func (v view) ticks(r theme.Row, taken []bool) {
	free := 0
	for _, ml := range v.scale.ticks(v.data.DisplayUnitML, axisGap) {
		number := v.say.bare(ml)
		first := barStart + v.scale.cell(ml)
		end := first + text.Width(number)
		if first < free || end > barStart+v.cells || slices.Contains(taken[first:end], true) || !oneCellEach(number) {
			continue
		}
		r.Write(first, number, &v.theme.Dim)
		free = end + 1
	}
}

// mark is a place on the scale with its name.
type mark struct {
	cell  int // from the left of the row
	words string
}

// marks are what is marked on the scale, from the left; two of one cell are one.
func (v view) marks() []mark {
	var list []mark
	add := func(ml float64, words string) {
		cell := barStart
		if v.cells > 0 {
			cell += v.scale.cell(ml)
		}
		list = append(list, mark{cell, words})
	}
	if v.data.LevelHole && v.data.Aim.Known && sane(v.data.Aim.ML) > 0 {
		add(v.data.Aim.ML, "level hole")
	}
	if ml := sane(v.data.ManualML); ml > 0 {
		add(ml, "manual "+v.say.bare(ml))
	}
	if len(list) < 2 {
		return list
	}
	if v.cells > 0 && list[0].cell == list[1].cell {
		return []mark{{list[0].cell, list[0].words + ", " + list[1].words}}
	}
	slices.SortStableFunc(list, func(a, b mark) int { return a.cell - b.cell })
	return list
}
