package model

// This file asks for what belongs to the drain: how hot, plug out, drips while
// the clock runs, and what oil and magnet look like.

import "fmt"

// Temperatures of the oil at the plug, °C. Burns: bare metal at 51 °C hurts
// within a minute, hot water at 60 °C scalds in 3 to 5 s (commonly quoted);
// the gates themselves are trade judgement.
const (
	HotAskC    = 50.0 // above: asks to wait
	HotInsistC = 60.0 // above: insists
)

func drainBlocks() []block {
	return []block{
		{more: tooHot, specs: []Spec{
			{Topic: OilTemperature, Step: Drain, Kind: Number, Dim: DimC, AskOf: askTemperature, WhyOf: whyTemperature, Check: between(-40, 200)},
			{Topic: HotOilGoOn, Step: Drain, Kind: Choose, Safety: true, Ask: "Hot oil: it burns through a glove and clings", Why: "Under 50 °C is warm enough to drain well.", When: tempAbove(HotAskC, HotInsistC), Options: hotOptions, Default: offerChoice(hotWait)},
		}},
		{specs: []Spec{
			{Topic: TemperatureHow, Step: Drain, Kind: Choose, Ask: "How was that temperature taken?", Options: howOptions, Default: offerChoice("measured")},
			{Topic: GlovesAndEyes, Step: Drain, Kind: Acknowledge, Safety: true, Ask: "Gloves on, eyes covered; pan wide, weighed empty", Why: "Used oil harms skin. The first gush shoots sideways."},
			{Topic: TagAndKey, Step: Drain, Kind: Acknowledge, Safety: true, Ask: "Tag on the steering wheel, key in your pocket", Why: "From the next step on the unit is EMPTY. No wheel turned, no gear, no start."},
			{Topic: PlugOut, Step: Drain, Kind: Event, Safety: true, Ask: "Plug out: press the key as it leaves the thread", Why: "The clock starts. Keep hands and arms clear of the stream."},
		}},
		{specs: []Spec{
			{Topic: DripReading, Step: Drain, Kind: Amount, Ends: DripsEnded, Check: checkDrip,
				Ask: "Level in the pan or jug now; Enter alone when the drips end", Why: "Three or more readings tell what is still to come. None is needed."},
		}},
		{specs: []Spec{
			{Topic: MagnetLook, Step: Drain, Kind: Choose, Ask: "What is on the plug's magnet?", Options: magnetOptions, Default: offerChoice("paste")},
			{Topic: ChipsDecision, Step: Drain, Kind: Choose, Safety: true, Ask: "Chips of metal: damage inside. Fresh oil does not mend it", Why: "The unit must be opened before it is driven.", Options: chipsOptions, When: func(s *State, _ Place) bool { return s.MagnetLook() == MagnetChips }, Default: offerChoice(chipsStop)},
			{Topic: OilLook, Step: Drain, Kind: Choose, Ask: "What does the oil look like?", Why: "Look in the light, let it stand: water sinks below it.", Options: lookOptions, Default: offerChoice("clean")},
			{Topic: OilHistory, Step: Drain, Kind: Choose, Ask: "Since the last fill, was oil lost or added?", Why: "If so, what came out does not tell what belongs in.", Options: pastOptions, Default: offerChoice("undisturbed")},
		}},
	}
}

// tooHot says whether the temperature must be taken again.
func tooHot(s *State, p Place) bool {
	t, _ := s.num(Place{Topic: OilTemperature, Item: p.Item})
	e, asked := s.at(Place{Topic: HotOilGoOn, Item: p.Item})
	return t > HotInsistC || (asked && t > HotAskC && e.Value.Choice == hotWait)
}

// askTemperature and whyTemperature insist once it was too hot.
func askTemperature(s *State, p Place) string {
	if p.Item > 0 {
		return "Temperature of the oil NOW"
	}
	return "Temperature of the oil: thermometer at the case, or felt"
}

func whyTemperature(s *State, p Place) string {
	if last, ok := s.num(Place{Topic: OilTemperature, Item: p.Item - 1}); ok && last > HotInsistC {
		return fmt.Sprintf("%s scalds in seconds: leave the plug shut. Wait, then measure again.", s.show(last, DimC))
	}
	return "Warm drains best: about 40 to 50 °C, after a short drive, exhaust cooled."
}

func tempAbove(low, high float64) func(*State, Place) bool {
	return func(s *State, p Place) bool {
		t, ok := s.num(Place{Topic: OilTemperature, Item: p.Item})
		return ok && t > low && t <= high
	}
}

func checkDrip(s *State, p Place, v Value) error {
	if before, ok := s.num(Place{DripReading, p.Round, p.Item - 1}); ok && v.Number < before-20 {
		return fmt.Errorf("less than the reading before (%s): readings are of all that came out so far", s.show(before, DimML))
	}
	return s.checkDrained(v)
}

// checkDrained refuses what no such unit can hold.
func (s *State) checkDrained(v Value) error {
	c, ok := s.capacity()
	if most := c.Nominal * mostOverCapacity; ok && v.Unit == DimML && v.Number > most {
		return fmt.Errorf("%s cannot come out of a unit of %s; at most %s is taken",
			s.show(v.Number, DimML), s.show(c.Nominal, DimML), s.show(most, DimML))
	}
	return nil
}

// mostOverCapacity times capacity is the most that is believed of a reading.
const mostOverCapacity = 5
