package model

// This file makes the questions that are asked wherever an amount is measured:
// with what, how much, how warm, and by which way it was caught.

import (
	"fmt"
)

// withSpec asks what measures an amount, where there is more than one thing to
// measure with. It is not asked after the event: whatever is named later has
// not measured what was read before.
func withSpec(with, amount Topic, ask string, when condition) Spec {
	return Spec{
		Topic: with, Ask: ask, Default: firstDevice(with),
		When: func(s *State, p Place) bool {
			return when(s, p) && len(s.devicesFor(with)) > 1 &&
				(s.hasItem(with, p.Round, p.Item) || !s.hasItem(amount, p.Round, p.Item))
		},
		OptionsOf: func(s *State, _ Place) []Option {
			var options []Option
			for _, d := range s.devicesFor(with) {
				options = append(options, Option{d.Token, d.Label(s.Units()), ""})
			}
			return options
		},
		Stale: func(s *State, p Place, _ Entry) bool { _, ok := s.device(with, p); return !ok },
	}
}

func firstDevice(with Topic) offer {
	return func(s *State, _ Place) (Value, bool) {
		devices := s.devicesFor(with)
		if len(devices) == 0 {
			return Value{}, false
		}
		return Value{Choice: devices[0].Token}, true
	}
}

// amountSpec asks for an amount measured with what a topic before it chose.
func amountSpec(amount, with Topic, ask string, when condition) Spec {
	return Spec{
		Topic: amount, AskOf: askAmount(ask, with), WhyOf: whyAmount(with), When: when,
		Check: func(s *State, _ Place, v Value) error { return s.checkNotAbsurd(v) },
	}
}

func askAmount(ask string, with Topic) wording {
	return func(s *State, p Place) string {
		d, ok := s.device(with, p)
		switch {
		case !ok:
			return ask
		case d.Scale:
			return ask + " Weighed: gross - tare"
		}
		return ask + " In: " + d.Name
	}
}

func whyAmount(with Topic) wording {
	return func(s *State, p Place) string {
		u := s.Units()
		if d, ok := s.device(with, p); ok && d.Scale {
			return fmt.Sprintf("As typed: %s-%s. A sum for several goes: %s+%s.", u.BareMass(1235), u.BareMass(330), u.BareMass(905), u.BareMass(412))
		}
		return fmt.Sprintf("Level jug, froth gone, eye at the surface. Several goes: %s+%s.", u.BareVolume(500), u.BareVolume(330))
	}
}

// byVolume says whether an amount was read as a volume and without its
// temperature, so that it is asked for.
func byVolume(with, amount Topic) condition {
	return func(s *State, p Place) bool {
		if d, ok := s.device(with, p); ok && d.Scale {
			return false
		}
		e, ok := s.Answer(p.of(amount))
		return !ok || (e.Value.Unit == DimML && e.Value.AtC == nil)
	}
}

// weighIn asks for a mass in the unit that a bare number is taken for.
func weighIn(ask string) wording {
	return func(s *State, _ Place) string { return ask + ", in " + s.Units().Mass.String() }
}

// caughtSpecs asks for oil that got out: in a container, soaked up, or guessed.
func caughtSpecs(c catch, askHow, ask string, options []Option, when condition) []Spec {
	by := func(token string) condition {
		return func(s *State, p Place) bool { return when(s, p) && s.choice(p.of(c.how)) == token }
	}
	caught, guessed := by(escapeCaught), by(escapeGuess)
	amount := amountSpec(c.amount, c.with, ask, func(s *State, p Place) bool { return caught(s, p) || guessed(s, p) })
	inDevice := amount.AskOf
	amount.AskOf = func(s *State, p Place) string {
		if guessed(s, p) {
			return "Your guess of how much"
		}
		return inDevice(s, p)
	}
	amount.WhyOf = func(*State, Place) string { return "Pan and funnel too; read it when the froth is gone." }
	amount.Check = checkEscaped
	return []Spec{
		{Topic: c.how, Ask: askHow, Options: options, When: when},
		withSpec(c.with, c.amount, "Measured with what?", caught),
		amount,
		{
			Topic: c.padsBefore, AskOf: weighIn("Pads before, dry"),
			When: by(escapePads), Check: between(0, 20000),
		},
		{
			Topic: c.padsAfter, AskOf: weighIn("Pads after, with the oil"), When: by(escapePads),
			Check: func(s *State, p Place, v Value) error {
				if before, _ := s.num(p.of(c.padsBefore)); v.Number < before {
					return fmt.Errorf("lighter than before (%s)", s.show(before, DimG))
				}
				return between(0, 20000)(s, p, v)
			},
		},
	}
}

// checkEscaped refuses more than has passed into the unit so far and, where less
// was drained than belongs in, than what stayed in it.
func checkEscaped(s *State, p Place, v Value) error {
	var passed float64
	for r := range p.Round + 1 {
		passed += s.Passed(r).Nominal
		if s.hoseBefore(r) == HoseFull && s.hoseAfter(r) == HoseRanToPan {
			passed += s.HoldUp().Nominal // what it was primed with is in the pan too
		}
	}
	stayed := 0.0
	if c, ok := s.capacity(); ok && !s.DryStart() {
		stayed = max(c.Nominal-s.Drained().Total.Nominal, 0)
	}
	if s.roughML(v) > max(passed, 0)*1.1+20+stayed {
		return fmt.Errorf("more than was pushed in (%s)", s.show(passed, DimML))
	}
	return nil
}

// roomML is for what never comes near the unit.
const roomML = 2000

// checkNotAbsurd refuses amounts that no such job handles.
func (s *State) checkNotAbsurd(v Value) error {
	c, ok := s.capacity()
	if most := c.Nominal*MostOverCapacity + roomML; ok && s.roughML(v) > most {
		return fmt.Errorf("%s is out of sense for a unit of %s; at most %s is taken",
			s.show(v.Number, v.Unit), s.show(c.Nominal, DimML), s.show(most, DimML))
	}
	return nil
}

func (s *State) wrongDevice(d Device) error {
	u := s.Units()
	if d.Scale {
		return fmt.Errorf("the %s gives a mass: type it as %s %s or %s-%s %[3]s", d.Name, u.BareMass(905), u.Mass, u.BareMass(1235), u.BareMass(330))
	}
	return fmt.Errorf("the %s gives a volume: type it as %s or %s %s", d.Name, u.BareVolume(830), u.Large().BareVolume(830), u.Large().Volume)
}
