package tui

// This file shows the sum behind every number, with the share that each source
// of error has in its uncertainty.

import (
	"slices"

	"garage/tundish/model/guide"
	"garage/tundish/model/verdict"
)

func sumLines(sc scene) []string {
	if sc.state == nil {
		return nil
	}
	s := sc.live
	t := sc.theme
	var lines []string
	lines = append(lines, " "+t.Dim.Render(plusMinusNote(s)))
	for _, sum := range sumsOf(s) {
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

// sumsOf are the sums of a job that say something.
func sumsOf(s *guide.Guide) []verdict.Sum {
	sums := []verdict.Sum{s.UnfoldDrained(), s.UnfoldTarget()}
	for r := range s.Rounds() {
		sums = append(sums, s.UnfoldPreload(r))
	}
	r, judged := s.JudgedRound()
	sums = append(sums, s.UnfoldNet(r))
	if v, err := s.UnfoldVerdict(r); err == nil && judged {
		sums = append(sums, v)
	}
	return slices.DeleteFunc(sums, func(sum verdict.Sum) bool { return len(sum.Terms) == 0 && sum.Advice == "" })
}

// Sums are the sums of a job without a screen, a line each, in lines of at most
// sumColumns.
func Sums(s *guide.Guide) []string {
	lines := []string{plusMinusNote(s)}
	for _, sum := range sumsOf(s) {
		lines = append(lines, layOut(s, sum, sumColumns)...)
	}
	return lines
}

// plusMinusNote says what ± means, and at what temperature volumes are.
func plusMinusNote(s *guide.Guide) string {
	return "± holds 19 times in 20. Volumes are at " + s.Units().FormatTemperature(20) + "."
}
