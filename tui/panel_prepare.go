package tui

// This file shows, in the first step, what one key would take over, and at its
// end what to have at hand.

import (
	"fmt"
	"strings"

	"garage/tundish/model/job"
	"garage/tundish/model/text"
)

func preparePanel(sc scene) []block {
	g, t := sc.app.guide, sc.app.theme
	if g.answer.prompt.Topic == job.AtHand {
		return []block{must(itemsOf(sc, g.state.AtHandList())...)}
	}
	if len(g.rest) < 2 || !g.answer.canTakeAll() {
		return nil
	}
	var lines []string
	shown := 0
	for _, o := range g.rest {
		item := text.Wrap(text.PadRight(o.Prompt.NameText(), nameColumns)+"  "+o.Echo, sc.width-8)
		if len(lines)+len(item) > sc.height-rowsOfAList {
			break
		}
		shown++
		for i, l := range item {
			lines = append(lines, strings.Repeat(" ", 3+2*min(i, 1))+t.Text.Render(l))
		}
	}
	head := "+ takes all of these as shown:"
	if more := len(g.rest) - shown; more > 0 {
		head = fmt.Sprintf("+ takes these, and %d more that are usual:", more)
	}
	return []block{must(append([]string{" " + t.Dim.Render(head)}, lines...)...)}
}

// rowsOfAList is what the rest of the screen takes where a list is asked.
const rowsOfAList = 14

// itemsOf is a list of things, each in as many lines as it takes.
func itemsOf(sc scene, items []string) []string {
	var lines []string
	for _, item := range items {
		for i, l := range text.Wrap(item, sc.width-6) {
			mark := "   " + sc.app.theme.Glyphs.Bullet + " "
			if i > 0 {
				mark = "     "
			}
			lines = append(lines, mark+l)
		}
	}
	return lines
}
