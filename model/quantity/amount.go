// Amounts of oil as they are read off a jug or a scale: a volume or a weight,
// perhaps a sum of several readings or gross minus tare, perhaps with the
// temperature of the oil.

package quantity

import (
	"fmt"
	"math"
)

// Kind says whether an amount is a volume or a mass.
type Kind uint8

// The kinds of amount.
const (
	Volume Kind = iota
	Mass
)

// String names the kind as a person would.
func (k Kind) String() string {
	switch k {
	case Volume:
		return "volume"
	case Mass:
		return "weight"
	}
	return fmt.Sprintf("kind %d", uint8(k))
}

// base is the symbol of the kind's base unit.
func (k Kind) base() string {
	if k == Mass {
		return "g"
	}
	return "ml"
}

// maxAmount is the largest term and total, in ml or g: more than any unit of a
// vehicle holds by far, so anything above is a slip.
const maxAmount = 1e6

// Amount is what was read: one or more terms, and their total.
type Amount struct {
	Kind    Kind
	Total   float64   // ml for a volume, g for a mass; never below zero
	Parts   []float64 // each reading, signed, in the same unit; they add up to Total
	AtC     float64   // temperature of the oil in °C, where HasTemp
	HasTemp bool
}

// ML is the total in millilitres; NaN for a mass, which has no volume until the
// density is known.
func (a Amount) ML() float64 {
	if a.Kind != Volume {
		return math.NaN()
	}
	return a.Total
}

// G is the total in grams; NaN for a volume.
func (a Amount) G() float64 {
	if a.Kind != Mass {
		return math.NaN()
	}
	return a.Total
}

// amountUnit is a unit of volume or mass as it stands behind a number; the zero
// value is no unit.
type amountUnit struct {
	kind   Kind
	factor float64
	symbol string
}

func volumeUnitOf(u VolumeUnit) amountUnit { return amountUnit{Volume, u.ML(), u.String()} }
func massUnitOf(u MassUnit) amountUnit     { return amountUnit{Mass, u.G(), u.String()} }

// term is one reading of a sum.
type term struct {
	literal
	unit  amountUnit
	minus bool // to be taken off
}

func (t term) hasUnit() bool { return t.unit.symbol != "" }

// base is the reading in its base unit, without the sign.
func (t term) base() float64 { return t.value * t.unit.factor }

// signed is what the reading adds to the sum, never a negative zero.
func (t term) signed() float64 {
	if t.minus {
		return 0 - t.base()
	}
	return t.base()
}

// amountParser reads an amount; the fields say what the field of the form
// allows.
type amountParser struct {
	*scanner
	units         Units
	bare          amountUnit // of a number without unit
	volumes, mass bool       // kinds allowed
}

// ParseAmount reads a volume or a weight as it is typed: 830, 0.83 L, 1 1/2 qt,
// 500+330, 1235-330 g, 830@60C. A number without unit is in bare.Volume, a
// temperature without unit in bare.Temperature; floz, pt, qt and gal are
// imperial where bare.Volume is, else US. A unit at the end also counts for the
// numbers before it, where they cannot mean anything else.
func ParseAmount(typed string, bare Units) (Amount, error) {
	return parseAmount(typed, amountParser{units: bare, bare: volumeUnitOf(bare.Volume), volumes: true, mass: true},
		grammar{like: "an amount such as 830 ml, 0.83 L, 500+330 ml or 905 g", small: "ml", big: "L"})
}

// ParseVolume is ParseAmount for a field where a weight makes no sense.
func ParseVolume(typed string, bare Units) (Amount, error) {
	return parseAmount(typed, amountParser{units: bare, bare: volumeUnitOf(bare.Volume), volumes: true},
		grammar{like: "a volume such as 830 ml, 0.83 L or 500+330 ml", small: "ml", big: "L"})
}

// ParseMass is ParseAmount for a field where only a weight makes sense; a
// number without unit is in bare.Mass.
func ParseMass(typed string, bare Units) (Amount, error) {
	return parseAmount(typed, amountParser{units: bare, bare: massUnitOf(bare.Mass), mass: true},
		grammar{like: "a weight such as 905 g, 1.235 kg or 1235-330 g", small: "g", big: "kg"})
}

func parseAmount(typed string, p amountParser, g grammar) (Amount, error) {
	s, err := scan(typed, g)
	if err != nil {
		return Amount{}, err
	}
	p.scanner = s
	a, err := p.amount()
	if err != nil {
		return Amount{}, err
	}
	return a, nil
}

// amount reads the whole grammar: terms, perhaps "= total", perhaps "@ temp".
func (p amountParser) amount() (Amount, error) {
	terms, err := p.terms()
	if err != nil {
		return Amount{}, err
	}
	parts := len(terms)
	if p.take("=") != "" {
		total, err := p.term()
		if err != nil {
			return Amount{}, err
		}
		terms = append(terms, total)
	}
	if err := p.settleUnits(terms); err != nil {
		return Amount{}, err
	}
	a, err := p.sum(terms[:parts])
	if err != nil {
		return Amount{}, err
	}
	if err := p.checkTotal(a, terms, parts); err != nil {
		return Amount{}, err
	}
	if p.take("@") != "" || p.takeWord("at") {
		if a.AtC, err = p.temperature(p.units.Temperature); err != nil {
			return Amount{}, err
		}
		a.HasTemp = true
	}
	return a, p.end()
}

// terms reads readings joined by + and -.
func (p amountParser) terms() ([]term, error) {
	var terms []term
	for sign := ""; ; {
		t, err := p.term()
		if err != nil {
			return nil, err
		}
		t.minus = sign == "-"
		if n := len(terms); n > 0 && t.minus && t.fraction && terms[n-1].whole && !terms[n-1].hasUnit() {
			return nil, advise(terms[n-1].text+" "+t.text+" or a unit behind each number",
				"%s is ambiguous", quoted(terms[n-1].text+"-"+t.text))
		}
		terms = append(terms, t)
		if sign = p.take("+", "-"); sign == "" {
			return terms, nil
		}
	}
}

// term reads one number and the unit behind it, if any.
func (p amountParser) term() (term, error) {
	number, err := p.number()
	if err != nil {
		return term{}, err
	}
	unit, err := p.amountUnit()
	return term{literal: number, unit: unit}, err
}

// amountUnit takes a unit of an allowed kind; none gives the zero value.
func (p amountParser) amountUnit() (amountUnit, error) {
	word, shown := p.word()
	if word == "" {
		return amountUnit{}, nil
	}
	if bareOunce(word) {
		if p.volumes {
			return amountUnit{}, advise("fl oz for a volume or oz wt for a weight", "%s is ambiguous", quoted(shown))
		}
		return massUnitOf(Ounce), nil
	}
	if u, ok := volumeNamed(word, p.units.Volume.imperial()); ok {
		if !p.volumes {
			return amountUnit{}, p.errorf("%s is a volume, a weight is wanted", quoted(shown))
		}
		return volumeUnitOf(u), nil
	}
	if u, ok := massNamed(word); ok {
		if !p.mass {
			return amountUnit{}, p.errorf("%s is a weight, a volume is wanted", quoted(shown))
		}
		return massUnitOf(u), nil
	}
	return amountUnit{}, p.errorf("%s is not a known unit", quoted(shown))
}

// sum adds the readings up.
func (p amountParser) sum(terms []term) (Amount, error) {
	a := Amount{Kind: terms[0].unit.kind}
	for _, t := range terms {
		if t.base() > maxAmount {
			return Amount{}, p.tooMuch(withUnit(t.text, t.unit.symbol), a.Kind)
		}
		a.Parts = append(a.Parts, t.signed())
		a.Total += t.signed()
	}
	if math.Abs(a.Total) < 1e-6 { // 0.1+0.2-0.3 in binary
		a.Total = 0
	}
	if a.Total < 0 {
		return Amount{}, advise("the larger number first such as 1235-330", "the total is below zero")
	}
	if a.Total > maxAmount {
		return Amount{}, p.tooMuch(withUnit(trimmed(a.Total, 0), a.Kind.base()), a.Kind)
	}
	return a, nil
}

// tooMuch refuses an amount beyond the limit.
func (p amountParser) tooMuch(shown string, k Kind) error {
	return p.errorf("%s is too much, at most %.0f %s", quoted(shown), maxAmount, k.base())
}

// checkTotal holds a total typed behind "=" against the sum of the readings. It
// may differ by the rounding of the numbers as typed, and by 0.5 % at most.
func (p amountParser) checkTotal(a Amount, terms []term, parts int) error {
	if len(terms) == parts {
		return nil
	}
	rounding := 0.0
	for _, t := range terms {
		rounding += t.step * t.unit.factor / 2
	}
	rounding = math.Max(math.Min(rounding, a.Total/200), 1e-3)
	total := terms[parts]
	if math.Abs(total.base()-a.Total) > rounding {
		sum := trimmed(a.Total/total.unit.factor, maxEcho)
		return advise("the readings alone, or the right total", "the readings add up to %s, not %s",
			withUnit(sum, total.unit.symbol), withUnit(total.text, total.unit.symbol))
	}
	return nil
}
