package car

// This file tells what a rig brings of the last oil to the next unit, and whether that may
// be.

import (
	"fmt"

	"garage/tundish/model/guide"
	"garage/tundish/model/hydraulics"
	"garage/tundish/model/job"
	"garage/tundish/model/oil"
)

// What a rig keeps, ml, or as a share of what its hose holds (computed for a hose of 8 mm by
// 1.5 m and a vessel of 2 L): a film in the vessel, and in a hose that hung open for 10
// minutes.
const (
	vesselFilmML = 20.0
	hungShare    = 0.12
	rinsesML     = 100.0 // of new oil, twice
)

// brought is what a rig brings of the oil of one unit to the next.
type brought struct {
	ML      float64 // with the hose left full
	Share   float64 // of the next fill
	Rinsed  float64 // the share once the hose hung open and was rinsed twice
	Allowed float64 // the share up to which the next unit may be filled with the rig as it is; 1 any
}

// carriedTo is what a rig whose hose holds so much, ml, brings from the oil of one unit to a
// fill of another, ml.
func carriedTo(from, to oils, hoseML, fillML float64) brought {
	full, hung := hoseML+vesselFilmML, hungShare*hoseML+vesselFilmML
	return brought{
		ML: full, Share: hydraulics.CarriedShare(full, fillML), Allowed: allowed(from, to),
		Rinsed: hydraulics.CarriedShare(hydraulics.RinsedML(hung, rinsesML, 2), fillML),
	}
}

// oils is an oil and the kind of unit it is in: what the allowed share depends on.
type oils struct {
	Grade     string // as on the bottle
	Synchro   bool   // in a gearbox whose rings an additive for axles attacks
	Automatic bool   // in a gearbox that changes gear by itself
}

// oilsOf is what a unit is filled with.
func oilsOf(g *guide.Guide) oils {
	kind, _ := said(g, job.UnitKind)
	return oils{Grade: gradeOf(g), Synchro: kind.Choice == "gearbox", Automatic: runsEngine(g)}
}

// gear reports whether it is a gear oil, as far as its grade tells.
func (o oils) gear() bool { _, err := oil.ParseGrade(o.Grade); return err == nil }

// allowed is the share of one oil that may be in another at most (judgement, no source: no
// share is published that does no harm).
func allowed(from, to oils) float64 {
	switch {
	case from.Grade != "" && from.Grade == to.Grade && from.Automatic == to.Automatic:
		return 1
	case to.Automatic || !to.gear():
		return 0.001
	case !from.gear():
		return 0.02
	case to.Synchro:
		return 0.01
	}
	return 0.05
}

// words say what to do with the rig before the next unit, "" nothing.
func (c brought) words(g *guide.Guide) string {
	if c.Share <= c.Allowed {
		return ""
	}
	return fmt.Sprintf("the rig would bring %s of the last oil, %.2g %%: a hose of its own, or hung open, then rinsed twice with %s",
		g.Units().FormatVolume(c.ML), 100*c.Share, g.Units().FormatVolume(rinsesML))
}

// carried is what the rig brings from one unit to the next; false where that is not known.
func carried(from, to *guide.Guide) (brought, bool) {
	a, b := tells(from), tells(to)
	if a == nil || b == nil {
		return brought{}, false
	}
	return carriedTo(oilsOf(from), oilsOf(to), a.HoldUp().Nominal, b.TakesML()), true
}
