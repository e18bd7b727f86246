package ask

// This file asks for what belongs to the drain: how hot, plug out, drips while
// the clock runs, and what oil and magnet look like.

import (
	"fmt"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// Limits of what is taken for the temperature of drained oil, °C: a garage in
// winter, and more than a gear oil reaches in a unit that still works (common
// practice, no source).
const (
	coldestC = -40.0
	hottestC = 150.0
)

// What a case that feels so is taken for, °C, felt (common practice, no source): a
// hand cannot stay on what is above 50.
const (
	FeelsCold = 15.0
	FeelsWarm = 35.0
	FeelsHot  = 65.0
)

func drainBlocks() []Block {
	return []Block{
		once(lookSpecs()...),
		again(Spec{
			Topic: job.DripReading, Check: checkDrip,
			Ask: "In the pan so far",
			Why: "Three or more readings tell what is still to come. None is needed.",
		}),
	}
}

func gloves() Spec {
	return Spec{
		Topic: job.GlovesAndEyes, Safety: true,
		AskOf: inDry("Gloves on, eyes covered; pan under the port", "Gloves on, eyes covered, pan under the plug"),
		WhyOf: inDry("Oil under pressure goes for the eyes, at the swap too.", "Used oil harms skin. The first gush shoots sideways."),
	}
}

// oilTemperatureSpecs ask how warm the oil is, again and again while it is too hot.
func oilTemperatureSpecs() []Spec {
	return []Spec{
		{
			Topic: job.OilTemperature, Check: between(coldestC, hottestC),
			AskOf: askTemperature, WhyOf: whyTemperature,
		},
		{
			Topic: job.TemperatureHow, Options: howOptions, OptionsOf: howChoices,
			When: func(s *Known, p job.Place) bool { // older jobs say it once, before the plug is out
				return !s.Has(job.PlugOut) || p.Item == 0 || s.HasItem(p.Topic, 0, p.Item)
			},
			Ask: "How that was taken",
		},
		{
			Topic: job.HotOilGoOn, Safety: true, Stop: true, Options: hotOptions,
			When: tempAbove(job.HotAskC, job.HotInsistC),
			Ask:  "Hot oil: it burns through a glove and clings",
			WhyOf: func(s *Known, _ job.Place) string {
				return "Under " + s.Show(job.HotAskC, job.DimC) + " is warm enough to drain well."
			},
		},
	}
}

func tagAndPlugOut() []Spec {
	return []Spec{
		{
			Topic: job.TagAndKey, Safety: true,
			Ask: "Tag on the steering wheel, key in your pocket",
			WhyOf: inDry("The unit is EMPTY already. No wheel turned, no gear, no start.",
				"From the next step on the unit is EMPTY. No wheel turned, no gear, no start."),
		},
		{Topic: job.PlugOut, Ask: "Plug came out", Why: "Keep hands and arms clear of the stream."},
	}
}

func lookSpecs() []Spec {
	return []Spec{
		choosing(job.MagnetLook, magnetOptions, "On the magnet", "").
			when(func(s *Known, _ job.Place) bool { return !s.DryStart() }), // but chips that were seen are seen
		{
			Topic: job.ChipsDecision, Safety: true, Stop: true, Options: chipsOptions,
			When: func(s *Known, _ job.Place) bool { return s.Debris() == verdict.Chunks },
			Ask:  "Chunks, or grains again: damage inside. Fresh oil does not mend it",
			Why:  "The unit must be opened before it is driven.",
		},
		choosing(job.OilLook, lookOptions, "The oil looks", "Look in the light, let it stand: water sinks below it."),
		pastSpec(false),
		dropsSpec(),
	}
}

// dropsSpec asks for the drops of a minute: they tell what is still to come.
func dropsSpec() Spec {
	drops := optional(job.DropsCounted, between(0, 600), "Drops in a minute, now", "", "not counted")
	drops.WhyOf = func(s *Known, _ job.Place) string {
		return "12 at 10 minutes is fine: about " + s.Show(10, job.DimML) + " still come."
	}
	return drops
}

// inDry words something one way for a unit that starts dry, another for the
// rest.
func inDry(dry, usual string) wording {
	return func(s *Known, _ job.Place) string {
		if s.DryStart() {
			return dry
		}
		return usual
	}
}

// askTemperature and whyTemperature insist once it was too hot.
func askTemperature(_ *Known, p job.Place) string {
	if p.Item > 0 {
		return "The case feels NOW"
	}
	return "The case feels"
}

func whyTemperature(s *Known, p job.Place) string {
	if last, ok := s.Num(job.Place{Topic: job.OilTemperature, Item: p.Item - 1}); ok && last > job.HotInsistC {
		return fmt.Sprintf("%s scalds in seconds: leave the plug shut. Wait, then measure again.", s.Show(last, job.DimC))
	}
	return fmt.Sprintf("Warm drains best: %s to %s, after a short drive, exhaust cooled.", s.Show(40, job.DimC),
		s.Show(job.HotAskC, job.DimC))
}

func tempAbove(low, high float64) condition {
	return func(s *Known, p job.Place) bool {
		t, ok := s.Num(p.Of(job.OilTemperature))
		return ok && t > low && t <= high
	}
}

// dripBackML is how much a look at the pan may fall behind the one before.
const dripBackML = 20

func checkDrip(s *Known, p job.Place, v job.Value) error {
	if before, ok := s.Num(job.At(job.DripReading, p.Round, p.Item-1)); ok && v.Number < before-dripBackML {
		return fmt.Errorf("less than the reading before (%s): readings are of all that came out so far", s.Show(before, job.DimML))
	}
	return checkDrained(s, p, v)
}

// checkDrained refuses what no such unit can hold.
func checkDrained(s *Known, _ job.Place, v job.Value) error {
	c, ok := s.Capacity()
	if most := c.Nominal * estimate.MostOverCapacity; ok && s.RoughML(v) > most {
		return fmt.Errorf("%s cannot come out of a unit of %s; at most %s is taken",
			s.Show(v.Number, v.Unit), s.Show(c.Nominal, job.DimML), s.Show(most, job.DimML))
	}
	return nil
}
