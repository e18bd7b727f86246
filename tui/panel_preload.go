package tui

// This file shows the plan, unfolded to its parts.

import "garage/tundish/model"

func preloadPanel(sc scene) []string {
	lines := findingLines(sc)
	if note := sc.live.SharedJugNote(); note != "" && sc.app.guide.answer.prompt.Topic == model.LoadedWith {
		for _, l := range wrap(note, sc.width-2) {
			lines = append(lines, " "+sc.app.theme.Good.Render(l))
		}
	}
	return append(lines, sumLines(sc, sc.live.UnfoldPreload(sc.live.Round()))...)
}

func preloadFigure(sc scene) (string, string) {
	plan, err := sc.live.Plan(sc.live.Round())
	if err != nil || plan.Undecided {
		return "", ""
	}
	return sc.live.Units().FormatVolume(plan.PreloadML), "to pre-load"
}
