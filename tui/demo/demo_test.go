package demo

// This file checks the job that the demo opens.

import (
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

var noon = time.Date(2026, 4, 18, 12, 0, 0, 0, time.UTC)

func TestDemoJobIsPartWayThrough(t *testing.T) {
	job, err := Job(noon)
	if err != nil {
		t.Fatal(err)
	}
	if err := job.Check(); err != nil {
		t.Errorf("the demo job is not whole: %v", err)
	}
	s := guide.Fold(job, guide.Offers{})
	if p, ok := s.Next(); !ok || p.Topic != start {
		t.Errorf("it asks %v next, want %v", p.Topic, start)
	}
	if s.UnitState() != verdict.Empty || s.Phase() != guide.Open {
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
	lines := Answers()
	if _, err := Answered(job.Job{Started: noon}, lines, start); err != nil {
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
	j, err := Job(noon)
	if err != nil {
		t.Fatal(err)
	}
	stops, lines := Stops(), map[job.Topic][]string{}
	for topic, stop := range stops {
		lines[topic] = stop.Typed
	}
	delete(stops, job.ResumedStands) // asked after a break only
	delete(stops, job.ResumedPlug)
	delete(stops, job.WasteOil) // asked after the verdict
	delete(stops, job.LeakCheck)
	asked := len(j.Entries)
	if j, err = Answered(j, lines, job.Decision); err != nil {
		t.Fatal(err)
	}
	for _, e := range j.Entries[asked:] {
		delete(stops, e.Topic)
	}
	delete(stops, job.Decision)
	if len(stops) > 0 {
		t.Errorf("never asked: %v", stops)
	}
	s := guide.Fold(j, guide.Offers{})
	v, err := s.Verdict(s.Round())
	if err != nil || v.Word != verdict.LikelyWithin && v.Word != verdict.Within {
		t.Errorf("the verdict is %v, %v; want that it is right", v.Word, err)
	}
}

// A line of the tour fits the narrowest screen.
func TestTheTourFits(t *testing.T) {
	for topic, stop := range Stops() {
		if line := coachMark + stop.look; len(line) > 59 {
			t.Errorf("%v: %d characters: %s", topic, len(line), line)
		}
	}
}

// In line mode the tour speaks of nothing but what to type.
func TestTheTourInLineMode(t *testing.T) {
	tour := SpokenTour()
	for topic, want := range map[job.Topic]string{
		job.DrainedAmount: "demo: type 830", job.FillReading: "demo: type 700, then 400, then Enter alone", job.PlanAccepted: "",
		job.Vehicle: "",
	} {
		if got := tour(guide.Prompt{Spec: guide.SpecOf(topic)}); got != want {
			t.Errorf("%v: %q, want %q", topic, got, want)
		}
	}
}
