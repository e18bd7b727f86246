package status

// This file says what the clock of a wait has reached, that nothing can be told by a
// wrong one, and when what is said changes next. Clocks run from the times of entries, through breaks and sleep.

import (
	"fmt"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
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

// Next finds when a screen changes next by the clock.
type Next struct {
	Now, At time.Time // At is zero where it does not
}

// Count takes up what is shown in whole units since a moment, or until it.
func (n *Next) Count(since time.Time, unit time.Duration) {
	past := n.Now.Sub(since) % unit
	if past < 0 {
		past += unit
	}
	if at := n.Now.Add(unit - past); n.At.IsZero() || at.Before(n.At) {
		n.At = at
	}
}

// Job takes up what is always shown of a job, and the wait that it is in, if any. The
// end of a wait is come to in steps of a minute, as a computer that sleeps counts no
// hours; so is somebody putting a clock right.
func (n *Next) Job(s *guide.Guide, wait guide.Wait, waiting bool) {
	if !fits(s, n.Now) {
		n.Count(n.Now.Truncate(time.Minute), time.Minute)
		return
	}
	if out, ok := s.When(job.PlugOut, 0); ok && s.UnitState() == verdict.Empty {
		n.Count(out, time.Minute)
	}
	if waiting && n.Now.Before(wait.Ends()) {
		n.Count(wait.Ends(), time.Minute)
	}
}
