package ask

// This file asks how much came out, and settles what it means: another
// measure, the wrong box, a surplus or a shortage, two measures that
// contradict each other. What the readings add up to is drained.go's.

import (
	"fmt"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/quantity"
)

func measureBlocks() []Block {
	return []Block{
		again(drainedSpecs()...),
		once(settleSpecs()...),
	}
}

func drainedSpecs() []Spec {
	amount := amountSpec(job.DrainedAmount, "How much came out?", nil)
	amount.Check, amount.AskOf, amount.Stale = checkDrained, askDrained, saidTypedWrong
	return []Spec{
		withSpec(job.DrainedAmount, always),
		amount,
		{
			Topic: job.DrainedTemperature, Check: between(coldestC, hottestC),
			When:     byVolume(job.DrainedWith, job.DrainedAmount),
			Optional: true, Ask: "At what temperature?",
			WhyOf: inUnits(func(u quantity.Units) string {
				return fmt.Sprintf("Oil at %s reads 3 %% more than the same oil at %s.", u.FormatTemperature(60), u.FormatTemperature(20))
			}),
			Unknown: "not taken", UnknownOf: betweenPlugAndGarage,
		},
		choosing(job.DrainedMore, drainedMoreOptions, "All of it?", "").offers(job.MoreDone),
		{
			Topic: job.PanLookedAgain, Safety: true, Stop: true, Doubts: lastOut, Options: panOptions, When: (*Known).PanAsks,
			Stale: movedFrom((*Known).PanGapML), Confirms: (*Known).PanGapML,
			AskOf: askPan,
			Why:   "Further apart than both can err: one of the two is wrong.",
		},
		{
			Topic: job.LookedAgain, Safety: true, Stop: true, Doubts: lastOut, Options: aboveOptions, OptionsOf: lookedOptions,
			When: farAtLast, Confirms: gapOf,
			Stale: func(s *Known, p job.Place, e job.Entry) bool { // the gap is another, or what it called wrong is typed anew
				return e.Value.Choice == job.LookedTyped || movedFrom(gapOf)(s, p, e)
			},
			AskOf: askLookAgain, WhyOf: whyLookAgain,
		},
		cardStop(),
	}
}

// askDrained asks for the first amount in plain words, and says of each that is
// added what it is added to.
func askDrained(s *Known, p job.Place) string {
	switch {
	case p.Item == 0:
		return "How much came out?"
	case s.measuresAgain(p):
		return "The same oil, read again"
	}
	return "How much MORE came out? Added to " + s.outBefore(p)
}

// measuresAgain reports whether an amount that came out is of the same oil as
// the one before.
func (s *Known) measuresAgain(p job.Place) bool {
	return s.Choice(job.At(job.DrainedMore, p.Round, p.Item-1)) == job.MoreAgain
}

// outBefore is what came out before an item, as it was read; at 20 °C where the
// readings cannot simply be added.
func (s *Known) outBefore(p job.Place) string {
	first, _ := s.Answer(job.At(job.DrainedAmount, p.Round, 0))
	sum := first.Value.Number
	for i := 1; i < p.Item; i++ {
		at := job.At(job.DrainedAmount, p.Round, i)
		e, _ := s.Answer(at)
		if e.Value.Unit != first.Value.Unit || s.measuresAgain(at) {
			return s.Units().FormatVolume(s.Drained().Total.Nominal)
		}
		sum += e.Value.Number
	}
	return s.Show(sum, first.Value.Unit)
}

// saidTypedWrong voids an amount of which the owner said, after it, that it was
// typed wrong.
func saidTypedWrong(s *Known, p job.Place, e job.Entry) bool {
	looked, ok := s.Answer(p.Of(job.LookedAgain))
	return ok && looked.Value.Choice == job.LookedTyped && looked.Seq > e.Seq
}

func settleSpecs() []Spec {
	return []Spec{
		optional(job.StruckWhy, longest(60), "Why the earlier reading was wrong", "Both stay in the record, the wrong one struck out.",
			"not said").when(readingStruck),
		{
			Topic: job.MeasureTrusted, Stop: true, Doubts: lastOut, OptionsOf: trustedOptions, Stale: movedFrom(spreadOf),
			Confirms: spreadOf,
			When:     func(s *Known, _ job.Place) bool { return s.Drained().Contradict },
			AskOf:    askTrusted,
			Why:      "Further apart than both can err: read the worse one again, or choose.",
		},
		{
			Topic: job.WrongBoxDecision, Safety: true, Stop: true, Doubts: lastOut, Options: wrongBoxOptions,
			When:  func(s *Known, _ job.Place) bool { return s.WrongBox() },
			AskOf: askWrongBox,
			Why:   "Another unit may now be the empty one. Move nothing until that is settled.",
		},
		{
			Topic: job.Basis, Stop: true, Doubts: lastOut, Options: basisOptions, When: needsBasis,
			Stale: movedFrom(gapOf), Confirms: gapOf,
			AskOf: askBasis,
			Why:   "Never averaged in silence: choose what the fill is to go by.",
		},
		{
			Topic: job.BasisWhy, Check: longest(200), Suggest: reasons,
			When: func(s *Known, p job.Place) bool { // whenever a measure is overruled
				return needsBasis(s, p) || (s.WrongBox() && s.Choice(job.Place{Topic: job.WrongBoxDecision}) == job.BoxGoOn)
			},
			Ask: "Why? A line for the record",
		},
	}
}

// farAtLast asks for a second look once all that came out has been entered,
// and is not in dispute.
func farAtLast(s *Known, p job.Place) bool {
	if p.Item != s.Items(job.DrainedAmount, 0)-1 || s.SaysMoreDrained(p) {
		return false
	}
	if s.Drained().Contradict && !s.Has(job.MeasureTrusted) {
		return false
	}
	_, far := s.FarOff()
	return far
}

func askPan(s *Known, _ job.Place) string {
	look, _ := s.PanLook()
	u := s.Units()
	return fmt.Sprintf("%s in the pan, %s measured. What is wrong?", u.FormatVolume(look.Nominal),
		u.FormatVolume(s.Drained().Total.Nominal))
}

// readingStruck reports whether a reading of what came out was struck out by a
// better one of the same oil, with another measure beside it.
func readingStruck(s *Known, _ job.Place) bool {
	if len(s.Drained().Measures) == 0 {
		return false
	}
	entries, stands := s.Ledger()
	for i, e := range entries {
		if e.Topic == job.DrainedAmount && e.Strikes > 0 && stands[i] {
			return true
		}
	}
	return false
}

func gapOf(s *Known, _ job.Place) float64 { return s.GapML() }

func spreadOf(s *Known, _ job.Place) float64 { return s.Drained().SpreadML() }

// movedFrom voids an answer once the number that it was given for is another
// than it was then.
func movedFrom(now func(*Known, job.Place) float64) func(*Known, job.Place, job.Entry) bool {
	return func(s *Known, p job.Place, e job.Entry) bool {
		ml, before := now(s, p), &Known{s.AsOf(e), s.Offered}
		return estimate.MovedOn(e.Value.Number, ml) && estimate.MovedOn(now(before, p), ml)
	}
}

func askTrusted(s *Known, _ job.Place) string {
	w := s.Drained().Measures
	if len(w) != 2 {
		return fmt.Sprintf("%d readings of the same oil contradict each other. Which counts?", len(w))
	}
	return fmt.Sprintf("Same oil: %s or %s. Which counts?", s.FormatU(w[0]), s.FormatU(w[1]))
}

func trustedOptions(s *Known, _ job.Place) []Option {
	var options []Option
	for i, w := range s.Drained().Measures {
		options = append(options, Option{estimate.MeasureToken(i), fmt.Sprintf("The %s: %s", estimate.MeasureToken(i), s.FormatU(w)), ""})
	}
	return options
}

func askWrongBox(s *Known, _ job.Place) string {
	u := s.Units()
	return fmt.Sprintf("%s came out of a unit of %s: the wrong unit?", u.FormatVolume(s.Drained().Total.Nominal),
		u.FormatVolume(s.CapacityML()))
}

// lookedOptions leave out that it was typed wrong: a stop leads back to the reading.
func lookedOptions(s *Known, _ job.Place) []Option {
	if far, _ := s.FarOff(); far == estimate.FarAbove {
		return aboveOptions[1:]
	}
	return belowOptions
}

// lastOut is the reading that is in doubt where what came out does not fit.
func lastOut(s *Known, _ job.Place) []job.Place {
	return []job.Place{{Topic: job.DrainedAmount, Item: max(s.Items(job.DrainedAmount, 0)-1, 0)}}
}

// betweenPlugAndGarage says what is taken for the temperature of oil that came out.
func betweenPlugAndGarage(s *Known, p job.Place) string {
	tempC, u := s.UsualOutTemperature()
	return fmt.Sprintf("between plug and garage: %s ± %s", s.Show(tempC, job.DimC),
		s.Units().FormatTemperatureDifference(estimate.Coverage*u))
}

// reasons are those that are usual where a reading is overruled.
var reasons = []string{"read twice, and it stands", "the scale is the better", "the manual is for this very unit"}

func askLookAgain(s *Known, _ job.Place) string {
	gap := s.GapML()
	if gap < 0 {
		return fmt.Sprintf("%s less came out than fits. Wait 10 min, level, look again", s.Units().FormatVolume(-gap))
	}
	return fmt.Sprintf("%s more came out than fits. Let it stand, look for water", s.Units().FormatVolume(gap))
}

func whyLookAgain(s *Known, _ job.Place) string {
	if far, _ := s.FarOff(); far == estimate.FarAbove {
		return "Measure the level of the unit beside it too. What came out is not copied."
	}
	return "Right unit? Seals, level of the unit beside it? What came out is no guide."
}

func needsBasis(s *Known, _ job.Place) bool {
	if !s.Measured() || s.DrainedVoid() {
		return false
	}
	plan, err := s.Plan(0)
	return err == nil && plan.Conflict
}

func askBasis(s *Known, _ job.Place) string {
	plan, err := s.Plan(0)
	if err != nil {
		return err.Error()
	}
	other := "Manual"
	if s.Follows() {
		other = "All else"
	}
	return fmt.Sprintf("Out: %s. %s: %s. Which counts?", s.FormatU(plan.FromDrained), other, s.FormatU(plan.FromCapacity))
}
