package history

// This file draws one chart: a mark for each job at its time, with its
// uncertainty as a whisker, on a line chart's axes.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/NimbleMarkets/ntcharts/canvas"
	"github.com/NimbleMarkets/ntcharts/canvas/runes"
	"github.com/NimbleMarkets/ntcharts/linechart"
	"github.com/charmbracelet/lipgloss"

	"garage/tundish/model/estimate"
	"garage/tundish/model/learn"
	"garage/tundish/model/measure"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
)

// Chart says which chart.
type Chart uint8

// The charts, in the order they are shown.
const (
	LossChart    Chart = iota // oil missing per 1,000 km
	DrainedChart              // what came out
	NetFillChart              // what went in
	chartCount
)

// String names the chart.
func (c Chart) String() string {
	switch c {
	case LossChart:
		return "loss"
	case DrainedChart:
		return "drained"
	case NetFillChart:
		return "net fill"
	}
	return fmt.Sprintf("Chart(%d)", uint8(c))
}

// Next is the chart after it, round and round.
func (c Chart) Next() Chart { return (c + 1) % chartCount }

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
	chart Chart
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

func (v view) plot(c Chart) plot {
	per, perFactor := v.perDistance()
	unit := v.data.Units.Volume.String()
	p := plot{chart: c, title: "drained, " + unit}
	switch c {
	case LossChart:
		p.title = "loss per " + per + ", " + unit
		p.words = [kindCount]string{kindSound: "no sign", kindDoubtful: "not proven", kindFault: "leak or gain"}
	case NetFillChart:
		p.title = "net fill, " + unit
		p.words = [kindCount]string{kindSound: "accepted", kindDoubtful: "not accepted"}
	}
	for i, h := range v.data.Points {
		x, k, ok := valueOf(c, h)
		if c == LossChart {
			x = scaled(x, perFactor)
		}
		if b, fits := v.barOf(x); ok && fits {
			p.marks = append(p.marks, mark{bar: b, job: i, kind: k})
		}
	}
	return p
}

// valueOf is what a chart shows of a job; false where it has nothing to show.
func valueOf(c Chart, h verdict.HistoryPoint) (measure.Value, kind, bool) {
	switch c {
	case DrainedChart:
		return h.DrainedML, kindPlain, h.Drained
	case NetFillChart:
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

// draw draws a plot: its title, the chart, and dates under it.
func (v view) draw(p plot, place string, width, height int) []string {
	bars := make([]bar, len(p.marks))
	for i, m := range p.marks {
		bars[i] = m.bar
	}
	rows := height - 3 // title, axis, dates
	s := newScale(bars, rows, p.chart == LossChart)
	dim := v.theme.Dim
	lc := linechart.New(width, height-1, 0, 1, s.low, s.low+s.perRow*float64(rows),
		linechart.WithXYSteps(1, s.label), linechart.WithStyles(dim, dim, dim),
		linechart.WithXLabelFormatter(func(int, float64) string { return "" }), // dates are placed under their jobs
		linechart.WithYLabelFormatter(func(_ int, y float64) string { return s.text(y) }))
	wide := lc.GraphWidth()
	if wide < 1 {
		return slices.Repeat([]string{""}, height)
	}
	lc.SetXRange(0, float64(wide)) // one column, one step
	lc.SetViewXRange(0, float64(wide))
	lc.DrawXYAxisAndLabel()
	if p.chart == LossChart {
		v.zeroLine(&lc)
	}
	x := v.jobColumns(wide)
	for _, m := range p.marks {
		v.whisker(&lc, m, x[m.job])
	}
	for _, m := range p.marks {
		v.mark(&lc, m, x[m.job])
	}
	v.dates(&lc, x)
	return append([]string{v.caption(p, place, width)}, v.cells(&lc)...)
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

// spot is the cell of a value. The scale for lines is the one that the labels
// of the axis go by.
func spot(lc *linechart.Model, x int, y float64) canvas.Point {
	return canvas.CanvasPointFromFloat64Point(lc.Origin(), lc.ScaleFloat64PointForLine(canvas.Float64Point{X: float64(x), Y: y}))
}

// zeroLine marks where nothing is lost.
func (v view) zeroLine(lc *linechart.Model) {
	zero := spot(lc, 0, 0).Y
	if zero >= lc.Origin().Y {
		return
	}
	for x := 1; x <= lc.GraphWidth(); x++ {
		lc.Canvas.SetCell(canvas.Point{X: lc.Origin().X + x, Y: zero}, v.cell(v.theme.Glyphs.Todo, v.theme.Dim))
	}
}

// whisker draws a mark's uncertainty; an end beyond the chart is an arrow.
func (v view) whisker(lc *linechart.Model, m mark, x int) {
	top, bottom := spot(lc, x, m.y+m.half), spot(lc, x, m.y-m.half)
	if bottom.Y == top.Y {
		return // too short to be seen
	}
	g, style := v.chartGlyphs(), v.theme.InUnit
	floor := lc.Origin().Y - 1
	for y := max(top.Y, 0); y <= min(bottom.Y, floor); y++ {
		glyph := v.theme.Glyphs.Vertical
		switch {
		case y == top.Y:
			glyph = g.top
		case y == bottom.Y:
			glyph = g.bottom
		case y == 0:
			glyph = g.above
		case y == floor && bottom.Y > lc.Origin().Y:
			glyph = g.below
		}
		lc.Canvas.SetCell(canvas.Point{X: top.X, Y: y}, v.cell(glyph, style))
	}
}

// mark draws a value; one beyond the chart is an arrow at its edge.
func (v view) mark(lc *linechart.Model, m mark, x int) {
	at, glyph, g := spot(lc, x, m.y), v.shapeOf(m.kind), v.chartGlyphs()
	switch floor := lc.Origin().Y - 1; {
	case at.Y < 0:
		at.Y, glyph = 0, g.above
	case at.Y > floor:
		at.Y, glyph = floor, g.below
	}
	lc.Canvas.SetCell(at, v.cell(glyph, v.styleOf(m.kind)))
}

// dates writes the days of jobs under the axis and ticks on it: the last job's
// first, then the first's, then as many as fit.
func (v view) dates(lc *linechart.Model, x []int) {
	o := lc.Origin()
	taken := make([]bool, lc.Width()+1)
	write := func(job int) {
		at := v.data.Points[job].Date
		column := o.X + x[job]
		lc.Canvas.SetCell(canvas.Point{X: column, Y: o.Y}, v.cell(v.theme.Glyphs.AxisTick, v.theme.Dim))
		text := v.say(month(at))
		from := max(min(column-len(text)/2, lc.Width()-len(text)), 0)
		if at.IsZero() || len(text) > lc.Width() || slices.Contains(taken[max(from-1, 0):from+len(text)+1], true) {
			return
		}
		for i := range len(text) {
			taken[from+i] = true
		}
		lc.Canvas.SetStringWithStyle(canvas.Point{X: from, Y: o.Y + 1}, text, v.theme.Dim)
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

func (v view) styleOf(k kind) lipgloss.Style {
	switch k {
	case kindDoubtful:
		return v.theme.Caution
	case kindFault:
		return v.theme.Danger
	}
	return v.theme.InUnit
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

func (v view) cell(glyph string, style lipgloss.Style) canvas.Cell {
	return canvas.NewCellWithStyle([]rune(glyph)[0], style)
}

// cells are the lines of a chart in the theme's characters. The chart's own
// View is not used: it renders every empty cell in a style of no theme.
func (v view) cells(lc *linechart.Model) []string {
	g := v.theme.Glyphs
	out := make([]string, lc.Height())
	for y := range out {
		var b strings.Builder
		for x := range lc.Width() {
			c := lc.Canvas.Cell(canvas.Point{X: x, Y: y})
			switch c.Rune {
			case runes.Null, ' ':
				b.WriteByte(' ')
				continue
			case runes.LineVertical:
				b.WriteString(c.Style.Render(g.Vertical))
			case runes.LineHorizontal:
				b.WriteString(c.Style.Render(g.AxisLine))
			case runes.LineUpRight:
				b.WriteString(c.Style.Render(g.AxisOrigin))
			default:
				b.WriteString(c.Style.Render(string(c.Rune)))
			}
		}
		out[y] = b.String()
	}
	return out
}
