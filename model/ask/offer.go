package ask

// This file holds the small functions that specs are made of: answers on offer, limits of
// numbers and texts.

import (
	"fmt"
	"unicode/utf8"

	"garage/tundish/model/job"
	"garage/tundish/model/quantity"
)

// offering offers a value.
func offering(v job.Value) offer {
	return func(*Known, job.Place) (job.Value, bool) { return v, true }
}

// between refuses numbers outside low..high, in the unit of the entry. The
// limits are shown in the owner's units.
func between(low, high float64) check {
	return func(s *Known, _ job.Place, v job.Value) error {
		if !(v.Number >= low && v.Number <= high) {
			return fmt.Errorf("must be %s to %s", s.Show(low, v.Unit), s.Show(high, v.Unit))
		}
		return nil
	}
}

// longest refuses a text of more letters than a line has room for.
func longest(letters int) check {
	return func(_ *Known, _ job.Place, v job.Value) error {
		if utf8.RuneCountInString(v.Text) > letters {
			return fmt.Errorf("%d letters at most", letters)
		}
		return nil
	}
}

// inUnits words something with figures in the owner's units.
func inUnits(text func(quantity.Units) string) wording {
	return func(s *Known, _ job.Place) string { return text(s.Units()) }
}
