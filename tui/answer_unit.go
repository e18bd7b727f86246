package tui

// This file asks which unit a figure was meant in, where it was typed without
// one and makes sense in another than the unit shown. A number chooses, which a
// number pad has too; Enter alone asks again.

import (
	"errors"
	"strings"

	"garage/tundish/model/guide"
)

// refused keeps what was typed and says why it was not taken.
func (a answer) refused(err error) answer {
	var unclear *guide.UnclearUnit
	if !errors.As(err, &unclear) {
		a.problem = err.Error()
		return a
	}
	a.readings = unclear.Readings
	labels := make([]string, len(a.readings))
	for i, r := range a.readings {
		labels[i] = itoa(i+1) + ": " + r.Label
	}
	a.problem = strings.Join(labels, ", ") + "; which number?"
	return a
}

// choosesReading settles which reading is meant, where typed is the number of
// one that is asked about. Anything else ends the asking.
func (a answer) choosesReading(typed string) (answer, bool) {
	asked := a.readings
	a.readings, a.meant = nil, nil
	for i := range asked {
		if typed == itoa(i+1) {
			a.meant = &asked[i].Value
			return a, true
		}
	}
	return a, false
}

// withLine is the answer with a whole line in place of what was typed: the
// number of a reading chooses it, and an empty line leaves the question open.
func (a answer) withLine(line string) answer {
	asking := len(a.readings) > 0
	a, chosen := a.choosesReading(line)
	if chosen || (asking && line == "") {
		return a
	}
	return a.withText(line)
}
