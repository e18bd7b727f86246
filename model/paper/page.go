// Package paper makes the sheets of a job one page to print: it is filled in under the
// car and typed in afterwards. What is to be poured in, and where the push ends, stands
// in it for whatever may come out.
package paper

import (
	"fmt"
	"strings"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
)

// page is what is printed, whatever it is printed on.
type page struct {
	Title string
	Parts []part
	Foot  string
	guide *guide.Guide
}

// Load is a load in words, in the units of the job.
func (p page) Load(x load) string { return x.text(p.guide) }

// part is the lines of one sheet.
type part struct {
	Head  string
	Loads []load // what to pour in, by what came out
	Lines []line
	Stop  string // to be seen from the vessel, "" none
	Notes []string
}

// line is one line: with a digit it is confirmed, without one it is filled in.
type line struct {
	Key  string
	Text string
	Gap  string // what is written in, "" none
}

// sheets are those that are printed, with how each begins.
var sheets = []struct {
	id   sheet.ID
	head string
}{
	{sheet.Isolate, "BEFORE THE PLUG COMES OUT"}, {sheet.Drain, "DRAIN"}, {sheet.Measure, "MEASURE"}, {sheet.Preload, "PRE-LOAD"},
	{sheet.Fill, "FILL"}, {sheet.Cap, "CAP"}, {sheet.Seat, "SEAT WASHER"},
}

// pageOf lays out a job as it stands.
func pageOf(g *guide.Guide, now time.Time) page {
	p := page{Title: strings.Trim(g.Vehicle()+", "+g.UnitName(), ", ") + " · job " + g.ID + " · " + now.Format("2 Jan 2006"),
		Foot: "TO THE LAPTOP: menu, \"type in a printed page\". Then the verdict. The tag stays on.", guide: g}
	for _, x := range sheets {
		s := sheet.Of(g, sheet.At{ID: x.id}, now)
		if s.ID != x.id {
			continue
		}
		lines := part{Head: x.head}
		for _, l := range s.Lines {
			if !l.Folded && l.Place.Topic != job.FillReading && l.Kind != sheet.Moment {
				lines.Lines = append(lines.Lines, lineOf(l))
			}
		}
		if len(lines.Lines) > 0 {
			decorate(&lines, g, x.id)
			p.Parts = append(p.Parts, lines)
		}
	}
	return p
}

// decorate adds to a part what the screen would show by what is typed.
func decorate(p *part, g *guide.Guide, id sheet.ID) {
	switch id {
	case sheet.Isolate:
		p.Notes = append(p.Notes, "Hot, over "+g.Show(job.HotAskC, job.DimC)+": the plug stays shut.")
		if g.Drivetrain() != job.Combustion {
			p.Notes = append(p.Notes, "High voltage: car OFF, key away, first and last.")
		}
	case sheet.Drain:
		p.Lines = append([]line{{Text: "Plug came out at", Gap: "time"}}, p.Lines...)
		p.Notes = append(p.Notes, "Chips, milky or thin oil: STOP, plug stays out, to the laptop before you fill.")
	case sheet.Measure:
		p.Loads = loads(g)
		p.Notes = append(p.Notes, "Less, or more: STOP. Plug stays out. To the laptop before you fill.")
	case sheet.Fill:
		if g.Pushes(0) {
			p.Stop = "STOP WHEN THE VESSEL READS"
			p.Notes = append(p.Notes, "No air out of the breather, or it leaks at the adapter: shut the valve, vent. To the laptop.")
		}
	case sheet.Cap:
		p.Lines = append([]line{{Text: "Capped at", Gap: "time"}}, p.Lines...)
		p.Notes = append(p.Notes, "Then 10 minutes to settle.")
	case sheet.Seat:
		p.Lines = append(p.Lines, line{Text: "Plug is in at", Gap: "time"})
	}
}

// lineOf is a line of a sheet as it is printed.
func lineOf(l sheet.Line) line {
	switch l.Kind {
	case sheet.Confirm:
		return line{Key: string(l.Key), Text: l.Ask}
	case sheet.Choice:
		var labels []string
		for _, o := range l.Options {
			labels = append(labels, o.Label)
		}
		return line{Text: l.Ask + ":  " + strings.Join(labels, " / ")}
	}
	return line{Text: l.Ask, Gap: l.Unit}
}

// load is what to pour into the vessel where a volume came out of a range, and what the
// vessel reads where the push ends, ml.
type load struct{ LowML, HighML, PourML, StopML float64 }

// loads are the loads for whatever may come out, lowest first; none where it is not
// known what belongs in, and one that holds of all where nothing is drained. What came
// out as it is read at the temperature that is taken for it. Outside of them the guide
// would stop.
func loads(g *guide.Guide) []load {
	if g.DryStart() || g.Measured() || g.CapacityML() <= 0 {
		return nil
	}
	step := max(g.NumOr(job.VesselGraduation, 10), g.CapacityML()/100)
	var list []load
	for ml := step * float64(int(0.3*g.CapacityML()/step)); ml < 1.7*g.CapacityML(); ml += step {
		x, ok := loadAt(g, ml)
		if !ok {
			continue
		}
		if n := len(list); n > 0 && list[n-1].PourML == x.PourML && ml-list[n-1].HighML < 1.5*step {
			list[n-1].HighML = ml
			continue
		}
		x.LowML, x.HighML = ml, ml
		list = append(list, x)
	}
	for i := range list { // each reading is in one row, and the middle of it tells where the push ends
		if middle, ok := loadAt(g, (list[i].LowML+list[i].HighML)/2); ok {
			list[i].StopML = middle.StopML + list[i].PourML - middle.PourML
		}
		if i > 0 {
			list[i].LowML -= step / 2
		}
		if i < len(list)-1 {
			list[i].HighML += step / 2
		}
	}
	return list
}

// loadAt is the load where a volume came out; false where the guide would stop.
func loadAt(g *guide.Guide, ml float64) (load, bool) {
	at := g.Updated
	n := g.Count
	out := g.With(
		job.Entry{Seq: n + 1, At: at, Topic: job.DrainedAmount, Value: job.Value{Number: ml, Unit: job.DimML}},
		job.Entry{Seq: n + 2, At: at, Topic: job.DrainedMore, Value: job.Value{Choice: job.MoreDone}})
	if s := sheet.Of(out, sheet.At{ID: sheet.Measure}, at); s.ID == sheet.Stop {
		return load{}, false
	}
	plan, err := out.Plan(0)
	stop, ok := out.StopMarkML(0)
	return load{PourML: plan.PreloadML, StopML: stop}, err == nil && !plan.Undecided && ok
}

// text is a load in words.
func (x load) text(g *guide.Guide) string {
	u := g.Units()
	text := fmt.Sprintf("%s to %s: pour %s", u.BareVolume(x.LowML), u.BareVolume(x.HighML), u.FormatVolume(x.PourML))
	if g.Pushes(0) {
		text += ", stop at " + u.FormatVolume(x.StopML)
	}
	return text
}
