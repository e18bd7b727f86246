package garage

// This file answers questions, by topic: what is typed, and what is chosen. A
// topic that stands in neither list is answered by what is on offer, by "don't
// know", or by the first choice.

import (
	"fmt"
	"strings"

	"garage/tundish/model"
)

// lines is what is typed, the slip first and then what is right; none where the
// offer is taken, an empty one for "don't know".
func (w *World) lines(s *model.State, p model.Prompt) []string {
	if p.Step == model.Prepare {
		return w.facts(p.Topic)
	}
	t := &w.Tools
	switch p.Topic {
	case model.OilTemperature, model.DrainedTemperature:
		return w.degrees(t.OutTempC)
	case model.LoadedTemperature, model.FillOilTemperature:
		return w.degrees(t.NewTempC)
	case model.DrainedAmount:
		return w.typed(s, p, w.cameOut(s, p), t.OutTempC)
	case model.LoadedAmount:
		return w.typed(s, p, w.vessel, t.NewTempC)
	case model.BottlesOpened:
		if t.BottlesNoted {
			return []string{strings.TrimSuffix(strings.Repeat(fmt.Sprintf("%.0f+", t.BottleML), max(w.opened, 1)), "+") + " ml"}
		}
	case model.BottlesLeft:
		return w.typed(s, p, w.bottles, t.NewTempC)
	case model.VesselWeighedFull, model.VesselWeighedAfter:
		if w.weighsVessel() {
			return []string{fmt.Sprintf("%.0f g", 800+w.reads("scale", w.vessel, 20))}
		}
	case model.LeftInVessel:
		return w.typed(s, p, w.vessel, t.NewTempC)
	case model.OverflowCaught:
		return w.typed(s, p, w.overflow, t.NewTempC)
	case model.LetOutAmount:
		return w.typed(s, p, w.out, t.NewTempC)
	case model.EscapedAtCap, model.EscapedAmount:
		return w.caught(s, p)
	case model.LeakedAmount:
		return w.typed(s, p, w.lost, 20)
	case model.PadsBefore:
		return []string{"40 g"}
	case model.PadsAfter:
		g := w.massG(w.catch)
		w.catch = 0
		return []string{fmt.Sprintf("%.0f g", 40+g)}
	}

	return nil
}

// facts is what is typed of the unit and the tools.
func (w *World) facts(topic model.Topic) []string {
	t := &w.Tools
	switch topic {
	case model.Capacity:
		return w.figure()
	case model.ToleranceTopic:
		return []string{t.Tolerance}
	case model.OilDensity:
		if t.DensityKnown {
			return []string{fmt.Sprintf("%.0f", t.DensityKgM3)}
		}
	case model.ContainerGraduation:
		return ml(t.Jug.mark)
	case model.ContainerError:
		return []string{fmt.Sprintf("%g", 100*t.Jug.claimed)}
	case model.ScaleDivision:
		if t.ScaleStepG > 0 {
			return []string{fmt.Sprintf("%g g", t.ScaleStepG)}
		}
	case model.VesselGraduation:
		return ml(t.Vessel.mark)
	case model.HoseBore:
		if t.HoseKnown {
			return []string{fmt.Sprintf("%g", t.bore)}
		}
		return []string{""}
	case model.HoseLength:
		return []string{fmt.Sprintf("%g", t.length)}
	case model.VesselHeel:
		return ml(t.HeelML)
	}
	return nil
}

func ml(x float64) []string { return []string{fmt.Sprintf("%g ml", x)} }

// figure is the stated quantity as it is typed.
func (w *World) figure() []string {
	right := fmt.Sprintf("%.0f ml", w.Unit.Figure)
	if w.Slips.Has(UnitSlip) && w.witnessed(model.Place{Topic: model.Capacity}) && w.dice.chance(0.2) {
		w.slipped = true
		w.honest[model.Place{Topic: model.Capacity}] = right
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
func (w *World) cameOut(s *model.State, p model.Prompt) float64 {
	before := model.Place{Topic: model.LookedAgain, Item: p.Place.Item - 1}
	if e, ok := s.Answer(before); ok && e.Value.Choice == "more" {
		return w.more
	}
	return w.pan
}

// caught is what is typed of the oil in the catch. Once it is measured the
// catch is empty.
func (w *World) caught(s *model.State, p model.Prompt) []string {
	how, _ := s.Answer(model.Place{Topic: model.EscapedHow, Round: p.Place.Round, Item: p.Place.Item})
	if p.Topic == model.EscapedAmount && how.Value.Choice == "guess" {
		guess := w.catch * w.dice.between(0.65, 2)
		w.catch = 0
		return []string{fmt.Sprintf("%.0f ml", guess), "20 ml"} // more than was pushed in is refused, as below
	}
	if p.Topic == model.EscapedAtCap && w.catch == 0 {
		return nil
	}
	caught := w.catch
	w.catch = 0
	// More than was pushed in is refused, though a unit that was hardly drained
	// can lose it.
	return append(w.typed(s, p, max(caught-w.dice.between(0, 4), 0), 20), "20 ml", "17 g")
}

// token is what is chosen, "" for the first.
func (w *World) token(s *model.State, p model.Prompt, options []model.Option) string {
	usual, _ := p.DefaultValue(s)
	if before, _ := s.Answer(p.Place); p.Topic == model.LookedAgain && (p.Place.Item > 2 || before.Value.Choice == "typed_wrong") { // enough of it
		return "nothing_more"
	}
	if w.Slips.Has(ClicksOn) && p.Step != model.Prepare && p.Place.Round < 4 {
		return usual.Choice
	}
	if w.Slips.Has(RandomStops) && stops(p.Topic) && p.Place.Round < 4 {
		return pickOf(w.dice, options...).Token
	}
	switch p.Topic {
	case model.DisplayUnits:
		return w.Tools.Units
	case model.FillPath:
		return either(w.Unit.LevelPort, "level_port", "drain_only")
	case model.DryStart:
		return either(w.Unit.StartsDry, "dry", "holds_oil")
	case model.CapacityMeans:
		return w.Unit.Said.String()
	case model.PriorLevel:
		return w.Unit.Prior.String()
	case model.DrainedWith:
		if p.Place.Item == 1 && w.Tools.OutTwice { // another way
			return either(w.Tools.OutBy == "scale", "c0", "scale")
		}
		return w.Tools.OutBy
	case model.LoadedWith, model.LeftWith:
		return w.Tools.LoadedBy
	case model.OilLook, model.MagnetLook:
		return "clean"
	case model.OilHistory:
		return "undisturbed"
	case model.HoseBefore:
		return w.sayHoseBefore(usual.Choice, p.Place.Round)
	case model.HoseAfter:
		if w.Slips.Has(HoseWrong) && !w.hoseLied {
			return either(w.hoseIs == "full", "cleared", "full")
		}
		return w.hoseIs
	case model.LevelWeeps:
		return either(w.Unit.HeldML >= w.Unit.LipML-1, "weeps", "not_yet")
	case model.EscapedHow, model.LeakedHow:
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
func stops(t model.Topic) bool {
	switch t {
	case model.LookedAgain, model.WitnessTrusted, model.WrongBoxDecision, model.Basis, model.BalanceSuspect, model.LevelLookedAgain, model.Decision:
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
func (w *World) settle(s *model.State, p model.Prompt, usual string, options []model.Option) string {
	u := &w.Unit
	switch p.Topic {
	case model.DrainedMore:
		return either(w.Tools.OutTwice && p.Place.Item == 0, "again", "done")
	case model.LookedAgain:
		if w.over > 0 && p.Place.Item < 2 {
			return "more"
		}
		return either(w.pan+u.StaysML > 1.1*u.RightML && w.dice.chance(0.7), "overfilled", "nothing_more")
	case model.WrongBoxDecision:
		return "right_unit"
	case model.WitnessTrusted:
		return pickOf(w.dice, options...).Token
	case model.Basis:
		plan, _ := s.Plan(0)
		need := w.needML
		byDrain := abs(plan.FromDrained.Nominal-need) < abs(plan.FromCapacity.Nominal-need)
		return either(byDrain != w.Slips.Has(WrongBasis), "drained", "capacity")
	case model.LevelLookedAgain:
		return either(u.HeldML >= u.LipML-1, "holds", "gone")
	case model.Decision:
		return w.decide(p, usual, options)
	case model.LeakCheck:
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
func (w *World) decide(p model.Prompt, usual string, options []model.Option) string {
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
func (w *World) readAgain(s *model.State, p model.Prompt) bool {
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
func (w *World) correct(s *model.State, place model.Place) bool {
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
func (w *World) correctAny(s *model.State) bool {
	for _, e := range w.Job.Entries {
		if w.correct(s, model.Place{Topic: e.Topic, Round: e.Round, Item: e.Item}) {
			return true
		}
	}
	return false
}

// inDoubt are the readings that a question is about.
func (w *World) inDoubt(p model.Prompt) []model.Place {
	r := p.Place.Round
	switch p.Topic {
	case model.LookedAgain, model.WitnessTrusted, model.WrongBoxDecision, model.Basis:
		return []model.Place{{Topic: model.Capacity}, {Topic: model.DrainedAmount}, {Topic: model.DrainedAmount, Item: 1}}
	case model.BalanceSuspect, model.LevelLookedAgain:
		return []model.Place{{Topic: model.LoadedAmount, Round: r}, {Topic: model.LeftInVessel, Round: r}}
	}
	return nil
}

func abs(x float64) float64 { return max(x, -x) }
