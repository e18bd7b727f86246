package guide

// This file checks the order in which a vessel under pressure is made safe:
// common practice, and California Code of Regulations, title 8, section 3301,
// for the limit of the vessel.

import (
	"slices"
	"strings"
	"testing"

	"garage/tundish/model/job"
)

// before reports whether a topic was asked of a round, and before another.
func before(j job.Job, round int, first, then job.Topic) bool {
	at := func(t job.Topic) int {
		return slices.IndexFunc(j.Entries, func(e job.Entry) bool { return e.Topic == t && e.Round == round })
	}
	return at(first) >= 0 && at(first) < at(then)
}

func TestFalseWord04VentedBeforeAnythingIsTouched(t *testing.T) {
	air := script{job.Filler: {"pressurised"}, job.VesselRating: {"100 kPa"}}
	for name, sc := range map[string]script{"drain port": small.with(air), "level port": level.with(air)} {
		d := newDrive(t, sc)
		d.until(job.LeakCheck)
		if !before(d.job, 0, job.PressureSafe, job.FillEnded) {
			t.Errorf("%s: the limit is not said before the push", name)
		}
		for _, then := range []job.Topic{job.LeftInVessel, job.PlugSeated} {
			if !before(d.job, 0, job.PressureOff, then) {
				t.Errorf("%s: %v is asked before the vessel is vented", name, then)
			}
		}
	}
	d := newDrive(t, small.with(air))
	d.until(job.LeakCheck)
	for _, then := range []job.Topic{job.HoseAfter, job.LeftInVessel, job.EscapedAtCap} {
		if !before(d.job, 0, job.Capped, then) {
			t.Errorf("%v is asked before the adapter is capped", then)
		}
	}
}

// A top-up round is under the same pressure as the first.
func TestFalseWord04TopUpIsVentedToo(t *testing.T) {
	air := script{job.Filler: {"pressurised"}, job.VesselRating: {"100 kPa"}}
	for name, sc := range map[string]script{
		"drain port": small.with(air).with(script{
			job.LoadedAmount: {"560", "165"}, job.LeftInVessel: {"0", "0"}, job.EscapedAtCap: {"0", "0"}, job.EscapedAmount: {"60", "80"},
			job.Decision: {"add", "accept"},
		}),
		"level port": level.with(air).with(script{
			job.LevelWeeps: {"not_yet", "weeps"}, job.LoadedAmount: {"500", "60"}, job.LeftInVessel: {"0", "0"},
			job.OverflowCaught: {"0", "0"}, job.Decision: {"add", "accept"},
		}),
	} {
		d := newDrive(t, sc)
		d.until(job.TagOff)
		if !before(d.job, 1, job.PressureSafe, job.FillEnded) || !before(d.job, 1, job.PressureOff, job.LeftInVessel) {
			t.Errorf("%s: the second push has not all the cautions of the first", name)
		}
	}
}

func TestFalseWord04UnratedVesselIsOfferedNoPressure(t *testing.T) {
	d := newDrive(t, small.with(script{job.Filler: {"pressurised"}}))
	s := d.until(job.PressureSafe)
	if s.Has(job.PushPressure) {
		t.Error("a pressure was asked for of a vessel without a rating")
	}
	if ask := asked(t, s, job.PressureSafe).AskText(s); !strings.Contains(ask, "NO air") || !strings.Contains(ask, "hand pump") {
		t.Errorf("%q does not say to use a hand pump", ask)
	}
	d = newDrive(t, small.with(script{job.Filler: {"pressurised"}, job.VesselRating: {"100 kPa"}, job.PushPressure: {"40 kPa"}}))
	s = d.until(job.PressureSafe)
	if ask := asked(t, s, job.PressureSafe).AskText(s); !strings.Contains(ask, "0.4 bar") || !strings.Contains(ask, "1.0 bar") {
		t.Errorf("%q does not name the pressure and its limit", ask)
	}
}

// A pressure that is corrected before the push makes the caution void that named
// another, and a limit that falls below it asks for the pressure again.
func TestFalseWord04CautionNamesThePressureThatIsUsed(t *testing.T) {
	d := newDrive(t, level.with(script{job.Filler: {"pressurised"}, job.VesselRating: {"100 kPa"}, job.PushPressure: {"80 kPa", "40 kPa"}}))
	d.until(job.FillReading)
	d.correct(job.PushPressure, 0, 0, "60 kPa")
	s := d.state()
	if ask := asked(t, s, job.PressureSafe).AskText(s); !strings.Contains(ask, "0.6 bar") {
		t.Errorf("%q", ask)
	}
	d.until(job.FillReading)
	s = d.correct(job.VesselRating, 0, 0, "50 kPa")
	asked(t, s, job.PushPressure)
}

// A level port that was filled under air before it was asked for the cautions is
// not opened again for them.
func TestFalseWord04FinishedLevelPortStaysFinished(t *testing.T) {
	d := newDrive(t, level.with(script{job.Filler: {"pressurised"}, job.VesselRating: {"100 kPa"}}))
	d.until(job.LeakCheck)
	var old []job.Entry
	for _, e := range d.job.Entries {
		if e.Topic != job.PressureSafe && e.Topic != job.PressureOff {
			e.Seq = len(old) + 1
			old = append(old, e)
		}
	}
	s := Fold(job.Job{ID: d.job.ID, Started: d.job.Started, Entries: old}, Offers{})
	asked(t, s, job.LeakCheck)
}

// Jobs of before asked what is left before the vessel was vented: they count
// as they stand, and nothing is asked again.
func TestFalseWord04LeftOverBeforeTheVentCounts(t *testing.T) {
	d := newDrive(t, small)
	now := d.until(job.Decision)
	var early, late []job.Entry
	for _, e := range d.job.Entries {
		if e.Topic == job.PressureOff || e.Topic == job.Capped {
			late = append(late, e)
			continue
		}
		if e.Topic == job.EscapedAtCap {
			early, late = append(early, late...), nil
		}
		early = append(early, e)
	}
	for i := range early {
		early[i].Seq = i + 1
	}
	then := Fold(job.Job{ID: d.job.ID, Started: d.job.Started, Entries: early}, Offers{})
	if p := asked(t, then, job.Decision); p.Strikes != 0 {
		t.Errorf("asked again: %+v", p)
	}
	near(t, "in the unit", then.NetFill(0).Nominal, now.NetFill(0).Nominal, 1e-9)
}
