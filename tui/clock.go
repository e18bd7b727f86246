package tui

// This file holds the clock of the wait that the job is in: when it rings, and that
// it cannot be told by a wrong clock. Clocks run from the times of entries, through
// breaks and sleep.

import (
	"fmt"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/sheet"
)

// ticks reports whether something on the sheet is counted by the clock.
func (g jobScreen) ticks() bool {
	return g.on && (g.sheet.ID == sheet.Drain || g.sheet.ID == sheet.Cap || g.sheet.ID == sheet.Seat ||
		g.sheet.ID == sheet.Later) && g.seen != asWorth
}

// clockFits reports whether this computer's clock goes with the times of the job.
func clockFits(s *guide.Guide, now time.Time) bool {
	clock, _ := s.ClockAt(now)
	return clock == guide.ClockFits
}

// Misfit says that this computer's clock does not go with a job, "" where it does.
func Misfit(s *guide.Guide, now time.Time) string {
	clock, against := s.ClockAt(now)
	if clock == guide.ClockFits {
		return ""
	}
	which, todo := "the last answer", "Set it right; no wait is timed by it."
	if !against.Equal(s.Updated) {
		which = "an earlier answer"
	}
	if clock == guide.ClockAhead {
		todo = "Set it right if it is wrong; no wait is timed by it."
	}
	const minute = "2 Jan 2006 15:04"
	return fmt.Sprintf("This computer's clock says %s; %s is of %s. %s",
		now.Format(minute), which, against.In(now.Location()).Format(minute), todo)
}

// alarm says what the clock has just reached, "" for nothing.
func (g jobScreen) alarm(before, now time.Time) string {
	if g.Visit.Guide == nil {
		return ""
	}
	return Alarm(g.state(), before, now)
}

// Alarm says what the clock of a job's wait has reached between two moments, "" for
// nothing.
func Alarm(s *guide.Guide, before, now time.Time) string {
	w, waiting := s.Wait()
	switch {
	case !waiting || !before.Before(w.Ends()) || now.Before(w.Ends()) || !clockFits(s, now):
		return ""
	case w.For < time.Minute:
		return "the wait is over: " + w.Over
	}
	return AgoWords(w.For) + " are over: " + w.Over
}

// AgoWords is a time span as a person says it.
func AgoWords(d time.Duration) string {
	switch {
	case d < time.Minute:
		return "a moment"
	case d < 2*time.Hour:
		return fmt.Sprintf("%d min", int(d.Minutes()))
	case d < 48*time.Hour:
		return fmt.Sprintf("%d h", int(d.Hours()))
	}
	return fmt.Sprintf("%d days", int(d.Hours()/24))
}
