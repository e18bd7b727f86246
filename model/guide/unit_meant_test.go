package guide

import (
	"errors"
	"math"
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

// A pressure is typed in bar, psi or kPa; what no vessel stands in the unit shown
// is asked about, and with its unit refused.
func TestPressureMeant(t *testing.T) {
	air := small.with(script{job.Filler: {"pressurised"}})
	for _, row := range []struct {
		units, typed, asks string
		kPa                float64 // 0 it is refused
	}{
		{"metric", "2", "", 200},
		{"metric", "2.5 bar", "", 250},
		{"metric", "200 kPa", "", 200},
		{"metric", "29 psi", "", 199.948},
		{"metric", "200", "200 bar, or 200 kPa? With its unit it is clear", 0},
		{"metric", "30", "30 bar, 30 psi, or 30 kPa? With its unit it is clear", 0},
		{"metric", "200 bar", "", 0},
		{"us", "29", "", 199.948},
		{"us", "200", "200 psi, or 200 kPa? With its unit it is clear", 0},
	} {
		s := newDrive(t, inML(air).with(script{job.DisplayUnits: {row.units}})).until(job.VesselRating)
		v, err := asked(t, s, job.VesselRating).Parse(s, row.typed)
		var unclear *UnclearUnit
		if asks := errors.As(err, &unclear); asks != (row.asks != "") || asks && err.Error() != row.asks {
			t.Errorf("%s: %q: %v; want %q", row.units, row.typed, err, row.asks)
		}
		if math.Abs(v.Number-row.kPa) > 0.001 || (err == nil) != (row.kPa != 0) {
			t.Errorf("%s: %q is %v kPa, %v; want %v", row.units, row.typed, v.Number, err, row.kPa)
		}
	}
}
