package tui

// This file plays jobs to their end with the coach of the demo on, in every
// size: it speaks of each question, and of none once there is none.

import (
	"fmt"
	"maps"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/text"
)

// coachedJobs are answers that lead through each kind of job; what is not named
// is as in the small job.
func coachedJobs() map[string]map[job.Topic]string {
	with := func(more map[job.Topic]string) map[job.Topic]string {
		all := maps.Clone(typedFor)
		maps.Copy(all, more)
		return all
	}
	return map[string]map[job.Topic]string{
		"drain port":    with(nil),
		"level port":    with(map[job.Topic]string{job.FillPath: "2", job.LoadedAmount: "600", job.LeftInVessel: "30"}),
		"dry start":     with(map[job.Topic]string{job.DryStart: "2", job.LoadedAmount: "720", job.LetOutAmount: "50"}),
		"hybrid":        with(map[job.Topic]string{job.DriveKind: "2"}),
		"under air":     with(map[job.Topic]string{job.Filler: "2", job.VesselRating: "100"}),
		"chips":         with(map[job.Topic]string{job.MagnetLook: "3", job.ChipsDecision: "1"}),
		"moved by hand": with(map[job.Topic]string{job.MagnetLook: "3", job.ChipsDecision: "2"}),
		"wrong box":     with(map[job.Topic]string{job.DrainedAmount: "1900", job.WrongBoxDecision: "1"}),
		"right box": with(map[job.Topic]string{job.DrainedAmount: "1900", job.WrongBoxDecision: "2",
			job.BasisWhy: "the book is wrong"}),
		"far below": with(map[job.Topic]string{job.DrainedAmount: "200|100", job.LookedAgain: "2|3", job.Basis: "2",
			job.BasisWhy: "lost", job.Decision: "2", job.LeftWhy: "what was lost is not known"}),
		"water":   with(map[job.Topic]string{job.OilLook: "3"}),
		"hot oil": with(map[job.Topic]string{job.OilTemperature: "55|45", job.HotOilGoOn: "1"}),
		"correction": with(map[job.Topic]string{
			job.LoadedAmount: "560|165", job.EscapedAtCap: "0", job.EscapedAmount: "60|80", job.Decision: "1",
		}),
		"let out":       with(map[job.Topic]string{job.LoadedAmount: "760", job.LetOutAmount: "130", job.Decision: "1"}),
		"left unproven": with(map[job.Topic]string{job.LoadedAmount: "480", job.Decision: "2", job.LeftWhy: "the shop is shut"}),
		"weeps after the drive": with(map[job.Topic]string{job.LeakCheck: "2|1", job.LeakedHow: "1", job.LeakedAmount: "10",
			job.WasherRecheck: "1"}),
		"weeps twice": with(map[job.Topic]string{job.LeakCheck: "2|2|1", job.LeakedHow: "4", job.WasherRecheck: "2|1"}),
		"scale alone": with(map[job.Topic]string{
			job.ScaleDivision: "1 g", job.OilDensity: "885", job.DrainedWith: "2", job.DrainedAmount: "487 g", job.LoadedWith: "2",
			job.LoadedAmount: "553 g", job.LeftWith: "2", job.LeftInVessel: "0 g", job.EscapedAtCap: "0", job.EscapedHow: "2",
			job.PadsBefore: "42 g", job.PadsAfter: "86 g",
		}),
		"US units": with(map[job.Topic]string{
			job.DisplayUnits: "2", job.Capacity: "20.3", job.OilTemperature: "68", job.DrainedAmount: "18.6", job.LoadedAmount: "21.2",
			job.EscapedAmount: "1.7",
		}),
		"imperial units": with(map[job.Topic]string{
			job.DisplayUnits: "3", job.Capacity: "21.1", job.DrainedAmount: "19.4", job.LoadedAmount: "22", job.EscapedAmount: "1.8",
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
			st.app.cfg.Coach = func(p guide.Prompt) string { return fmt.Sprintf("demo: %v, %q", p.Topic, p.Ask) }
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
func (st *stage) wasAskedAll(answers map[job.Topic]string) {
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
