package tui

// This file holds the clock of the wait that the job is in: its figure, what is
// said of it, when it rings, and that it cannot be told by a wrong clock. Clocks run from the times of entries, through
// breaks and sleep.

import (
	"fmt"
	"time"

	"garage/tundish/model/guide"
)

// longestClock is how long a clock is worth watching; after it days count.
const longestClock = 24 * time.Hour

// clockFigure is the clock of a wait; false where none runs.
func clockFigure(sc scene) (figure, caption string, ok bool) {
	g := sc.app.guide
	past := sc.app.now.Sub(g.wait.Since)
	if !g.timed(sc.app.now) || past > longestClock {
		return "", "", false
	}
	return clockWords(past), g.wait.What, true
}

// clockFits reports whether this computer's clock goes with the times of the job.
func (g guideScreen) clockFits(now time.Time) bool {
	clock, _ := g.state.ClockAt(now)
	return clock == guide.ClockFits
}

// timed reports whether a wait runs whose time can be told; over, whether it is
// over.
func (g guideScreen) timed(now time.Time) bool { return g.waiting && g.clockFits(now) }
func (g guideScreen) over(now time.Time) bool  { return g.timed(now) && !now.Before(g.wait.Ends()) }

// misfitWords say that this computer's clock does not go with the job, "" where it
// does.
func (g guideScreen) misfitWords(now time.Time) string {
	clock, against := g.state.ClockAt(now)
	if clock == guide.ClockFits {
		return ""
	}
	which, todo := "the last answer", "Set it right; no wait is timed by it."
	if !against.Equal(g.state.Updated) {
		which = "an earlier answer"
	}
	if clock == guide.ClockAhead {
		todo = "Set it right if it is wrong; no wait is timed by it."
	}
	const minute = "2 Jan 2006 15:04"
	return fmt.Sprintf("This computer's clock says %s; %s is of %s. %s",
		now.Local().Format(minute), which, against.Local().Format(minute), todo)
}

// misfitBlocks say it on the screen.
func misfitBlocks(sc scene) []block {
	words := sc.app.guide.misfitWords(sc.app.now)
	if words == "" {
		return nil
	}
	return []block{must(wrapped(sc, sc.app.theme.Danger, words)...)}
}

// waitBlocks say when the wait is over, and then that it is.
func waitBlocks(sc scene) []block {
	g, t := sc.app.guide, sc.app.theme
	if !g.waiting {
		return nil
	}
	style := t.Dim
	if g.over(sc.app.now) {
		style = t.Caution
	}
	return []block{must(" " + style.Render(g.waitWords(sc.app.now)))}
}

// waitWords say what is to be done when the wait is over, or that it is.
func (g guideScreen) waitWords(now time.Time) string {
	if !g.over(now) {
		return "after " + agoWords(g.wait.For) + ": " + g.wait.Over
	}
	if g.wait.For < time.Minute {
		return "the wait is over: " + g.wait.Over
	}
	return agoWords(g.wait.For) + " are over: " + g.wait.Over
}

// alarm says what the clock has just reached, "" for nothing.
func (g guideScreen) alarm(before, now time.Time) string {
	if before.Before(g.wait.Ends()) && g.over(now) {
		return g.waitWords(now)
	}
	return ""
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

// clockWords is a running clock: minutes and seconds, hours when they count.
func clockWords(d time.Duration) string {
	d = max(d, 0)
	if d >= time.Hour {
		return fmt.Sprintf("%d:%02d:%02d", int(d.Hours()), int(d.Minutes())%60, int(d.Seconds())%60)
	}
	return fmt.Sprintf("%d:%02d", int(d.Minutes()), int(d.Seconds())%60)
}
