package tui

// This file gives each step its own part of the screen. What a step shows
// stands in its own file (panel_*.go).

import (
	"garage/tundish/model"
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
		step = model.CloseOut
	}
	own := map[model.Step]func(scene) []block{
		model.Prepare: preparePanel, model.Isolate: isolatePanel, model.Drain: drainPanel, model.Measure: measurePanel,
		model.Preload: preloadPanel, model.Fill: fillPanel, model.Seat: seatPanel, model.CloseOut: closePanel,
	}[step]
	blocks := misfitBlocks(sc)
	if step != model.Drain { // which tells its wait with the readings
		blocks = append(blocks, waitBlocks(sc)...)
	}
	if step == model.CloseOut {
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
func stepOf(sc scene) model.Step {
	p := sc.app.guide.answer.prompt
	if p.Spec == nil {
		return sc.state.Step() // nothing is asked any more
	}
	if p.Topic == model.ResumedStands || p.Topic == model.ResumedPlug {
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
	case model.Drain:
		return drainFigure(sc)
	case model.Measure:
		return measureFigure(sc)
	case model.Preload:
		return preloadFigure(sc)
	case model.Fill:
		return fillFigure(sc)
	case model.Cap, model.Seat:
		return inUnitFigure(sc)
	case model.CloseOut:
		return closeFigure(sc)
	}
	return "", ""
}

// sumBlocks are an unfolded sum, and where its doubt lies; none where there is
// nothing to sum up yet.
func sumBlocks(sc scene, sum model.Sum) []block {
	if len(sum.Terms) == 0 {
		return nil
	}
	doubt := model.Sum{Doubt: sum.Doubt, Advice: sum.Advice}
	sum.Doubt, sum.Advice = nil, ""
	width := sumWidth(sc)
	return []block{also(dimLines(sc, model.Lines(sc.live, sum, width))...), also(dimLines(sc, model.Lines(sc.live, doubt, width)[1:])...)}
}

// sumWidth is how wide a sum may be behind its margin.
func sumWidth(sc scene) int { return min(sc.width-2, model.SumColumns) }

func dimLines(sc scene, lines []string) []string {
	dim := make([]string, len(lines))
	for i, l := range lines {
		dim[i] = " " + sc.app.theme.Dim.Render(l)
	}
	return dim
}
