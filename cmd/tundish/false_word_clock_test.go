//go:build unix

package main

import (
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A job that is gone on with by a clock that lost its time says so at once, calls
// no wait over, and goes on to its end; what is stored is whole, and is read back.
func TestFalseWord20AJobGoesOnByAWrongClock(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "jobs.db")
	before := &owner{t: t, answers: smallJob()}
	talk(t, path, noon, func(question string) (string, bool) {
		return lineAnswer(question, before), !strings.HasPrefix(question, "How much came out")
	})
	lost := time.Date(2020, 1, 3, 10, 5, 0, 0, time.UTC)
	o := &owner{t: t, answers: smallJob()}
	asked, first := 0, ""
	said := talk(t, path, lost, func(question string) (string, bool) {
		if asked++; asked == 1 {
			first = question
		}
		return lineAnswer(question, o), asked < 200
	})
	warning := "This computer's clock says " + lost.Local().Format("2 Jan 2006 15:04") + "; the last answer is of "
	if at := strings.Index(said, warning); at < 0 || at > strings.Index(said, first) {
		t.Errorf("not said before the first question, %s:\n%s", first, said)
	}
	if !strings.Contains(said, "Nothing is left to do") {
		t.Fatalf("the job does not end:\n%s", said)
	}
	if strings.Contains(said, "FILLED, PROVEN") {
		t.Error("called proven, with no wait seen to be waited for")
	}
	job := theJob(t, path)
	if err := job.Check(); err != nil {
		t.Error(err)
	}
	folder := t.TempDir()
	copied := filepath.Join(folder, "job.json")
	for _, args := range [][]string{
		{"verify", "--store", path},
		{"summary", job.ID, "--store", path, "--format", "json", "--output", copied},
		{"import", copied, "--store", filepath.Join(folder, "other.db")},
		{"summary", job.ID, "--store", filepath.Join(folder, "other.db"), "--format", "txt"},
	} {
		code, out, problem := runHere(t, nil, args...)
		if code != exitDone {
			t.Errorf("%v: %d, %s", args, code, problem)
		}
		if strings.Contains(out, "for -") || strings.Contains(out, "after -") {
			t.Errorf("%v: a negative time:\n%s", args, out)
		}
	}
}
