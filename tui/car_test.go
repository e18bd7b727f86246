package tui

// This file goes through the list of a car's units.

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model/guide"
	"garage/tundish/model/verdict"
	"garage/tundish/model/words"
	"garage/tundish/tui/session"
	"garage/tundish/tui/session/sessiontest"
)

func TestUnitsOfACarAreShownAndAddedTo(t *testing.T) {
	for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 40}} {
		mem := sessiontest.NewMemory()
		for id, unit := range map[string]string{"a1": "rear axle", "b2": "transfer case"} {
			if err := session.Begin(mem, id, "s1", "van", unit, morning); err != nil {
				t.Fatal(err)
			}
		}
		st := newStage(t, mem, size[0], size[1])
		sees := func(wants ...string) {
			t.Helper()
			view := ansi.Strip(st.app.View())
			for _, want := range wants {
				if !strings.Contains(view, want) {
					t.Errorf("%v: not seen: %q\n%s", size, want, view)
				}
			}
			if faults := words.Check(view); len(faults) > 0 {
				t.Error(faults)
			}
		}
		sees("All units of van")
		st.enter()
		sees("Next: rear axle. One open at a time.", "1  rear axle: AS FOUND", "2  transfer case: AS FOUND", "[ ] front axle")
		st.enter()
		sees("CAR: no other unit is open; to come: transfer case")
		st.typed("*7")
		st.enter()
		sees("The units of van")
		st.typed("3")
		st.enter()
		sees("[x] front axle", "Begin what is ticked")
		st.typed("9")
		st.enter()
		sees("to come: front axle, transfer", "van, rear axle")
		if heads := mem.Heads; len(heads) != 3 {
			t.Errorf("%d jobs", len(heads))
		}
		for _, h := range mem.Heads {
			if h.Session != "s1" || h.Vehicle != "van" {
				t.Errorf("%+v", h)
			}
		}
		st.press(tea.KeyCtrlC)
	}
}

// What holds no oil comes first in the list of jobs, then what is not proven.
func TestEmptyUnitsComeFirst(t *testing.T) {
	p := newPicker([]guide.Head{{UnitName: "c"}, {UnitName: "b", UnitState: verdict.Unproven},
		{UnitName: "a", UnitState: verdict.Empty}}, nil)
	for i, want := range []string{"EMPTY: a", "NOT PROVEN: b", "AS FOUND: c"} {
		if !strings.HasSuffix(p.items[i].label, want) {
			t.Errorf("%d is %q, want %s", i, p.items[i].label, want)
		}
	}
}
