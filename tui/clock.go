package tui

// This file holds the clock of the wait that the job is in: when it ticks, and when it rings.

import (
	"time"

	"garage/tundish/model/sheet"
	"garage/tundish/tui/status"
)

// ticks reports whether something on the sheet is counted by the clock.
func (g jobScreen) ticks() bool {
	return g.on && (g.sheet.ID == sheet.Drain || g.sheet.ID == sheet.Cap || g.sheet.ID == sheet.Seat ||
		g.sheet.ID == sheet.Later) && g.seen != asWorth
}

// alarm says what the clock has just reached, "" for nothing.
func (g jobScreen) alarm(before, now time.Time) string {
	if g.Visit.Guide == nil {
		return ""
	}
	return status.Alarm(g.state(), before, now)
}
