package tui

// This file shows the plan, unfolded to its parts.

import (
	"garage/tundish/model/job"
)

func preloadPanel(sc scene) []block {
	var blocks []block
	if note := sc.live.SharedJugNote(); note != "" && sc.app.guide.answer.prompt.Topic == job.LoadedWith {
		blocks = append(blocks, also(wrapped(sc, sc.app.theme.Good, note)...))
	}
	return append(blocks, sumBlocks(sc, sc.live.UnfoldPreload(sc.live.Round()))...)
}

func preloadFigure(sc scene) (string, string) {
	plan, err := sc.live.Plan(sc.live.Round())
	if err != nil || plan.Undecided {
		return "", ""
	}
	return sc.live.Units().FormatVolume(plan.PreloadML), "to pre-load: so much into the vessel"
}
