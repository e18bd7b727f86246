package tui

// This file shows, in the first step, what one key would take over, and at its
// end what to have at hand.

import "garage/tundish/model"

func preparePanel(sc scene) []string {
	g, t := sc.app.guide, sc.app.theme
	if g.answer.prompt.Topic == model.AtHand {
		lines := []string{" " + t.Dim.Render("At hand:")}
		for _, item := range g.state.AtHandList() {
			for i, l := range wrap(item, sc.width-6) {
				mark := "   " + t.Glyphs.Bullet + " "
				if i > 0 {
					mark = "     "
				}
				lines = append(lines, mark+l)
			}
		}
		return lines
	}
	entries := g.offered()
	if len(entries) < 2 || !g.answer.canTakeAll() {
		return []string{" " + t.Dim.Render(g.answer.prompt.Part)}
	}
	lines := []string{" " + t.Dim.Render(g.answer.prompt.Part+"; + takes these as shown:")}
	job := g.job
	for _, e := range entries {
		s := model.Fold(job, g.offers)
		if p, ok := model.PromptOf(e); ok {
			lines = append(lines, "   "+t.Dim.Render(p.AskText(s)+": ")+p.Echo(s, e.Value))
		}
		job.Entries = append(job.Entries[:len(job.Entries):len(job.Entries)], e)
	}
	return lines
}
