package guide

// This file holds what is shown of a job while it goes on, and what is kept of
// it afterwards, to what the ledger counts.

import (
	"math"
	"testing"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// A guess of 60 g is no guess of 60 ml. By hand 60·1.0012/(870·0.99638) = 69.3 ml.
func TestGuessInGrams(t *testing.T) {
	s := newDrive(t, twoJugs.with(script{job.EscapedHow: {"guess"}, job.EscapedAmount: {"60 g"}})).until(job.Decision)
	e, _ := s.Answer(job.Place{Topic: job.EscapedAmount})
	shown, ok := s.EntryAt20(e)
	near(t, "as shown", shown.Nominal, 69.3, 0.1)
	if counted := s.Escaped(0); !ok || math.Abs(shown.U()-counted.U()) > 1e-9 || math.Abs(shown.Nominal-counted.Nominal) > 1e-9 {
		t.Errorf("shown is %v ± %v, counted %v ± %v", shown.Nominal, shown.U(), counted.Nominal, counted.U())
	}
}

// 300 ml at 40 °C in the pan are 300·exp(...)/... = 295.7 at 20 °C, and what is
// left of warm oil in the vessel is as warm as what was loaded: 600 less 300 of
// 35 °C are 300·0.9892 = 296.8 (API MPMS 11.1, table 54D).
func TestLooksAreTakenAsWarmAsTheyWere(t *testing.T) {
	d := newDrive(t, small.with(script{job.OilTemperature: {"20"}, job.DripReading: {"300@40C"}}))
	d.until(job.DripReading)
	d.answer(d.state(), asked(t, d.state(), job.DripReading))
	v, _ := d.state().DrainedNow()
	near(t, "in the pan", v.Nominal, 300*to20(870, 40), 0.01)

	d = newDrive(t,
		small.with(script{job.HoseBefore: {"primed"}, job.LoadedAmount: {"600"}, job.LoadedTemperature: {"35"}, job.FillReading: {"300"}}))
	d.until(job.FillReading)
	toPush := d.state().ToPushML(0)
	d.answer(d.state(), asked(t, d.state(), job.FillReading))
	v, _ = d.state().InUnitNow()
	near(t, "gone in", v.Nominal, 300*to20(870, 35), 0.01)
	near(t, "still to go", d.state().ToPushML(0), toPush-300*to20(870, 35), 0.01)
	e, _ := d.state().Answer(job.Place{Topic: job.FillReading})
	v, _ = d.state().EntryAt20(e)
	near(t, "left, in the record", v.Nominal, 300*to20(870, 35), 0.01)
}

// Before it is known what is left in the vessel, nothing is compared with what
// left it.
func TestNothingIsComparedBeforeTheRestIsMeasured(t *testing.T) {
	s := newDrive(t,
		small.with(script{job.StrokeVolume: {"25"}, job.StrokesCounted: {"12"}, job.LeftInVessel: {"320"}})).until(job.LeftInVessel)
	if b := s.Balance(0); len(b.Streams) != 1 || b.Fails() {
		t.Errorf("%d streams, suspects %q", len(b.Streams), b.Suspects)
	}
}

// counted is what the ledger counts of an amount; false where it counts none.
func counted(s *Guide, e job.Entry) (measure.Value, bool) {
	p := job.Place{Round: e.Round, Item: e.Item}
	switch e.Topic {
	case job.DrainedAmount, job.LoadedAmount, job.EscapedAtCap, job.OverflowCaught:
		return s.Amount(e.Topic, p), true
	case job.LeftInVessel:
		return s.Left(e.Round), true
	case job.LetOutAmount:
		return s.Amount(job.LetOutAmount, job.Place{Round: e.Round}), true
	case job.EscapedAmount:
		return s.Caught(estimate.SwapCatch, p), true
	case job.LeakedAmount:
		return s.Caught(estimate.LeakCatch, p), true
	}
	return measure.Value{}, false
}

// A reading is kept in the record at what it counts for, error and all.
func TestReadingsAreShownAtWhatTheyCountFor(t *testing.T) {
	seen := map[job.Topic]bool{}
	all := shown()
	for name, sc := range jobs {
		all["job "+name] = sc
	}
	for name, sc := range all {
		d := newDrive(t, script{job.BasisWhy: {"so"}}.with(sc))
		if _, ok := sc[job.Decision]; ok {
			d.until(job.NoTopic)
		} else {
			d.until(job.Decision)
		}
		s := d.state()
		for _, e := range s.Standing() {
			want, ok := counted(s, e)
			if !ok || e.Value.Unknown {
				continue
			}
			seen[e.Topic] = true
			if got, ok := s.EntryAt20(e); !ok || !same(got, want) {
				t.Errorf("%s: %v is shown as %v ± %v, counted as %v ± %v", name, e.Topic, got.Nominal, got.U(), want.Nominal, want.U())
			}
		}
	}
	if len(seen) != 8 {
		t.Errorf("only %v were seen", seen)
	}
}

// 950 loaded and 828.76 + 25 + 50 to go: 46.2 are to be left, 40 of them heel.
func TestWhatIsLeftAtTheEnd(t *testing.T) {
	s := newDrive(t, example.with(script{job.LoadedAmount: {"950"}, job.VesselHeel: {"40"}})).until(job.FillReading)
	near(t, "left at the end", s.EndReadingML(0), 950-(828.76+25+50), 0.01)
	near(t, "still to go", s.ToPushML(0), 828.76+25+50, 0.01)
	if v, ok := s.InUnitNow(); ok {
		t.Errorf("%v in the unit before the push", v.Nominal)
	}
	if ml := newDrive(t, nil).state().EndReadingML(0); ml != 0 {
		t.Errorf("%v ml of nothing known", ml)
	}
}

// Until its temperature is told, what came out counts as half way from 42 °C at the
// plug to the 20 °C of a garage, and so it does where nobody took it.
func TestAmountCountsHalfWayToTheGarage(t *testing.T) {
	d := newDrive(t, small.with(script{job.OilTemperature: {"42"}, job.DrainedAmount: {"550"}, job.DrainedTemperature: {"-"}}))
	d.until(job.DrainedAmount)
	d.answer(d.state(), asked(t, d.state(), job.DrainedAmount))
	near(t, "came out", d.state().Drained().Total.Nominal, 550*to20(870, 31), 0.01)
	before := d.state().Drained().Total.Nominal
	d.until(job.DrainedMore)
	near(t, "not taken", d.state().Drained().Total.Nominal, before, 1e-9)
}
