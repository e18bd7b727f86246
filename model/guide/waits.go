package guide

// This file says which clock runs at a moment of the job, since when, and when
// its time is over. A clock is worked out from the times of entries, so that it
// runs on through breaks and sleep.

import (
	"time"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// Wait is a time that should pass before the question that is asked is
// answered.
type Wait struct {
	Since time.Time
	For   time.Duration
	What  string // what the clock counts
	Over  string // what to do when the time is over
}

// Ends is when the time is over.
func (w Wait) Ends() time.Time { return w.Since.Add(w.For) }

const mostDripMin = 24 * 60.0 // nobody waits longer for drips

// Wait is the wait that the job is in; false where nothing is waited for.
func (s *Guide) Wait() (Wait, bool) {
	p, ok := s.Next()
	if !ok {
		return Wait{}, false
	}
	switch p.Topic {
	case job.MagnetLook, job.OilLook, job.DripReading:
		return s.dripWait()
	case job.LookedAgain:
		return s.waitSince(p.Place.Of(job.DrainedAmount), verdict.SettleWait, "oil left to stand for",
			"look again: more in the pan, water under it?")
	case job.LevelWeeps:
		return s.waitSince(p.Place.Of(job.FillEnded), verdict.SettleWait, "settling for", "look again: does it just weep?")
	case job.LeftWith, job.LeftInVessel, job.FloorAndExhaust, job.WasherFitted, job.PlugSeated:
		return s.waitSince(job.At(job.Capped, p.Place.Round, 0), verdict.SettleWait, "capped for", "the swap can begin")
	case job.LeakCheck:
		if p.Place.Item > 0 {
			return s.waitSince(job.At(job.WasherRenewed, p.Place.Round, p.Place.Item-1), verdict.DriveWait, "new washer in for",
				"driven? Look at plug and seals")
		}
		return s.waitSince(p.Place.Of(job.TagOff), verdict.DriveWait, "tag off for", "driven? Look at plug and seals")
	case job.WasherRecheck:
		return s.waitSince(p.Place.Of(job.LeakCheck), verdict.ColdWait, "found dry, and cooling for",
			"cold: look at the paper under the plug")
	}
	return Wait{}, false
}

// waitSince is a wait since the answer at a place, which may not be there.
func (s *Guide) waitSince(p job.Place, long time.Duration, what, over string) (Wait, bool) {
	e, ok := s.Answer(p)
	return Wait{Since: e.Happened(), For: long, What: what, Over: over}, ok
}

// dripWait is over when the readings say so, or, where they tell nothing or that
// it takes long, when it usually is: what still drips then stays inside, and is
// counted.
func (s *Guide) dripWait() (Wait, bool) {
	w, ok := s.waitSince(job.Place{Topic: job.PlugOut}, s.DrainWait(), "plug out, draining for", "slow drops by now?")
	d := s.Drips(s.Updated)
	told := verdict.Span(w.Since, s.Updated) + time.Duration(min(d.WaitMin, mostDripMin)*float64(time.Minute))
	if ok && d.Fitted && told <= w.For {
		w.For = told
		w.Over = "less than " + s.Units().FormatVolume(estimate.DripsDoneML) + " is still to come"
	}
	return w, ok
}
