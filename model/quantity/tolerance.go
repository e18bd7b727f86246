// A capacity as in a manual: a range of volumes, and a tolerance that may be
// asymmetric or a percentage.

package quantity

import "slices"

// maxRangeRatio is how many times the low end the high end of a capacity can be
// (common practice, no source): manuals give a few per cent, so a wider range is
// a slip such as 4.3-45 L.
const maxRangeRatio = 3

// ParseRange reads a volume or a range of volumes in ml: 4.4 L gives the same
// number twice, 4.3-4.5 L and 4.3 to 4.5 L give both ends, 4.4 ± 0.1 L gives
// 4300 and 4500. Units as in ParseVolume; a unit at the end counts for both.
func ParseRange(typed string, bare Units) (lowML, highML float64, err error) {
	ends, err := parseAmounts(typed, bare, "a volume or a range such as 4.4 L or 4.3-4.5 L", amountParser.volumeRange, Volume)
	return ends[0], ends[1], err
}

// volumeRange reads one volume, two joined by "-", "to" or dots, or a volume
// and a tolerance joined by "±". The ends are in ml.
func (p amountParser) volumeRange() (ends [2]float64, err error) {
	first, err := p.term()
	if err != nil {
		return ends, err
	}
	terms := []term{first}
	join := p.take("-", "...", "..", "…", "±", "+/-", "+-")
	if join != "" || p.takeWord("to") {
		second, err := p.term()
		if err != nil {
			return ends, err
		}
		terms = append(terms, second)
	}
	if err := p.endUnitForAll(terms); err != nil {
		return ends, err
	}
	low, high := terms[0].base(), terms[len(terms)-1].base()
	if slices.Contains([]string{"±", "+/-", "+-"}, join) {
		low, high = low-high, low+high
	}
	switch {
	case low < 0 || high > maxAmount:
		return ends, p.errorf("the range must lie in 0 to %.0f ml", maxAmount)
	case low > high:
		return ends, p.errorf("a range goes from low to high")
	case high > maxRangeRatio*low:
		return ends, p.errorf("%.0f to %.0f ml is too wide for one capacity", low, high)
	}
	return [2]float64{low, high}, nil
}

// endUnitForAll gives the unit behind the last number to those without one, the
// bare unit where there is none at all.
func (p amountParser) endUnitForAll(terms []term) error {
	last := terms[len(terms)-1]
	unit := last.unit
	if !last.hasUnit() {
		unit = p.bare()
	}
	for i := range terms {
		if terms[i].hasUnit() && !last.hasUnit() {
			return advise("a unit at the end", "the unit of %s is not clear", quoted(last.text))
		}
		if !terms[i].hasUnit() {
			terms[i].unit = unit
		}
	}
	return nil
}

// Tolerance is the permitted deviation below and above a capacity: a volume, a
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
// +20 -50, -50/+20 and -50+20 ml are asymmetric, 5% is a part of the capacity.
// Units as in ParseVolume; a unit or % at the end counts for both.
func ParseTolerance(typed string, bare Units) (Tolerance, error) {
	return parseAmounts(typed, bare, "a tolerance such as 50 ml, +20 -50 ml or 5%", amountParser.tolerance, Volume)
}

// tolerance reads one limit both ways, or one for each way.
func (p amountParser) tolerance() (t Tolerance, err error) {
	sign := p.take("±", "+/-", "+-", "+", "-")
	first, err := p.limit()
	if err != nil {
		return Tolerance{}, err
	}
	limits := []term{first}
	if sign == "+" || sign == "-" {
		p.take("/")
		other := p.take("+", "-")
		if other == "" || other == sign {
			return Tolerance{}, p.errorf("a lopsided tolerance needs a + and a -")
		}
		second, err := p.limit()
		if err != nil {
			return Tolerance{}, err
		}
		limits = append(limits, second)
	}
	if err := p.endUnitForAll(limits); err != nil {
		return Tolerance{}, err
	}
	plus, minus := limits[0], limits[len(limits)-1]
	if sign == "-" {
		plus, minus = minus, plus
	}
	t.MinusML, t.MinusFraction = limitOf(minus)
	t.PlusML, t.PlusFraction = limitOf(plus)
	if max(t.MinusML, t.PlusML) > maxAmount || max(t.MinusFraction, t.PlusFraction) > 1 {
		return Tolerance{}, p.errorf("the tolerance is too much, at most %.0f ml or 100 %%", maxAmount)
	}
	return t, nil
}

const percent = "%"

// limit reads a number and a unit of volume or %.
func (p amountParser) limit() (term, error) {
	number, err := p.number()
	if err != nil {
		return term{}, err
	}
	if p.take(percent) != "" {
		return term{literal: number, unit: amountUnit{unitInfo: unitInfo{factor: 0.01, symbol: percent}}}, nil
	}
	unit, err := p.unit()
	return term{literal: number, unit: unit}, err
}

// limitOf is a limit as a volume or as a fraction of the capacity.
func limitOf(t term) (volumeML, fraction float64) {
	if t.unit.symbol == percent {
		return 0, t.base()
	}
	return t.base(), 0
}
