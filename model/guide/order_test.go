package guide

// This file holds what the order of the visits must not change: what is noted late, and
// jobs that were begun in another order.

import (
	"slices"
	"testing"

	"garage/tundish/model/ask"
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

// The distance driven is noted when the work is done. It moves what is reckoned to have
// been lost since the job before, and no decision is asked for again.
func TestOdometerAfterTheDecisionAsksNothingAnew(t *testing.T) {
	before := visits(t, levelUnit, visit{outML: 812, inML: 812, km: 100000, with: script{job.LevelWeeps: {"weeps"}}})
	d := newDrive(t, levelUnit.with(script{job.DrainedAmount: {"790"}, job.LoadedAmount: {"915"}, job.LeftInVessel: {"100"},
		job.Odometer: {"400000"}}))
	d.at = d.at.AddDate(3, 0, 0)
	d.job.Started = d.at
	d.offers.Before = before[0]
	s := d.until(job.Odometer)
	decided, off := s.SeqOf(job.Place{Topic: job.Decision}), s.ErrorML(job.Place{})
	s = d.until(job.NoTopic)
	if now := s.ErrorML(job.Place{}); !estimate.MovedOn(off, now) {
		t.Fatalf("off by %v before the distance was known and %v after: the test shows nothing", off, now)
	}
	if again := s.SeqOf(job.Place{Topic: job.Decision}); again != decided || s.Phase() != Done {
		t.Errorf("decided at %d, and again at %d; %v", decided, again, s.Phase())
	}
}

// Of a job that was begun where the way of taking a temperature was asked once, nothing
// is asked again, and what it says counts.
func TestTemperatureHowOfOlderJobs(t *testing.T) {
	d := newDrive(t, small.with(script{job.OilTemperature: {"70", "45"}, job.TemperatureHow: {job.HowFelt, job.HowMeasured}}))
	d.until(job.DrainedAmount)
	at := func(item int) int {
		return slices.IndexFunc(d.job.Entries, func(e job.Entry) bool { return e.Topic == job.TemperatureHow && e.Item == item })
	}
	taken := func() float64 {
		c := 40.0
		_, u := d.state().TemperatureOf(job.Entry{Topic: job.DrainedAmount, Value: job.Value{AtC: &c}})
		return u
	}
	near(t, "the last one counts", taken(), estimate.TempMeasuredUC, 0)
	d.job.Entries[at(0)].Value.Choice = job.HowMeasured
	last := at(1)
	d.job.Entries = slices.Delete(d.job.Entries, last, last+1)
	for i := range d.job.Entries {
		d.job.Entries[i].Seq = i + 1
	}
	asked(t, d.state(), job.DrainedAmount)
	near(t, "said once", taken(), estimate.TempMeasuredUC, 0)
}

// What was said of the hose last counts, its size or what it holds, and a size that an
// earlier job gave is on offer in place of the question.
func TestTheLastWordOnTheHoseCounts(t *testing.T) {
	d := newDrive(t, small.with(script{job.HoseBore: {"6"}, job.HoseLength: {"1.5"}}))
	s := d.until(job.VesselGraduation)
	sized := s.HoldUp()
	near(t, "6 mm × 1.5 m", sized.Nominal, 42.4, 0.05)
	s = d.tell(job.HoseHolds, "60")
	near(t, "said to hold", s.HoldUp().Nominal, 60, 0)
	asked(t, s, job.VesselGraduation)
	s = d.correct(job.HoseBore, 0, 0, "6")
	near(t, "its size after all", s.HoldUp().Nominal, sized.Nominal, 1e-9)

	next := newDrive(t, nil)
	next.offers = Offers{Offers: ask.Offers{Answers: d.until(job.NoTopic).Facts()}}
	next.seen = func(_ *Guide, p Prompt) {
		if p.Topic == job.HoseHolds {
			t.Error("what the hose holds is asked, though its size is known")
		}
	}
	next.until(job.AtHand)
}
