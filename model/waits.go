package model

// This file says which clock runs at a moment of the job, since when, and when
// its time is over. A clock is worked out from the times of entries, so that it
// runs on through breaks and sleep.

import "time"

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
func (s *State) Wait() (Wait, bool) {
	p, ok := s.Next()
	if !ok {
		return Wait{}, false
	}
	switch p.Topic {
	case DripReading:
		return s.dripWait()
	case LookedAgain:
		return s.waitSince(p.Place.of(DrainedMore), settleWait, "oil left to stand for", "look again: more in the pan, water under it?")
	case LevelWeeps:
		return s.waitSince(p.Place.of(FillEnded), settleWait, "settling for", "look again: does it just weep?")
	case HoseAfter, LeftWith, LeftInVessel, EscapedAtCapWith, EscapedAtCap, FloorAndExhaust, WasherFitted, PlugSeated:
		return s.waitSince(at(Capped, p.Place.Round, 0), settleWait, "capped for", "the swap can begin")
	case LeakCheck:
		if p.Place.Item > 0 {
			return s.waitSince(at(WasherRenewed, p.Place.Round, p.Place.Item-1), driveWait, "new washer in for", "driven? Look at plug and seals")
		}
		return s.waitSince(p.Place.of(TagOff), driveWait, "tag off for", "driven? Look at plug and seals")
	case WasherRecheck:
		return s.waitSince(p.Place.of(LeakCheck), coldWait, "found dry, and cooling for", "cold: look at the paper under the plug")
	}
	return Wait{}, false
}

// waitSince is a wait since the answer at a place, which may not be there.
func (s *State) waitSince(p Place, long time.Duration, what, over string) (Wait, bool) {
	e, ok := s.Answer(p)
	return Wait{Since: e.At, For: long, What: what, Over: over}, ok
}

// dripWait is over when the readings say so, or, where they tell nothing, when
// it usually is.
func (s *State) dripWait() (Wait, bool) {
	w, ok := s.waitSince(Place{Topic: PlugOut}, drainWait, "plug out, draining for", "slow drops by now?")
	if d := s.Drips(s.Updated); ok && d.Fitted {
		w.For = span(w.Since, s.Updated) + time.Duration(min(d.WaitMin, mostDripMin)*float64(time.Minute))
		w.Over = "less than " + s.Units().FormatVolume(DripsDoneML) + " is still to come"
	}
	return w, ok
}
