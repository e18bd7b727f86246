package history

// This file holds the list of jobs, newest first. What the room does not hold
// is left out column by column, never by cutting a number short.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/lipgloss/table"

	"garage/tundish/model/learn"
	"garage/tundish/model/measure"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
)

// field is a column of the list.
type field uint8

const (
	fieldDate field = iota
	fieldKm
	fieldDrained
	fieldNet
	fieldMissing // in all
	fieldLoss    // per 1,000 km
	fieldOutcome
	fieldCount
)

// shorter are the texts of a row for a narrow list, where it has any.
type shorter struct{ date, outcome string }

// row is a job in the list: a text for each field.
type row struct {
	cells   [fieldCount]string
	short   shorter
	outcome lipgloss.Style
}

// shape is a way to lay out the list, from roomy to narrow.
type shape struct {
	without []field
	tight   bool // 830±12 for 830 ± 12
	short   bool // the shorter texts
	gap     int
}

func shapes() []shape {
	return []shape{
		{nil, false, false, 2},
		{[]field{fieldMissing}, false, false, 2},
		{[]field{fieldMissing}, true, false, 2},
		{[]field{fieldMissing}, true, false, 1},
		{[]field{fieldMissing}, true, true, 1},
		{[]field{fieldMissing, fieldKm}, true, false, 1},
		{[]field{fieldMissing, fieldKm}, true, true, 1},
		{[]field{fieldMissing, fieldKm, fieldNet}, true, true, 1},
	}
}

// table draws the list in at most room lines.
func (v view) table(room int) []string {
	all := len(v.data.Points)
	if all == 0 || room < 2 {
		return nil
	}
	n := min(all, room-1)
	if n < all && room > 2 {
		n = room - 2 // one line says what is left out
	}
	from := min(max(v.data.Skip, 0), all-n)
	rows := []row{v.heading()}
	for i := from; i < from+n; i++ {
		rows = append(rows, v.row(i))
	}
	lines := v.laidOut(rows)
	if n < all && room > 2 {
		lines = append(lines, strings.Repeat(" ", margin)+v.theme.Dim.Render(v.say(leftOut(from, all-n-from))))
	}
	return lines
}

// leftOut says how many jobs the list does not show.
func leftOut(newer, earlier int) string {
	switch {
	case newer == 0:
		return fmt.Sprintf("… %d earlier", earlier)
	case earlier == 0:
		return fmt.Sprintf("… %d newer", newer)
	}
	return fmt.Sprintf("… %d newer, %d earlier", newer, earlier)
}

// laidOut lays rows out in the roomiest shape that fits; the first row is the
// heading.
func (v view) laidOut(rows []row) (lines []string) {
	for _, s := range shapes() {
		lines = v.inShape(rows, s)
		if !slices.ContainsFunc(lines, func(l string) bool { return text.Width(l) > v.width }) {
			break
		}
	}
	return lines
}

func (s shape) text(v view, r row, f field) string {
	cell := r.cells[f]
	switch {
	case s.short && f == fieldDate && r.short.date != "":
		cell = r.short.date
	case s.short && f == fieldOutcome && r.short.outcome != "":
		cell = r.short.outcome
	}
	if s.tight {
		cell = strings.ReplaceAll(cell, " ± ", "±")
	}
	return v.say(cell)
}

func (v view) inShape(rows []row, s shape) []string {
	figures := lipgloss.NewStyle().Align(lipgloss.Right).PaddingRight(s.gap)
	last := int(fieldOutcome) - len(s.without)
	t := table.New().BorderTop(false).BorderBottom(false).BorderLeft(false).BorderRight(false).BorderColumn(false).
		StyleFunc(func(_, column int) lipgloss.Style {
			if column == last {
				return lipgloss.NewStyle()
			}
			return figures
		})
	for i, r := range rows {
		var cells []string
		for f := range fieldCount {
			if slices.Contains(s.without, f) {
				continue
			}
			style := v.theme.Text
			switch {
			case i == 0:
				style = v.theme.Dim
			case f == fieldOutcome:
				style = r.outcome
			}
			cells = append(cells, style.Render(s.text(v, r, f)))
		}
		t.Row(cells...)
	}
	lines := strings.Split(t.Render(), "\n")
	for i, l := range lines {
		lines[i] = strings.TrimRight(strings.Repeat(" ", margin)+l, " ")
	}
	return lines
}

func (v view) heading() row {
	per, _ := v.perDistance()
	return row{cells: [fieldCount]string{"date", "at " + v.data.Units.Distance.String(), "drained", "went in", "missing", "loss/" +
		strings.Replace(per, ",", "", 1), "outcome"}}
}

func (v view) row(i int) row {
	p := v.data.Points[i]
	var r row
	for f := range r.cells {
		r.cells[f] = v.theme.Glyphs.Dash
	}
	if !p.Date.IsZero() {
		r.cells[fieldDate], r.short.date = p.Date.Format(dateLayout), p.Date.Format(monthLayout)
	}
	if p.Km > 0 {
		r.cells[fieldKm] = v.odometer(p.Km)
	}
	if p.Drained {
		r.cells[fieldDrained] = v.bare(p.DrainedML)
	}
	if p.DryStart {
		r.cells[fieldDrained] = "dry"
	}
	if filled(p) {
		r.cells[fieldNet] = v.bare(p.NetML)
	}
	if p.Known {
		r.cells[fieldMissing] = v.bare(p.LossML)
	}
	if p.Known && p.PerKm {
		_, factor := v.perDistance()
		r.cells[fieldLoss] = v.bare(scaled(p.LossPer1000Km, factor))
	}
	r.cells[fieldOutcome], r.outcome = v.left(i)
	if p.Known && (p.Sign == learn.Leak || p.Sign == learn.Gain) {
		r.short.outcome = v.theme.Glyphs.Fault + " " + p.Sign.String()
		r.cells[fieldOutcome] += ", " + p.Sign.String()
		r.outcome = v.theme.Danger
	}
	return r
}

func scaled(x measure.Value, factor float64) measure.Value {
	if factor == 1 {
		return x
	}
	return x.Scale(factor)
}

func (v view) odometer(km float64) string {
	if math.IsNaN(km) || km > largestKm {
		return "too large"
	}
	return strings.TrimSuffix(v.data.Units.FormatDistance(math.Round(km)), " "+v.data.Units.Distance.String())
}

// left is how a job left its unit, in words and shape.
func (v view) left(i int) (string, lipgloss.Style) {
	t := v.theme
	if i >= len(v.data.Outcomes) {
		return t.Glyphs.Dash, t.Dim
	}
	o := v.data.Outcomes[i]
	switch o.Unit {
	case verdict.Empty:
		return t.Glyphs.StateEmpty + " " + o.Unit.String(), t.Danger
	case verdict.Unproven, verdict.LeftOff, verdict.Accepted:
		return t.Glyphs.StateUnproven + " " + o.Unit.Words(o.Odds, o.Left), t.Caution
	case verdict.Proven:
		return t.Glyphs.StateProven + " " + o.Unit.String(), t.Text
	}
	return t.Glyphs.StateOpen + " " + o.Unit.String(), t.Dim
}
