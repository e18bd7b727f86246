package agenda

// This file works out what is due after a job, and on which day.

import (
	"fmt"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/share"
	"garage/tundish/model/verdict"
)

// Kind is what is to be done.
type Kind uint8

// The kinds. The looks and the waste are done by a word in the job that leaves them, all
// else by going on with that job, or by a job of its own.
const (
	ProveFill Kind = iota
	FinishJob
	HandInWaste
	LeakLook
	WasherLook
	NextChange
	MagnetAgain
	FlushAgain
)

// kinds are a token and words for each.
var kinds = [...]struct{ token, words string }{
	{"prove", "prove the fill"},
	{"finish", "finish the job"},
	{"waste", "hand in waste oil"},
	{"leak", "leak check after a drive"},
	{"washer", "washer check, cold"},
	{"change", "next oil change"},
	{"magnet", "look at the magnet again"},
	{"flush", "drain again, water"},
}

// String returns the token.
func (k Kind) String() string { return kinds[k].token }

// Words returns what is to be done, in words.
func (k Kind) Words() string { return kinds[k].words }

// MarshalText writes the token.
func (k Kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// UnmarshalText reads the token.
func (k *Kind) UnmarshalText(text []byte) error {
	for i, known := range kinds {
		if known.token == string(text) {
			*k = Kind(i)
			return nil
		}
	}
	return fmt.Errorf("nothing that is due is called %q", text)
}

// Due is one thing to be done on a day, at an odometer reading, or at whichever
// of the two is first.
type Due struct {
	Kind   Kind      `json:"kind"`
	UID    string    `json:"uid"`         // the same each time, so that a calendar knows it again
	At     time.Time `json:"at,omitzero"` // the moment that its day is of; the zero time where it is due by distance alone
	Day    time.Time `json:"-"`           // midnight UTC of the day
	Title  string    `json:"title"`       // with unit and car
	Detail string    `json:"detail"`
	Km     float64   `json:"km,omitempty"`      // odometer; 0 where it is due by date alone
	KmText string    `json:"km_text,omitempty"` // that in the units of the job
}

// on is it with its day in a zone.
func (d Due) on(zone *time.Location) Due {
	if !d.At.IsZero() {
		year, month, day := d.At.In(zone).Date()
		d.Day = time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
	}
	return d
}

// Dues lists what is due after a job, in order: the looks after the drive that
// are still to come, and the next change of an accepted fill. Days are those of
// the zone; nil is UTC. Before the looks are asked for nothing is due but the
// job itself.
func Dues(s *guide.Guide, zone *time.Location) []Due {
	if zone == nil {
		zone = time.UTC
	}
	dues := duesOf(s)
	for i, d := range dues {
		dues[i] = d.on(zone)
	}
	return dues
}

// duesOf are those without their days.
func duesOf(s *guide.Guide) []Due {
	d := duer{s}
	dues := append(d.looks(), d.again()...)
	if at, km := s.Due(); s.UnitState().Settled() && (!at.IsZero() || km > 0) {
		change := d.due(NextChange, at)
		change.Km = km
		switch {
		case at.IsZero():
			change.Detail = "By distance; no interval in months is noted."
		case km > 0:
			change.Detail = "Or at " + s.Units().FormatDistance(km) + ", whichever is first."
		default:
			change.Detail = "By date, from the interval noted with the job."
		}
		dues = append(dues, change)
	}
	for i := range dues {
		if dues[i].Km > 0 {
			dues[i].KmText = s.Units().FormatDistance(dues[i].Km)
		}
	}
	return dues
}

type duer struct{ s *guide.Guide }

// looks are the checks after the drive that the job is waiting for: the leak
// check on the day the plug was last tightened, the washer check the day after.
func (d duer) looks() []Due {
	p, ok := d.s.Next()
	if !ok || d.s.Phase() != guide.ToRecheck {
		return nil
	}
	tight := d.lastTightened()
	leak := d.due(LeakLook, tight)
	leak.Detail = "After " + d.s.ShortDrive() + ", car level: look at plug and seals."
	washer := d.due(WasherLook, tight.AddDate(0, 0, 1))
	washer.Detail = "The day after the drive, cold: is paper under the plug dry?"
	if p.Topic == job.WasherRecheck {
		return []Due{washer}
	}
	return []Due{leak, washer}
}

// flakesAgainDays and flushAgainDays are when an oil is drained again where no odometer tells it (judgement, no source).
const (
	flakesAgainDays = 30
	flushAgainDays  = 7
)

// again is what magnet and oil leave to be looked at, in a unit that holds oil.
func (d duer) again() (dues []Due) {
	if state := d.s.UnitState(); !state.Settled() && state != verdict.LeftOff {
		return nil
	}
	add := func(kind Kind, detail string, afterKm float64, days int) {
		due := d.due(kind, time.Time{})
		if odometerKm, ok := d.s.Num(job.Place{Topic: job.Odometer}); ok {
			due.Km = odometerKm + afterKm
		} else if days > 0 {
			due = d.due(kind, d.lastTightened().AddDate(0, 0, days))
		} else {
			return
		}
		due.Detail = detail
		dues = append(dues, due)
	}
	if d.s.WaterIn() {
		add(FlushAgain, "Drive gently, drain; until it comes clear, 2 or 3 times. Weigh each fill.",
			verdict.FlushKm, flushAgainDays)
	}
	within := func(km float64) string { return "Within " + d.s.Show(km, job.DimKm) + ": " }
	switch d.s.Debris() {
	case verdict.Flakes:
		add(MagnetAgain, within(verdict.FlakesAgainKm)+"flakes once more, and the unit is opened. No towing until then.",
			verdict.FlakesAgainKm, flakesAgainDays)
	case verdict.Needles:
		add(MagnetAgain, within(verdict.NeedlesAgainKm)+"a photo beside this one tells the trend.",
			verdict.NeedlesAgainKm, 0)
	}
	return dues
}

// lastTightened is when a plug was last seated or its washer renewed; when the
// job was last added to where neither is known.
func (d duer) lastTightened() time.Time {
	at := time.Time{}
	entries, stands := d.s.Ledger()
	for i, e := range entries {
		if stands[i] && (e.Topic == job.PlugSeated || e.Topic == job.WasherRenewed) && e.At.After(at) {
			at = e.At
		}
	}
	if at.IsZero() {
		return d.s.Updated
	}
	return at
}

// due names what is due of unit and car; a zero time is no day.
func (d duer) due(kind Kind, at time.Time) Due {
	due := Due{Kind: kind, UID: d.s.ID + "-" + kind.String() + "@tundish", Title: kind.Words(), At: at}
	if unit := d.s.UnitName(); unit != "" && unit != share.LeftOut {
		due.Title += ": " + unit
	}
	if car := d.s.Vehicle(); car != "" {
		due.Title += " of " + car
	}
	return due
}
