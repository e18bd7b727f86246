// Package gauge draws how much oil came out and how much is planned, has gone
// in so far or went in, on one scale with the range that is right.
//
// View is a pure function of its arguments. It knows volumes in millilitres
// and nothing of jobs or verdicts: it shows where a value lies, it does not
// judge. This file holds what the caller says; rows.go the four rows, scale.go
// the scale, words.go the numbers and names.
package gauge

import (
	"strings"

	"garage/tundish/tui/theme"
)

// Rows is how many lines the gauge has, always.
const Rows = 4

// Volume is a volume that may not be known yet.
type Volume struct {
	ML    float64 // millilitres
	Known bool
}

// Band is a range of volumes, millilitres.
type Band struct {
	LowML, HighML float64
	Known         bool
}

// Bar is a volume that is measured, planned or just being typed.
type Bar struct {
	ML    float64 // millilitres
	UML   float64 // the end lies from ML-UML to ML+UML, millilitres; the caller chooses the coverage
	Known bool    // false shows "not yet"
	Off   string  // how far the end lies from the aim, in words, and UML is of that; it stands in place of ML
	Draft bool    // of a figure that is not stored yet: "typing"
	None  string  // in place of a bar, in words: why there is none
}

// Kind says what the lower bar stands for. What will run out again at the swap
// is not in it, whatever the kind.
type Kind uint8

// The kinds of the lower bar, in the order of a fill.
const (
	Planned Kind = iota // what will be in if all goes well: a line
	SoFar               // the push is on
	WentIn              // the fill is done
)

// Data is everything the gauge shows.
type Data struct {
	Aim       Volume // what is aimed at
	Right     Band   // the limits that the odds are of: two walls through both bars
	LevelHole bool   // oil is filled to a level hole, which is at Aim: one mark in place of walls

	CameOut Bar
	Now     Bar // of Kind
	Kind    Kind
	// WithStays says that Aim, Right and Now count what stayed inside at the drain
	// too, as a quantity for a dry unit does.
	WithStays bool

	ManualML float64 // the quantity in the manual, of a range its middle; 0 none

	// Numbers writes volumes in Unit, all of them in the steps of the largest; nil
	// writes whole millilitres.
	Numbers func(volumesML ...float64) []string
	Unit    string

	// DisplayUnitML is how many millilitres the unit that Numbers writes has, so that
	// the axis counts in round numbers of it; 0 is millilitres.
	DisplayUnitML float64
}

// View draws the gauge in Rows lines of at most width cells. It is made for 60
// cells and more; where there is no room for bars it leaves them out, and the
// numbers stay. Numbers that are not finite are said to be not computable, and
// have no bar.
func View(d Data, width int, t theme.Theme) string {
	if width <= 0 {
		return strings.Repeat("\n", Rows-1)
	}
	v := newView(d, width, t)
	return strings.Join([]string{
		v.topRow(),
		v.barRow(d.CameOut, "came out", oil{&t.Drained, &t.DrainedShade, &t.DrainedRange, t.Glyphs.Full}),
		v.barRow(d.Now, v.nowLabel(), v.nowOil()),
		v.scaleRow(),
	}, "\n")
}
