// Which unit a number without one is in, when others in the same sum have one.

package quantity

// The readings a jug or a scale in a home garage can give, in ml or g (common
// practice, no source). A bare number that falls outside them in the bare unit
// cannot have been meant in it.
const (
	leastReading = 10
	mostReading  = 10_000
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
	unit := p.bare
	if bareText != "" && len(given) > 0 {
		unit = given[0]
		if len(given) > 1 || unit != p.bare && !p.endUnitCounts(terms, unit) {
			return advise("a unit behind each number such as 500 ml + 1 L", "the unit of %s is not clear", quoted(bareText))
		}
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
// the bare numbers before it: they would be of the wrong kind otherwise, or
// gross and tare of one scale, or no reading at all in the bare unit.
func (p amountParser) endUnitCounts(terms []term, unit amountUnit) bool {
	if !terms[len(terms)-1].hasUnit() {
		return false
	}
	if unit.kind != p.bare.kind {
		return true
	}
	for _, t := range terms {
		if t.minus {
			return true
		}
		reading := t.value * p.bare.factor
		if !t.hasUnit() && (reading < leastReading || reading > mostReading) {
			return true
		}
	}
	return false
}
