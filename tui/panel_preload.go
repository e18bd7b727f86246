package tui

// This file shows the plan, unfolded to its parts.

import (
	"garage/tundish/model/job"
	"garage/tundish/model/text"
)

func preloadPanel(sc scene) []block {
	var blocks []block
	if note := sc.live.SharedJugNote(); note != "" && sc.app.guide.answer.prompt.Topic == job.LoadedWith {
		blocks = append(blocks, noteBlock(sc, note))
	}
	return append(blocks, sumBlocks(sc, sc.live.UnfoldPreload(sc.live.Round()))...)
}

// noteBlock is a good word, in as many lines as it takes.
func noteBlock(sc scene, note string) block {
	var b block
	for _, l := range text.Wrap(note, sc.width-2) {
		b.lines = append(b.lines, " "+sc.app.theme.Good.Render(l))
	}
	return b
}

func preloadFigure(sc scene) (string, string) {
	plan, err := sc.live.Plan(sc.live.Round())
	if err != nil || plan.Undecided {
		return "", ""
	}
	return sc.live.Units().FormatVolume(plan.PreloadML), "to pre-load: so much into the vessel"
}
