package guide

// This file checks what a rig brings of its last oil, and what share of an automatic's oil is renewed: cases of the trade,
// worked there.

import (
	"strings"
	"testing"

	"garage/tundish/model/job"
)

// Cases E3 and E4: 95 ml of 75W-90 are left in hose and vessel: 2.2 % of 4.4 L, 8.6 % of 1.1 L, both refused where
// automatic oil goes in; rinsed twice it is 0.03 %.
func TestCaseOilThatTheRigBrings(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, capacity, oil, left string
		percent                   float64
		refused                   bool
	}{
		{"E3", "4400", job.RigIntoAutomatic, job.RigFull, 2.2, true},
		{"E4", "1100", job.RigIntoAutomatic, job.RigFull, 8.6, true},
		{"E3, rinsed", "4400", job.RigIntoAutomatic, job.RigRinsed, 0.03, false},
		{"hung open", "1100", job.RigSameClass, job.RigHung, 2.6, false},
		{"full, of the same class", "1100", job.RigSameClass, job.RigFull, 8.6, true},
		{"full, automatic oil into an axle of 4.4 L", "4400", job.RigIntoAxle, job.RigFull, 2.2, true},
		{"into synchros", "4400", job.RigIntoSynchro, job.RigHung, 0.7, false},
	} {
		lines := small.with(script{job.Capacity: {row.capacity}, job.HoseBore: {"8"}, job.HoseLength: {"1.5"}, job.RigLastOil: {row.oil},
			job.RigLeft: {row.left}, job.RigRinse: {job.RigRinsed}})
		d := newDrive(t, lines)
		s := d.until(job.AtHand)
		r := s.Rig()
		near(t, row.name, 100*r.Share, row.percent, max(0.06, 0.02*row.percent))
		if s.Has(job.RigRinse) != row.refused {
			t.Errorf("%s: asked to rinse %v, want %v: %s", row.name, s.Has(job.RigRinse), row.refused, s.RigText())
		}
	}
	same := newDrive(t, small.with(script{job.RigLastOil: {job.RigSameOil}})).until(job.AtHand)
	if r := same.Rig(); same.Has(job.RigLeft) || r.Different && r.Share > r.Limit {
		t.Error("the same oil is asked about")
	}
}

// Case A8: 4 of 9 litres drain. 44 % is new after one change, 64 after two, 77 after three; 80 % takes a fourth, 16 L.
func TestCaseShareRenewed(t *testing.T) {
	t.Parallel()
	s := newDrive(t, small.with(script{job.UnitKind: {job.AutomaticBox}, job.FillPath: {"overflow_tube"}, job.Capacity: {"9000"},
		job.CapacityMeans: {"dry"}, job.LevelWindow: {"35-45 C"}, job.SelectorAt: {"park"}, job.DrainedAmount: {"4000@20"},
		job.LookedAgain: {"nothing_more"}, job.Basis: {"drained"}, job.BasisWhy: {"so"}})).until(job.LoadedAmount)
	got := s.RenewedText()
	for _, want := range []string{"about 44 % of the oil is new", "twice 64 %", "three times 77 %", "80 % takes 4 times, 16"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q does not say %q", got, want)
		}
	}
	if other := newDrive(t, small).until(job.LoadedAmount).RenewedText(); other != "" {
		t.Errorf("an axle: %q", other)
	}
}
