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
	return g.on && (g.sheet.ID == sheet.Drain || g.sheet.ID == sheet.Cap || g.sheet.ID == sheet.Later) && g.seen != asWorth
}

// clockFits reports whether this computer's clock goes with the times of the job.
func (g jobScreen) clockFits(now time.Time) bool {
	clock, _ := g.state().ClockAt(now)
	return clock == guide.ClockFits
}

// over reports whether a wait whose time can be told is over.
func (g jobScreen) over(now time.Time) bool {
	return g.waiting && g.clockFits(now) && !now.Before(g.wait.Ends())
}

// misfitWords say that this computer's clock does not go with the job, "" where it
// does.
func (g jobScreen) misfitWords(now time.Time) string {
	clock, against := g.state().ClockAt(now)
	if clock == guide.ClockFits {
		return ""
	}
	which, todo := "the last answer", "Set it right; no wait is timed by it."
	if !against.Equal(g.state().Updated) {
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
	if !before.Before(g.wait.Ends()) || g.Visit.Guide == nil || !g.over(now) {
		return ""
	}
	if g.wait.For < time.Minute {
		return "the wait is over: " + g.wait.Over
	}
	return agoWords(g.wait.For) + " are over: " + g.wait.Over
}

// agoWords is a time span as a person says it.
func agoWords(d time.Duration) string {
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
