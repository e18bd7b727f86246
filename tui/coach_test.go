package tui

// This file plays jobs to their end with the coach of the demo on, in every
// size: it speaks of each question, and of none once there is none.

import (
	"fmt"
	"maps"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model"
	"garage/tundish/model/text"
)

// coachedJobs are answers that lead through each kind of job; what is not named
// is as in the small job.
func coachedJobs() map[string]map[model.Topic]string {
	with := func(more map[model.Topic]string) map[model.Topic]string {
		all := maps.Clone(typedFor)
		maps.Copy(all, more)
		return all
	}
	return map[string]map[model.Topic]string{
		"drain port":    with(nil),
		"level port":    with(map[model.Topic]string{model.FillPath: "2", model.LoadedAmount: "600", model.LeftInVessel: "30"}),
		"dry start":     with(map[model.Topic]string{model.DryStart: "2", model.LoadedAmount: "720", model.LetOutAmount: "50"}),
		"hybrid":        with(map[model.Topic]string{model.DriveKind: "2"}),
		"under air":     with(map[model.Topic]string{model.Filler: "2", model.VesselRating: "100"}),
		"chips":         with(map[model.Topic]string{model.MagnetLook: "3", model.ChipsDecision: "1"}),
		"moved by hand": with(map[model.Topic]string{model.MagnetLook: "3", model.ChipsDecision: "2"}),
		"wrong box":     with(map[model.Topic]string{model.DrainedAmount: "1900", model.WrongBoxDecision: "1"}),
		"right box":     with(map[model.Topic]string{model.DrainedAmount: "1900", model.WrongBoxDecision: "2", model.BasisWhy: "the book is wrong"}),
		"far below":     with(map[model.Topic]string{model.DrainedAmount: "200|100", model.LookedAgain: "2|3", model.Basis: "2", model.BasisWhy: "lost", model.Decision: "2", model.LeftWhy: "what was lost is not known"}),
		"water":         with(map[model.Topic]string{model.OilLook: "3"}),
		"hot oil":       with(map[model.Topic]string{model.OilTemperature: "55|45", model.HotOilGoOn: "1"}),
		"correction": with(map[model.Topic]string{
			model.LoadedAmount: "560|165", model.EscapedAtCap: "0", model.EscapedAmount: "60|80", model.Decision: "1",
		}),
		"let out":               with(map[model.Topic]string{model.LoadedAmount: "760", model.LetOutAmount: "130", model.Decision: "1"}),
		"left unproven":         with(map[model.Topic]string{model.LoadedAmount: "480", model.Decision: "2", model.LeftWhy: "the shop is shut"}),
		"weeps after the drive": with(map[model.Topic]string{model.LeakCheck: "2|1", model.LeakedHow: "1", model.LeakedAmount: "10", model.WasherRecheck: "1"}),
		"weeps twice":           with(map[model.Topic]string{model.LeakCheck: "2|2|1", model.LeakedHow: "4", model.WasherRecheck: "2|1"}),
		"scale alone": with(map[model.Topic]string{
			model.ScaleDivision: "1 g", model.OilDensity: "885", model.DrainedWith: "2", model.DrainedAmount: "487 g", model.LoadedWith: "2",
			model.LoadedAmount: "553 g", model.LeftWith: "2", model.LeftInVessel: "0 g", model.EscapedAtCap: "0", model.EscapedHow: "2",
			model.PadsBefore: "42 g", model.PadsAfter: "86 g",
		}),
		"US units": with(map[model.Topic]string{
			model.DisplayUnits: "2", model.Capacity: "20.3", model.OilTemperature: "68", model.DrainedAmount: "18.6", model.LoadedAmount: "21.2",
			model.EscapedAmount: "1.7",
		}),
		"imperial units": with(map[model.Topic]string{
			model.DisplayUnits: "3", model.Capacity: "21.1", model.DrainedAmount: "19.4", model.LoadedAmount: "22", model.EscapedAmount: "1.8",
		}),
	}
}

func TestFalseWord14JobsEndWithTheCoachOn(t *testing.T) {
	t.Parallel()
	for name, answers := range coachedJobs() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			st := newStage(t, newMemory(), 80, 24)
			st.answers = answers
			st.app.cfg.Coach = func(p model.Prompt) string { return fmt.Sprintf("demo: %v, %q", p.Topic, p.Ask) }
			for range 300 {
				st.drawnInEverySize(!st.app.guide.finished)
				if st.app.guide.finished {
					st.wasAskedAll(answers)
					return
				}
				st.answerOne()
			}
			t.Fatalf("the job does not end:\n%s", st.screen())
		})
	}
}

// wasAskedAll fails where an answer that makes the job what it is was not asked
// for, or not as often as it has answers.
func (st *stage) wasAskedAll(answers map[model.Topic]string) {
	st.t.Helper()
	for topic, row := range answers {
		if n := len(strings.Split(row, "|")); row != typedFor[topic] && st.given[topic] < n {
			st.t.Errorf("%v: asked %d times, want %d", topic, st.given[topic], n)
		}
	}
}

// drawnInEverySize fails where a screen does not fit the terminal, or the coach
// does not speak where there is a question, or speaks where there is none.
func (st *stage) drawnInEverySize(coached bool) {
	st.t.Helper()
	for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 40}} {
		app := st.app
		app.width, app.height = size[0], size[1]
		view := ansi.Strip(app.View())
		lines := strings.Split(view, "\n")
		if len(lines) != app.height {
			st.t.Fatalf("%d lines on a terminal of %d:\n%s", len(lines), app.height, view)
		}
		for _, line := range lines {
			if w := text.Width(line); w > app.width {
				st.t.Fatalf("%d columns wide on a terminal of %d: %s", w, app.width, line)
			}
		}
		if strings.Contains(view, "demo: ") != coached {
			st.t.Fatalf("the coach speaks: %v, want %v\n%s", !coached, coached, view)
		}
	}
}
