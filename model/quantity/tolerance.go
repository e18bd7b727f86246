// What a manual says about a capacity: a range of volumes, and a tolerance that
// may be lopsided or a percentage.

package quantity

import "math"

// ParseRange reads a volume or a range of volumes in ml: 4.4 L gives the same
// number twice, 4.3-4.5 L and 4.3 to 4.5 L give both ends, 4.4 ± 0.1 L gives
// 4300 and 4500. Units as in ParseVolume; a unit at the end counts for both.
func ParseRange(typed string, bare Units) (lowML, highML float64, err error) {
	s, err := scan(typed, grammar{like: "a volume or a range such as 4.4 L or 4.3-4.5 L", small: "ml", big: "L"})
	if err != nil {
		return 0, 0, err
	}
	p := amountParser{scanner: s, units: bare, bare: volumeUnitOf(bare.Volume), volumes: true}
	lowML, highML, err = p.volumeRange()
	if err != nil {
		return 0, 0, err
	}
	if err := s.end(); err != nil {
		return 0, 0, err
	}
	return lowML, highML, nil
}

// maxRangeRatio is how many times the low end the high end of a capacity can be
// (common practice, no source): manuals give a few per cent, so a wider range is
// a slip such as 4.3-45 L.
const maxRangeRatio = 3

// volumeRange reads one volume, two joined by "-", "to" or dots, or a volume
// and a tolerance joined by "±".
func (p amountParser) volumeRange() (lowML, highML float64, err error) {
	first, err := p.term()
	if err != nil {
		return 0, 0, err
	}
	terms := []term{first}
	join := p.take("-", "...", "..", "…", "±", "+/-", "+-")
	if join != "" || p.takeWord("to") {
		second, err := p.term()
		if err != nil {
			return 0, 0, err
		}
		terms = append(terms, second)
	}
	if err := p.endUnitForAll(terms); err != nil {
		return 0, 0, err
	}
	lowML, highML = terms[0].base(), terms[len(terms)-1].base()
	switch join {
	case "±", "+/-", "+-":
		lowML, highML = lowML-highML, lowML+highML
	}
	if lowML < 0 || highML > maxAmount {
		return 0, 0, p.errorf("the range must lie in 0 to %.0f ml", maxAmount)
	}
	if lowML > highML {
		return 0, 0, p.errorf("a range goes from low to high")
	}
	if highML > maxRangeRatio*lowML {
		return 0, 0, p.errorf("%.0f to %.0f ml is too wide for one capacity", lowML, highML)
	}
	return lowML, highML, nil
}

// endUnitForAll gives the unit behind the last number to those without one, the
// bare unit where there is none at all.
func (p amountParser) endUnitForAll(terms []term) error {
	last := terms[len(terms)-1].unit
	for i := range terms {
		switch {
		case terms[i].hasUnit() && !terms[len(terms)-1].hasUnit():
			return advise("a unit at the end", "the unit of %s is not clear", quoted(terms[len(terms)-1].text))
		case !terms[i].hasUnit() && last.symbol != "":
			terms[i].unit = last
		case !terms[i].hasUnit():
			terms[i].unit = p.bare
		}
	}
	return nil
}

// Tolerance is how far below and above a capacity is still good: a volume, a
// fraction of the capacity, or their sum. All four are zero or more.
type Tolerance struct {
	MinusML, PlusML             float64 // ml
	MinusFraction, PlusFraction float64 // of the capacity, 0.05 for 5 %
}

// Of is the tolerance of a capacity in ml.
func (t Tolerance) Of(capacityML float64) (minusML, plusML float64) {
	return t.MinusML + t.MinusFraction*capacityML, t.PlusML + t.PlusFraction*capacityML
}

// ParseTolerance reads a tolerance: 50 and ±50 ml are the same both ways,
// +20 -50, -50/+20 and -50+20 ml are lopsided, 5% is a part of the capacity.
// Units as in ParseVolume; a unit or % at the end counts for both.
func ParseTolerance(typed string, bare Units) (Tolerance, error) {
	s, err := scan(typed, grammar{like: "a tolerance such as 50 ml, +20 -50 ml or 5%", small: "ml", big: "L"})
	if err != nil {
		return Tolerance{}, err
	}
	p := amountParser{scanner: s, units: bare, bare: volumeUnitOf(bare.Volume), volumes: true}
	t, err := p.tolerance()
	if err != nil {
		return Tolerance{}, err
	}
	if err := s.end(); err != nil {
		return Tolerance{}, err
	}
	return t, nil
}

// percentUnit is a part of the capacity where a unit may stand.
func percentUnit() amountUnit { return amountUnit{factor: 0.01, symbol: "%"} }

// tolerance reads one limit both ways, or one for each way.
func (p amountParser) tolerance() (Tolerance, error) {
	sign := p.take("±", "+/-", "+-", "+", "-")
	first, err := p.limit()
	if err != nil {
		return Tolerance{}, err
	}
	if sign != "+" && sign != "-" {
		limits := []term{first}
		if err := p.endUnitForAll(limits); err != nil {
			return Tolerance{}, err
		}
		return p.checked(Tolerance{}.with("-", limits[0]).with("+", limits[0]))
	}
	p.take("/")
	other := p.take("+", "-")
	if other == "" || other == sign {
		return Tolerance{}, p.errorf("a lopsided tolerance needs a + and a -")
	}
	second, err := p.limit()
	if err != nil {
		return Tolerance{}, err
	}
	limits := []term{first, second}
	if err := p.endUnitForAll(limits); err != nil {
		return Tolerance{}, err
	}
	return p.checked(Tolerance{}.with(sign, limits[0]).with(other, limits[1]))
}

// limit reads a number and a unit of volume or %.
func (p amountParser) limit() (term, error) {
	number, err := p.number()
	if err != nil {
		return term{}, err
	}
	if p.take("%") != "" {
		return term{literal: number, unit: percentUnit()}, nil
	}
	unit, err := p.amountUnit()
	return term{literal: number, unit: unit}, err
}

// with is the tolerance with one of its limits set.
func (t Tolerance) with(sign string, limit term) Tolerance {
	volume, fraction := &t.MinusML, &t.MinusFraction
	if sign == "+" {
		volume, fraction = &t.PlusML, &t.PlusFraction
	}
	if limit.unit == percentUnit() {
		*fraction = limit.base()
	} else {
		*volume = limit.base()
	}
	return t
}

// checked refuses more than any capacity and more than all of it.
func (p amountParser) checked(t Tolerance) (Tolerance, error) {
	if math.Max(t.MinusML, t.PlusML) > maxAmount || math.Max(t.MinusFraction, t.PlusFraction) > 1 {
		return Tolerance{}, p.errorf("the tolerance is too much, at most %.0f ml or 100 %%", maxAmount)
	}
	return t, nil
}
