package ask

// This file makes the questions that are asked wherever an amount is measured:
// with what, how much, how warm, and by which way it was caught.

import (
	"fmt"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

// withSpec asks what measures an amount, where there is more than one thing to
// measure with. It is not asked after the event: whatever is named later has
// not measured what was read before.
func withSpec(amount job.Topic, when condition) Spec {
	with := amount.Info().With
	return Spec{
		Topic: with, Ask: "Read with", Optional: true, Default: firstDevice(with),
		When: func(s *Known, p job.Place) bool {
			return when(s, p) && len(s.DevicesFor(with)) > 1 &&
				(s.HasItem(with, p.Round, p.Item) || !s.HasItem(amount, p.Round, p.Item))
		},
		OptionsOf: func(s *Known, _ job.Place) []Option {
			var options []Option
			for _, d := range s.DevicesFor(with) {
				options = append(options, Option{d.Token, d.Label(s.Units()), ""})
			}
			return options
		},
		Stale: func(s *Known, p job.Place, _ job.Entry) bool { _, ok := s.Device(with, p); return !ok },
	}
}

func firstDevice(with job.Topic) offer {
	return func(s *Known, _ job.Place) (job.Value, bool) {
		devices := s.DevicesFor(with)
		if len(devices) == 0 {
			return job.Value{}, false
		}
		return job.Value{Choice: devices[0].Token}, true
	}
}

// amountSpec asks for an amount.
func amountSpec(amount job.Topic, ask string, when condition) Spec {
	with := amount.Info().With
	return Spec{
		Topic: amount, Ask: ask, When: when,
		HintOf: func(s *Known, p job.Place) string {
			if d, ok := s.Device(with, p); ok && d.Scale {
				return fmt.Sprintf("gross - tare: %s-%s", s.Units().BareMass(1235), s.Units().BareMass(330))
			}
			return fmt.Sprintf("several goes: %s+%s", s.Units().BareVolume(330), s.Units().BareVolume(258))
		},
		Why:   "Level jug, froth gone, eye at the surface.",
		Check: func(s *Known, _ job.Place, v job.Value) error { return s.checkNotAbsurd(v) },
	}
}

// byVolume reports whether an amount was read as a volume and without its
// temperature, so that it is asked for.
func byVolume(with, amount job.Topic) condition {
	return func(s *Known, p job.Place) bool {
		if d, ok := s.Device(with, p); ok && d.Scale {
			return false
		}
		e, ok := s.Answer(p.Of(amount))
		return !ok || (e.Value.Unit == job.DimML && e.Value.AtC == nil)
	}
}

// weighIn asks for a mass in the unit that a bare number is taken for.
func weighIn(ask string) wording {
	return func(s *Known, _ job.Place) string { return ask + ", in " + s.Units().Mass.String() }
}

// caughtSpecs asks for oil that got out: in a container, soaked up, or guessed.
func caughtSpecs(c estimate.Catch, askHow, ask string, options []Option, when condition) []Spec {
	by := func(token string) condition {
		return func(s *Known, p job.Place) bool { return when(s, p) && s.Choice(p.Of(c.How)) == token }
	}
	caught, guessed := by(job.EscapeCaught), by(job.EscapeGuess)
	amount := amountSpec(c.Amount, ask, func(s *Known, p job.Place) bool { return caught(s, p) || guessed(s, p) })
	amount.AskOf = func(s *Known, p job.Place) string {
		if guessed(s, p) {
			return "Your guess of how much"
		}
		return ask
	}
	amount.Why = "Pan and funnel too; read it when the froth is gone."
	amount.Check = checkEscaped
	return []Spec{
		{Topic: c.How, Ask: askHow, Options: options, When: when},
		withSpec(c.Amount, caught),
		amount,
		{
			Topic: c.PadsBefore, AskOf: weighIn("Pads before, dry"),
			When: by(job.EscapePads), Check: between(0, 20000),
		},
		{
			Topic: c.PadsAfter, AskOf: weighIn("Pads after, with the oil"), When: by(job.EscapePads),
			Check: func(s *Known, p job.Place, v job.Value) error {
				if before, _ := s.Num(p.Of(c.PadsBefore)); v.Number < before {
					return fmt.Errorf("lighter than before (%s)", s.Show(before, job.DimG))
				}
				return between(0, 20000)(s, p, v)
			},
		},
	}
}

// checkEscaped refuses more than has passed into the unit so far and, where less
// was drained than belongs in, than what stayed in it.
func checkEscaped(s *Known, p job.Place, v job.Value) error {
	var passed float64
	for r := range p.Round + 1 {
		passed += s.Passed(r).Nominal
		if s.HoseBefore(r) == job.HoseFull && s.HoseAfter(r) == job.HoseRanToPan {
			passed += s.HoldUp().Nominal // what it was primed with is in the pan too
		}
	}
	stayed := 0.0
	if c, ok := s.Capacity(); ok && !s.DryStart() {
		stayed = max(c.Nominal-s.Drained().Total.Nominal, 0)
	}
	if s.RoughML(v) > max(passed, 0)*1.1+20+stayed {
		return fmt.Errorf("more than was pushed in (%s)", s.Show(passed, job.DimML))
	}
	return nil
}

// RoomML is for what never comes near the unit.
const RoomML = 2000

// checkNotAbsurd refuses amounts that no such job handles.
func (s *Known) checkNotAbsurd(v job.Value) error {
	c, ok := s.Capacity()
	if most := c.Nominal*estimate.MostOverCapacity + RoomML; ok && s.RoughML(v) > most {
		return fmt.Errorf("%s is out of sense for a unit of %s; at most %s is taken",
			s.Show(v.Number, v.Unit), s.Show(c.Nominal, job.DimML), s.Show(most, job.DimML))
	}
	return nil
}

// OilBetweenC are the temperatures that are believed of the oil of an amount, °C.
func (s *Spec) OilBetweenC() (low, high float64) {
	if s.Step == job.Preload || s.Step == job.Fill {
		return newOilColdestC, newOilHottestC
	}
	return coldestC, hottestC
}
