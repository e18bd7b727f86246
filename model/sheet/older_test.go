package sheet

// This file takes up jobs that older versions of this program wrote, wherever they
// stopped, and finishes them sheet by sheet.

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// older are whole jobs of older versions: how many entries it took to each state, as
// those versions had it.
var older = map[string]map[int]string{
	"job-1.json":       {0: "as_found", 52: "empty", 78: "unproven", 101: "accepted"},
	"job-2.json":       {0: "as_found", 52: "empty", 78: "unproven", 101: "accepted"},
	"job-2-level.json": {0: "as_found", 45: "empty", 61: "unproven", 84: "proven"},
}

func olderJob(t testing.TB, file string) job.Job {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", file))
	if err != nil {
		t.Fatal(err)
	}
	var f struct{ Job job.Job }
	if err := json.Unmarshal(text, &f); err != nil {
		t.Fatal(err)
	}
	return f.Job
}

func prefix(j job.Job, n int) job.Job {
	return job.Job{ID: j.ID, Started: j.Started, Entries: slices.Clone(j.Entries[:n])}
}

// Every prefix has the state that it had, opens at a sheet and can be finished.
func TestOlderJobsAreTakenUpAnywhere(t *testing.T) {
	for file, states := range older {
		t.Run(file, func(t *testing.T) {
			j, was := olderJob(t, filepath.Join("schema", file)), ""
			for n := range len(j.Entries) + 1 {
				if s, ok := states[n]; ok {
					was = s
				}
				g := guide.Fold(prefix(j, n), guide.Offers{})
				if is, _ := g.UnitState().MarshalText(); string(is) != was {
					t.Errorf("after %d entries the unit is %s, and was %s", n, is, was)
				}
				if n%8 == 0 || n == len(j.Entries) || os.Getenv("TUNDISH_LONG") != "" {
					finishes(t, prefix(j, n), n == len(j.Entries))
				}
			}
		})
	}
}

// finishes takes a job up and finishes it; one that is done has nothing left to ask.
func finishes(t *testing.T, j job.Job, done bool) {
	t.Helper()
	n, now := len(j.Entries), j.Started.Add(time.Hour)
	if n > 0 {
		now = j.Entries[n-1].At.Add(time.Hour)
	}
	g := guide.Fold(j, guide.Offers{})
	s, more := Now(g, now)
	if more == done {
		t.Fatalf("after %d entries a sheet is open: %v, done %v; %v", n, more, done, s.At)
	}
	if !more {
		return
	}
	if v, open := Begin(g, g.ResumePrompts()).Sheet(now); !open || len(v.Lines) == 0 {
		t.Errorf("after %d entries: sheet %v of %d lines", n, v.At, len(v.Lines))
	}
	h := &honest{job: j, now: now, says: map[job.Topic][]string{}}
	if err := h.finish(numIDs); err != nil {
		t.Fatalf("after %d entries: %v", n, err)
	}
	if g := h.guide(); g.Phase() != guide.Done && g.Phase() != guide.Stopped {
		t.Errorf("after %d entries it ends %v", n, g.Phase())
	}
}

// The jobs that are printed in testdata are done, as they were.
func TestPrintedJobsAreDone(t *testing.T) {
	every := 21
	if os.Getenv("TUNDISH_LONG") != "" {
		every = 7
	}
	for _, file := range []string{"drain-port.json", "level-port.json"} {
		j := olderJob(t, filepath.Join("jobs", file))
		finishes(t, j, true)
		for n := 0; n < len(j.Entries); n += every {
			finishes(t, prefix(j, n), false)
		}
	}
}

// Vent and left-over in the order of older versions, after the cap, count and are not
// asked again.
func TestVentAfterTheCapCounts(t *testing.T) {
	j := olderJob(t, filepath.Join("schema", "job-2.json"))
	vent := slices.IndexFunc(j.Entries, func(e job.Entry) bool { return e.Topic == job.PressureOff })
	capped := slices.IndexFunc(j.Entries, func(e job.Entry) bool { return e.Topic == job.Capped })
	left := slices.IndexFunc(j.Entries, func(e job.Entry) bool { return e.Topic == job.LeftInVessel })
	if vent < 0 || capped < 0 || left < capped {
		t.Fatalf("vent %d, cap %d, left over %d", vent, capped, left)
	}
	g := guide.Fold(prefix(j, left+1), guide.Offers{})
	s, more := Now(g, g.Updated.Add(time.Minute))
	if !more || s.ID != Cap && s.ID != Seat {
		t.Fatalf("opens at %v", s.At)
	}
	if i := Of(g, At{ID: Fill}, g.Updated).FirstOpen(); i >= 0 {
		t.Errorf("open on the sheet of the push: %q", Of(g, At{ID: Fill}, g.Updated).Lines[i].Ask)
	}
}
