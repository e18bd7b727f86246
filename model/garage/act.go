package garage

// This file moves the oil: what really happens when the guide says what to do,
// whatever is then said of it.

import (
	"math"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// act does what a question asks to be done before it is answered.
func (v *Visit) act(s *guide.Guide, p job.Place) {
	switch p.Topic {
	case job.LoadedAmount:
		v.load(s, p.Round)
	case job.HoseAfter:
		v.hoseOff()
	case job.EscapedAtCap:
		if v.dice.chance(0.1) {
			v.escape(v.dice.between(5, 100))
		}
	case job.AdapterIn:
		if p.Round > 0 {
			v.escape(v.gush())
		}
	case job.LetOutAmount:
		v.letOut(s, p.Round)
	}
}

// after does what follows from an answer.
func (v *Visit) after(e job.Entry) {
	switch e.Topic {
	case job.PlugOut:
		v.outAt = e.At
	case job.DripsEnded:
		v.drain(e.At.Sub(v.outAt))
	case job.FillEnded:
		v.push(e.Round)
	case job.PlugSeated:
		if !v.Unit.LevelPort && v.choice(job.At(job.Decision, e.Round-1, 0)) != job.DecideLetOut.String() {
			v.escape(v.gush())
		}
	case job.LookedAgain:
		v.more = 0
		if e.Value.Choice == "more" && v.takes(e.Topic) > 5*time.Minute {
			v.more = v.over
			v.Unit.HeldML, v.needML, v.over = v.Unit.HeldML-v.more, v.needML+v.more, 0
		}
	case job.WasherRenewed:
		v.lost += v.take(v.gush())
	}
}

// drain lets out what runs out in that time. What a warm drain of a quarter of
// an hour would have brought and this one does not, stays in.
func (v *Visit) drain(t time.Duration) {
	u, minutes := v.Unit, t.Minutes()
	if u.StartsDry {
		return
	}
	v.over = u.RightML * (0.12*math.Exp(-minutes/5) + 0.5*math.Exp(-minutes/0.4))
	if minutes > 14 {
		v.over = 0
	}
	if v.Slips.Has(DrainCold) {
		v.over += u.RightML * v.dice.between(0.02, 0.15)
	}
	v.over = max(min(v.over, u.HeldML-v.StaysML), 0)
	v.pan = max(u.HeldML-v.StaysML-v.over, 0)
	u.HeldML -= v.pan
	v.pan = max(v.pan-v.dice.between(0, v.World.PanML), 0)
	v.needML = u.RightML - u.HeldML
}

// load fills the vessel until it reads what is planned, as near as one pours.
func (v *Visit) load(s *guide.Guide, round int) {
	plan, err := s.Plan(round)
	if err != nil {
		return
	}
	v.chargeML = plan.Charge.Nominal - s.Heel().Nominal
	slipML := 0.0
	if round == 0 {
		slipML = v.hundred(HundredLoaded)
	}
	v.pour(plan.PreloadML, slipML)
}

func (v *Visit) pour(planML, slipML float64) {
	goal := v.pours(v.Tools.LoadedBy, max(planML*(1+v.dice.near(0.005)), 0)) - slipML
	before := v.vessel
	if v.vessel >= goal {
		return
	}
	v.vessel = goal
	for w := v.World; v.bottles < goal-before; v.opened++ {
		v.bottles += v.Tools.BottleML*(1+v.dice.within(w.BottleHalf)) - w.FilmML - v.dice.within(w.FilmHalfML)
	}
	v.bottles -= goal - before
}

// push presses the load in until the vessel reads what the plan leaves in it, or
// pours it in at the top until oil weeps.
func (v *Visit) push(round int) {
	if v.Unit.LevelPort {
		passed := min(max(v.LipML-v.Unit.HeldML, 0)+v.dice.between(0, 20), max(v.vessel-v.HeelML, 0))
		v.vessel -= passed
		v.Unit.HeldML += passed
		v.overflow = max(v.Unit.HeldML-v.LipML, 0)
		v.Unit.HeldML -= v.overflow
		return
	}
	end := max(v.asKnown(v.said[job.At(job.LoadedAmount, round, 0)], v.NewC)-v.chargeML, 0)
	v.pushTo(v.pours("vessel", end) + v.dice.near(5))
}

func (v *Visit) pushTo(leftML float64) {
	passed := max(v.vessel-max(leftML, v.HeelML), 0)
	v.vessel -= passed
	took := min(v.Tools.HoldUpML-v.hose, passed)
	v.hose += took
	v.Unit.HeldML += passed - took
}

// hoseOff is where the oil of the hose gets to as it comes off.
func (v *Visit) hoseOff() {
	v.hoseIs = "full"
	if v.dice.chance(0.3) {
		v.hoseIs = pickOf(v.dice, "full", "back", "pan", "cleared")
	}
	film := v.hose * v.dice.between(0.02, 0.15)
	gone := v.hose - film
	switch v.hoseIs {
	case "cleared":
		v.Unit.HeldML += v.hose
		v.hose = 0
	case "back":
		v.vessel, v.hose = v.vessel+gone, film
	case "pan":
		v.catch, v.hose = v.catch+gone, film
	}
}

// gush is what escapes at one swap.
func (v *Visit) gush() float64 { return v.Tools.EscapeML * v.dice.lopsided(v.World.EscapeLn) }

// take takes oil out of the unit.
func (v *Visit) take(ml float64) float64 {
	ml = min(ml, v.Unit.HeldML)
	v.Unit.HeldML -= ml
	return ml
}

func (v *Visit) escape(ml float64) { v.catch += v.take(ml) }

func (v *Visit) letOut(s *guide.Guide, round int) {
	verdict, err := s.Verdict(round - 1)
	if err != nil {
		return
	}
	v.out = v.take(max(verdict.Error.Nominal, 5) * (1 + v.dice.near(0.05)))
}
