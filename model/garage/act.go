package garage

// This file moves the oil: what really happens when the guide says what to do,
// whatever is then said of it.

import (
	"math"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// act does what a question asks to be done before it is answered, once.
func (w *World) act(s *guide.Guide, p guide.Prompt) {
	if w.done[p.Place] {
		return
	}
	w.done[p.Place] = true
	switch p.Topic {
	case job.LoadedAmount:
		w.load(s, p)
	case job.HoseAfter:
		w.hoseOff(p)
	case job.EscapedAtCap:
		if w.dice.chance(0.1) {
			w.escape(w.dice.between(5, 100))
		}
	case job.AdapterIn:
		if p.Place.Round > 0 {
			w.escape(w.gush())
		}
	case job.LetOutAmount:
		w.letOut(s, p)
	}
}

// after does what follows from an answer.
func (w *World) after(s *guide.Guide, p guide.Prompt, e job.Entry) {
	switch e.Topic {
	case job.PlugOut:
		w.outAt = e.At
	case job.DripsEnded:
		w.drain(e.At.Sub(w.outAt).Minutes())
	case job.FillEnded:
		w.push(s, p.Place.Round)
	case job.PlugSeated:
		if !w.Unit.LevelPort && s.RoundKind(p.Place.Round) == job.RoundAdds {
			w.escape(w.gush())
		}
	case job.LookedAgain:
		w.more = 0
		if e.Value.Choice == "more" && w.takes(p.Topic) > 5*60e9 {
			w.more = w.over
			w.Unit.HeldML, w.needML, w.over = w.Unit.HeldML-w.more, w.needML+w.more, 0
		}
	case job.WasherRenewed:
		w.lost += w.take(w.gush())
	}
}

// drain lets out what runs out in so many minutes. What a warm drain of a
// quarter of an hour would have brought and this one does not, stays in.
func (w *World) drain(minutes float64) {
	if w.Unit.StartsDry {
		return
	}
	u := &w.Unit
	w.over = u.RightML * (0.12*math.Exp(-minutes/5) + 0.5*math.Exp(-minutes/0.4))
	if minutes > 14 {
		w.over = 0
	}
	if w.Slips.Has(DrainCold) {
		w.over += u.RightML * w.dice.between(0.02, 0.15)
	}
	w.over = min(w.over, u.HeldML-u.StaysML)
	w.pan = u.HeldML - u.StaysML - w.over
	u.HeldML -= w.pan
	w.needML = u.RightML - u.HeldML
}

// load fills the vessel to what is planned, as near as one pours.
func (w *World) load(s *guide.Guide, p guide.Prompt) {
	plan, err := s.Plan(p.Place.Round)
	if err != nil {
		return
	}
	goal := max(plan.PreloadML*(1+w.dice.near(0.005)), 0)
	before := w.vessel
	if w.vessel >= goal {
		return
	}
	w.vessel = goal
	for w.bottles < goal-before {
		w.bottles += w.Tools.BottleML*(1+w.dice.near(0.008)) - 8 - w.dice.near(2.5)
		w.opened++
	}
	w.bottles -= goal - before
}

// push presses the load in until the plan's end, as the vessel shows it, or
// pours it in at the top until oil weeps.
func (w *World) push(s *guide.Guide, round int) {
	if w.Unit.LevelPort {
		passed := min(max(w.Unit.LipML-w.Unit.HeldML, 0)+w.dice.between(0, 20), max(w.vessel-w.Tools.HeelML, 0))
		w.vessel -= passed
		w.Unit.HeldML += passed
		w.overflow = max(w.Unit.HeldML-w.Unit.LipML, 0)
		w.Unit.HeldML -= w.overflow
		return
	}
	end := max(s.EndReadingML(round)+w.dice.near(5), w.Tools.HeelML*(1+w.dice.near(0.1)))
	passed := max(w.vessel-end, 0)
	w.vessel -= passed
	took := min(w.Tools.HoldUpML-w.hose, passed)
	w.hose += took
	w.Unit.HeldML += passed - took
}

// hoseOff is where the oil of the hose gets to as it comes off.
func (w *World) hoseOff(p guide.Prompt) {
	w.hoseIs = "full"
	if w.dice.chance(0.3) {
		w.hoseIs = pickOf(w.dice, hoseEnds(p)...)
	}
	film := w.hose * w.dice.between(0.02, 0.15)
	gone := w.hose - film
	switch w.hoseIs {
	case "cleared":
		w.Unit.HeldML += w.hose
		w.hose = 0
	case "back":
		w.vessel, w.hose = w.vessel+gone, film
	case "pan":
		w.catch, w.hose = w.catch+gone, film
	}
}

// hoseEnds are the ends that the question knows.
func hoseEnds(p guide.Prompt) []string {
	var ends []string
	for _, o := range p.Options {
		ends = append(ends, o.Token)
	}
	return ends
}

// gush is what escapes at one swap: half of them lose more than 45 ml.
func (w *World) gush() float64 { return 45 * math.Exp(w.dice.near(0.5)) }

// take takes oil out of the unit.
func (w *World) take(ml float64) float64 {
	ml = min(ml, w.Unit.HeldML)
	w.Unit.HeldML -= ml
	return ml
}

func (w *World) escape(ml float64) { w.catch += w.take(ml) }

func (w *World) letOut(s *guide.Guide, p guide.Prompt) {
	v, err := s.Verdict(p.Place.Round - 1)
	if err != nil {
		return
	}
	w.out = w.take(max(v.Error.Nominal, 5) * (1 + w.dice.near(0.05)))
}
