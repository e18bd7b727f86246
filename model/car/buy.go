package car

// This file lists what to buy and to have at hand for a session.

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/quantity"
)

// What each oil takes beside what belongs in its units, ml (common practice, no source): a
// push that is repeated, two rinses of vessel and hose where another oil was in them, what
// runs out of a tube, and of pan and filter, where the engine runs.
const (
	repeatML      = 100.0
	rinseML       = 200.0
	runOutML      = 300.0
	filmPerL      = 10.0 // what clings to a bottle, of a litre: 5 to 15
	usualBottleML = 1000.0
	spillML       = 50.0 // of a unit that oil is poured into from above
	spareSeal     = 1    // washers more than there are openings
)

// Part is some of what an oil is bought for.
type Part struct {
	What string  `json:"what"`
	ML   float64 `json:"ml"`
}

// Oil is what to buy of one oil.
type Oil struct {
	Grade    string   `json:"grade"` // as on the bottle, "" not noted
	Units    []string `json:"units"`
	Unknown  []string `json:"quantity_not_known,omitempty"` // units of which no quantity is known yet
	Parts    []Part   `json:"parts"`
	NeedML   float64  `json:"need_ml"`
	Bottles  int      `json:"bottles"`
	BottleML float64  `json:"bottle_ml"`
}

// Washer is how many to buy of a kind.
type Washer struct {
	Kind  string `json:"kind"` // as the owner has it, "" not noted
	Count int    `json:"count"`
}

// List is what to buy and to have at hand.
type List struct {
	Oils    []Oil    `json:"oils"`
	Washers []Washer `json:"washers"`
	Tools   []string `json:"tools"`
	AtHand  []string `json:"at_hand"`
	WasteML float64  `json:"waste_ml"` // room for what comes out, spills and rinses

	units quantity.Units
}

// Buy is the list of a session, for bottles of a size, 0 for 1 L.
func (s Session) Buy(bottleML float64) List {
	l := List{units: quantity.Metric()}
	groups := map[string][]Unit{}
	var order []string
	for _, u := range s.Units {
		l.units = u.Units()
		key := cmp.Or(gradeOf(u.Guide), "\x00"+u.ID) // which is not noted may be any
		if runsEngine(u.Guide) {
			key += "\x00" // a hose of its own
		}
		if groups[key] == nil {
			order = append(order, key)
		}
		groups[key] = append(groups[key], u)
		l.addWasher(u)
		l.addTools(u)
	}
	for i, key := range order {
		o := oilOf(groups[key], s.rig(), i > 0)
		o.count(cmp.Or(bottleML, usualBottleML))
		l.Oils = append(l.Oils, o)
		l.WasteML += o.NeedML
	}
	l.WasteML = math.Ceil(l.WasteML/500) * 500
	l.Tools = append(l.Tools, "torque wrench, if the manual has a figure")
	l.AtHand = s.atHand()
	return l
}

// rig is a job that tells what vessel and hose keep, or any where none does.
func (s Session) rig() *guide.Guide {
	for _, t := range []job.Topic{job.VesselHeel, job.HoseHolds, job.HoseBore} {
		for _, u := range s.Units {
			for g := u.Guide; g != nil; g = g.Before() {
				if g.Has(t) {
					return g
				}
			}
		}
	}
	return s.Units[0].Guide
}

// oilOf is what units of one oil take with a rig; rinsed where another oil was in that
// before.
func oilOf(units []Unit, rig *guide.Guide, rinsed bool) Oil {
	o := Oil{Grade: gradeOf(units[0].Guide)}
	add := func(what string, ml float64) {
		if ml > 0 {
			o.Parts = append(o.Parts, Part{what, math.Round(ml)})
			o.NeedML += math.Round(ml)
		}
	}
	spill, engine, pushed := 0.0, false, false
	for _, u := range units {
		o.Units = append(o.Units, u.UnitName())
		g := tells(u.Guide)
		if g == nil {
			o.Unknown = append(o.Unknown, u.UnitName())
			continue
		}
		add(u.UnitName(), g.TakesML())
		engine = engine || runsEngine(u.Guide)
		if g.Path() == job.DrainPortOnly {
			spill += g.EscapeIn(0).Nominal
			pushed = true
		} else {
			spill += spillML
		}
	}
	if len(o.Unknown) == len(units) {
		return o
	}
	if engine {
		spill = runOutML
		add("runs out at the tube, pan and filter", spill)
	} else {
		add("spilled", spill)
	}
	if pushed {
		add("below the vessel's tube", rig.Heel().Nominal)
		add("in the hose", rig.HoldUp().Nominal)
	}
	add("a push done twice", repeatML)
	if rinsed && !engine {
		add("two rinses of vessel and hose", rinseML)
	}
	return o
}

// tells is the job that tells what a unit takes: its own, or one before it; nil none.
func tells(g *guide.Guide) *guide.Guide {
	for g != nil && g.CapacityML() == 0 {
		g = g.Before()
	}
	return g
}

// count works out the bottles, of a size in ml: what clings to each is not poured.
func (o *Oil) count(bottleML float64) {
	o.BottleML = bottleML
	o.Bottles = int(math.Ceil(o.NeedML / (bottleML * (1 - filmPerL/1000))))
}

// addWasher counts the washers of a unit: one for each opening. The spare of each kind
// comes with the first.
func (l *List) addWasher(u Unit) {
	kind, _ := said(u.Guide, job.WasherKind)
	words := kind.Text
	if thread, ok := said(u.Guide, job.PlugThread); words == "" && ok {
		words = "for " + thread.Text
	}
	n := 1
	if path, ok := said(u.Guide, job.FillPath); ok && path.Choice != job.DrainPortOnly.String() {
		n = 2
	}
	same := func(w Washer) bool { return job.Canonical(w.Kind) == job.Canonical(words) }
	if i := slices.IndexFunc(l.Washers, same); i >= 0 {
		l.Washers[i].Count += n
		return
	}
	l.Washers = append(l.Washers, Washer{words, n + spareSeal})
}

// addTools adds what the plug of a unit needs.
func (l *List) addTools(u Unit) {
	socket, ok := said(u.Guide, job.PlugKey)
	if !ok {
		l.Tools = append(l.Tools, "socket for the "+u.UnitName()+": not noted, look before")
		return
	}
	for i, t := range l.Tools {
		if strings.HasPrefix(job.Canonical(t), "socket "+job.Canonical(socket.Text)+":") {
			l.Tools[i] += ", " + u.UnitName()
			return
		}
	}
	l.Tools = append(l.Tools, "socket "+socket.Text+": "+u.UnitName())
}

// atHand is what the session needs beside oil, washers and sockets.
func (s Session) atHand() []string {
	var names []string
	scale, push, electric := false, false, false
	for _, u := range s.Units {
		names = append(names, u.UnitName())
		_, weighs := said(u.Guide, job.ScaleDivision)
		path, known := said(u.Guide, job.FillPath)
		drive, _ := said(u.Guide, job.DriveKind)
		scale, push = scale || weighs, push || !known || path.Choice == job.DrainPortOnly.String()
		electric = electric || drive.Choice == job.Hybrid.String() || drive.Choice == job.Electric.String()
	}
	list := []string{"a clean, dry pan for each, with its name on it: " + strings.Join(names, ", ")}
	if push {
		list = append(list, "vessel, hose, adapter and cap; what another oil was in is rinsed, or another is used",
			"a second pan or pads for the spill")
	}
	if scale {
		list = append(list, "scale; each pan weighed dry, and the pads of each unit: write it on them")
	}
	list = append(list, "jug, thermometer, gloves, eye protection, rags, brush for the ports", "stands rated for the car, chocks",
		"the maker's manual of each unit, and one tag for the car")
	if electric {
		list = append(list, "high voltage: the key away, first and last")
	}
	return list
}

// Lines are the list as it is read, a line each.
func (l List) Lines() []string {
	u := l.units
	var lines []string
	for _, o := range l.Oils {
		name := cmp.Or(o.Grade, "for the "+strings.Join(o.Units, ", "))
		if len(o.Unknown) == len(o.Units) {
			lines = append(lines, fmt.Sprintf("oil %s: how much is not known yet, look in the manual", name))
			continue
		}
		lines = append(lines, fmt.Sprintf("oil %s: %s, %d × %s", name, u.FormatVolume(o.NeedML), o.Bottles, u.FormatVolume(o.BottleML)))
		var parts []string
		for _, p := range o.Parts {
			parts = append(parts, u.FormatVolume(p.ML)+" "+p.What)
		}
		lines = append(lines, "  "+strings.Join(parts, " + "))
		if len(o.Unknown) > 0 {
			lines = append(lines, "  and the "+strings.Join(o.Unknown, ", ")+": its quantity is not known yet")
		}
	}
	for _, w := range l.Washers {
		lines = append(lines, fmt.Sprintf("%d NEW washers, %s; one is a spare", w.Count, cmp.Or(w.Kind, "size not noted")))
	}
	lines = append(append(lines, l.Tools...), l.AtHand...)
	return append(lines, fmt.Sprintf("lidded can for waste, %s or more; nothing mixed in", u.FormatVolume(l.WasteML)))
}
