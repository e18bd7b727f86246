package guide

// This file turns what was typed into the value of an entry, says in words
// what was understood, and refuses what is out of sense.

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"garage/tundish/model/ask"
	"garage/tundish/model/device"
	"garage/tundish/model/job"
	"garage/tundish/model/quantity"
)

// Parse reads what was typed in answer to a prompt. The error says in one line
// what is allowed. An empty line is no answer: what it means is the caller's.
func (p Prompt) Parse(s *Guide, typed string) (job.Value, error) {
	typed = strings.TrimSpace(typed)
	if typed == "" {
		return job.Value{}, errors.New("nothing typed")
	}
	v, err := p.parse(s, typed, s.Units())
	if err == nil {
		err = p.clear(s, typed, v)
	}
	if err == nil {
		err = p.Accept(s, v)
	}
	if err != nil {
		return job.Value{}, err
	}
	return v, nil
}

// Accept reports whether a value can answer the prompt: the check of every
// answer, typed or offered.
func (p Prompt) Accept(s *Guide, v job.Value) error {
	if v.Unknown {
		if p.Unknown == "" {
			return errors.New("this one is needed")
		}
		return nil
	}
	if err := p.fits(s, v); err != nil || p.Check == nil {
		return err
	}
	return p.Check(s.Known, p.Place, v)
}

// fits reports whether a value is of the kind that the prompt asks for.
func (p Prompt) fits(s *Guide, v job.Value) error {
	switch p.Kind {
	case job.Choose:
		if _, ok := p.option(s, v.Choice); !ok {
			return fmt.Errorf("%q is not one of the answers", v.Choice)
		}
	case job.Amount:
		if d, ok := s.Device(p.With, p.Place); ok && p.With != job.NoTopic && d.Scale != (v.Unit == job.DimG) {
			return wrongDevice(d, s.Units())
		}
		return positive(v, v.Unit == job.DimML || (v.Unit == job.DimG && p.With != job.NoTopic))
	case job.Range:
		return p.rangeFits(v)
	case job.Bounds:
		return positive(v, v.Unit == job.DimML || v.Unit == job.DimShare)
	case job.Number:
		if v.Unit != p.Dim {
			return fmt.Errorf("must be in %s", p.Dim)
		}
	case job.Free:
		if v.Text == "" {
			return errors.New("a line of text is needed")
		}
	}
	return nil
}

// wrongDevice refuses a mass where a device gives a volume, and the other way round.
func wrongDevice(d device.Device, u quantity.Units) error {
	if d.Scale {
		return fmt.Errorf("the %s gives a mass: type it as %s %s or %s-%s %[3]s", d.Name, u.BareMass(905), u.Mass, u.BareMass(1235),
			u.BareMass(330))
	}
	return fmt.Errorf("the %s gives a volume: type it as %s or %s %s", d.Name, u.BareVolume(830), u.Large().BareVolume(830),
		u.Large().Volume)
}

// rangeFits reports whether a value is a range of the prompt's dimension; only a
// temperature can be below 0.
func (p Prompt) rangeFits(v job.Value) error {
	fits := v.Unit == p.RangeDim() && v.High >= v.Number
	if v.Unit == job.DimC && fits {
		return nil
	}
	return positive(v, fits)
}

func positive(v job.Value, unitFits bool) error {
	if !unitFits {
		return fmt.Errorf("cannot be in %q", v.Unit)
	}
	if !(v.Number >= 0 && v.High >= 0) {
		return errors.New("must not be below 0")
	}
	return nil
}

// parse reads what was typed; what has no unit is in those of bare.
func (p Prompt) parse(s *Guide, typed string, bare quantity.Units) (job.Value, error) {
	if p.Kind == job.Choose {
		return p.parseChoice(s, typed)
	}
	v, err := p.TopicInfo.Parse(typed, bare, p.weighs(s))
	if err != nil || v.AtC == nil {
		return v, err
	}
	if low, high := p.OilBetweenC(); *v.AtC < low || *v.AtC > high {
		return job.Value{}, fmt.Errorf("temperature must be %s to %s", s.Show(low, job.DimC), s.Show(high, job.DimC))
	}
	return v, nil
}

// parseChoice reads the number of an option, from 1.
func (p Prompt) parseChoice(s *Guide, typed string) (job.Value, error) {
	options := p.Choices(s)
	n, err := strconv.Atoi(typed)
	if err != nil || n < 1 || n > len(options) {
		return job.Value{}, fmt.Errorf("a number from 1 to %d", len(options))
	}
	return p.ChoiceValue(s, options[n-1]), nil
}

// ChoiceValue is the value of an option, with the number that it confirms.
func (p Prompt) ChoiceValue(s *Guide, o ask.Option) job.Value {
	return p.confirming(s, job.Value{Choice: o.Token})
}

// confirming is a value with the number that it is given for, if any.
func (p Prompt) confirming(s *Guide, v job.Value) job.Value {
	if p.Confirms != nil {
		v.Number, v.Unit = p.Confirms(s.Known, p.Place), job.DimML
	}
	return v
}

// weighs reports whether an amount is read from a scale.
func (p Prompt) weighs(s *Guide) bool {
	if p.With == job.NoTopic {
		return false
	}
	d, ok := s.Device(p.With, p.Place)
	return ok && d.Scale
}

// BareUnit is the unit that a bare number is taken to be in, "" where it has
// none or no number is typed.
func (p Prompt) BareUnit(s *Guide) string { return p.TopicInfo.BareUnit(s.Units(), p.weighs(s)) }

// Echo says in words what a value means: a sum with its total, and a volume at
// 20 °C where its temperature is known.
func (p Prompt) Echo(s *Guide, v job.Value) string {
	switch {
	case v.Unknown:
		return p.UnknownText(s)
	case p.Kind == job.Free:
		return v.Text
	case p.Kind == job.Choose:
		if o, ok := p.wordedOption(s, v.Choice); ok {
			return o.Label
		}
		return v.Choice
	case p.Kind == job.Range && v.High > v.Number:
		return s.Show(v.Number, v.Unit) + " to " + s.Show(v.High, v.Unit)
	case p.Kind == job.Bounds:
		return s.EchoBounds(v)
	case p.Kind == job.Amount:
		return s.EchoAmount(p.Topic, v)
	case p.Kind == job.Acknowledge || p.Kind == job.Event:
		if v.Number != 0 {
			return s.Show(v.Number, v.Unit)
		}
		return "done"
	}
	return s.Show(v.Number, v.Unit)
}
