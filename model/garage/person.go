package garage

// This file says what the person types and chooses, by topic. A topic that stands
// in neither list is answered by what is on offer, by "don't know", or by the
// first choice.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"garage/tundish/model/ask"
	"garage/tundish/model/card"
	"garage/tundish/model/estimate"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// lines is what is typed, the slip first and then what is right; none where the
// offer is taken, an empty one for "don't know".
func (v *Visit) lines(p job.Place) []string {
	switch p.Topic {
	case job.OilTemperature, job.DrainedTemperature:
		return v.degrees(v.OutC)
	case job.LoadedTemperature, job.FillOilTemperature:
		return v.degrees(v.NewC)
	case job.DrainedAmount:
		return v.typed(p, v.cameOut(p), v.OutC)
	case job.LoadedAmount, job.LeftInVessel:
		return v.typed(p, v.vessel, v.NewC)
	case job.BottlesOpened:
		if v.Tools.BottlesNoted {
			return []string{strings.TrimSuffix(strings.Repeat(fmt.Sprintf("%.0f+", v.Tools.BottleML), max(v.opened, 1)), "+") + " ml"}
		}
	case job.BottlesLeft:
		return v.typed(p, v.bottles, v.NewC)
	case job.VesselWeighedFull, job.VesselWeighedAfter:
		if v.weighsVessel() {
			return []string{fmt.Sprintf("%.0f g", 800+v.reads("scale", v.vessel, 20))}
		}
	case job.OverflowCaught:
		return v.typed(p, v.overflow, v.NewC)
	case job.LetOutAmount:
		return v.typed(p, v.out, v.NewC)
	case job.EscapedAtCap, job.EscapedAmount:
		return v.caught(p)
	case job.LeakedAmount:
		return v.typed(p, v.lost, 20)
	case job.PadsBefore:
		return []string{"40 g"}
	case job.PadsAfter:
		g := massG(v.catch, v.Tools.DensityKgM3)
		v.catch = 0
		return []string{fmt.Sprintf("%.0f g", 40+g)}
	}
	return v.facts(p.Topic)
}

// facts is what is typed of the unit and the tools.
func (v *Visit) facts(topic job.Topic) []string {
	t := v.Tools
	switch topic {
	case job.UnitName:
		return []string{"rear axle"}
	case job.Capacity:
		return v.figure()
	case job.ToleranceTopic:
		return []string{t.Tolerance}
	case job.ClubKind:
		return known(v.Config.Alike != nil, "K%.0f axle", 2)
	case job.Card:
		return ofCard(v.Config.Card, func(c *card.Card) *card.Figure { return &c.Out })
	case job.CardResidual:
		return ofCard(v.Config.Card, func(c *card.Card) *card.Figure { return c.Stays })
	case job.Odometer:
		return known(t.KmNoted, "%.0f km", v.Unit.OdometerKm)
	case job.IntervalKm:
		return known(t.KmNoted, "%.0f km", v.Unit.IntervalKm)
	case job.OilDensity:
		return known(t.SheetKgM3 > 0, "%.0f", t.SheetKgM3)
	case job.ContainerGraduation:
		return known(true, "%g ml", t.Jug.mark)
	case job.ContainerError:
		return known(true, "%g", 100*t.Jug.claimed)
	case job.ScaleDivision:
		return known(t.ScaleStepG > 0, "%g g", t.ScaleStepG)
	case job.VesselGraduation:
		return known(true, "%g ml", t.Vessel.mark)
	case job.HoseBore:
		return known(t.HoseKnown, "%g", t.bore)
	case job.HoseLength:
		return known(true, "%g", t.length)
	case job.VesselHeel:
		return known(t.HeelKnown, "%.0f ml", t.HeelML)
	}
	return nil
}

// knows reports whether the person says something of a question that need not be
// answered. Whoever clicks on takes what comes.
func (v *Visit) knows(p job.Place) bool {
	switch {
	case p.Topic == job.EscapedAtCap:
		return true
	case v.Slips.Has(ClicksOn) && ask.SpecOf(p.Topic).Step != job.Prepare:
		return false
	}
	switch p.Topic {
	case job.DisplayUnits, job.DrainedTemperature, job.LoadedTemperature, job.BottlesLeft:
		return true
	case job.BottlesOpened:
		return v.Tools.BottlesNoted
	case job.VesselWeighedFull:
		return v.weighsVessel()
	}
	lines := v.facts(p.Topic)
	return len(lines) > 0 && lines[0] != ""
}

// known is what is typed of a figure, if it is known.
func known(yes bool, format string, x float64) []string {
	if !yes {
		return nil
	}
	return []string{fmt.Sprintf(format, x)}
}

// ofCard is a figure of a card as it is offered: ± twice its standard uncertainty.
func ofCard(c *card.Card, of func(*card.Card) *card.Figure) []string {
	if c == nil || of(c) == nil {
		return nil
	}
	f := of(c)
	return []string{fmt.Sprintf("%.3f-%.3f ml", f.Mean-estimate.Coverage*f.U(), f.Mean+estimate.Coverage*f.U())}
}

// figure is the stated quantity as it is typed.
func (v *Visit) figure() []string {
	right := fmt.Sprintf("%.0f ml", v.Unit.Figure)
	if v.Slips.Has(UnitSlip) && v.crossChecked(job.Place{Topic: job.Capacity}) && v.dice.chance(0.2) {
		v.slipped = true
		v.honest[job.Place{Topic: job.Capacity}] = right
		return []string{v.inWrongUnit(v.Unit.Figure), right}
	}
	return []string{right}
}

func (v *Visit) degrees(c float64) []string {
	if v.Slips.Has(HotReadAsCold) {
		return []string{"20 C"}
	}
	return []string{fmt.Sprintf("%.0f C", c+v.dice.near(v.World.TempU))}
}

// cameOut is what an amount that came out is of: all of it, or what a second
// look brought. A scale weighs the old oil.
func (v *Visit) cameOut(p job.Place) float64 {
	ml := v.pan
	if v.choice(job.Place{Topic: job.LookedAgain, Item: p.Item - 1}) == "more" {
		ml = v.more
	}
	if v.deviceAt(p) == "scale" {
		ml *= v.OldOil
	}
	return ml
}

// caught is what is typed of the oil in the catch. Once it is measured the
// catch is empty.
func (v *Visit) caught(p job.Place) []string {
	caught := v.catch
	v.catch = 0
	switch {
	case p.Topic == job.EscapedAmount && v.choice(p.Of(job.EscapedHow)) == "guess":
		return []string{fmt.Sprintf("%.0f ml", caught/v.dice.between(0.3, 1.7)), "20 ml"} // more than was pushed in is refused, as below
	case p.Topic == job.EscapedAtCap && caught == 0:
		return nil
	}
	// More than was pushed in is refused, though a unit that was hardly drained
	// can lose it.
	return append(v.typed(p, max(caught-v.dice.between(0, v.World.CatchML), 0), 20), "20 ml", "17 g")
}

// token is what is chosen, "" for the first.
func (v *Visit) token(s *guide.Guide, p guide.Prompt, options []ask.Option) string {
	usual, _ := p.DefaultValue(s)
	if p.Topic == job.LookedAgain && p.Place.Item > 2 { // enough of it
		return "nothing_more"
	}
	if v.Slips.Has(ClicksOn) && p.Step != job.Prepare && p.Place.Round < 4 {
		return usual.Choice
	}
	if v.Slips.Has(RandomStops) && stops(p.Topic) && p.Place.Round < 4 {
		return pickOf(v.dice, options...).Token
	}
	switch p.Topic {
	case job.HoseBefore:
		return v.sayHoseBefore(usual.Choice, p.Place.Round)
	case job.Decision:
		return v.decide(p, advised(s, p.Place), options)
	case job.MeasureTrusted:
		return pickOf(v.dice, options...).Token
	}
	if token := v.says(p.Place); token != "" {
		return token
	}
	return usual.Choice
}

// says is what is chosen of a topic by what is so; "" where that does not say it.
func (v *Visit) says(p job.Place) string {
	u := v.Unit
	switch p.Topic {
	case job.DisplayUnits:
		return v.Tools.Units
	case job.FillPath:
		return either(u.LevelPort, "level_port", "drain_only")
	case job.DryStart:
		return either(u.StartsDry, "dry", "holds_oil")
	case job.CapacityMeans:
		return u.Said.String()
	case job.PriorLevel:
		return u.Prior.String()
	case job.DrainedWith:
		return either((v.Tools.OutBy == "scale") != (p.Item == 1 && v.Tools.OutTwice), "scale", "c0") // again: another way
	case job.LoadedWith, job.LeftWith:
		return v.Tools.LoadedBy
	case job.OilLook, job.MagnetLook:
		return "clean"
	case job.OilHistory:
		return "undisturbed"
	case job.HoseAfter:
		if v.Slips.Has(HoseWrong) && !v.hoseLied {
			return either(v.hoseIs == "full", "cleared", "full")
		}
		return v.hoseIs
	case job.LevelWeeps:
		return either(u.HeldML >= v.LipML-1, "weeps", "not_yet")
	case job.EscapedHow, job.LeakedHow:
		return v.howCaught()
	case job.NothingEscaped:
		v.sawCatch = v.catch > 0 && v.dice.chance(0.5)
		return either(v.sawCatch, "some", "dry")
	case job.DrainedMore:
		return either(v.Tools.OutTwice && p.Item == 0, "again", "done")
	}
	return v.looksAgain(p)
}

// looksAgain is what a second look finds, and what the owner goes by.
func (v *Visit) looksAgain(p job.Place) string {
	u := v.Unit
	switch p.Topic {
	case job.LookedAgain:
		if v.over > 0 && p.Item < 2 {
			return "more"
		}
		return either(v.pan+v.StaysML > 1.1*u.RightML && v.dice.chance(0.7), "overfilled", "nothing_more")
	case job.WrongBoxDecision:
		return "right_unit"
	case job.CardLookedAgain:
		return job.CardBoth
	case job.Basis:
		if v.Slips.Has(WrongBasis) {
			return either(v.drainIsNearer(), "capacity", "drained")
		}
		return pickOf(v.dice, "drained", "capacity")
	case job.LevelLookedAgain:
		return either(u.HeldML >= v.LipML-1, "holds", "gone")
	case job.LeakCheck:
		if v.dice.chance(0.05) && p.Item == 0 {
			v.lost += v.take(v.dice.between(2, 60))
			return "weeps"
		}
		return "dry"
	}
	return ""
}

// drainIsNearer reports whether what was said to have come out is nearer to what
// belongs in than what the manual says.
func (v *Visit) drainIsNearer() bool {
	byFigure := v.Unit.Figure
	if v.Unit.Said == estimate.MeansDry {
		byFigure -= v.Unit.UsualML
	}
	byDrain := v.asKnown(v.said[job.Place{Topic: job.DrainedAmount}], v.OutC)
	return math.Abs(byDrain-v.needML) < math.Abs(byFigure-v.needML)
}

// sayHoseBefore is wrong before the first push, or after every push. After the
// first it is what was said of the hose before.
func (v *Visit) sayHoseBefore(usual string, round int) string {
	full := v.hose > v.Tools.HoldUpML/2
	if round > 0 && v.Slips.Has(HoseWrong) {
		return usual
	}
	if round == 0 && v.Slips.Has(HoseWrong) && v.dice.chance(0.5) {
		v.hoseLied, full = true, !full
	}
	return either(full, "primed", "dry")
}

func (v *Visit) howCaught() string {
	switch {
	case v.Slips.Has(ForgottenCatch):
		return either(v.sawCatch, "guess", "none")
	case v.dice.chance(0.2):
		return "guess"
	case v.Tools.ScaleStepG > 0 && v.dice.chance(0.3):
		return "pads"
	}
	return "caught"
}

// advised is what the verdict says to do, "" where it says nothing.
func advised(s *guide.Guide, p job.Place) string {
	v, err := s.Verdict(p.Round)
	switch {
	case err != nil || v.Act == verdict.Remeasure || v.Act == verdict.Nothing && v.Conformity == verdict.NotProven:
		return ""
	case v.Act == verdict.AddOil:
		return job.DecideAdd.String()
	case v.Act == verdict.LetOut:
		return job.DecideLetOut.String()
	}
	return job.DecideAccept.String()
}

// decide does what is advised, for four rounds; where nothing is, it accepts what
// can be accepted, else tries to put it right, twice.
func (v *Visit) decide(p guide.Prompt, usual string, options []ask.Option) string {
	accept := job.DecideAccept.String()
	canAccept := slices.ContainsFunc(options, func(o ask.Option) bool { return o.Token == accept })
	switch {
	case usual == accept, usual == "" && canAccept:
		return accept
	case p.Place.Round >= 4, usual == "" && p.Place.Round >= 2:
		return job.DecideLeave.String()
	case usual != "":
		return usual
	}
	return pickOf(v.dice, options...).Token
}

// stops reports whether a question is one at which the guide stops.
func stops(t job.Topic) bool {
	switch t {
	case job.LookedAgain, job.MeasureTrusted, job.WrongBoxDecision, job.Basis, job.BalanceSuspect, job.LevelLookedAgain, job.Decision:
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
