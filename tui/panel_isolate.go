package tui

// This file shows, while the car is made safe, what has been seen to.

import (
	"slices"

	"garage/tundish/model"
)

func isolatePanel(sc scene) []string {
	t := sc.app.theme
	var lines []string
	if plug := sc.state.Text(model.PlugThread); plug != "" {
		lines = append(lines, " "+t.Dim.Render("plug thread ")+plug)
	}
	if key := sc.state.Text(model.PlugKey); key != "" {
		lines = append(lines, " "+t.Dim.Render("key ")+key)
	}
	lines = append(lines, seenTo(sc, model.Isolate)...)
	return append(lines, " "+t.Dim.Render("The drain plug stays shut in this step."))
}

// seenTo lists the cautions of a step that have been acknowledged, with when.
func seenTo(sc scene, step model.Step) []string {
	t := sc.app.theme
	var lines []string
	for _, e := range sc.state.Standing() {
		if p, ok := model.PromptOf(e); ok && p.Safety && p.Step == step {
			lines = append(lines, " "+t.Good.Render(t.Glyphs.Done)+" "+t.Dim.Render(e.At.Local().Format("15:04")+"  "+p.AskText(sc.state)))
		}
	}
	slices.Reverse(lines)
	return lines
}
