package guide

// This file checks which job of a unit comes after which.

import (
	"slices"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/job"
)

// begun is a job of a day, at which the plug came out or nothing was done.
func begun(id string, day int, out bool) job.Job {
	j := job.Job{ID: id, Started: time.Date(2026, 4, day, 8, 0, 0, 0, time.UTC)}
	j.Entries = []job.Entry{{Seq: 1, At: j.Started, Topic: job.Vehicle, Value: job.Value{Text: "van"}}}
	if out {
		j.Entries = append(j.Entries, job.Entry{Seq: 2, At: j.Started, Topic: job.PlugOut})
	}
	return j
}

func TestJobsOfAUnitComeAfterEachOther(t *testing.T) {
	jobs := []job.Job{
		begun("looked", 1, false), begun("first", 2, true), begun("second", 5, true), begun("second~2", 5, true),
		begun("begun", 6, false), begun("third looked", 8, false), begun("third", 8, true), begun("last", 9, true),
	}
	want := []string{"looked", "first", "second first", "second~2 first", "begun second first", "third looked second first",
		"third second first", "last third second first"}
	for i, s := range foldUnit(jobs) {
		if got := chain(s); got != want[i] {
			t.Errorf("%q, want %q", got, want[i])
		}
	}
	var c Chain
	for _, j := range jobs[:4] {
		c.Fold(j)
	}
	for day, want := range map[int]string{5: "first", 6: "second first"} {
		now := c
		if got := chain(now.Before(begun("", day, true).Started)); got != want {
			t.Errorf("before a job of day %d: %q, want %q", day, got, want)
		}
	}
}

// chain names a job and those before it.
func chain(s *Guide) string {
	var ids []string
	for ; s != nil; s = s.Before() {
		ids = append(ids, s.ID)
	}
	return strings.Join(ids, " ")
}

// Refold changes all jobs of a chain, and leaves the chain as it was.
func TestRefold(t *testing.T) {
	folded := foldUnit([]job.Job{begun("first", 2, true), begun("second", 5, true)})
	again := folded[1].Refold(func(j job.Job) job.Job {
		j.ID, j.Entries = "new "+j.ID, slices.Clone(j.Entries)
		j.Entries[0].Value.Text = "estate"
		return j
	})
	if got := chain(again); got != "new second new first" || again.Vehicle() != "estate" || again.Before().Vehicle() != "estate" {
		t.Errorf("%s of %s after %s", got, again.Vehicle(), again.Before().Vehicle())
	}
	if got := chain(folded[1]); got != "second first" || folded[0].Vehicle() != "van" {
		t.Errorf("the chain that was folded again is now %s, of %s", got, folded[0].Vehicle())
	}
	var none *Guide
	if none.Refold(nil) != nil {
		t.Error("no job, folded again, is a job")
	}
}

// foldUnit folds the jobs of one unit, oldest first, as a Chain does.
func foldUnit(jobs []job.Job) []*Guide {
	var c Chain
	folded := make([]*Guide, len(jobs))
	for i, j := range jobs {
		folded[i] = c.Fold(j)
	}
	return folded
}
