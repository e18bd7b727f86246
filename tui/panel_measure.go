package tui

// This file shows what came out so far, reading by reading.

import "garage/tundish/model"

func measurePanel(sc scene) []block { return sumBlocks(sc, sc.live.UnfoldDrained()) }

func measureFigure(sc scene) (string, string) {
	v, ok := sc.live.DrainedNow()
	if !ok {
		return "", ""
	}
	caption := "came out, at 20 °C"
	if _, measured := sc.live.When(model.DrainedAmount, 0); !measured {
		caption = "in the pan at the last look, at 20 °C"
	}
	return sc.live.Units().FormatVolume(v.Nominal), caption
}
