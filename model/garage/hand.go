package garage

// This file fills units by hand, by the two rules of the trade, to compare the
// guide with.

import (
	"time"

	"garage/tundish/model/job"
)

// Rule is a rule by which a unit is filled without the guide.
type Rule uint8

// The rules.
const (
	WhatCameOut  Rule = iota // as much goes into the vessel as came out, as the jug reads it
	StatedAnd50              // the stated quantity, and 50 ml for what is lost on the way
	CorrectionML = 50.0
)

// ByHand fills the unit by a rule, out of a drain port alone: all of the load is
// pushed in as far as the vessel gives it, and what escapes escapes. It is how far
// off the fill is, ml. What happens is what would happen under the guide.
func (v *Visit) ByHand(r Rule) float64 {
	v.ask(nil, job.Place{Topic: job.DripsEnded})
	v.drain(16 * time.Minute)
	out := job.Place{Topic: job.DrainedAmount}
	v.ask(nil, out)
	read := v.typed(out, v.pan, v.OutC)[0]
	planML := v.Unit.Figure + CorrectionML
	if r == WhatCameOut {
		x, _ := out.Topic.Info().Parse(read, v.units(), false)
		planML = x.Number
	}
	v.dice = v.diceOf(job.Place{Topic: job.LoadedAmount}, 0)
	v.pour(planML, v.hundred(HundredLoaded))
	v.ask(nil, job.Place{Topic: job.FillEnded})
	v.pushTo(0)
	v.ask(nil, job.Place{Topic: job.HoseAfter})
	v.ask(nil, job.Place{Topic: job.EscapedAtCap})
	v.ask(nil, job.Place{Topic: job.PlugSeated})
	v.escape(v.gush())
	return v.Unit.HeldML - v.Unit.RightML
}
