package tui

// This file shows the plan, unfolded to its parts.

func preloadPanel(sc scene) []string {
	return append(findingLines(sc), sumLines(sc, sc.live.UnfoldPreload(sc.live.Round()))...)
}

func preloadFigure(sc scene) (string, string) {
	plan, err := sc.live.Plan(sc.live.Round())
	if err != nil || plan.Undecided {
		return "", ""
	}
	return sc.live.Units().FormatVolume(plan.PreloadML), "to pre-load"
}
