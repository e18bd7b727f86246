package tui

// This file shows the drain: the readings, and what is still to come.

import (
	"fmt"

	"garage/tundish/model/job"
)

func drainPanel(sc scene) []block {
	t, s := sc.app.theme, sc.state
	if _, out := s.When(job.PlugOut, 0); !out {
		return nil
	}
	d := s.Drips(sc.app.now)
	if d.Ended && !d.Fitted {
		return nil
	}
	var blocks []block
	told := d.Ended || sc.app.guide.clockFits(sc.app.now)
	if !d.Fitted || !told {
		blocks = waitBlocks(sc)
	}
	if told {
		blocks = append(blocks, must(" "+t.Text.Render(d.Text(s.Units()))))
	}
	if n := len(d.Readings); n > 0 {
		last := d.Readings[n-1]
		words := fmt.Sprintf("readings: %d, the last %s", n, s.Units().FormatVolume(last.ML))
		if last.Minutes >= 0 { // else the clock was set back since the plug came out
			words += fmt.Sprintf(" after %.0f min", last.Minutes)
		}
		blocks = append(blocks, also(" "+t.Dim.Render(words)))
	}
	return blocks
}

// drainFigure is how long it drained, once it has.
func drainFigure(sc scene) (string, string) {
	out, ok := sc.state.When(job.PlugOut, 0)
	end, ended := sc.state.When(job.DripsEnded, 0)
	if !ok || !ended || end.Before(out) {
		return "", ""
	}
	return clockWords(end.Sub(out)), "drained for"
}
