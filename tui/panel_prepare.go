package tui

// This file shows, in the first step, what one key would take over, and at its
// end what to have at hand.

import (
	"strings"

	"garage/tundish/model"
)

func preparePanel(sc scene) []block {
	g, t := sc.app.guide, sc.app.theme
	if g.answer.prompt.Topic == model.AtHand {
		return []block{must(itemsOf(sc, g.state.AtHandList())...)}
	}
	if len(g.rest) < 2 || !g.answer.canTakeAll() {
		return nil
	}
	lines := []string{" " + t.Dim.Render("+ takes all of these as shown:")}
	for _, o := range g.rest {
		for i, l := range wrap(padRight(o.Prompt.NameText(), nameColumns)+"  "+o.Echo, sc.width-8) {
			lines = append(lines, strings.Repeat(" ", 3+2*min(i, 1))+t.Text.Render(l))
		}
	}
	return []block{must(lines...)}
}

// itemsOf is a list of things, each in as many lines as it takes.
func itemsOf(sc scene, items []string) []string {
	var lines []string
	for _, item := range items {
		for i, l := range wrap(item, sc.width-6) {
			mark := "   " + sc.app.theme.Glyphs.Bullet + " "
			if i > 0 {
				mark = "     "
			}
			lines = append(lines, mark+l)
		}
	}
	return lines
}
