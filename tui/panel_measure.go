package tui

// This file shows what came out so far, reading by reading.

import "garage/tundish/model/job"

func measurePanel(sc scene) []block { return sumBlocks(sc, sc.live.UnfoldDrained()) }

func measureFigure(sc scene) (string, string) {
	v, ok := sc.live.DrainedNow()
	if !ok {
		return "", ""
	}
	u := sc.live.Units()
	caption := "came out"
	if _, measured := sc.live.When(job.DrainedAmount, 0); !measured {
		caption = "in the pan at the last look"
	}
	return u.FormatVolume(v.Nominal), caption + ", at " + u.FormatTemperature(20)
}
