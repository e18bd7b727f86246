package model

import "testing"

// A tolerance that an older job holds beyond the most is counted as the most,
// and that is found; so is the default of a small unit and a wide range.
func TestFalseWord03NoToleranceIsLifted(t *testing.T) {
	for _, row := range []struct {
		name      string
		low, high float64
		given     Value
		want      Tolerance
		cut       bool
	}{
		{"a third, of an older job", 600, 600, Value{Number: 200, High: 200, Unit: DimML}, Tolerance{60, 60}, true},
		{"half, as a share", 600, 600, Value{Number: 0.02, High: 0.5, Unit: DimShare}, Tolerance{12, 60}, true},
		{"wider than the range", 4300, 4500, Value{Number: 200, High: 50, Unit: DimML}, Tolerance{100, 50}, true},
		{"the range, not 50 ml", 590, 610, Value{Unknown: true}, Tolerance{10, 10}, false},
		{"a range too wide", 500, 750, Value{Unknown: true}, Tolerance{62.5, 62.5}, true},
		{"the default", 900, 900, Value{Unknown: true}, Tolerance{50, 50}, false},
		{"the default of a small unit", 200, 200, Value{Unknown: true}, Tolerance{20, 20}, true},
	} {
		d := newDrive(t, small)
		d.until(PriorLevel)
		for i, e := range d.job.Entries {
			switch e.Topic {
			case Capacity:
				d.job.Entries[i].Value = Value{Number: row.low, High: row.high, Unit: DimML}
			case ToleranceTopic:
				d.job.Entries[i].Value = row.given
			}
		}
		s := d.state()
		got := s.tolerance()
		near(t, row.name+", minus", got.MinusML, row.want.MinusML, 1e-9)
		near(t, row.name+", plus", got.PlusML, row.want.PlusML, 1e-9)
		if row.cut {
			found(t, s, ToleranceWide)
		} else {
			notFound(t, s, ToleranceWide)
		}
	}
}

// A file that holds an automatic gearbox is asked what it is again, and nothing
// is said of how much of its oil is new.
func TestFalseWord02AutomaticOfAFile(t *testing.T) {
	d := newDrive(t, small)
	s := d.until(Decision)
	if _, ok := s.NewShare(0); !ok {
		t.Fatal("no share of new oil of a unit that may be filled")
	}
	for i, e := range d.job.Entries {
		if e.Topic == UnitKind {
			d.job.Entries[i].Value = Value{Choice: automaticBox}
		}
	}
	s = d.state()
	if share, ok := s.NewShare(0); ok {
		t.Errorf("renewed %.0f %%", 100*share.Nominal)
	}
	if p, ok := s.Next(); !ok || p.Topic != UnitKind {
		t.Errorf("asks %v next", p.Topic)
	}
}
