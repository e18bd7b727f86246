package model

// This file asks how much came out, and settles what it means: a second
// witness, the wrong box, two witnesses that contradict each other.

import (
	"fmt"
	"math"
)

func measureBlocks() []block {
	return []block{
		{more: moreDrained, specs: []Spec{
			{Topic: DrainedWith, Step: Measure, Kind: Choose, Ask: "Measured with what?", When: severalDevices, OptionsOf: deviceOptions, Default: firstDevice},
			{Topic: DrainedAmount, Step: Measure, Kind: Amount, AskOf: askAmount("How much came out?", DrainedWith), WhyOf: whyAmount(DrainedWith), Check: checkDrainedAmount},
			{Topic: DrainedTemperature, Step: Measure, Kind: Number, Dim: DimC, Ask: "Temperature of that oil as you measure it", Why: "60 °C oil reads 3 % more than the same oil at 20 °C.", When: byVolume(DrainedWith, DrainedAmount), Default: offerOilTemperature, Check: between(-40, 200)},
			{Topic: DrainedMore, Step: Measure, Kind: Choose, Ask: "Is that all of it?", Options: drainedMoreOptions, Default: offerChoice(moreDone)},
			{Topic: LookedAgain, Step: Measure, Kind: Choose, Safety: true, AskOf: askLookAgain, WhyOf: whyLookAgain, When: farAtLast, Options: lookedOptions, Default: offerChoice(lookedMore), Stale: staleFar, Confirms: drainedML},
		}},
		{specs: []Spec{
			{Topic: WitnessTrusted, Step: Measure, Kind: Choose, AskOf: askTrusted, Why: "They differ by more than both can err: read the worse one again, or say which counts.", When: func(s *State, _ Place) bool { return s.Drained().Contradict }, OptionsOf: trustedOptions},
			{Topic: WrongBoxDecision, Step: Measure, Kind: Choose, Safety: true, AskOf: askWrongBox, Why: "Another unit may now be the empty one. Move nothing until that is settled.", When: func(s *State, _ Place) bool { return s.WrongBox() }, Options: wrongBoxOptions, Default: offerChoice(boxStop)},
			{Topic: Basis, Step: Measure, Kind: Choose, AskOf: askBasis, Why: "Never averaged in silence: choose what the fill is to go by.", When: needsBasis, Options: basisOptions, Default: offerChoice("capacity"), Stale: staleBasis, Confirms: drainedML},
			{Topic: BasisWhy, Step: Measure, Kind: Free, Ask: "Why? A line for the record", When: needsReason},
		}},
	}
}

// moreDrained asks for another amount where there is one, or where a second
// look found one.
func moreDrained(s *State, p Place) bool {
	looked, ok := s.at(Place{LookedAgain, 0, p.Item})
	return moreOf(DrainedMore)(s, p) || (ok && looked.Value.Choice == lookedMore)
}

// farAtLast asks for a second look once all that came out has been entered.
func farAtLast(s *State, p Place) bool {
	_, far := s.FarOff()
	return far && p.Item == s.items(DrainedAmount, 0)-1
}

func severalDevices(s *State, _ Place) bool { return len(s.Devices()) > 1 }

func deviceOptions(s *State, _ Place) []Option {
	var options []Option
	for _, d := range s.Devices() {
		options = append(options, Option{d.Token, d.Label(s.Units()), ""})
	}
	return options
}

func firstDevice(s *State, _ Place) (Value, bool) {
	devices := s.Devices()
	if len(devices) == 0 {
		return Value{}, false
	}
	return Value{Choice: devices[0].Token}, true
}

func askAmount(ask string, with Topic) func(*State, Place) string {
	return func(s *State, p Place) string {
		if d, ok := s.device(with, p); ok {
			if d.Scale {
				return ask + " On the scale: gross - tare"
			}
			return ask + " In: " + d.Name
		}
		return ask
	}
}

func whyAmount(with Topic) func(*State, Place) string {
	return func(s *State, p Place) string {
		if d, ok := s.device(with, p); ok && d.Scale {
			return "As typed: 1235-330. A sum for several goes: 905+412."
		}
		return "Level jug, froth gone, eye at the surface. Several goes: 500+330."
	}
}

// byVolume says whether an amount was read as a volume, so that its
// temperature counts.
func byVolume(with, amount Topic) func(*State, Place) bool {
	return func(s *State, p Place) bool {
		if d, ok := s.device(with, p); ok && d.Scale {
			return false
		}
		e, ok := s.at(Place{amount, p.Round, p.Item})
		return !ok || (e.Value.Unit == DimML && e.Value.AtC == nil)
	}
}

func offerOilTemperature(s *State, _ Place) (Value, bool) {
	return Value{Number: s.oilTempC(), Unit: DimC}, true
}

func checkDrainedAmount(s *State, p Place, v Value) error {
	if d, ok := s.device(DrainedWith, p); ok && d.Scale != (v.Unit == DimG) {
		return wrongDevice(d)
	}
	return s.checkDrained(v)
}

func wrongDevice(d Device) error {
	if d.Scale {
		return fmt.Errorf("the scale gives a mass: type it as 905 g or 1235-330 g")
	}
	return fmt.Errorf("%s gives a volume: type it as 830 or 0.83 L", d.Name)
}

func drainedML(s *State, _ Place) float64 { return s.Drained().Total.Nominal }

func askTrusted(s *State, _ Place) string {
	d := s.Drained()
	return fmt.Sprintf("Two measures of the same oil: %s and %s. Which counts?", s.FormatU(d.Witnesses[0]), s.FormatU(d.Witnesses[1]))
}

func trustedOptions(s *State, _ Place) []Option {
	d := s.Drained()
	if len(d.Witnesses) < 2 {
		return nil
	}
	return []Option{
		{trustFirst, "The first: " + s.FormatU(d.Witnesses[0]), ""},
		{trustSecond, "The second: " + s.FormatU(d.Witnesses[1]), ""},
	}
}

func askWrongBox(s *State, _ Place) string {
	c, _ := s.capacity()
	return fmt.Sprintf("%s came out of a unit of %s: wrong box?", s.Units().FormatVolume(s.Drained().Total.Nominal), s.Units().FormatVolume(c.Nominal))
}

// Far says on which side of the stated quantity what came out lies far off.
type Far uint8

// The sides.
const (
	FarNot Far = iota
	FarBelow
	FarAbove
)

// FarOff says whether what came out lies so far from the stated quantity that
// it must be looked into before anything is filled: outside the tolerance and
// further off than both can err.
func (s *State) FarOff() (Far, bool) {
	plan, err := s.Plan(0)
	if err != nil || !s.measured() || s.WrongBox() || !s.has(DrainedMore) {
		return FarNot, false
	}
	gap := plan.FromDrained.Nominal - plan.FromCapacity.Nominal
	tol := s.tolerance()
	switch {
	case math.Abs(gap) <= ConflictZ*plan.FromDrained.Sub(plan.FromCapacity).U():
		return FarNot, false
	case gap < -tol.MinusML:
		return FarBelow, true
	case gap > tol.PlusML:
		return FarAbove, true
	}
	return FarNot, false
}

func askLookAgain(s *State, _ Place) string {
	plan, _ := s.Plan(0)
	gap := plan.FromDrained.Nominal - plan.FromCapacity.Nominal
	if gap < 0 {
		return fmt.Sprintf("STOP: %s short. Wait 10 minutes more, car level, look again", s.Units().FormatVolume(-gap))
	}
	return fmt.Sprintf("STOP: %s too much. Let it stand, look for water", s.Units().FormatVolume(gap))
}

func whyLookAgain(s *State, _ Place) string {
	if far, _ := s.FarOff(); far == FarAbove {
		return "Water, the neighbour's oil past a seal (measure the neighbour), or overfilled before."
	}
	return "Right unit? Seals, and the neighbour's level? What came out is not copied."
}

// staleFar and staleBasis void an answer once what came out is another figure
// than the one that it was given for.
func staleFar(s *State, p Place, e Entry) bool { return movedOn(e.Value.Number, drainedML(s, p)) }

func staleBasis(s *State, p Place, e Entry) bool { return movedOn(e.Value.Number, drainedML(s, p)) }

func movedOn(then, nowML float64) bool { return then-nowML > 1 || nowML-then > 1 }

func needsBasis(s *State, _ Place) bool {
	if !s.measured() || s.drainedVoid() {
		return false
	}
	plan, err := s.Plan(0)
	return err == nil && plan.Conflict
}

// needsReason asks for a line whenever the owner overruled a witness.
func needsReason(s *State, p Place) bool {
	box, ok := s.at(Place{Topic: WrongBoxDecision})
	return needsBasis(s, p) || (s.WrongBox() && ok && box.Value.Choice == boxGoOn)
}

func askBasis(s *State, _ Place) string {
	plan, _ := s.Plan(0)
	return fmt.Sprintf("What came out says %s, the stated quantity %s", s.FormatU(plan.FromDrained), s.FormatU(plan.FromCapacity))
}
