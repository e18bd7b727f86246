package tui

// This file shows the drain: the running clock, the readings, what is still to
// come.

import (
	"fmt"
	"time"

	"garage/tundish/model"
)

func drainPanel(sc scene) []string {
	t, s := sc.app.theme, sc.state
	if _, ok := s.When(model.PlugOut, 0); !ok {
		return findingLines(sc)
	}
	d := s.Drips(sc.app.now)
	lines := []string{" " + t.Text.Render(d.Text(s.Units()))}
	if n := len(d.Readings); n > 0 {
		last := d.Readings[n-1]
		lines = append(lines, " "+t.Dim.Render(fmt.Sprintf("%d readings, the last %s after %.0f min", n, s.Units().FormatVolume(last.ML), last.Minutes)))
	}
	return append(lines, findingLines(sc)...)
}

// drainFigure is the clock since the plug came out.
func drainFigure(sc scene) (string, string) {
	out, ok := sc.state.When(model.PlugOut, 0)
	if !ok {
		return "", ""
	}
	until := sc.app.now
	if end, ok := sc.state.When(model.DripsEnded, 0); ok {
		until = end
	}
	return clockWords(until.Sub(out)), "plug out, draining for"
}

// alarm says what a clock has just reached, "" for nothing. Clocks run from the
// times of entries, through breaks and sleep.
func (g guide) alarm(before, now time.Time) string {
	if g.state == nil {
		return ""
	}
	for _, c := range g.state.Alarms() {
		if before.Before(c.At) && !now.Before(c.At) {
			return c.Text
		}
	}
	return ""
}
