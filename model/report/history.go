package report

// This file prints the jobs of one unit as a table: what came out, what went
// in, and what went missing in between. A leak is said only where the figures
// bear it.

import (
	"bytes"
	"io"
	"strings"
	"time"

	"garage/tundish/model/estimate"
	"garage/tundish/model/guide"
	"garage/tundish/model/learn"
	"garage/tundish/model/measure"
	"garage/tundish/model/quantity"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
)

// History writes the jobs of one unit, newest first, as text of 80 columns.
// There is one at least, and the units shown are those of the newest.
func History(w io.Writer, unit []*guide.Guide, zone *time.Location) error {
	var b bytes.Buffer
	line := func(s string) {
		for _, l := range text.Wrap(text.Visible(s), textColumns) {
			b.WriteString(l + "\n")
		}
	}
	h := historian{units: unit[0].Units(), zone: zone}
	points := verdict.History(guide.Assessments(unit))
	line(historyTitle(unit[0]))
	line("Volumes are in " + h.units.Volume.String() + " at " + h.units.FormatTemperature(20) + "; ± is twice the standard uncertainty.")
	b.WriteString("\n")
	textTable(&b, h.table(points, unit))
	b.WriteString("\n")
	line("In all: " + verdict.Leaks(points).Text(h.units) + ".")
	line("Missing is what the job before put in less what came out now; a minus: more came out than went in.")
	_, err := w.Write(b.Bytes())
	return err
}

func historyTitle(s *guide.Guide) string {
	if s.UnitName() == "" {
		return "History of a unit"
	}
	return "History: " + s.UnitName() + " of " + s.Vehicle()
}

type historian struct {
	units quantity.Units
	zone  *time.Location
}

func (h historian) table(points []verdict.HistoryPoint, unit []*guide.Guide) block {
	per := "per 1,000 " + h.units.Distance.String()
	b := block{head: []string{"date", "odometer", "came out", "went in", "missing", per}, tight: []int{0, 1, 2, 3, 5}}
	for i, p := range points {
		b.rows = append(b.rows, row{cells: []string{
			p.Date.In(h.zone).Format(time.DateOnly), h.distance(p.Km), h.cameOut(p),
			h.netFill(p, unit[i]), h.missing(p), h.volume(p.LossPer1000Km.Scale(h.units.Distance.Factor()), p.PerKm),
		}})
	}
	return b
}

// cameOut is what was drained; of a unit that started dry, that.
func (h historian) cameOut(p verdict.HistoryPoint) string {
	if p.DryStart {
		return "started dry"
	}
	return h.volume(p.DrainedML, p.Drained)
}

// netFill is what was put in; of a fill that is not proven, its
// state too, or that alone where none was accepted.
func (h historian) netFill(p verdict.HistoryPoint, s *guide.Guide) string {
	switch {
	case p.Proven:
		return h.volume(p.NetML, true)
	case p.Accepted:
		return h.volume(p.NetML, true) + ": " + s.StateWords()
	}
	return s.StateWords()
}

// missing is the loss, with what it is a sign of where it is one.
func (h historian) missing(p verdict.HistoryPoint) string {
	text := h.volume(p.LossML, p.Known)
	if p.Known && p.Sign != learn.NoSign {
		text += ": " + p.Sign.String()
	}
	return text
}

func (h historian) distance(km float64) string {
	if km == 0 {
		return "?"
	}
	return h.units.FormatDistance(km)
}

// volume is a volume with its ±, without its unit, which stands above the
// table; "?" where it is not known.
func (h historian) volume(v measure.Value, known bool) string {
	if !known {
		return "?"
	}
	return strings.TrimSuffix(h.units.FormatVolumeU(v.Nominal, estimate.Coverage*v.U()), " "+h.units.Volume.String())
}
