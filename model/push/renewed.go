package push

// This file tells what share of the oil is new where only a part of it drains, and what a rig brings of its last oil.

import (
	"fmt"
	"math"

	"garage/tundish/model/estimate"
	"garage/tundish/model/hydraulics"
	"garage/tundish/model/job"
	"garage/tundish/model/quantity"
)

// wantedShare is the share of new oil for which it is said how many changes it takes.
const wantedShare = 0.8

// exchange describes a unit of which a drain brings out only a part; false of any other, or where it is not measured
// yet what came out.
func (s Progress) exchange() (hydraulics.Exchange, bool) {
	if !s.Automatic() || !s.Measured() {
		return hydraulics.Exchange{}, false
	}
	outML := s.Drained().Total.Nominal
	keeps, _ := s.UsualShare()
	totalML := outML / (1 - keeps)
	if s.Meaning() == estimate.MeansDry {
		totalML = max(s.CapacityML(), outML)
	}
	e := hydraulics.Exchange{TotalML: totalML, OutML: outML, Mixing: hydraulics.DefaultMixing}
	return e, e.OutML > 0 && e.Check() == nil
}

// RenewedText says what share is new after this change, and after more of them; "" where that is not a question.
func (s Progress) RenewedText() string {
	e, ok := s.exchange()
	if !ok {
		return ""
	}
	text := fmt.Sprintf("about %s of the oil is new; twice %s, three times %s", quantity.FormatShare(e.Renewed(1)),
		quantity.FormatShare(e.Renewed(2)),
		quantity.FormatShare(e.Renewed(3)))
	if n, err := e.TimesFor(wantedShare); err == nil && n > 1 {
		text += fmt.Sprintf("; %s takes %d times, %s in all", quantity.FormatShare(wantedShare), n,
			s.Units().Large().FormatVolume(float64(n)*e.OutML))
	}
	return text
}

// Rig is what a hose and a vessel bring of their last oil.
type Rig struct {
	LeftML    float64
	Share     float64 // of the next fill
	Limit     float64 // most that is let into it
	RinsedML  float64 // what two rinses leave
	Different bool    // the last oil is another one, and told
}

// rinseML is a rinse of the new oil; two are better than one with twice as much.
const rinseML, rinses = 100.0, 2

// What is assumed to be left in a rig that was put away (computed for an 80W-90 at 20 °C: a vessel of 5 L after 5 minutes, a hose that hung
// open for 10).
const (
	vesselKeepsML  = 20.0
	hoseKeepsShare = 0.12
)

// rigLimits are the most of a last oil that is let into the next (judgement, no source).
var rigLimits = map[string]float64{job.RigSameClass: 0.05, job.RigIntoSynchro: 0.01, job.RigIntoAxle: 0.02, job.RigIntoAutomatic: 0.001}

// Rig is what the rig brings of its last oil into this fill.
func (s Progress) Rig() (r Rig) {
	if r.Limit, r.Different = rigLimits[s.Choice(job.Place{Topic: job.RigLastOil})]; !r.Different || s.CapacityML() <= 0 {
		return Rig{}
	}
	hung := hoseKeepsShare*s.HoldUp().Nominal + vesselKeepsML
	r.LeftML, r.RinsedML = s.HoldUp().Nominal+vesselKeepsML, hydraulics.RinsedML(hung, rinseML, rinses)
	switch s.Choice(job.Place{Topic: job.RigLeft}) {
	case job.RigHung:
		r.LeftML = hung
	case job.RigRinsed:
		r.LeftML = r.RinsedML
	}
	r.Share = hydraulics.CarriedShare(r.LeftML, s.CapacityML())
	return r
}

// shareText is a share in percent, to two digits.
func shareText(x float64) string {
	if x >= 0.1 {
		return quantity.FormatShare(x)
	}
	return fmt.Sprintf("%.2g %%", 100*math.Max(x, 1e-5))
}

// RigText says how much of the last oil the rig brings.
func (s Progress) RigText() string {
	r := s.Rig()
	return fmt.Sprintf("%s of the last oil: %s of this fill, %s is let in", s.Show(math.Round(r.LeftML), job.DimML), shareText(r.Share),
		shareText(r.Limit))
}
