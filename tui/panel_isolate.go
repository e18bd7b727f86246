package tui

// This file shows, while the car is made safe, what has been seen to.

import "garage/tundish/model"

func isolatePanel(sc scene) []string {
	t := sc.app.theme
	var lines []string
	if plug := sc.state.Text(model.PlugThread); plug != "" {
		lines = append(lines, " "+t.Dim.Render("plug thread ")+plug)
	}
	if key := sc.state.Text(model.PlugKey); key != "" {
		lines = append(lines, " "+t.Dim.Render("key ")+key)
	}
	return append(lines, " "+t.Dim.Render("The plug stays shut in this step. The maker's manual and local rules come first."))
}
