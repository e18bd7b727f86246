package status

// This file says what the clock of a wait has reached, and that nothing can be told by a
// wrong one. Clocks run from the times of entries, through breaks and sleep.

import (
	"fmt"
	"time"

	"garage/tundish/model/guide"
)

// fits reports whether this computer's clock goes with the times of the job.
func fits(s *guide.Guide, now time.Time) bool {
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

// Alarm says what the clock of a job's wait has reached between two moments, "" for
// nothing.
func Alarm(s *guide.Guide, before, now time.Time) string {
	w, waiting := s.Wait()
	switch {
	case !waiting || !before.Before(w.Ends()) || now.Before(w.Ends()) || !fits(s, now):
		return ""
	case w.For < time.Minute:
		return "the wait is over: " + w.Over
	}
	return Ago(w.For) + " are over: " + w.Over
}

// Ago is a time span as a person says it.
func Ago(d time.Duration) string {
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
