package main

// This file checks the job that the demo opens.

import (
	"testing"
	"time"

	"garage/tundish/model"
)

var noon = time.Date(2026, 4, 18, 12, 0, 0, 0, time.UTC)

func TestDemoJobIsPartWayThrough(t *testing.T) {
	job, err := demoJob(noon)
	if err != nil {
		t.Fatal(err)
	}
	if err := job.Check(); err != nil {
		t.Errorf("the demo job is not whole: %v", err)
	}
	s := model.Fold(job, model.Offers{})
	if p, ok := s.Next(); !ok || p.Topic != demoStop {
		t.Errorf("it asks %v next, want %v", p.Topic, demoStop)
	}
	if s.UnitState() != model.Empty || s.Phase() != model.Open {
		t.Errorf("it is %v, %v; want open with the unit empty", s.Phase(), s.UnitState())
	}
	if !s.Updated.Equal(noon) || !s.Started.Before(noon) {
		t.Errorf("started %v, last answer %v; want the last answer now", s.Started, s.Updated)
	}
	for i := 1; i < len(job.Entries); i++ {
		if job.Entries[i].At.Before(job.Entries[i-1].At) {
			t.Fatalf("entry %d is older than the one before", i+1)
		}
	}
}

// Every answer that the demo names is asked for: none is left over.
func TestDemoAnswersAreAllUsed(t *testing.T) {
	lines := demoAnswers()
	if _, err := answered(model.Job{Started: noon}, lines, demoStop); err != nil {
		t.Fatal(err)
	}
	for topic, rest := range lines {
		if len(rest) > 0 {
			t.Errorf("%v: %q was never asked for", topic, rest)
		}
	}
}
