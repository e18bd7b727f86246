package garage

// This file answers questions, by topic: what is typed, and what is chosen. A
// topic that stands in neither list is answered by what is on offer, by "don't
// know", or by the first choice.

import (
	"fmt"
	"strings"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// lines is what is typed, the slip first and then what is right; none where the
// offer is taken, an empty one for "don't know".
func (w *World) lines(s *guide.Guide, p guide.Prompt) []string {
	if p.Step == job.Prepare {
		return w.facts(p.Topic)
	}
	t := &w.Tools
	switch p.Topic {
	case job.OilTemperature, job.DrainedTemperature:
		return w.degrees(t.OutTempC)
	case job.LoadedTemperature, job.FillOilTemperature:
		return w.degrees(t.NewTempC)
	case job.DrainedAmount:
		return w.typed(s, p, w.cameOut(s, p), t.OutTempC)
	case job.LoadedAmount:
		return w.typed(s, p, w.vessel, t.NewTempC)
	case job.BottlesOpened:
		if t.BottlesNoted {
			return []string{strings.TrimSuffix(strings.Repeat(fmt.Sprintf("%.0f+", t.BottleML), max(w.opened, 1)), "+") + " ml"}
		}
	case job.BottlesLeft:
		return w.typed(s, p, w.bottles, t.NewTempC)
	case job.VesselWeighedFull, job.VesselWeighedAfter:
		if w.weighsVessel() {
			return []string{fmt.Sprintf("%.0f g", 800+w.reads("scale", w.vessel, 20))}
		}
	case job.LeftInVessel:
		return w.typed(s, p, w.vessel, t.NewTempC)
	case job.OverflowCaught:
		return w.typed(s, p, w.overflow, t.NewTempC)
	case job.LetOutAmount:
		return w.typed(s, p, w.out, t.NewTempC)
	case job.EscapedAtCap, job.EscapedAmount:
		return w.caught(s, p)
	case job.LeakedAmount:
		return w.typed(s, p, w.lost, 20)
	case job.PadsBefore:
		return []string{"40 g"}
	case job.PadsAfter:
		g := w.massG(w.catch)
		w.catch = 0
		return []string{fmt.Sprintf("%.0f g", 40+g)}
	}

	return nil
}

// facts is what is typed of the unit and the tools.
func (w *World) facts(topic job.Topic) []string {
	t := &w.Tools
	switch topic {
	case job.Capacity:
		return w.figure()
	case job.ToleranceTopic:
		return []string{t.Tolerance}
	case job.OilDensity:
		if t.DensityKnown {
			return []string{fmt.Sprintf("%.0f", t.DensityKgM3)}
		}
	case job.ContainerGraduation:
		return ml(t.Jug.mark)
	case job.ContainerError:
		return []string{fmt.Sprintf("%g", 100*t.Jug.claimed)}
	case job.ScaleDivision:
		if t.ScaleStepG > 0 {
			return []string{fmt.Sprintf("%g g", t.ScaleStepG)}
		}
	case job.VesselGraduation:
		return ml(t.Vessel.mark)
	case job.HoseBore:
		if t.HoseKnown {
			return []string{fmt.Sprintf("%g", t.bore)}
		}
		return []string{""}
	case job.HoseLength:
		return []string{fmt.Sprintf("%g", t.length)}
	case job.VesselHeel:
		return ml(t.HeelML)
	}
	return nil
}

func ml(x float64) []string { return []string{fmt.Sprintf("%g ml", x)} }

// figure is the stated quantity as it is typed.
func (w *World) figure() []string {
	right := fmt.Sprintf("%.0f ml", w.Unit.Figure)
	if w.Slips.Has(UnitSlip) && w.witnessed(job.Place{Topic: job.Capacity}) && w.dice.chance(0.2) {
		w.slipped = true
		w.honest[job.Place{Topic: job.Capacity}] = right
		return []string{w.inWrongUnit(w.Unit.Figure), right}
	}
	return []string{right}
}

func (w *World) degrees(c float64) []string {
	if w.Slips.Has(HotReadAsCold) {
		c = 20
	}
	return []string{fmt.Sprintf("%.0f C", c)}
}

// cameOut is what an amount that came out is of: all of it, or what a second
// look brought.
func (w *World) cameOut(s *guide.Guide, p guide.Prompt) float64 {
	before := job.Place{Topic: job.LookedAgain, Item: p.Place.Item - 1}
	if e, ok := s.Answer(before); ok && e.Value.Choice == "more" {
		return w.more
	}
	return w.pan
}

// caught is what is typed of the oil in the catch. Once it is measured the
// catch is empty.
func (w *World) caught(s *guide.Guide, p guide.Prompt) []string {
	how, _ := s.Answer(job.Place{Topic: job.EscapedHow, Round: p.Place.Round, Item: p.Place.Item})
	if p.Topic == job.EscapedAmount && how.Value.Choice == "guess" {
		guess := w.catch * w.dice.between(0.65, 2)
		w.catch = 0
		return []string{fmt.Sprintf("%.0f ml", guess), "20 ml"} // more than was pushed in is refused, as below
	}
	if p.Topic == job.EscapedAtCap && w.catch == 0 {
		return nil
	}
	caught := w.catch
	w.catch = 0
	// More than was pushed in is refused, though a unit that was hardly drained
	// can lose it.
	return append(w.typed(s, p, max(caught-w.dice.between(0, 4), 0), 20), "20 ml", "17 g")
}

// token is what is chosen, "" for the first.
func (w *World) token(s *guide.Guide, p guide.Prompt, options []guide.Option) string {
	usual, _ := p.DefaultValue(s)
	if before, _ := s.Answer(p.Place); p.Topic == job.LookedAgain &&
		(p.Place.Item > 2 || before.Value.Choice == "typed_wrong") { // enough of it
		return "nothing_more"
	}
	if w.Slips.Has(ClicksOn) && p.Step != job.Prepare && p.Place.Round < 4 {
		return usual.Choice
	}
	if w.Slips.Has(RandomStops) && stops(p.Topic) && p.Place.Round < 4 {
		return pickOf(w.dice, options...).Token
	}
	switch p.Topic {
	case job.DisplayUnits:
		return w.Tools.Units
	case job.FillPath:
		return either(w.Unit.LevelPort, "level_port", "drain_only")
	case job.DryStart:
		return either(w.Unit.StartsDry, "dry", "holds_oil")
	case job.CapacityMeans:
		return w.Unit.Said.String()
	case job.PriorLevel:
		return w.Unit.Prior.String()
	case job.DrainedWith:
		if p.Place.Item == 1 && w.Tools.OutTwice { // another way
			return either(w.Tools.OutBy == "scale", "c0", "scale")
		}
		return w.Tools.OutBy
	case job.LoadedWith, job.LeftWith:
		return w.Tools.LoadedBy
	case job.OilLook, job.MagnetLook:
		return "clean"
	case job.OilHistory:
		return "undisturbed"
	case job.HoseBefore:
		return w.sayHoseBefore(usual.Choice, p.Place.Round)
	case job.HoseAfter:
		if w.Slips.Has(HoseWrong) && !w.hoseLied {
			return either(w.hoseIs == "full", "cleared", "full")
		}
		return w.hoseIs
	case job.LevelWeeps:
		return either(w.Unit.HeldML >= w.Unit.LipML-1, "weeps", "not_yet")
	case job.EscapedHow, job.LeakedHow:
		return w.howCaught()
	}
	return w.settle(s, p, usual.Choice, options)
}

// sayHoseBefore is wrong before the first push, or after every push. After the
// first it is what was said of the hose before.
func (w *World) sayHoseBefore(usual string, round int) string {
	full := w.hose > w.Tools.HoldUpML/2
	if round > 0 && w.Slips.Has(HoseWrong) {
		return usual
	}
	if round == 0 && w.Slips.Has(HoseWrong) && w.dice.chance(0.5) {
		w.hoseLied, full = true, !full
	}
	return either(full, "primed", "dry")
}

func (w *World) howCaught() string {
	if w.Slips.Has(ForgottenCatch) {
		return "none"
	}
	if w.dice.chance(0.2) {
		return "guess"
	}
	if w.Tools.ScaleStepG > 0 && w.dice.chance(0.3) {
		return "pads"
	}
	return "caught"
}

// stops reports whether a question is one at which the guide stops.
func stops(t job.Topic) bool {
	switch t {
	case job.LookedAgain, job.WitnessTrusted, job.WrongBoxDecision, job.Basis, job.BalanceSuspect, job.LevelLookedAgain, job.Decision:
		return true
	}
	return false
}

func either(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}

// settle answers where the guide stops, as one does who looks.
func (w *World) settle(s *guide.Guide, p guide.Prompt, usual string, options []guide.Option) string {
	u := &w.Unit
	switch p.Topic {
	case job.DrainedMore:
		return either(w.Tools.OutTwice && p.Place.Item == 0, "again", "done")
	case job.LookedAgain:
		if w.over > 0 && p.Place.Item < 2 {
			return "more"
		}
		return either(w.pan+u.StaysML > 1.1*u.RightML && w.dice.chance(0.7), "overfilled", "nothing_more")
	case job.WrongBoxDecision:
		return "right_unit"
	case job.WitnessTrusted:
		return pickOf(w.dice, options...).Token
	case job.Basis:
		plan, _ := s.Plan(0)
		need := w.needML
		byDrain := abs(plan.FromDrained.Nominal-need) < abs(plan.FromCapacity.Nominal-need)
		return either(byDrain != w.Slips.Has(WrongBasis), "drained", "capacity")
	case job.LevelLookedAgain:
		return either(u.HeldML >= u.LipML-1, "holds", "gone")
	case job.Decision:
		return w.decide(p, usual, options)
	case job.LeakCheck:
		if w.dice.chance(0.05) && p.Place.Item == 0 {
			w.lost += w.take(w.dice.between(2, 60))
			return "weeps"
		}
		return "dry"
	}
	return usual
}

// decide does what is on offer; where nothing is, it accepts what can be
// accepted, else tries to put it right.
func (w *World) decide(p guide.Prompt, usual string, options []guide.Option) string {
	if p.Place.Round >= 4 {
		return "leave"
	}
	if usual != "" {
		return usual
	}
	for _, o := range options {
		if o.Token == "accept" {
			return o.Token
		}
	}
	return pickOf(w.dice, options...).Token
}

// readAgain reads again what the guide doubts, and corrects it: half of those
// who got it wrong see it then.
func (w *World) readAgain(s *guide.Guide, p guide.Prompt) bool {
	if !stops(p.Topic) || w.stood[p.Place] || w.Slips.Has(RandomStops) || w.Slips.Has(ClicksOn) {
		return false
	}
	w.stood[p.Place] = true
	for _, place := range w.inDoubt(p) {
		if w.dice.chance(0.5) && w.correct(s, place) {
			return true
		}
	}
	return false
}

// correct puts right what was typed at a place, if it was wrong.
func (w *World) correct(s *guide.Guide, place job.Place) bool {
	right, slipped := w.honest[place]
	delete(w.honest, place)
	e, stands := s.Answer(place)
	if !slipped || !stands {
		return false
	}
	again, ok := s.Correcting(e.Seq)
	if !ok {
		return false
	}
	v, err := again.Parse(s, right)
	if err != nil {
		return false
	}
	w.at = w.at.Add(w.takes(place.Topic))
	w.Job.Entries = append(w.Job.Entries, again.Entry(s, v, right, w.at))
	return true
}

// correctAny puts right the first answer that is wrong: nothing else is taken
// any more.
func (w *World) correctAny(s *guide.Guide) bool {
	for _, e := range w.Job.Entries {
		if w.correct(s, job.Place{Topic: e.Topic, Round: e.Round, Item: e.Item}) {
			return true
		}
	}
	return false
}

// inDoubt are the readings that a question is about.
func (w *World) inDoubt(p guide.Prompt) []job.Place {
	r := p.Place.Round
	switch p.Topic {
	case job.LookedAgain, job.WitnessTrusted, job.WrongBoxDecision, job.Basis:
		return []job.Place{{Topic: job.Capacity}, {Topic: job.DrainedAmount}, {Topic: job.DrainedAmount, Item: 1}}
	case job.BalanceSuspect, job.LevelLookedAgain:
		return []job.Place{{Topic: job.LoadedAmount, Round: r}, {Topic: job.LeftInVessel, Round: r}}
	}
	return nil
}

func abs(x float64) float64 { return max(x, -x) }
