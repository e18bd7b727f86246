package tui

// This file shows, while the car is made safe, what has been seen to.

import (
	"slices"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/text"
)

func isolatePanel(sc scene) []block {
	t := sc.app.theme
	blocks := []block{also(" " + t.Dim.Render("The drain plug stays shut in this step."))}
	if plug := sc.state.Text(job.PlugThread); plug != "" {
		blocks = append(blocks, also(" "+t.Dim.Render("plug thread ")+plug))
	}
	if key := sc.state.Text(job.PlugKey); key != "" {
		blocks = append(blocks, also(" "+t.Dim.Render("key ")+key))
	}
	return append(blocks, seenTo(sc, job.Isolate)...)
}

// seenTo lists the cautions of a step that have been acknowledged, with when.
func seenTo(sc scene, step job.Step) []block {
	t := sc.app.theme
	var blocks []block
	for _, e := range sc.state.Standing() {
		if p, ok := guide.PromptOf(e); ok && p.Safety && p.Step == step {
			blocks = append(blocks,
				also(" "+t.Good.Render(t.Glyphs.Done)+" "+t.Dim.Render(e.At.Local().Format("15:04")+"  "+text.Visible(sc.state.AskedText(e)))))
		}
	}
	slices.Reverse(blocks)
	return blocks
}
