package tui

// This file holds the clock of the wait that the job is in: its figure, what is
// said of it, and when it rings. Clocks run from the times of entries, through
// breaks and sleep.

import (
	"fmt"
	"time"
)

// longestClock is how long a clock is worth watching; after it days count.
const longestClock = 24 * time.Hour

// clockFigure is the clock of a wait; false where none runs.
func clockFigure(sc scene) (figure, caption string, ok bool) {
	g := sc.app.guide
	past := sc.app.now.Sub(g.wait.Since)
	if !g.waiting || past > longestClock {
		return "", "", false
	}
	return clockWords(past), g.wait.What, true
}

// waitBlocks say when the wait is over, and then that it is.
func waitBlocks(sc scene) []block {
	g, t := sc.app.guide, sc.app.theme
	if !g.waiting {
		return nil
	}
	style := t.Caution
	if sc.app.now.Before(g.wait.Ends()) {
		style = t.Dim
	}
	return []block{must(" " + style.Render(g.waitWords(sc.app.now)))}
}

// waitWords say what is to be done when the wait is over, or that it is.
func (g guide) waitWords(now time.Time) string {
	if now.Before(g.wait.Ends()) {
		return "after " + agoWords(g.wait.For) + ": " + g.wait.Over
	}
	if g.wait.For < time.Minute {
		return "the wait is over: " + g.wait.Over
	}
	return agoWords(g.wait.For) + " are over: " + g.wait.Over
}

// alarm says what the clock has just reached, "" for nothing.
func (g guide) alarm(before, now time.Time) string {
	if ends := g.wait.Ends(); g.waiting && before.Before(ends) && !now.Before(ends) {
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
