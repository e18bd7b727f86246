package tui

// This file shows the sum behind every number, with the share that each source
// of error has in its uncertainty.

import (
	"garage/tundish/tui/sums"
)

func sumLines(sc scene) []string {
	if sc.state == nil {
		return nil
	}
	s := sc.live
	t := sc.theme
	var lines []string
	lines = append(lines, " "+t.Dim.Render(sums.Note(s)))
	for _, sum := range sums.Of(s) {
		lines = append(lines, "")
		for i, l := range sums.Lines(s, sum, min(sc.width-2, sums.Columns)) {
			if i == 0 {
				l = t.Strong.Render(l)
			}
			lines = append(lines, " "+l)
		}
	}
	return lines
}
