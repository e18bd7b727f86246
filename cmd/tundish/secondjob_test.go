//go:build unix

package main

// This file does two jobs of one unit with the real program, the second of them with
// a break, and checks that all that speaks of a job says the same of it: each has to
// fold it after the unit's earlier ones.

import (
	"slices"
	"strings"
	"testing"
)

// stands is what a command says of a job.
type stands struct {
	Job       string `json:"job"`
	ID        string `json:"id"`
	Phase     string `json:"phase"`
	UnitState string `json:"unit_state"`
	Odds      int    `json:"odds"`
}

func TestSecondJobOfAUnit(t *testing.T) {
	t.Parallel()
	j := startJSON(t, storePath(t), drainOnly())
	j.Upto("")
	j.done()
	var first []stands
	j.read(&first, "jobs", "--json")

	j.second(asLastTime(drainOnly()))
	j.Upto("preload")
	j.leave()
	j.again(asLastTime(drainOnly())) // the only one that is open
	if j.Sheet.ID != "resume" {
		t.Errorf("back at %s", j.Sheet.ID)
	}
	j.Upto("")
	j.done()

	var listed, told []stands
	j.read(&listed, "jobs", "--json")
	if len(first) != 1 || len(listed) != 2 || listed[1] != first[0] {
		t.Fatalf("jobs: %+v after the first, %+v after the second", first, listed)
	}
	var history struct{ Jobs []stands }
	j.read(&history, "history", "last", "--json")
	told = history.Jobs
	if len(told) != 2 {
		t.Fatalf("history: %+v", told)
	}
	shownInList := string(j.prints("jobs"))
	for i, want := range listed {
		if told[i].Job != want.ID || told[i].UnitState != want.UnitState {
			t.Errorf("the history says %+v, the list %+v", told[i], want)
		}
		var record struct{ Figures stands }
		j.read(&record, "summary", want.ID, "--format", "json")
		if record.Figures.UnitState != want.UnitState || record.Figures.Phase != want.Phase {
			t.Errorf("the record says %+v, the list %+v", record.Figures, want)
		}
		words := string(j.prints("summary", want.ID, "--format", "txt"))
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
