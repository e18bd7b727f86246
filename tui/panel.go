package tui

// This file gives each step its own part of the screen. What a step shows
// stands in its own file (panel_*.go).

import (
	"garage/tundish/model"
)

// panelOf is what a step shows under the question: lines, most important
// first, since the last ones go when there is no room.
func panelOf(sc scene) []string {
	if sc.app.guide.finished {
		return closePanel(sc)
	}
	switch stepOf(sc) {
	case model.Prepare:
		return preparePanel(sc)
	case model.Isolate:
		return isolatePanel(sc)
	case model.Drain:
		return drainPanel(sc)
	case model.Measure:
		return measurePanel(sc)
	case model.Preload:
		return preloadPanel(sc)
	case model.Fill:
		return fillPanel(sc)
	case model.Cap:
		return capPanel(sc)
	case model.Seat:
		return seatPanel(sc)
	}
	return closePanel(sc)
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
// and what it is.
func figureOf(sc scene) (figure, caption string) {
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
		return capFigure(sc)
	case model.CloseOut:
		return closeFigure(sc)
	}
	return "", ""
}
