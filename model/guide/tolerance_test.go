package guide

import (
	"testing"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// A tolerance that an older job holds beyond the most is counted as the most,
// and that is found; so is the default of a small unit and a wide range.
func TestFalseWord03NoToleranceIsLifted(t *testing.T) {
	for _, row := range []struct {
		name      string
		low, high float64
		given     job.Value
		want      estimate.Tolerance
		cut       bool
	}{
		{"a third, of an older job", 600, 600, job.Value{Number: 200, High: 200, Unit: job.DimML},
			estimate.Tolerance{MinusML: 60, PlusML: 60}, true},
		{"half, as a share", 600, 600, job.Value{Number: 0.02, High: 0.5, Unit: job.DimShare}, estimate.Tolerance{MinusML: 12, PlusML: 60},
			true},
		{"wider than the range", 4300, 4500, job.Value{Number: 200, High: 50, Unit: job.DimML},
			estimate.Tolerance{MinusML: 100, PlusML: 50}, true},
		{"the range, not 50 ml", 590, 610, job.Value{Unknown: true}, estimate.Tolerance{MinusML: 10, PlusML: 10}, false},
		{"a range too wide", 500, 750, job.Value{Unknown: true}, estimate.Tolerance{MinusML: 62.5, PlusML: 62.5}, true},
		{"the default", 900, 900, job.Value{Unknown: true}, estimate.Tolerance{MinusML: 50, PlusML: 50}, false},
		{"the default of a small unit", 200, 200, job.Value{Unknown: true}, estimate.Tolerance{MinusML: 20, PlusML: 20}, true},
	} {
		d := newDrive(t, small.with(script{job.ToleranceTopic: {"-"}}))
		d.until(job.Filler)
		for i, e := range d.job.Entries {
			switch e.Topic {
			case job.Capacity:
				d.job.Entries[i].Value = job.Value{Number: row.low, High: row.high, Unit: job.DimML}
			case job.ToleranceTopic:
				d.job.Entries[i].Value = row.given
			}
		}
		s := d.state()
		got := s.Tolerance()
		near(t, row.name+", minus", got.MinusML, row.want.MinusML, 1e-9)
		near(t, row.name+", plus", got.PlusML, row.want.PlusML, 1e-9)
		if row.cut {
			found(t, s, verdict.ToleranceWide)
		} else {
			notFound(t, s, verdict.ToleranceWide)
		}
	}
}

// A file that holds an automatic gearbox with a way in that it cannot have is asked for
// that again, and nothing is said of how much of its oil is new.
func TestFalseWord02AutomaticOfAFile(t *testing.T) {
	d := newDrive(t, small)
	s := d.until(job.Decision)
	if _, ok := s.NewShare(0); !ok {
		t.Fatal("no share of new oil of a unit that may be filled")
	}
	for i, e := range d.job.Entries {
		if e.Topic == job.UnitKind {
			d.job.Entries[i].Value = job.Value{Choice: job.AutomaticBox}
		}
	}
	s = d.state()
	if share, ok := s.NewShare(0); ok {
		t.Errorf("renewed %.0f %%", 100*share.Nominal)
	}
	if p, ok := s.Next(); !ok || p.Topic != job.FillPath {
		t.Errorf("asks %v next", p.Topic)
	}
}
