// Package history draws what the jobs of one unit say over the years: a list of
// the jobs, charts of what came out, went in and went missing, what was learned,
// and whether the unit is losing oil.
//
// View is a pure function of its arguments. It judges nothing: the judgement is
// that of package verdict. This file holds what is shown and how the lines are
// shared out; words.go the sentences, table.go the list, chart.go a chart, and
// scale.go its scales.
package history

import (
	"fmt"
	"strings"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/quantity"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
	"garage/tundish/tui/theme"
)

// Data is everything the view shows. Volumes are ml at 20 °C; what is shown
// after ± is estimate.Coverage standard uncertainties.
type Data struct {
	Points           []verdict.HistoryPoint // newest first
	Outcomes         []outcome              // of the jobs of Points; what is missing shows a dash
	Leakage          verdict.Leakage
	Residual, Escape verdict.Learned
	Units            quantity.Units
	Name             string        // vehicle and unit
	Waste            verdict.Waste // of all jobs, of whatever unit

	Skip  int   // how many of the newest jobs are scrolled away; out of range is brought into it
	First chart // the chart to show where there is no room for all
}

// outcome is how a job left its unit.
type outcome struct {
	Unit verdict.UnitState
	Odds int                // in 100, that an accepted fill is right; 0 not known
	Left verdict.Conformity // Low or High where it was left so
}

// Of gathers the history of a unit from its jobs, newest first, with what jobs
// have taught and the waste oil that waits. Dates are shown in zone.
func Of(unit []*guide.Guide, lessons verdict.Lessons, waste verdict.Waste, zone *time.Location) Data {
	d := Data{Points: verdict.History(guide.Assessments(unit)), Residual: lessons.Residual, Escape: lessons.Escape, Waste: waste}
	d.Leakage = verdict.Leaks(d.Points)
	if !waste.Since.IsZero() {
		d.Waste.Since = waste.Since.In(zone)
	}
	for i, s := range unit {
		d.Points[i].Date = d.Points[i].Date.In(zone)
		d.Outcomes = append(d.Outcomes, outcome{Unit: s.UnitState(), Odds: s.Odds(), Left: s.LeftAs()})
	}
	if len(unit) > 0 {
		d.Units = unit[0].Units()
		d.Name = strings.Trim(unit[0].Vehicle()+", "+unit[0].UnitName(), ", ")
	}
	return d
}

// The least room for a chart, and the most height that it makes use of.
const (
	minChartWidth  = 34
	minChartHeight = 6
	maxChartHeight = 16
	stackedHeight  = 9 // of charts one below the other, at least
	chartGap       = 2 // between charts side by side
	twoAbreastFrom = 100
	allAbreastFrom = 114
	airyFrom       = 20 // lines: blank lines between the parts from here on
	fewestLines    = 4  // of the list, beside a chart
	margin         = 1
)

// view is one drawing.
type view struct {
	data   Data
	theme  *theme.Theme
	width  int
	height int
}

// View draws the history in at most height lines of at most width cells. It is
// made for 60 x 17 and more: the sentences first, then the list, and as many
// charts as there is room for. What is no number is shown as none. No room
// gives nothing.
func View(d Data, width, height int, t theme.Theme) []string {
	if width <= 0 || height <= 0 {
		return nil
	}
	v := view{data: d, theme: &t, width: width, height: height}
	lines := v.sentences()
	gap := 0
	if height >= airyFrom {
		gap = 1
	}
	free := height - len(lines) - gap
	plots := v.plots()
	parts := [][]string{v.table(v.forTable(free-gap, len(plots)))}
	free -= len(parts[0]) + gap
	parts = append(parts, v.charts(plots, free))
	for _, p := range parts {
		if len(p) > 0 && gap > 0 {
			lines = append(lines, "")
		}
		lines = append(lines, p...)
	}
	return v.fit(lines)
}

// abreast is how many charts fit side by side.
func (v view) abreast(n int) int {
	switch {
	case v.width >= allAbreastFrom:
		return min(n, int(chartCount))
	case v.width >= twoAbreastFrom:
		return min(n, 2)
	}
	return 1
}

// forTable is how many of the free lines the list gets beside n charts: most of
// them go to the charts, as far as those make use of them.
func (v view) forTable(free, n int) int {
	fewest := max(fewestLines, min(fewestLines+1, free-minChartHeight))
	if n == 0 || free < fewest+minChartHeight {
		return free
	}
	across := v.abreast(n)
	wanted := (n + across - 1) / across * maxChartHeight
	return max(fewest, free*2/5, free-wanted)
}

// charts lays out as many plots as fit, side by side where the width allows.
func (v view) charts(plots []plot, height int) []string {
	n := len(plots)
	if n == 0 || height < minChartHeight {
		return nil
	}
	across := v.abreast(n)
	rows := min((n+across-1)/across, max(height/stackedHeight, 1))
	each := min(height/rows, maxChartHeight)
	width := (v.width - margin - chartGap*(across-1)) / across
	if width < minChartWidth {
		return nil
	}
	hidden := n > rows*across
	var out []string
	for r := range rows {
		var side [][]string
		for i := r * across; i < min((r+1)*across, n); i++ {
			place := ""
			if hidden {
				place = fmt.Sprintf("%d of %d", i+1, n)
			}
			side = append(side, v.draw(plots[i], place, width, each))
		}
		out = append(out, sideBySide(side, width)...)
	}
	return out
}

// sideBySide joins blocks of equal height, each width cells wide.
func sideBySide(blocks [][]string, width int) []string {
	out := make([]string, len(blocks[0]))
	for i := range out {
		line := strings.Repeat(" ", margin)
		for b, block := range blocks {
			if b > 0 {
				line += strings.Repeat(" ", chartGap)
			}
			line += block[i] + strings.Repeat(" ", max(width-text.Width(block[i]), 0))
		}
		out[i] = strings.TrimRight(line, " ")
	}
	return out
}

// fit cuts the lines to the room, whatever the parts did.
func (v view) fit(lines []string) []string {
	lines = lines[:min(len(lines), v.height)]
	for i, l := range lines {
		if text.Width(l) > v.width {
			lines[i] = text.Cut(l, v.width, v.tail(v.width))
		}
	}
	return lines
}

// tail marks a cut, where there is room for that.
func (v view) tail(width int) string {
	if e := v.theme.Glyphs.Ellipsis; text.Width(e) < width {
		return e
	}
	return ""
}
