package tui

// This file shows what the steps have that need little: what has been seen to,
// what came out, the plan, what is needed at hand to seat the plug.

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

func preloadPanel(sc scene) []block {
	var blocks []block
	if note := sc.live.SharedJugNote(); note != "" && sc.app.guide.answer.prompt.Topic == job.LoadedWith {
		blocks = append(blocks, also(wrapped(sc, sc.app.theme.Good, note)...))
	}
	return append(blocks, sumBlocks(sc, sc.live.UnfoldPreload(sc.live.Round()))...)
}

func preloadFigure(sc scene) (string, string) {
	plan, err := sc.live.Plan(sc.live.Round())
	if err != nil || plan.Undecided {
		return "", ""
	}
	return sc.live.Units().FormatVolume(plan.PreloadML), "to pre-load: so much into the vessel"
}

func seatPanel(sc scene) []block {
	switch sc.app.guide.answer.prompt.Topic {
	case job.WasherFitted, job.PlugSeated, job.TightenedHow:
	default:
		return nil
	}
	s := sc.live
	pairs := [][2]string{}
	if w := s.Text(job.WasherKind); w != "" {
		pairs = append(pairs, [2]string{"washer", w + " (new)"})
	}
	torque := "no maker's figure noted"
	if nm, ok := s.TorqueNm(); ok {
		torque = s.Units().FormatTorque(nm)
		if src := s.Text(job.TorqueSource); src != "" {
			torque += ", from " + src
		}
	}
	pairs = append(pairs, [2]string{"torque", torque})
	return []block{also(columns(pairs, 8)...)}
}
