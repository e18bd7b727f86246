package tui

// This file gives each step its own part of the screen. What a step shows
// stands in panel_*.go.

import (
	"github.com/charmbracelet/lipgloss"

	"garage/tundish/model/job"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
)

// block is a part of a panel that is shown whole or not at all. What must be
// seen goes before all else.
type block struct {
	lines []string
	must  bool
}

func must(lines ...string) block { return block{lines, true} }

func also(lines ...string) block { return block{lines, false} }

// panelOf is what a step shows under the question, most important first: what
// the wait and the findings say, then the step's own.
func panelOf(sc scene) []block {
	step := stepOf(sc)
	if sc.app.guide.finished {
		step = job.CloseOut
	}
	own := map[job.Step]func(scene) []block{
		job.Prepare: preparePanel, job.Isolate: isolatePanel, job.Drain: drainPanel, job.Measure: measurePanel,
		job.Preload: preloadPanel, job.Fill: fillPanel, job.Seat: seatPanel, job.CloseOut: closePanel,
	}[step]
	blocks := misfitBlocks(sc)
	if step != job.Drain { // which tells its wait with the readings
		blocks = append(blocks, waitBlocks(sc)...)
	}
	if step == job.CloseOut {
		blocks = append(blocks, verdictBlocks(sc)...)
	}
	blocks = append(blocks, findingBlocks(sc, step)...)
	if own != nil {
		blocks = append(blocks, own(sc)...)
	}
	return blocks
}

// stepOf is the step whose panel is shown: that of the question, or, while the
// stands are looked at again, the one that the job is at.
func stepOf(sc scene) job.Step {
	p := sc.app.guide.answer.prompt
	if p.Spec == nil {
		return sc.state.Step() // nothing is asked any more
	}
	if p.Topic == job.ResumedStands || p.Topic == job.ResumedPlug {
		return sc.state.Step()
	}
	return p.Step
}

// figureOf is the figure that matters at a step, to be read from two metres,
// and what it is: a clock while one runs.
func figureOf(sc scene) (figure, caption string) {
	if figure, caption, ok := clockFigure(sc); ok {
		return figure, caption
	}
	if sc.app.guide.finished {
		return closeFigure(sc)
	}
	switch stepOf(sc) {
	case job.Drain:
		return drainFigure(sc)
	case job.Measure:
		return measureFigure(sc)
	case job.Preload:
		return preloadFigure(sc)
	case job.Fill:
		return fillFigure(sc)
	case job.Cap, job.Seat:
		return inUnitFigure(sc)
	case job.CloseOut:
		return closeFigure(sc)
	}
	return "", ""
}

// sumBlocks are a sum with its terms, and the sources of its uncertainty; none
// where there is nothing to sum up yet.
func sumBlocks(sc scene, sum verdict.Sum) []block {
	if len(sum.Terms) == 0 {
		return nil
	}
	doubt := verdict.Sum{Doubt: sum.Doubt, Advice: sum.Advice}
	sum.Doubt, sum.Advice = nil, ""
	width := sumWidth(sc)
	return []block{also(dimLines(sc, layOut(sc.live, sum, width))...), also(dimLines(sc, layOut(sc.live, doubt, width)[1:])...)}
}

// sumWidth is how wide a sum may be behind its margin.
func sumWidth(sc scene) int { return min(sc.width-2, sumColumns) }

func dimLines(sc scene, lines []string) []string {
	return styledLines(sc.app.theme.Dim, " ", lines)
}

// styledLines are lines in a style, behind a margin.
func styledLines(style lipgloss.Style, margin string, lines []string) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = margin + style.Render(l)
	}
	return out
}

// wrapped is a text in a style, in as many lines as it takes.
func wrapped(sc scene, style lipgloss.Style, s string) []string {
	return styledLines(style, " ", text.Wrap(s, sc.width-2))
}
