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
		"drain port": with(nil),
		"level port": with(map[model.Topic]string{model.FillPath: "2", model.LoadedAmount: "600", model.LeftInVessel: "30"}),
		"dry start":  with(map[model.Topic]string{model.DryStart: "2", model.LoadedAmount: "720", model.LetOutAmount: "50"}),
		"hybrid":     with(map[model.Topic]string{model.DriveKind: "2"}),
		"under air":  with(map[model.Topic]string{model.Filler: "2", model.VesselRating: "100"}),
		"chips":      with(map[model.Topic]string{model.MagnetLook: "3"}),
		"US units":   with(map[model.Topic]string{model.DisplayUnits: "2", model.LetOutAmount: "19"}),
	}
}

func TestFalseWord14JobsEndWithTheCoachOn(t *testing.T) {
	for name, answers := range coachedJobs() {
		for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 40}} {
			t.Run(fmt.Sprintf("%s %dx%d", name, size[0], size[1]), func(t *testing.T) {
				t.Parallel()
				st := newStage(t, newMemory(), size[0], size[1])
				st.answers = answers
				st.app.cfg.Coach = func(p model.Prompt) string { return fmt.Sprintf("demo: %v, %q", p.Topic, p.Ask) }
				for range 300 {
					st.fits(size[0])
					if st.app.guide.finished {
						break
					}
					st.sees("demo: ")
					st.answerOne()
				}
				if !st.app.guide.finished {
					t.Fatalf("the job does not end:\n%s", st.screen())
				}
				if strings.Contains(st.screen(), "demo: ") {
					t.Errorf("the coach speaks of a question that is not there:\n%s", st.screen())
				}
			})
		}
	}
}

// fits fails where a line of the screen is wider than the terminal.
func (st *stage) fits(cols int) {
	st.t.Helper()
	for _, line := range strings.Split(st.screen(), "\n") {
		if w := ansi.StringWidth(line); w > cols {
			st.t.Fatalf("%d columns wide: %s", w, line)
		}
	}
}
