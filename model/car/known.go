package car

// This file tells what is known of a unit before its job, and what several units show
// together.

import (
	"fmt"
	"math"
	"strings"
	"time"

	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// Last is the unit's job before: what came out, what went in, and how it was left.
type Last struct {
	Job   string    `json:"job"`
	At    time.Time `json:"at"`
	OutML *float64  `json:"out_ml"` // at 20 °C; null where it was not measured
	InML  *float64  `json:"in_ml"`  // at 20 °C; null where nothing was accepted
	State string    `json:"state"`
}

// Last is what is known of the unit's job before; false where there is none.
func (u Unit) Last() (Last, bool) {
	before := u.Before()
	if before == nil {
		return Last{}, false
	}
	p := verdict.History([]*verdict.Assessment{before.Assessment})[0]
	l := Last{Job: before.ID, At: before.Started, State: before.StateWords()}
	if p.Drained {
		l.OutML = new(math.Round(p.DrainedML.Nominal))
	}
	if p.Accepted || p.Proven {
		l.InML = new(math.Round(p.NetML.Nominal))
	}
	return l, true
}

// Known says in a line what is known of the unit.
func (u Unit) Known() string {
	l, ok := u.Last()
	if !ok {
		return "no job before"
	}
	words := []string{"last " + l.At.Format("2 Jan 2006")}
	if l.OutML != nil {
		words = append(words, u.Units().FormatVolume(*l.OutML)+" came out")
	}
	if l.InML != nil {
		words = append(words, u.Units().FormatVolume(*l.InML)+" went in")
	}
	words = append(words, l.State)
	if at, km := u.Before().Due(); !at.IsZero() {
		words = append(words, "due "+at.Format("2 Jan 2006"))
	} else if km > 0 {
		words = append(words, "due at "+u.Units().FormatDistance(km))
	}
	return strings.Join(words, ", ")
}

// leastShare is how far two units' readings have to be off their bottles, the same way,
// before the jug or the scale is asked about: twice what a bottle may be off its label.
const leastShare = 0.02

// Common is a slip that two units or more have in common: the readings of each are off what
// its bottles held by about the same share, so what measured them is off.
type Common struct {
	Share float64 // by which the readings are above the bottles, below 0 under them
	Units []string
}

// Common finds it; false where there is none.
func (s Session) Common() (c Common, ok bool) {
	var over, under Common
	for _, u := range s.Units {
		share, ok := u.offBottles()
		side := &over
		if share < 0 {
			side = &under
		}
		if ok && math.Abs(share) >= leastShare {
			side.Share += share
			side.Units = append(side.Units, u.UnitName())
		}
	}
	for _, c := range []Common{over, under} {
		if n := len(c.Units); n > 1 {
			c.Share /= float64(n)
			return c, true
		}
	}
	return Common{}, false
}

// Words say what to do about it, before any verdict.
func (c Common) Words() string {
	return fmt.Sprintf("%s read %+.0f %% against their bottles: one cause. Check jug or scale with 1000 g of water before any verdict",
		strings.Join(c.Units, " and "), 100*c.Share)
}

// offBottles is by how much of it what was read as poured in is more than what came out of
// the bottles; false where that was not noted.
func (u Unit) offBottles() (share float64, ok bool) {
	var read, bottles float64
	for r := range u.Rounds() {
		opened, ok1 := u.Answer(job.At(job.BottlesOpened, r, 0))
		left, ok2 := u.Answer(job.At(job.BottlesLeft, r, 0))
		if !ok1 || !ok2 || opened.Value.Unknown || left.Value.Unknown {
			continue
		}
		read += u.Loaded(r).Nominal
		bottles += opened.Value.Number - u.Amount(job.BottlesLeft, job.Place{Round: r}).Nominal
	}
	if bottles <= 0 {
		return 0, false
	}
	return read/bottles - 1, true
}
