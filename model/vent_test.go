package model

// This file checks the order in which a vessel under pressure is made safe:
// common practice, and California Code of Regulations, title 8, section 3301,
// for the limit of the vessel.

import (
	"slices"
	"strings"
	"testing"
)

// before reports whether a topic was asked of a round, and before another.
func before(job Job, round int, first, then Topic) bool {
	at := func(t Topic) int {
		return slices.IndexFunc(job.Entries, func(e Entry) bool { return e.Topic == t && e.Round == round })
	}
	return at(first) >= 0 && at(first) < at(then)
}

func TestFalseWord04VentedBeforeAnythingIsTouched(t *testing.T) {
	air := script{Filler: {"pressurised"}, VesselRating: {"100 kPa"}}
	for name, sc := range map[string]script{"drain port": small.with(air), "level port": level.with(air)} {
		d := newDrive(t, sc)
		d.until(LeakCheck)
		if !before(d.job, 0, PressureSafe, FillEnded) {
			t.Errorf("%s: the limit is not said before the push", name)
		}
		for _, then := range []Topic{LeftInVessel, PlugSeated} {
			if !before(d.job, 0, PressureOff, then) {
				t.Errorf("%s: %v is asked before the vessel is vented", name, then)
			}
		}
	}
	d := newDrive(t, small.with(air))
	d.until(LeakCheck)
	for _, then := range []Topic{HoseAfter, LeftInVessel, EscapedAtCap} {
		if !before(d.job, 0, Capped, then) {
			t.Errorf("%v is asked before the adapter is capped", then)
		}
	}
}

// A top-up round is under the same pressure as the first.
func TestFalseWord04TopUpIsVentedToo(t *testing.T) {
	air := script{Filler: {"pressurised"}, VesselRating: {"100 kPa"}}
	for name, sc := range map[string]script{
		"drain port": small.with(air).with(script{
			LoadedAmount: {"560", "165"}, LeftInVessel: {"0", "0"}, EscapedAtCap: {"0", "0"}, EscapedAmount: {"60", "80"}, Decision: {"add", "accept"},
		}),
		"level port": level.with(air).with(script{
			LevelWeeps: {"not_yet", "weeps"}, LoadedAmount: {"500", "60"}, LeftInVessel: {"0", "0"}, OverflowCaught: {"0", "0"}, Decision: {"add", "accept"},
		}),
	} {
		d := newDrive(t, sc)
		d.until(TagOff)
		if !before(d.job, 1, PressureSafe, FillEnded) || !before(d.job, 1, PressureOff, LeftInVessel) {
			t.Errorf("%s: the second push has not all the cautions of the first", name)
		}
	}
}

func TestFalseWord04UnratedVesselIsOfferedNoPressure(t *testing.T) {
	d := newDrive(t, small.with(script{Filler: {"pressurised"}}))
	s := d.until(PressureSafe)
	if s.has(PushPressure) {
		t.Error("a pressure was asked for of a vessel without a rating")
	}
	if ask := asked(t, s, PressureSafe).AskText(s); !strings.Contains(ask, "NO air") || !strings.Contains(ask, "hand pump") {
		t.Errorf("%q does not say to use a hand pump", ask)
	}
	d = newDrive(t, small.with(script{Filler: {"pressurised"}, VesselRating: {"100 kPa"}, PushPressure: {"40 kPa"}}))
	s = d.until(PressureSafe)
	if ask := asked(t, s, PressureSafe).AskText(s); !strings.Contains(ask, "40 kPa") || !strings.Contains(ask, "100 kPa") {
		t.Errorf("%q does not name the pressure and its limit", ask)
	}
}

// A pressure that is corrected before the push makes the caution void that named
// another, and a limit that falls below it asks for the pressure again.
func TestFalseWord04CautionNamesThePressureThatIsUsed(t *testing.T) {
	d := newDrive(t, level.with(script{Filler: {"pressurised"}, VesselRating: {"100 kPa"}, PushPressure: {"80 kPa", "40 kPa"}}))
	d.until(FillReading)
	d.correct(PushPressure, 0, 0, "60 kPa")
	s := d.state()
	if ask := asked(t, s, PressureSafe).AskText(s); !strings.Contains(ask, "60 kPa") {
		t.Errorf("%q", ask)
	}
	d.until(FillReading)
	s = d.correct(VesselRating, 0, 0, "50 kPa")
	asked(t, s, PushPressure)
}

// A level port that was filled under air before it was asked for the cautions is
// not opened again for them.
func TestFalseWord04FinishedLevelPortStaysFinished(t *testing.T) {
	d := newDrive(t, level.with(script{Filler: {"pressurised"}, VesselRating: {"100 kPa"}}))
	d.until(LeakCheck)
	var old []Entry
	for _, e := range d.job.Entries {
		if e.Topic != PressureSafe && e.Topic != PressureOff {
			e.Seq = len(old) + 1
			old = append(old, e)
		}
	}
	s := Fold(Job{ID: d.job.ID, Started: d.job.Started, Entries: old}, Offers{})
	asked(t, s, LeakCheck)
}

// Jobs of before asked what is left before the vessel was vented: they count
// as they stand, and nothing is asked again.
func TestFalseWord04LeftOverBeforeTheVentCounts(t *testing.T) {
	d := newDrive(t, small)
	now := d.until(Decision)
	var early, late []Entry
	for _, e := range d.job.Entries {
		if e.Topic == PressureOff || e.Topic == Capped {
			late = append(late, e)
			continue
		}
		if e.Topic == EscapedAtCap {
			early, late = append(early, late...), nil
		}
		early = append(early, e)
	}
	for i := range early {
		early[i].Seq = i + 1
	}
	then := Fold(Job{ID: d.job.ID, Started: d.job.Started, Entries: early}, Offers{})
	if p := asked(t, then, Decision); p.Strikes != 0 {
		t.Errorf("asked again: %+v", p)
	}
	near(t, "in the unit", verdictOf(t, then, 0).InUnit.Nominal, verdictOf(t, now, 0).InUnit.Nominal, 1e-9)
}
