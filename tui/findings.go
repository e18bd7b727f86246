package tui

// This file shows what the model found that the owner must know at a step.

import (
	"slices"

	"garage/tundish/model"
	"garage/tundish/model/text"
)

// findingBlocks are the findings of a step: what is so, and what to do.
func findingBlocks(sc scene, step model.Step) []block {
	t := sc.app.theme
	var blocks []block
	for _, f := range findingsOf(sc, step) {
		var b block
		for i, l := range text.Wrap(f.Text, sc.width-5) {
			mark := " " + t.Caution.Render("!") + "  "
			if i > 0 {
				mark = "    "
			}
			b.lines = append(b.lines, mark+t.Strong.Render(l))
		}
		for _, l := range text.Wrap(f.Do, sc.width-5) {
			b.lines = append(b.lines, "    "+t.Text.Render(l))
		}
		b.must = true
		blocks = append(blocks, b)
	}
	return blocks
}

// findingsOf are the findings of a step but for what the question is about.
func findingsOf(sc scene, step model.Step) []model.Finding {
	return slices.DeleteFunc(sc.live.FindingsAt(step, sc.live.Round()), func(f model.Finding) bool {
		return asksAbout(sc.app.guide.answer.prompt, f.Kind)
	})
}

// asksAbout says whether a question is about a finding, and so says it already.
func asksAbout(p model.Prompt, k model.FindingKind) bool {
	if p.Spec == nil {
		return false
	}
	switch k {
	case model.ChipsFound:
		return p.Topic == model.ChipsDecision
	case model.WitnessesApart:
		return p.Topic == model.WitnessTrusted
	case model.WrongBoxDrained:
		return p.Topic == model.WrongBoxDecision
	case model.FarBelowStated, model.FarAboveStated:
		return p.Topic == model.LookedAgain
	case model.BalanceOff:
		return p.Topic == model.BalanceSuspect
	case model.LevelAgainstSums:
		return p.Topic == model.LevelLookedAgain
	}
	return false
}
