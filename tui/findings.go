package tui

// This file shows what the model found that the owner must know at a step.

import (
	"slices"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
)

// findingBlocks are the findings of a step: what is so, and what to do.
func findingBlocks(sc scene, step job.Step) []block {
	t := sc.app.theme
	var blocks []block
	for _, f := range findingsOf(sc, step) {
		lines := append(styledLines(t.Strong, "    ", text.Wrap(f.Text, sc.width-5)), styledLines(t.Text, "    ", text.Wrap(f.Do, sc.width-5))...)
		if len(lines) > 0 { // else the screen is too small for a word
			lines[0] = " " + t.Caution.Render("!") + lines[0][2:]
		}
		blocks = append(blocks, must(lines...))
	}
	return blocks
}

// findingsOf are the findings of a step but for what the question is about.
func findingsOf(sc scene, step job.Step) []verdict.Finding {
	return slices.DeleteFunc(sc.live.FindingsAt(step, sc.live.Round()), func(f verdict.Finding) bool {
		return asksAbout(sc.app.guide.answer.prompt, f.Kind)
	})
}

// asksAbout reports whether a question is about a finding, and so says it already.
func asksAbout(p guide.Prompt, k verdict.FindingKind) bool {
	if p.Spec == nil {
		return false
	}
	switch k {
	case verdict.ChipsFound:
		return p.Topic == job.ChipsDecision
	case verdict.WitnessesApart:
		return p.Topic == job.WitnessTrusted
	case verdict.WrongBoxDrained:
		return p.Topic == job.WrongBoxDecision
	case verdict.FarBelowStated, verdict.FarAboveStated:
		return p.Topic == job.LookedAgain
	case verdict.BalanceOff:
		return p.Topic == job.BalanceSuspect
	case verdict.LevelAgainstSums:
		return p.Topic == job.LevelLookedAgain
	}
	return false
}
