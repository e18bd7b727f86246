package sheet

// This file holds the other ways to answer a line, which are folded: a thermometer for
// how the case feels, pads or a guess for the spill; and the looks at the pan.

import (
	"slices"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// besides are the lines of a sheet that nobody needs to answer and that stand beside
// others.
func besides(g, live *guide.Guide, at At) []Line {
	var list []Line
	add := func(t job.Topic, ask string, tokens ...string) {
		p, ok := openAt(g, at, t)
		if !ok {
			return
		}
		l := newLine(g, live, nil, []guide.Prompt{p})
		l.Standing, l.Folded, l.Value = Offered, true, ""
		if ask != "" {
			l.Ask = ask
		}
		if len(tokens) > 0 {
			l.Options = slices.DeleteFunc(l.Options, func(o Option) bool { return !slices.Contains(tokens, o.Token) })
			for i := range l.Options {
				l.Options[i].Key = rune('1' + i)
			}
		}
		list = append(list, l)
	}
	switch at.ID {
	case Isolate:
		add(job.OilTemperature, "The oil, by a thermometer")
	case Drain: // none is needed, and the sheet being complete ends them
		add(job.DripReading, "")
	case Seat:
		add(job.EscapedHow, "The spill, measured another way", job.EscapePads, job.EscapeGuess)
	}
	return list
}

// openAt is the first open question of a topic on a sheet.
func openAt(g *guide.Guide, at At, t job.Topic) (guide.Prompt, bool) {
	for p, open := range g.Prompts() {
		if open && p.Topic == t && home(g, p) == at {
			return p, true
		}
	}
	return guide.Prompt{}, false
}
