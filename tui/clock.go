package tui

// This file has the clock tick when it changes something on the screen.

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/sheet"
	"garage/tundish/tui/status"
)

// changes is when the clock will next change something on the screen, or ring: the
// next second where seconds stand there, the next minute where minutes do, each as it
// is counted from. The zero time where it changes nothing.
func (a App) changes() time.Time {
	s := a.job.state()
	if a.screen != screenJob || s == nil || a.fatal != nil {
		return time.Time{}
	}
	next := status.Next{Now: a.now}
	if next.Job(s, a.job.wait, a.job.waiting); a.overlay != nil || !a.job.on {
		return next.At
	}
	if from := a.job.words.Counted; a.job.seen != asWorth && !from.IsZero() {
		next.Count(from, time.Second)
	}
	for _, l := range a.job.sheet.Lines {
		if l.Kind == sheet.Moment {
			next.Count(l.At, time.Minute)
		}
	}
	return next.At
}

// counting reports whether a sheet is seen that goes by the status.
func (a App) counting() bool {
	return a.screen == screenJob && a.overlay == nil && a.job.on && a.job.seen != asWorth
}

// arm starts the clock where something will change before it ticks. One tick is waited
// for at a time; an older one that comes later counts for nothing.
func (a App) arm() (App, tea.Cmd) {
	next := a.changes()
	if next.IsZero() || !a.armed.IsZero() && !next.Before(a.armed) {
		return a, nil
	}
	a.armed = next
	a.ticks++
	return a, a.cfg.After(next.Sub(a.now), func(time.Time) tea.Msg { return tickMsg{a.ticks} })
}

// alarm says what the clock has just reached, "" for nothing.
func (g jobScreen) alarm(before, now time.Time) string {
	if g.Visit.Guide == nil {
		return ""
	}
	return status.Alarm(g.state(), before, now)
}
