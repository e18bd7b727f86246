package report

// This file lists where the job left the plain path: what was left unproven,
// chosen against a measure, kept in doubt, guessed or done by feel, and why.

import (
	"fmt"
	"math"
	"strings"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/share"
	"garage/tundish/model/verdict"
)

func (b builder) deviations() []string {
	var list []string
	for _, of := range []func() []string{b.stopped, b.drainDeviations, b.drainedDeviations} {
		list = append(list, of()...)
	}
	for r := range b.s.Rounds() {
		list = append(list, b.roundDeviations(r)...)
	}
	for _, f := range b.s.CutShort() {
		list = append(list, strings.TrimSuffix(f.Text, ".")+b.roundName(f.Round)+".")
	}
	return append(list, b.afterDeviations()...)
}

// chosen reports whether a choice stands at a place.
func (b builder) chosen(p job.Place, token string) bool {
	e, ok := b.s.Answer(p)
	return ok && e.Value.Choice == token
}

func (b builder) stopped() []string {
	if !b.s.StoppedByOwner() {
		return nil
	}
	if b.s.Debris() == verdict.Chunks {
		return []string{"STOPPED by the owner: chips of metal on the magnet. The unit must be opened before it is driven."}
	}
	return []string{"STOPPED by the owner: it may be another unit's oil that came out."}
}

func (b builder) drainDeviations() []string {
	var list []string
	if took, ok := b.s.ListTook(); ok && took < verdict.ListLeast {
		list = append(list, fmt.Sprintf("The list before the plug came out was confirmed %.0f s after it was shown.", took.Seconds()))
	}
	if b.s.DryStart() {
		list = append(list, "The unit started dry (new, rebuilt or overhauled): nothing was drained.")
	}
	if b.s.Debris() == verdict.Chunks && !b.s.StoppedByOwner() {
		list = append(list, "Chips of metal on the magnet: filled only to stand or be moved by hand, not to be driven.")
	}
	if b.s.Debris() == verdict.Flakes {
		list = append(list, "Grains or small flakes on the magnet, or hairs too soon again: filled to be moved or tested only. "+
			"To be looked at again after "+b.s.Show(verdict.FlakesAgainKm, job.DimKm)+".")
	}
	if b.s.OilLook() == job.LookGlitter {
		list = append(list, "Brass or gold in the oil, which no magnet holds: wear of synchro rings or washers.")
	}
	if b.s.MagnetLook() == job.MagnetNotLooked {
		list = append(list, "Nobody looked at the magnet.")
	}
	for _, e := range b.standing(job.HotOilGoOn) {
		if e.Value.Choice == "go_on" {
			list = append(list, "Drained hot, with long gloves and a wide pan.")
		}
	}
	switch {
	case b.s.OilLook() == job.LookMilky:
		list = append(list, "Water in the oil: what came out proves nothing.")
	case b.s.OilLook() == job.LookNotLooked:
		list = append(list, "Nobody looked at the oil that came out: it proves nothing.")
	case b.s.OilLook() == job.LookForeign:
		list = append(list, "Another unit's oil: what came out proves nothing.")
	}
	list = append(list, b.past()...)
	return append(list, b.halts()...)
}

// halts are the pushes that were halted, and why.
func (b builder) halts() []string {
	var list []string
	for _, e := range b.standing(job.FillHalted) {
		what := "nothing moved, or no air came out of the breather"
		if e.Value.Choice == job.HaltLeaks {
			what = "it leaked at the adapter"
		}
		list = append(list, "The push was halted: "+what+"; put right, and pushed on.")
	}
	return list
}

// past is what happened to the oil since the last fill.
func (b builder) past() []string {
	var list []string
	if told, ok := b.s.Num(job.Place{Topic: job.LostOrAdded}); ok {
		past := job.TokenOf([]string{"nothing lost or added", "leaked", "topped up", "not known"}, b.s.Past())
		return []string{fmt.Sprintf("Before it: %s, about %s. It counts as that.", past, b.s.Show(told, job.DimML))}
	}
	switch b.s.Past() {
	case job.PastLeaked:
		list = append(list, "It had been leaking: what came out proves nothing.")
	case job.PastNotKnown:
		list = append(list, "Not known whether oil was lost or added before: what came out proves nothing.")
	case job.PastToppedUp:
		list = append(list, "It had been topped up, nobody measured how much: what came out proves nothing.")
	}
	return list
}

// drainedDeviations are about what came out against the stated quantity.
func (b builder) drainedDeviations() []string {
	s := b.s
	var list []string
	if b.chosen(job.Place{Topic: job.WrongBoxDecision}, "right_unit") {
		list = append(list, "Far more came out than the fill quantity; the owner says it is the right unit"+b.why(job.BasisWhy)+".")
	}
	if far, ok := s.FarOff(); ok {
		side := "less"
		if far == estimate.FarAbove {
			side = "more"
		}
		list = append(list, "Far "+side+" came out than the fill quantity asks for"+b.lookedAgain()+".")
	}
	if s.Drained().Contradict {
		which := "first"
		if o, ok := s.PickedOption(job.Place{Topic: job.MeasureTrusted}); ok && estimate.IsMeasureToken(o.Token) {
			which = o.Token
		}
		list = append(list, "Measures of what came out contradict each other; the "+which+" counts.")
	}
	for _, e := range b.standing(job.PanLookedAgain) {
		if text := panDeviations[e.Value.Choice]; text != "" {
			list = append(list, "The pan held more than was measured: "+text+".")
		}
	}
	list = append(list, b.cardDeviations()...)
	if plan, err := s.Plan(0); err == nil && plan.Conflict && !plan.DrainedVoid {
		list = append(list, b.contradiction(plan))
	}
	return list
}

// cardDeviations are about what others measured of such a unit.
func (b builder) cardDeviations() []string {
	s := b.s
	var list []string
	if plan, err := s.Plan(0); err == nil && plan.CardCounts && plan.CardZ > estimate.ConflictZ {
		list = append(list, fmt.Sprintf("What others measured of such units and the fill quantity "+
			"contradict each other by %s (z %.1f); both stand.",
			s.Show(math.Abs(plan.FromCard.Nominal-plan.FromOthers.Nominal), job.DimML), plan.CardZ))
	}
	if text, ok := cardSettled[s.CardLooked()]; ok {
		side, gap := "more", s.CardGapML()
		if gap < 0 {
			side = "less"
		}
		list = append(list, fmt.Sprintf("%s %s came out than others measured of such units (z %.1f): %s.",
			s.Show(math.Abs(gap), job.DimML), side, s.CardZ(), text))
	}
	return list
}

// cardSettled is how that was settled, by the answer.
var cardSettled = map[string]string{
	job.CardLevelOff:  "the level before was off, what came out counts for less",
	job.CardOtherUnit: "theirs is another kind of unit, it does not count",
	job.CardBoth:      "both stand",
}

// contradiction says by how much what came out contradicts what was known before, what
// was chosen, and what would make each of the two right.
func (b builder) contradiction(plan estimate.Plan) string {
	s := b.s
	gap := plan.FromDrained.Nominal - plan.FromCapacity.Nominal
	known, off := "the fill quantity (manual)", "short of what belongs in"
	if s.Follows() {
		known = "what was known before"
	}
	if gap > 0 {
		off = "over what belongs in"
	}
	ml := s.Show(math.Abs(gap), job.DimML)
	text := fmt.Sprintf("What came out and %s contradict each other by %s (z %.1f)", known, ml, plan.Z)
	if o, ok := s.PickedOption(job.Place{Topic: job.Basis}); ok {
		text += "; chosen: " + o.Label
	}
	text += b.why(job.BasisWhy) + ". Both are right if the level before was " + ml + " " + off
	if !s.Follows() {
		text += ", or the right quantity is " + s.Show(s.CapacityML()+gap, job.DimML)
	}
	return text + "."
}

// panDeviations are what was found, by the answer.
var panDeviations = map[string]string{
	"pan_wrong": "the looks at the pan were wrong, what was measured counts",
	"lost":      "some was lost before, what came out proves nothing",
}

func (b builder) lookedAgain() string {
	for _, e := range b.standing(job.LookedAgain) {
		if e.Value.Choice == "nothing_more" {
			return "; looked again, nothing more, the right unit"
		}
	}
	return ""
}

// why is a reason that was typed, for the end of a sentence.
func (b builder) why(t job.Topic) string {
	if text := b.s.Text(t); text != "" && text != share.LeftOut {
		return ". Why: " + text
	}
	return ""
}

func (b builder) roundDeviations(round int) []string {
	s, in := b.s, b.roundName(round)
	var list []string
	at := func(t job.Topic) job.Place { return job.Place{Topic: t, Round: round} }
	if s.Balance(round).Fails() && b.chosen(at(job.BalanceSuspect), "stands") {
		list = append(list, "The readings do not add up; read again, the suspect one kept"+in+": "+s.Balance(round).Suspect()+".")
	}
	if b.chosen(at(job.AirInLine), "air") {
		list = append(list, "Air in the line before the end of the push"+in+".")
	}
	for _, e := range b.standing(job.EscapedAmount) {
		if e.Round == round && s.Guessed(e) {
			list = append(list, "The spill was guessed, not measured"+in+".")
		}
	}
	if b.chosen(at(job.NothingEscaped), "not_looked") {
		list = append(list, "Nothing was spilled, it was said, and not looked at again: the usual spill is taken"+in+".")
	}
	if b.chosen(at(job.WasherFitted), "reused") {
		list = append(list, "The old washer was used again"+in+".")
	}
	if b.chosen(at(job.TightenedHow), "feel") {
		list = append(list, "The plug was tightened by feel, without a torque figure"+in+".")
	}
	switch s.Decision(round) {
	case job.DecideAdd:
		list = append(list, fmt.Sprintf("The amount was corrected: oil added (correction %d).", round+1))
	case job.DecideLetOut:
		list = append(list, fmt.Sprintf("The amount was corrected: oil drained off (correction %d).", round+1))
	case job.DecideLeave:
		e, _ := s.Answer(at(job.LeftWhy))
		text := verdict.LeftOff.Words(0, s.LeftAs()) + " by the owner"
		if e.Value.Text != "" && e.Value.Text != share.LeftOut {
			text += ". Why: " + e.Value.Text
		}
		list = append(list, text+".")
	}
	return list
}

func (b builder) afterDeviations() []string {
	s := b.s
	var list []string
	if s.UnitState() == verdict.Accepted {
		list = append(list, "Accepted, but not proven: "+strings.Join(s.WhyNotProven(), "; ")+".")
	}
	for _, e := range append(b.standing(job.LeakCheck), b.standing(job.WasherRecheck)...) {
		if e.Value.Choice == "weeps" {
			list = append(list, "The plug wept or dripped when it was looked at on "+b.day(e.At)+".")
		}
	}
	return list
}
