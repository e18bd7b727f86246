package guide

import (
	"testing"
	"time"

	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// Which clock runs where, and since when. The lengths of the waits are common
// practice, no source.
func TestWaits(t *testing.T) {
	for _, c := range []struct {
		name  string
		lines script
		at    job.Topic
		since job.Topic
		long  time.Duration
	}{
		{"the drain", small, job.DripReading, job.PlugOut, 14 * time.Minute}, // of an oil that is not known, at 20 °C
		{"a second look at too little", small.with(script{job.DrainedAmount: {"200"}}), job.LookedAgain, job.DrainedAmount,
			10 * time.Minute},
		{"the level settles", small.with(script{job.FillPath: {"level_port"}}), job.LevelWeeps, job.FillEnded, 10 * time.Minute},
		{"the capped oil settles", small, job.LeftInVessel, job.Capped, 10 * time.Minute},
		{"and goes on settling", small, job.PlugSeated, job.Capped, 10 * time.Minute},
		{"the drive", small, job.LeakCheck, job.TagOff, 30 * time.Minute},
		{"the night", small, job.WasherRecheck, job.LeakCheck, 12 * time.Hour},
	} {
		s := newDrive(t, c.lines).until(c.at)
		w, ok := s.Wait()
		since, answered := s.When(c.since, 0)
		if !ok || !answered || w.Since != since || w.For != c.long || w.Ends() != since.Add(c.long) {
			t.Errorf("%s: waits %v since %v (%v), want %v since %v", c.name, w.For, w.Since, ok, c.long, since)
		}
	}
}

// After a new washer the drive is waited for again, from the new washer on.
func TestWaitAfterANewWasher(t *testing.T) {
	d := newDrive(t, small.with(script{job.LeakCheck: {"weeps", "dry"}, job.LeakedHow: {job.EscapeDamp}}))
	d.until(job.WasherRenewed)
	if w, ok := d.state().Wait(); ok {
		t.Errorf("waits %v with the car up", w)
	}
	s := d.until(job.LeakCheck)
	renewed, _ := s.When(job.WasherRenewed, 0)
	if w, ok := s.Wait(); !ok || w.Since != renewed || w.For != verdict.DriveWait {
		t.Errorf("waits %+v (%v), want half an hour since %v", w, ok, renewed)
	}
}

// Where the readings tell when the drips are done, that is waited for. By hand:
// 600·e^(−t/2) = 5 at t = 2·ln 120 = 9.575 min.
func TestWaitForDripsGoesByTheReadings(t *testing.T) {
	d, out := dripping(t, settling(8)...)
	w, ok := d.state().Wait()
	if !ok || w.Since != out {
		t.Fatalf("waits %+v (%v), want a wait since %v", w, ok, out)
	}
	near(t, "minutes", w.For.Minutes(), 9.575, 0.05)
}

func TestNothingIsWaitedForElsewhere(t *testing.T) {
	for _, topic := range []job.Topic{job.Capacity, job.TagAndKey, job.DrainedAmount, job.PlanAccepted, job.Capped, job.EscapedAmount,
		job.Decision, job.NoTopic} {
		if w, ok := newDrive(t, small).until(topic).Wait(); ok {
			t.Errorf("%v: waits %+v", topic, w)
		}
	}
}
