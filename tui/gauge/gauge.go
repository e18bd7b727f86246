// Package gauge draws how much oil came out, is planned and is in the unit
// now, all on one scale with the capacity and the tolerance window.
//
// View is a pure function of its arguments. It knows volumes in millilitres
// and nothing of jobs or verdicts: it shows where a value lies, it does not
// judge. This file holds what the caller says and how the lines are chosen;
// scale.go the scale, words.go the numbers and names.
package gauge

import (
	"strings"

	"garage/tundish/tui/theme"
)

// Mark is one volume on the gauge.
type Mark struct {
	Label string  // its name; empty takes the gauge's own
	ML    float64 // millilitres
	UML   float64 // half the whisker, millilitres: the caller chooses the coverage; 0 draws none
	Known bool    // false shows "not yet"
	Draft bool    // still being typed: drawn as a thin line, with the word
}

// Band is a range of volumes.
type Band struct {
	LowML, HighML float64
	Known         bool
}

// Data is everything the gauge shows.
type Data struct {
	CapacityML float64 // 0 or less: not known
	Window     Band    // what the unit may hold

	Drained, Planned, InUnit Mark
	Target                   Mark // shown on the window's line

	// Format writes a volume and its uncertainty, with their unit; an
	// uncertainty of 0 is to be left out. nil writes whole millilitres.
	Format func(ml, uML float64) string

	// DisplayUnitML is how many millilitres the unit that Format writes has,
	// so that the axis counts in round numbers of it; 0 is millilitres.
	DisplayUnitML float64
}

// maxHeight is the most lines the gauge makes use of.
const maxHeight = 16

// View draws the gauge in at most height lines of at most width cells. It is
// made for 60 cells and 5 lines or more; below that it leaves out the axis,
// then the window, then all but what is in the unit. Numbers that are not
// finite are shown as not computable, a value beyond the scale ends in an
// arrow. No room gives "".
func View(d Data, width, height int, t theme.Theme) string {
	if width <= 0 || height <= 0 {
		return ""
	}
	v := newView(d, width, t)
	return strings.Join(v.lines(layoutFor(min(height, maxHeight))), "\n")
}

// layout says how many lines each part of the gauge gets.
type layout struct {
	drained, planned bool
	barLines         int  // lines of a bar, the whisker's not counted
	whiskerLine      bool // the whisker has a line of its own under the bar
	blank            bool // an empty line between bars
	window, target   bool // the window's line; the target's own line
	axis             int  // 0 none, 1 numbers, 2 line and numbers
}

// layoutFor is the layout for a height from 1 up.
func layoutFor(height int) layout {
	l := layout{drained: true, planned: true, barLines: 1, window: true, axis: 1}
	switch {
	case height >= 15:
		l.barLines, l.whiskerLine, l.blank, l.target, l.axis = 2, true, true, true, 2
	case height >= 13:
		l.barLines, l.whiskerLine, l.target, l.axis = 2, true, true, 2
	case height >= 10:
		l.whiskerLine, l.target, l.axis = true, true, 2
	case height >= 9:
		l.blank, l.target, l.axis = true, true, 2
	case height >= 7:
		l.target, l.axis = true, 2
	case height == 6:
		l.axis = 2
	case height == 4:
		l.axis = 0
	case height == 3:
		l.axis, l.window = 0, false
	case height == 2:
		l.axis, l.drained, l.planned = 0, false, false
	case height == 1:
		l.axis, l.drained, l.planned, l.window = 0, false, false, false
	}
	return l
}

// lines draws the parts of a layout from the top: what came out, what is
// planned, what is inside, and under them what they are held against.
func (v view) lines(l layout) []string {
	var out []string
	bar := func(m mark) {
		if l.blank && len(out) > 0 {
			out = append(out, v.line(v.groundRow(), words{}))
		}
		out = append(out, v.bar(m, l)...)
	}
	if l.drained {
		bar(v.drained)
	}
	if l.planned {
		bar(v.planned)
	}
	bar(v.inUnit)
	if l.window {
		out = append(out, v.windowLine(!l.target))
	}
	if l.target {
		out = append(out, v.targetLine())
	}
	if l.axis > 1 {
		out = append(out, v.axisLine())
	}
	if l.axis > 0 {
		out = append(out, v.axisNumbers(l.axis == 1))
	}
	return out
}
