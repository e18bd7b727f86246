//go:build unix

package main

import (
	"strings"
	"testing"
	"time"
)

// A job that is clicked through while the clock stands still says in the line
// mode, and in its record, what was not waited for; it is accepted, not proven.
func TestFalseWord10ClickedThroughInTheLineMode(t *testing.T) {
	t.Parallel()
	path := t.TempDir() + "/jobs.db"
	o := &owner{t: t, answers: smallJob()}
	o.answers["The case feels"] = []string{"1"}
	asked := 0
	said := talk(t, path, noon, func(question string) (string, bool) {
		asked++
		return lineAnswer(question, o), asked < 200
	})
	for _, want := range []string{
		"Drained at 15 °C", "Drained for less than 1 min; it takes", "Capped for less than 1 min",
		"Looked for leaks after less than 1 min", "ACCEPTED, LIKELY",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("never said: %s", want)
		}
	}
	if strings.Contains(said, "FILLED, PROVEN") {
		t.Error("called proven")
	}
	if took := headOf(theJob(t, path)).Updated.Sub(noon); took > time.Minute {
		t.Fatalf("the job took %v", took)
	}
	_, record, problem := runHere(t, nil, "summary", "last", "--store", path, "--format", "txt")
	record = strings.Join(strings.Fields(record), " ")
	for _, want := range []string{
		"Drained for less than 1 min, from plug out", "Drained at 15 °C: cold", "Drained for less than 1 min; it takes",
		"Capped for less than 1 min; bubbles need 5 min",
		"ACCEPTED, LIKELY", "done faster than it can be done",
	} {
		if !strings.Contains(record, want) {
			t.Errorf("the record does not say: %s", want)
		}
	}
	if t.Failed() {
		t.Log(record, problem)
	}
}
