package model

// This file turns what was typed into the value of an entry, says in words
// what was understood, and refuses what is out of sense.

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"garage/tundish/model/oil"
	"garage/tundish/model/quantity"
)

// Parse reads what was typed in answer to a prompt. The error says in one line
// what is allowed. An empty line is no answer: what it means is the caller's.
func (p Prompt) Parse(s *State, typed string) (Value, error) {
	typed = strings.TrimSpace(typed)
	if typed == "" {
		return Value{}, errors.New("nothing typed")
	}
	v, err := p.parse(s, typed, s.Units())
	if err == nil {
		err = p.clear(s, typed, v)
	}
	if err == nil {
		err = p.Accept(s, v)
	}
	if err != nil {
		return Value{}, err
	}
	return v, nil
}

// Accept says whether a value can answer the prompt: the check of every
// answer, typed or offered.
func (p Prompt) Accept(s *State, v Value) error {
	if v.Unknown {
		if p.Unknown == "" {
			return errors.New("this one is needed")
		}
		return nil
	}
	if err := p.fits(s, v); err != nil || p.Check == nil {
		return err
	}
	return p.Check(s, p.Place, v)
}

// fits says whether a value is of the kind that the prompt asks for.
func (p Prompt) fits(s *State, v Value) error {
	switch p.Kind {
	case Choose:
		for _, o := range p.Choices(s) {
			if o.Token == v.Choice {
				return nil
			}
		}
		return fmt.Errorf("%q is not one of the answers", v.Choice)
	case Amount:
		if d, ok := s.device(p.With, p.Place); ok && p.With != NoTopic && d.Scale != (v.Unit == DimG) {
			return s.wrongDevice(d)
		}
		return positive(v, v.Unit == DimML || (v.Unit == DimG && p.With != NoTopic))
	case Range:
		return positive(v, v.Unit == DimML && v.High >= v.Number)
	case Bounds:
		return positive(v, v.Unit == DimML || v.Unit == DimShare)
	case Number:
		if v.Unit != p.Dim {
			return fmt.Errorf("must be in %s", p.Dim)
		}
	case Free:
		if v.Text == "" {
			return errors.New("a line of text is needed")
		}
	}
	return nil
}

func positive(v Value, unitFits bool) error {
	if !unitFits {
		return fmt.Errorf("cannot be in %q", v.Unit)
	}
	if !(v.Number >= 0 && v.High >= 0) {
		return errors.New("must not be below 0")
	}
	return nil
}

// parse reads what was typed; what has no unit is in those of bare.
func (p Prompt) parse(s *State, typed string, bare quantity.Units) (Value, error) {
	switch p.Kind {
	case Free:
		return parseFree(typed)
	case Choose:
		return p.parseChoice(s, typed)
	case Amount:
		return p.parseAmount(s, typed, bare)
	case Range:
		low, high, err := quantity.ParseRange(typed, bare)
		return Value{Number: low, High: high, Unit: DimML}, err
	case Bounds:
		return parseBounds(typed, bare)
	case Number:
		x, err := parseNumber(s, typed, p.Dim)
		return Value{Number: x, Unit: p.Dim}, err
	}
	return Value{}, errors.New("nothing is typed here: press the key shown")
}

func parseFree(typed string) (Value, error) {
	if utf8.RuneCountInString(typed) > 300 {
		return Value{}, errors.New("300 letters at most")
	}
	for _, r := range typed {
		if r < ' ' || r == 0x7f || r == utf8.RuneError {
			return Value{}, fmt.Errorf("letters and signs only, without %q", r)
		}
	}
	return Value{Text: typed}, nil
}

// parseChoice reads the number of an option, from 1.
func (p Prompt) parseChoice(s *State, typed string) (Value, error) {
	options := p.Choices(s)
	n, err := strconv.Atoi(typed)
	if err != nil || n < 1 || n > len(options) {
		return Value{}, fmt.Errorf("a number from 1 to %d", len(options))
	}
	return p.ChoiceValue(s, options[n-1]), nil
}

// ChoiceValue is the value of an option, with the number that it confirms.
func (p Prompt) ChoiceValue(s *State, o Option) Value {
	v := Value{Choice: o.Token}
	if p.Confirms != nil {
		v.Number, v.Unit = p.Confirms(s, p.Place), DimML
	}
	return v
}

// AckValue is the value of an acknowledgement: the number it confirms, if any.
func (p Prompt) AckValue(s *State) Value {
	if p.Confirms == nil {
		return Value{}
	}
	return Value{Number: p.Confirms(s, p.Place), Unit: DimML}
}

func (p Prompt) parseAmount(s *State, typed string, bare quantity.Units) (Value, error) {
	parse := quantity.ParseVolume
	if p.weighs(s) {
		parse = quantity.ParseMass
	} else if p.With != NoTopic {
		parse = quantity.ParseAmount
	}
	a, err := parse(typed, bare)
	if err != nil {
		return Value{}, err
	}
	v := Value{Number: a.Total, Unit: DimML}
	if a.Kind == quantity.Mass {
		v.Unit = DimG
	}
	if len(a.Parts) > 1 {
		v.Parts = a.Parts
	}
	if a.HasTemp {
		if v.Unit == DimG {
			return Value{}, errors.New("a mass needs no temperature: type it without @")
		}
		low, high := coldestC, hottestC
		if p.Step == Preload || p.Step == Fill {
			low, high = newOilColdestC, newOilHottestC
		}
		if a.AtC < low || a.AtC > high {
			return Value{}, fmt.Errorf("temperature must be %s to %s", s.show(low, DimC), s.show(high, DimC))
		}
		v.AtC = &a.AtC
	}
	return v, nil
}

// weighs says whether an amount is read from a scale.
func (p Prompt) weighs(s *State) bool {
	if p.With == NoTopic {
		return false
	}
	d, ok := s.device(p.With, p.Place)
	return ok && d.Scale
}

func parseBounds(typed string, bare quantity.Units) (Value, error) {
	t, err := quantity.ParseTolerance(typed, bare)
	if err != nil {
		return Value{}, err
	}
	if t.MinusFraction+t.PlusFraction > 0 {
		if t.MinusML+t.PlusML > 0 {
			return Value{}, fmt.Errorf("either a volume or a percentage, such as %s or 5 %%", bare.BareVolume(ToleranceML))
		}
		return Value{Number: t.MinusFraction, High: t.PlusFraction, Unit: DimShare}, nil
	}
	return Value{Number: t.MinusML, High: t.PlusML, Unit: DimML}, nil
}

// BareUnit is the unit that a bare number is taken to be in, "" where it has
// none or no number is typed.
func (p Prompt) BareUnit(s *State) string {
	u := s.Units()
	switch p.Kind {
	case Amount:
		if p.weighs(s) {
			return u.Mass.String()
		}
		return u.Volume.String()
	case Range, Bounds:
		return u.Volume.String()
	case Number:
		return bareUnitOf(p.Dim, u)
	}
	return ""
}

// Echo says in words what a value means: a sum with its total, and a volume at
// 20 °C where its temperature is known.
func (p Prompt) Echo(s *State, v Value) string {
	switch {
	case v.Unknown:
		return p.UnknownText(s)
	case p.Kind == Free:
		return v.Text
	case p.Kind == Choose:
		for _, o := range p.Choices(s) {
			if o.Token == v.Choice {
				return o.Label
			}
		}
		return v.Choice
	case p.Kind == Range && v.High > v.Number:
		return s.show(v.Number, DimML) + " to " + s.show(v.High, DimML)
	case p.Kind == Bounds:
		return s.echoBounds(v)
	case p.Kind == Amount:
		return s.echoAmount(p, v)
	case p.Kind == Acknowledge || p.Kind == Event:
		if v.Number != 0 {
			return s.show(v.Number, v.Unit)
		}
		return "done"
	}
	return s.show(v.Number, v.Unit)
}

func (s *State) echoBounds(v Value) string {
	if v.Unit == DimShare {
		return fmt.Sprintf("-%g / +%g %%", 100*v.Number, 100*v.High)
	}
	return fmt.Sprintf("-%s / +%s", s.show(v.Number, DimML), s.show(v.High, DimML))
}

func (s *State) echoAmount(p Prompt, v Value) string {
	a := quantity.Amount{Kind: quantity.Volume, Total: v.Number, Parts: v.Parts}
	if v.Unit == DimG {
		a.Kind = quantity.Mass
	}
	if len(a.Parts) == 0 {
		a.Parts = []float64{v.Number}
	}
	if v.AtC != nil {
		a.AtC, a.HasTemp = *v.AtC, true
	}
	text := quantity.Echo(a, s.Units())
	if v.Unit == DimG {
		if ml, _, err := s.Oil().WeighedAt20(v.Number); err == nil && ml > 0 {
			return text + " = " + s.show(ml, DimML) + " at " + s.show(20, DimC)
		}
		return text
	}
	if v.AtC != nil {
		return text + s.echo20(v.Number, *v.AtC)
	}
	if p.Topic == DrainedAmount {
		return text + fmt.Sprintf(" (at %s%s)", s.show(s.oilTempC(), DimC), s.echo20(v.Number, s.oilTempC()))
	}
	return text
}

func (s *State) echo20(ml, tempC float64) string {
	c, err := oil.CorrectionTo20(s.Oil().Rho15KgM3, tempC)
	if err != nil {
		return ""
	}
	return " = " + s.show(ml*c.Ratio, DimML) + " at " + s.show(20, DimC)
}
