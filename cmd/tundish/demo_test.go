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
	if p, ok := s.Next(); !ok || p.Topic != demoStart {
		t.Errorf("it asks %v next, want %v", p.Topic, demoStart)
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
	if _, err := answered(model.Job{Started: noon}, lines, demoStart); err != nil {
		t.Fatal(err)
	}
	for topic, rest := range lines {
		if len(rest) > 0 {
			t.Errorf("%v: %q was never asked for", topic, rest)
		}
	}
}

// Whoever types what the tour says gets to a verdict that there is nothing to
// do, and each stop is asked on the way.
func TestTheTourLeadsToTheVerdict(t *testing.T) {
	job, err := demoJob(noon)
	if err != nil {
		t.Fatal(err)
	}
	stops, lines := demoStops(), map[model.Topic][]string{}
	for topic, stop := range stops {
		lines[topic] = stop.typed
	}
	delete(stops, model.ResumedStands) // asked after a break only
	delete(stops, model.ResumedPlug)
	delete(stops, model.WasteOil) // asked after the verdict
	delete(stops, model.LeakCheck)
	asked := len(job.Entries)
	if job, err = answered(job, lines, model.Decision); err != nil {
		t.Fatal(err)
	}
	for _, e := range job.Entries[asked:] {
		delete(stops, e.Topic)
	}
	delete(stops, model.Decision)
	if len(stops) > 0 {
		t.Errorf("never asked: %v", stops)
	}
	s := model.Fold(job, model.Offers{})
	v, err := s.Verdict(s.Round())
	if err != nil || v.Word != model.LikelyWithin && v.Word != model.Within {
		t.Errorf("the verdict is %v, %v; want that it is right", v.Word, err)
	}
}

// A line of the tour fits the narrowest screen.
func TestTheTourFits(t *testing.T) {
	for topic, stop := range demoStops() {
		if line := coachMark + stop.look; len(line) > 59 {
			t.Errorf("%v: %d characters: %s", topic, len(line), line)
		}
	}
}

// In line mode the tour speaks of nothing but what to type.
func TestTheTourInLineMode(t *testing.T) {
	tour := spokenTour()
	for topic, want := range map[model.Topic]string{
		model.DrainedAmount: "demo: type 830", model.FillReading: "demo: type 700, then 400, then Enter alone", model.PlanAccepted: "", model.Vehicle: "",
	} {
		if got := tour(model.Prompt{Spec: model.SpecOf(topic)}); got != want {
			t.Errorf("%v: %q, want %q", topic, got, want)
		}
	}
}
