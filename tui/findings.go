package tui

// This file shows what the model found that the owner must know at a step.

// findingLines are the findings of the step shown: what is so, and what to do.
func findingLines(sc scene) []string {
	t := sc.app.theme
	var lines []string
	for _, f := range sc.live.FindingsAt(stepOf(sc), sc.live.Round()) {
		for i, l := range wrap(f.Text, sc.width-5) {
			mark := " " + t.Caution.Render("!") + "  "
			if i > 0 {
				mark = "    "
			}
			lines = append(lines, mark+t.Strong.Render(l))
		}
		for _, l := range wrap(f.Do, sc.width-5) {
			lines = append(lines, "    "+t.Text.Render(l))
		}
	}
	return lines
}
