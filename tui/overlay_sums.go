package tui

// This file shows the sum behind every number, with the share that each source
// of error has in its uncertainty.

import (
	"garage/tundish/model/verdict"
)

func sumLines(sc scene) []string {
	if sc.state == nil {
		return nil
	}
	s := sc.live
	sums := []verdict.Sum{s.UnfoldDrained(), s.UnfoldTarget()}
	for r := range s.Rounds() {
		sums = append(sums, s.UnfoldPreload(r))
	}
	r, judged := s.JudgedRound()
	sums = append(sums, s.UnfoldNet(r))
	if v, err := s.UnfoldVerdict(r); err == nil && judged {
		sums = append(sums, v)
	}
	t := sc.theme
	var lines []string
	lines = append(lines, " "+t.Dim.Render("± holds 19 times in 20. Volumes are at "+s.Units().FormatTemperature(20)+"."))
	for _, sum := range sums {
		if len(sum.Terms) == 0 && sum.Advice == "" {
			continue
		}
		lines = append(lines, "")
		for i, l := range layOut(s, sum, min(sc.width-2, sumColumns)) {
			if i == 0 {
				l = t.Strong.Render(l)
			}
			lines = append(lines, " "+l)
		}
	}
	return lines
}
