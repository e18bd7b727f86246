//go:build unix

package main

// This file does two jobs of one unit with the real program, the second of them with
// a break, and checks that all that speaks of a job says the same of it: each has to
// fold it after the unit's earlier ones.

import (
	"encoding/json"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"garage/tundish/cmd/tundish/internal/screen"
)

// stands is what a command says of a job.
type stands struct {
	Job       string `json:"job"`
	ID        string `json:"id"`
	Phase     string `json:"phase"`
	UnitState string `json:"unit_state"`
	Odds      int    `json:"odds"`
}

// prints runs the program to its end.
func (o *owner) prints(args ...string) []byte {
	o.t.Helper()
	cmd := exec.Command(screen.Build(o.t, "garage/tundish/cmd/tundish"), args...)
	cmd.Env = o.env
	out, err := cmd.Output()
	if err != nil {
		o.t.Fatalf("%s: %v", strings.Join(args, " "), err)
	}
	return out
}

// read reads what the program prints as JSON.
func (o *owner) read(into any, args ...string) {
	o.t.Helper()
	if err := json.Unmarshal(o.prints(args...), into); err != nil {
		o.t.Fatalf("%s: %v", strings.Join(args, " "), err)
	}
}

// leave ends the program; again starts it, up to something on the screen.
func (o *owner) leave() {
	o.t.Helper()
	o.s.Press(screen.CtrlC)
	if code := o.s.WaitExit(); code != exitDone {
		o.t.Errorf("exit code %d", code)
	}
}

func (o *owner) again(until string) {
	o.t.Helper()
	o.s = screen.Start(o.t, screen.Build(o.t, "garage/tundish/cmd/tundish"), screen.Options{Cols: 80, Rows: 24, Env: o.env})
	o.s.WaitFor(until)
}

func TestSecondJobOfAUnit(t *testing.T) {
	t.Parallel()
	o := begin(t, smallJob(), screen.Options{Cols: 80, Rows: 24})
	o.upTo("")
	o.leave()
	var first []stands
	o.read(&first, "jobs", "--json")

	o.again("Which job?")
	o.s.Type("2")
	o.s.Press(screen.Enter)
	o.s.WaitFrame("the second job", func(rows []string) bool { return !strings.Contains(strings.Join(rows, "\n"), "Which job?") })
	o.answers = smallJob()
	o.upTo("Pre-load")
	o.leave()
	o.again("Back again") // the only one that is open
	o.upTo("")
	o.leave()

	var listed, told []stands
	o.read(&listed, "jobs", "--json")
	if len(first) != 1 || len(listed) != 2 || listed[1] != first[0] {
		t.Fatalf("jobs: %+v after the first, %+v after the second", first, listed)
	}
	var history struct{ Jobs []stands }
	o.read(&history, "history", "last", "--json")
	told = history.Jobs
	if len(told) != 2 {
		t.Fatalf("history: %+v", told)
	}
	shownInList := string(o.prints("jobs"))
	for i, want := range listed {
		if told[i].Job != want.ID || told[i].UnitState != want.UnitState {
			t.Errorf("the history says %+v, the list %+v", told[i], want)
		}
		var record struct{ Figures stands }
		o.read(&record, "summary", want.ID, "--format", "json")
		if record.Figures.UnitState != want.UnitState || record.Figures.Phase != want.Phase {
			t.Errorf("the record says %+v, the list %+v", record.Figures, want)
		}
		words := string(o.prints("summary", want.ID, "--format", "txt"))
		if line := lineWith(shownInList, want.ID); !strings.Contains(line, stateIn(words)) || stateIn(words) == "" {
			t.Errorf("the record says %q, the list %q", stateIn(words), line)
		}
	}
	if !slices.ContainsFunc(listed, func(s stands) bool { return s.Odds > 0 }) {
		t.Errorf("no odds in the list: %+v", listed)
	}
}

// lineWith is the line of a text that holds a word.
func lineWith(text, word string) string {
	for line := range strings.Lines(text) {
		if strings.Contains(line, word) {
			return strings.TrimSpace(line)
		}
	}
	return ""
}

// stateIn is the state of the unit that a record states, with its odds.
func stateIn(record string) string {
	state, _, _ := strings.Cut(lineWith(record, "LIKELY"), " · ")
	return strings.TrimSpace(state)
}
