package tui

// This file shows the drain: the readings, and what is still to come.

import (
	"fmt"

	"garage/tundish/model"
)

func drainPanel(sc scene) []block {
	t, s := sc.app.theme, sc.state
	if _, out := s.When(model.PlugOut, 0); !out {
		return nil
	}
	d := s.Drips(sc.app.now)
	if d.Ended && !d.Fitted {
		return nil
	}
	var blocks []block
	if !d.Fitted {
		blocks = waitBlocks(sc)
	}
	blocks = append(blocks, must(" "+t.Text.Render(d.Text(s.Units()))))
	if n := len(d.Readings); n > 0 {
		last := d.Readings[n-1]
		blocks = append(blocks, also(" "+t.Dim.Render(fmt.Sprintf("readings: %d, the last %s after %.0f min", n, s.Units().FormatVolume(last.ML), last.Minutes))))
	}
	return blocks
}

// drainFigure is how long it drained, once it has.
func drainFigure(sc scene) (string, string) {
	out, ok := sc.state.When(model.PlugOut, 0)
	end, ended := sc.state.When(model.DripsEnded, 0)
	if !ok || !ended {
		return "", ""
	}
	return clockWords(end.Sub(out)), "drained for"
}
