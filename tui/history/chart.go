package history

// This file draws one chart: a mark for each job at its time, with its
// uncertainty as a whisker.

import (
	"math"
	"slices"

	"garage/tundish/model/estimate"
	"garage/tundish/model/learn"
	"garage/tundish/model/measure"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
	"garage/tundish/tui/theme"
)

// chart says which chart.
type chart uint8

// The charts, in the order they are shown.
const (
	lossChart    chart = iota // oil missing per 1,000 km
	drainedChart              // what came out
	netFillChart              // what went in
	chartCount
)

// Next is the chart after it, round and round.
func (c chart) Next() chart { return (c + 1) % chartCount }

// kind says what a mark stands for: its shape, and its word in the legend.
type kind uint8

const (
	kindPlain    kind = iota // needs no legend
	kindSound                // no sign of a loss; an accepted amount
	kindDoubtful             // not proven
	kindFault                // a leak, or more than can be
	kindCount
)

// mark is the value of one job.
type mark struct {
	bar
	job  int // in Data.Points
	kind kind
}

// plot is what one chart shows.
type plot struct {
	chart chart
	title string
	words [kindCount]string // for the legend
	marks []mark
}

// plots are the charts that have anything to show, the chosen one first. One
// job alone makes no history.
func (v view) plots() []plot {
	if v.measured() < 2 {
		return nil
	}
	var all []plot
	c := v.data.First % chartCount
	for range chartCount {
		if p := v.plot(c); len(p.marks) > 0 {
			all = append(all, p)
		}
		c = c.Next()
	}
	return all
}

func (v view) plot(c chart) plot {
	per, perFactor := v.perDistance()
	unit := v.data.Units.Volume.String()
	p := plot{chart: c, title: "drained, " + unit}
	switch c {
	case lossChart:
		p.title = "loss per " + per + ", " + unit
		p.words = [kindCount]string{kindSound: "no sign", kindDoubtful: "not proven", kindFault: "leak or gain"}
	case netFillChart:
		p.title = "went in, " + unit
		p.words = [kindCount]string{kindSound: "accepted", kindDoubtful: "not accepted"}
	}
	for i, h := range v.data.Points {
		x, k, ok := valueOf(c, h)
		if c == lossChart {
			x = scaled(x, perFactor)
		}
		if b, fits := v.barOf(x); ok && fits {
			p.marks = append(p.marks, mark{bar: b, job: i, kind: k})
		}
	}
	return p
}

// valueOf is what a chart shows of a job; false where it has nothing to show.
func valueOf(c chart, h verdict.HistoryPoint) (measure.Value, kind, bool) {
	switch c {
	case drainedChart:
		return h.DrainedML, kindPlain, h.Drained
	case netFillChart:
		if h.Proven {
			return h.NetML, kindSound, true
		}
		return h.NetML, kindDoubtful, filled(h)
	}
	k := kindSound
	switch h.Sign {
	case learn.NotProven:
		k = kindDoubtful
	case learn.Leak, learn.Gain:
		k = kindFault
	}
	return h.LossPer1000Km, k, h.Known && h.PerKm
}

// barOf is a value in the owner's unit; false where no chart can hold it.
func (v view) barOf(x measure.Value) (bar, bool) {
	u := estimate.Coverage * x.U()
	if !(math.Abs(x.Nominal) <= largestML && u >= 0 && u <= largestML) {
		return bar{}, false
	}
	unitML := v.data.Units.Volume.Factor()
	return bar{y: x.Nominal / unitML, half: u / unitML}, true
}

// grid is a chart being drawn: rows of cells from the top, under them the axis,
// and under that the dates.
type grid struct {
	rows  []theme.Row
	scale scale
	axis  int // the row of the axis
	left  int // the column of the upright axis
}

// draw draws a plot: its title, the chart, and dates under it.
func (v view) draw(p plot, place string, width, height int) []string {
	bars := make([]bar, len(p.marks))
	for i, m := range p.marks {
		bars[i] = m.bar
	}
	g := grid{axis: height - 3} // title, axis, dates
	g.scale = newScale(bars, g.axis, p.chart == lossChart)
	for i := 0; i <= g.axis; i += g.scale.label {
		g.left = max(g.left, len(g.scale.textAt(i)))
	}
	wide := width - g.left - 1
	if wide < 1 {
		return slices.Repeat([]string{""}, height)
	}
	for range height - 1 {
		g.rows = append(g.rows, theme.NewRow(width))
	}
	v.axes(g)
	if zero := g.row(0); p.chart == lossChart && zero < g.axis { // where nothing is lost
		g.rows[zero].Fill(g.left+1, width, v.theme.Glyphs.Todo, &v.theme.Dim)
	}
	x := v.jobColumns(wide)
	for _, m := range p.marks {
		v.whisker(g, m, g.left+x[m.job])
	}
	for _, m := range p.marks {
		v.mark(g, m, g.left+x[m.job])
	}
	v.dates(g, x)
	lines := []string{v.caption(p, place, width)}
	for _, r := range g.rows {
		lines = append(lines, r.String())
	}
	return lines
}

// row is the row that a value falls into, perhaps beyond the chart.
func (g grid) row(y float64) int {
	return g.axis - int(math.Round((y-g.scale.low)/g.scale.perRow))
}

// axes draws both axes and the labels of the upright one.
func (v view) axes(g grid) {
	dim, glyphs := &v.theme.Dim, v.theme.Glyphs
	for _, r := range g.rows[:g.axis] {
		r.Put(g.left, glyphs.Vertical, dim)
	}
	g.rows[g.axis].Fill(g.left, len(g.rows[g.axis]), glyphs.AxisLine, dim)
	g.rows[g.axis].Put(g.left, glyphs.AxisOrigin, dim)
	for i := 0; i <= g.axis; i += g.scale.label {
		label := g.scale.textAt(i)
		g.rows[g.axis-i].Write(g.left-len(label), label, dim)
	}
}

// sideRoom keeps the first and the last whisker off the edges.
const sideRoom = 2

// jobColumns is the column of each job, the same in every chart.
func (v view) jobColumns(width int) []int {
	order := make([]int, len(v.data.Points)) // by date
	for i := range order {
		order[i] = len(order) - 1 - i
	}
	at := func(i int) float64 { return float64(v.data.Points[i].Date.Unix()) }
	slices.SortStableFunc(order, func(a, b int) int { return v.data.Points[a].Date.Compare(v.data.Points[b].Date) })
	times := make([]float64, len(order))
	for i, job := range order {
		times[i] = at(job)
	}
	x := make([]int, len(order))
	inset := 0
	if width > 2*sideRoom {
		inset = sideRoom
	}
	for i, column := range columns(times, width-2*inset) {
		x[order[i]] = column + inset
	}
	return x
}

// whisker draws a mark's uncertainty; an end beyond the chart is an arrow.
func (v view) whisker(g grid, m mark, x int) {
	top, bottom := g.row(m.y+m.half), g.row(m.y-m.half)
	if bottom == top {
		return // too short to be seen
	}
	c, floor := v.chartGlyphs(), g.axis-1
	for y := max(top, 0); y <= min(bottom, floor); y++ {
		glyph := v.theme.Glyphs.Vertical
		switch {
		case y == top:
			glyph = c.top
		case y == bottom:
			glyph = c.bottom
		case y == 0:
			glyph = c.above
		case y == floor && bottom > g.axis:
			glyph = c.below
		}
		g.rows[y].Put(x, glyph, &v.theme.InUnit)
	}
}

// mark draws a value; one beyond the chart is an arrow at its edge.
func (v view) mark(g grid, m mark, x int) {
	y, glyph, floor := g.row(m.y), v.shapeOf(m.kind), g.axis-1
	switch {
	case y < 0:
		y, glyph = 0, v.chartGlyphs().above
	case y > floor:
		y, glyph = floor, v.chartGlyphs().below
	}
	g.rows[y].Put(x, glyph, v.styleOf(m.kind))
}

// dates writes the days of jobs under the axis and ticks on it: the last job's
// first, then the first's, then as many as fit.
func (v view) dates(g grid, x []int) {
	width := len(g.rows[0])
	taken := make([]bool, width+1)
	write := func(job int) {
		at := v.data.Points[job].Date
		column := g.left + x[job]
		g.rows[g.axis].Put(column, v.theme.Glyphs.AxisTick, &v.theme.Dim)
		text := v.say(at.Format(monthLayout))
		from := max(min(column-len(text)/2, width-len(text)), 0)
		if at.IsZero() || len(text) > width || slices.Contains(taken[max(from-1, 0):from+len(text)+1], true) {
			return
		}
		for i := range len(text) {
			taken[from+i] = true
		}
		g.rows[g.axis+1].Write(from, text, &v.theme.Dim)
	}
	write(0)
	for job := len(x) - 1; job > 0; job-- {
		write(job)
	}
}

// caption is the title of a chart, which of how many it is, and the legend as
// far as there is room.
func (v view) caption(p plot, place string, width int) string {
	title := v.say(p.title)
	if place != "" {
		title += " (" + place + ")"
	}
	title = text.Cut(title, width, v.tail(width))
	line, used := v.theme.Strong.Render(title), text.Width(title)
	var seen [kindCount]bool
	for _, m := range p.marks {
		seen[m.kind] = true
	}
	for k := kindCount - 1; k > kindPlain; k-- { // what matters most first
		if !seen[k] {
			continue
		}
		if w := text.Width(p.words[k]) + 4; used+w <= width {
			line += "  " + v.styleOf(k).Render(v.shapeOf(k)) + " " + v.theme.Dim.Render(p.words[k])
			used += w
		}
	}
	return line
}

func (v view) shapeOf(k kind) string {
	switch k {
	case kindDoubtful:
		return v.theme.Glyphs.StateUnproven
	case kindFault:
		return v.chartGlyphs().fault
	}
	return v.theme.Glyphs.StateProven
}

func (v view) styleOf(k kind) theme.Ink {
	switch k {
	case kindDoubtful:
		return &v.theme.Caution
	case kindFault:
		return &v.theme.Danger
	}
	return &v.theme.InUnit
}

// chartGlyphs are the ends of upright whiskers, what leaves the chart, and a
// fault that is not taken for a whisker.
type chartGlyphs struct{ top, bottom, above, below, fault string }

func (v view) chartGlyphs() chartGlyphs {
	if v.theme.Glyphs.ASCII {
		return chartGlyphs{"-", "-", "^", "v", "X"}
	}
	return chartGlyphs{"┬", "┴", "▲", "▼", v.theme.Glyphs.Fault}
}
