package tui

// This file shows the wait after the adapter is capped.

import "garage/tundish/model"

func capPanel(sc scene) []string {
	t := sc.app.theme
	lines := findingLines(sc)
	if _, ok := sc.state.When(model.Capped, sc.state.Round()); ok {
		lines = append(lines, " "+t.Dim.Render("Let it stand 5 to 10 minutes. Push warm, swap cool: less escapes."))
	}
	return lines
}

// capFigure is the clock since the adapter was capped.
func capFigure(sc scene) (string, string) {
	at, ok := sc.state.When(model.Capped, sc.state.Round())
	if !ok {
		return "", ""
	}
	until := sc.app.now
	if end, ok := sc.state.When(model.PlugSeated, sc.state.Round()); ok {
		until = end
	}
	return clockWords(until.Sub(at)), "capped for"
}
