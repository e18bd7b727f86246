//go:build unix

package main

// This file counts what a job takes: answers, keys on a number pad, and visits to the
// laptop with the car up.

import (
	"strings"
	"testing"
)

// most is what a job may take up to its accepted verdict, and visits up to the tag off.
type most struct{ answers, keys, visits int }

// holdsCounts counts a job up to its accepted verdict, and on to the tag off.
func holdsCounts(t *testing.T, j *jsonJob, want most) {
	t.Helper()
	j.Upto("close.wheels_turned")
	got := j.Count
	if got.Answers > want.answers || got.Keys > want.keys {
		t.Errorf("too many; what was asked:\n%s", j.Log.String())
	}
	j.Upto("close.leak_check")
	t.Logf("%d answers (at most %d), %d keys (at most %d) to the accepted verdict; "+
		"to the tag off %d, %d, and %d visits with the car up (at most %d): %s",
		got.Answers, want.answers, got.Keys, want.keys, j.Count.Answers, j.Count.Keys, j.Count.Visits, want.visits,
		strings.Join(j.Sheets, " "))
	if j.Count.Visits > want.visits {
		t.Errorf("%d visits: %s", j.Count.Visits, strings.Join(j.Sheets, " "))
	}
}

func TestCounts(t *testing.T) {
	t.Run("first, drain only", func(t *testing.T) {
		t.Parallel()
		holdsCounts(t, startJSON(t, storePath(t), drainOnly()), most{38, 64, 8})
	})
	t.Run("second, drain only", func(t *testing.T) {
		t.Parallel()
		j := startJSON(t, storePath(t), drainOnly())
		j.Upto("")
		j.done()
		j.second(asLastTime(drainOnly()))
		holdsCounts(t, j, most{28, 46, 8})
	})
	t.Run("first, level port", func(t *testing.T) {
		t.Parallel()
		holdsCounts(t, startJSON(t, storePath(t), levelPortJob()), most{32, 50, 8})
	})
	t.Run("second, level port", func(t *testing.T) {
		t.Parallel()
		j := startJSON(t, storePath(t), levelPortJob())
		j.Upto("")
		j.done()
		j.second(asLastTime(levelPortJob()))
		holdsCounts(t, j, most{28, 46, 8})
	})
}

// asLastTime are the answers of a second job of the same unit.
func asLastTime(answers map[string][]string) map[string][]string {
	answers["prepare.prior_level"], answers["measure.amount"] = []string{"undisturbed"}, []string{"636"} // what went in comes out
	return answers
}

// second begins another job of the same unit, half a month later. On the screen the
// unit is a digit and Enter in the list of jobs, and no answer; here it is named, and
// counted so.
func (j *jsonJob) second(answers map[string][]string) {
	j.t.Helper()
	j.now = j.now.AddDate(0, 0, 14)
	j.again(answers, "--job", "new")
	if p := j.Send(map[string]any{"topic": "prepare.vehicle", "answer": "car 1"}); p[0].Member != "taken" {
		j.t.Fatalf("%+v", p)
	}
	if p := j.Send(map[string]any{"topic": "prepare.kind", "answer": "rear axle"}); p[0].Member != "taken" {
		j.t.Fatalf("%+v", p)
	}
	j.Count.Answers, j.Count.Keys = 0, 2
}
