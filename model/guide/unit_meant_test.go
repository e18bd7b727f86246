package guide

import (
	"errors"
	"testing"

	"garage/tundish/model/job"
)

// A figure without a unit that makes sense in another unit alone is asked
// about; with its unit it is always taken, and so is what no unit makes better.
func TestUnitMeant(t *testing.T) {
	for _, row := range []struct {
		units, capacity string
		at              job.Topic
		typed, asks     string // "" is taken, or refused for what it is
	}{
		{"metric", "600", job.Capacity, "0.55", "0.55 ml, or 0.55 L? With its unit it is clear"},
		{"metric", "600", job.Capacity, "4.3-4.5", "4.3-4.5 ml, or 4.3-4.5 L? With its unit it is clear"},
		{"metric", "600", job.Capacity, "200", ""},
		{"metric", "600", job.Capacity, "550 ml", ""},
		{"metric", "600", job.ToleranceTopic, "0.05", "0.05 ml, or 0.05 L? With its unit it is clear"},
		{"metric", "600", job.ToleranceTopic, "5 %", ""},
		{"metric", "600", job.DrainedAmount, "0.55", "0.55 ml, or 0.55 L? With its unit it is clear"},
		{"metric", "600", job.DrainedAmount, "0.25+0.3", "0.55 ml, or 0.55 L? With its unit it is clear"},
		{"metric", "600", job.DrainedAmount, "0.55@60", "0.55 ml, or 0.55 L? With its unit it is clear"},
		{"metric", "600", job.DrainedAmount, "0.55 L", ""},
		{"metric", "600", job.DrainedAmount, "0.55 ml", ""},
		{"metric", "600", job.DrainedAmount, "0", ""},
		{"metric", "600", job.DrainedAmount, "5", ""},
		{"metric", "600", job.EscapedAmount, "0.05", "0.05 ml, or 0.05 L? With its unit it is clear"},
		{"metric", "600", job.EscapedAmount, "3", ""},
		{"us", "600 ml", job.Capacity, "2.5", "2.5 US fl oz, 2.5 US qt, or 2.5 L? With its unit it is clear"},
		{"us", "600 ml", job.DrainedAmount, "550", "550 US fl oz, or 550 ml? With its unit it is clear"},
		{"us", "600 ml", job.DrainedAmount, "18", ""},
		{"imperial", "600 ml", job.DrainedAmount, "0.5 qt", ""},
		{"imperial", "600 ml", job.DrainedAmount, "0.5", "0.5 imp fl oz, 0.5 imp qt, or 0.5 L? With its unit it is clear"},
	} {
		s := newDrive(t, inML(small).with(script{job.DisplayUnits: {row.units}, job.Capacity: {row.capacity}})).until(row.at)
		_, err := asked(t, s, row.at).Parse(s, row.typed)
		var unclear *UnclearUnit
		if asks := errors.As(err, &unclear); asks != (row.asks != "") || (asks && err.Error() != row.asks) {
			t.Errorf("%s, %v: %q: %v; want %q", row.units, row.at, row.typed, err, row.asks)
		}
		if unclear == nil {
			continue
		}
		for _, r := range unclear.Readings[1:] {
			if err := asked(t, s, row.at).Accept(s, r.Value); err != nil {
				t.Errorf("%v: %q: %s is on offer and refused: %v", row.at, row.typed, r.Label, err)
			}
		}
	}
}
