// Amounts of oil as they are read off a jug or a scale: a volume or a weight,
// perhaps a sum of several readings or gross minus tare, perhaps with the
// temperature of the oil.

package quantity

import (
	"math"
	"slices"
)

// Kind says whether an amount is a volume or a mass.
type Kind uint8

const (
	Volume Kind = iota
	Mass
)

// String names the kind as a person would.
func (k Kind) String() string {
	if k == Mass {
		return "weight"
	}
	return "volume"
}

// maxAmount is the largest term and total, in ml or g: far more than any unit of
// a vehicle holds.
const maxAmount = 1e6

// Amount is what was read: one or more terms, and their total.
type Amount struct {
	Kind    Kind
	Total   float64   // ml for a volume, g for a mass; never below zero
	Parts   []float64 // each reading, signed, in the same unit; they add up to Total
	AtC     float64   // temperature of the oil in °C, where HasTemp
	HasTemp bool
}

// amountUnit is a unit of volume or mass; the zero value is no unit.
type amountUnit struct {
	kind Kind
	unitInfo
}

// term is one reading of a sum.
type term struct {
	literal
	unit  amountUnit
	minus bool // to be subtracted
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

// amountParser reads an amount of one of the kinds; a number without unit is of
// the first of them.
type amountParser struct {
	*scanner
	units Units
	kinds []Kind
}

// ParseAmount reads a volume or a weight as it is typed: 830, 0.83 L, 1 1/2 qt,
// 500+330, 1235-330 g, 830@60C. A number without unit is in bare.Volume, a
// temperature without unit in bare.Temperature; floz, pt, qt and gal are
// imperial where bare.Volume is, else US. A unit at the end also counts for the
// numbers before it, where they cannot mean anything else.
func ParseAmount(typed string, bare Units) (Amount, error) {
	return parseAmounts(typed, bare, "an amount such as 830 ml, 0.83 L, 500+330 ml or 905 g", amountParser.amount, Volume, Mass)
}

// ParseVolume is ParseAmount for a field that takes volumes only.
func ParseVolume(typed string, bare Units) (Amount, error) {
	return parseAmounts(typed, bare, "a volume such as 830 ml, 0.83 L or 500+330 ml", amountParser.amount, Volume)
}

// ParseMass is ParseAmount for a field that takes weights only; a number without
// unit is in bare.Mass.
func ParseMass(typed string, bare Units) (Amount, error) {
	return parseAmounts(typed, bare, "a weight such as 905 g, 1.235 kg or 1235-330 g", amountParser.amount, Mass)
}

func parseAmounts[T any](typed string, bare Units, like string, read func(amountParser) (T, error), kinds ...Kind) (T, error) {
	g := grammar{like: like, small: "ml", big: "L"}
	if kinds[0] == Mass {
		g.small, g.big = "g", "kg"
	}
	return parse(typed, g, func(s *scanner) (T, error) { return read(amountParser{s, bare, kinds}) })
}

// bare is the unit of a number without one.
func (p amountParser) bare() amountUnit {
	if p.kinds[0] == Mass {
		return amountUnit{Mass, p.units.Mass.info()}
	}
	return amountUnit{Volume, p.units.Volume.info()}
}

// amount reads the whole grammar: terms, perhaps "= total", perhaps "@ temp".
func (p amountParser) amount() (a Amount, err error) {
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
	if a, err = p.sum(terms[:parts]); err != nil {
		return Amount{}, err
	}
	if len(terms) > parts {
		if err := checkTotal(a, terms); err != nil {
			return Amount{}, err
		}
	}
	if p.take("@") != "" || p.takeWord("at") {
		a.HasTemp = true
		a.AtC, err = p.temperature(p.units.Temperature)
	}
	return a, err
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
		if n := len(terms); t.minus && t.fraction && terms[n-1].whole && !terms[n-1].hasUnit() {
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
	unit, err := p.unit()
	return term{literal: number, unit: unit}, err
}

// unit takes a unit of an allowed kind; none gives the zero value.
func (p amountParser) unit() (amountUnit, error) {
	word, shown := p.word()
	ofVolume, isVolume := volumeNamed(word, p.units.isImperial())
	ofMass, isMass := named[mass](word)
	unit := amountUnit{Volume, ofVolume.info()}
	switch {
	case word == "":
		return amountUnit{}, nil
	case slices.Contains([]string{"oz", "ozs", "ounce", "ounces"}, word):
		if slices.Contains(p.kinds, Volume) {
			return amountUnit{}, advise("fl oz for a volume or oz wt for a weight", "%s is ambiguous", quoted(shown))
		}
		unit = amountUnit{Mass, Ounce.info()}
	case isMass:
		unit = amountUnit{Mass, ofMass.info()}
	case !isVolume:
		return amountUnit{}, p.errorf("%s is not a known unit", quoted(shown))
	}
	if !slices.Contains(p.kinds, unit.kind) {
		return amountUnit{}, p.errorf("%s is a %v, a %v is wanted", quoted(shown), unit.kind, p.kinds[0])
	}
	return unit, nil
}

// sum adds the readings up.
func (p amountParser) sum(terms []term) (Amount, error) {
	a := Amount{Kind: terms[0].unit.kind}
	base := Millilitre.String()
	if a.Kind == Mass {
		base = Gram.String()
	}
	tooMuch := func(shown string) error {
		return p.errorf("%s is too much, at most %.0f %s", quoted(shown), maxAmount, base)
	}
	for _, t := range terms {
		if t.base() > maxAmount {
			return Amount{}, tooMuch(withUnit(t.text, t.unit.symbol))
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
		return Amount{}, tooMuch(withUnit(trimmed(a.Total, 0), base))
	}
	return a, nil
}

// checkTotal compares a total typed behind "=", the last of the terms, with the
// sum of the readings. It may differ by the rounding of the numbers as typed, and
// by 0.5 % at most.
func checkTotal(a Amount, terms []term) error {
	rounding := 0.0
	for _, t := range terms {
		rounding += t.step * t.unit.factor / 2
	}
	rounding = max(min(rounding, a.Total/200), 1e-3)
	total := terms[len(terms)-1]
	if math.Abs(total.base()-a.Total) > rounding {
		sum := trimmed(a.Total/total.unit.factor, maxEcho)
		return advise("the readings alone, or the right total", "the readings add up to %s, not %s",
			withUnit(sum, total.unit.symbol), withUnit(total.text, total.unit.symbol))
	}
	return nil
}

// The readings a jug or a scale in a home garage can give, in ml or g (common
// practice, no source). A bare number outside them in the bare unit is meant in
// another one.
const (
	minReading = 10
	maxReading = 10_000
)

// settleUnits gives every term its unit and refuses a mixture of kinds.
func (p amountParser) settleUnits(terms []term) error {
	var given []amountUnit // distinct units typed
	bareText := ""         // first number without one
	for _, t := range terms {
		switch {
		case !t.hasUnit() && bareText == "":
			bareText = t.text
		case t.hasUnit() && (len(given) == 0 || given[len(given)-1] != t.unit):
			given = append(given, t.unit)
		}
	}
	unit := p.bare()
	if bareText != "" && len(given) > 0 {
		if len(given) > 1 || given[0] != unit && !p.endUnitCounts(terms) {
			return advise("a unit behind each number such as 500 ml + 1 L", "the unit of %s is not clear", quoted(bareText))
		}
		unit = given[0]
	}
	for i := range terms {
		if !terms[i].hasUnit() {
			terms[i].unit = unit
		}
		if terms[i].unit.kind != terms[0].unit.kind {
			return advise("one kind such as 500 ml + 330 ml or 1235 g - 330 g", "volume and weight cannot be added")
		}
	}
	return nil
}

// endUnitCounts reports whether the unit behind the last number must count for
// the bare numbers before it: otherwise they would be of another kind, or are gross
// and tare of one scale, or are no readings in the bare unit.
func (p amountParser) endUnitCounts(terms []term) bool {
	bare, last := p.bare(), terms[len(terms)-1]
	if !last.hasUnit() || last.unit.kind != bare.kind {
		return last.hasUnit()
	}
	return slices.ContainsFunc(terms, func(t term) bool {
		reading := t.value * bare.factor
		return t.minus || !t.hasUnit() && (reading < minReading || reading > maxReading)
	})
}
