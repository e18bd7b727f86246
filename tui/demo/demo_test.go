package demo

// This file checks the job that the demo opens, and its tour.

import (
	"strings"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/model/verdict"
)

var noon = time.Date(2026, 4, 18, 12, 0, 0, 0, time.UTC)

func TestDemoJobIsPartWayThrough(t *testing.T) {
	j, err := Job(noon)
	if err != nil {
		t.Fatal(err)
	}
	if err := j.Check(); err != nil {
		t.Errorf("the demo job is not whole: %v", err)
	}
	g := guide.Fold(j, guide.Offers{})
	if s, ok := sheet.Now(g, noon); !ok || s.FirstOpen() != s.LineOf(job.Place{Topic: start}) {
		t.Errorf("it is at %v, want at %v", s.ID, start)
	}
	if g.UnitState() != verdict.Empty || g.Phase() != guide.Open {
		t.Errorf("it is %v, %v; want open with the unit empty", g.Phase(), g.UnitState())
	}
	if !g.Updated.Equal(noon) || !g.Started.Before(noon) {
		t.Errorf("started %v, last answer %v; want the last answer now", g.Started, g.Updated)
	}
	for i := 1; i < len(j.Entries); i++ {
		if j.Entries[i].At.Before(j.Entries[i-1].At) {
			t.Fatalf("entry %d is older than the one before", i+1)
		}
	}
}

// Every answer that the demo names is asked for: none is left over.
func TestDemoAnswersAreAllUsed(t *testing.T) {
	answers := Answers()
	if _, err := Answered(job.Job{Started: noon}, answers, start); err != nil {
		t.Fatal(err)
	}
	for topic, rest := range answers {
		if len(rest) > 0 && topic != job.Odometer && topic != job.IntervalKm { // of the close-out
			t.Errorf("%v: %q was never asked for", topic, rest)
		}
	}
}

// Whoever types what the tour says gets to a verdict that there is nothing to do, and
// each stop is met on the way, within what the screen shows of a line.
func TestTheTourLeadsToTheVerdict(t *testing.T) {
	j, err := Job(noon)
	if err != nil {
		t.Fatal(err)
	}
	answers := map[job.Topic][]string{}
	for topic, stop := range Stops() {
		if len(stop.Typed) == 1 {
			answers[topic] = stop.Typed
		}
	}
	delete(answers, job.ResumedPlug)
	judged := false
	tour, met, at := Tour(), map[job.Topic]bool{}, noon
	for range maxAnswers {
		g := guide.Fold(j, guide.Offers{})
		s, more := sheet.Now(g, at)
		if !more || s.ID == sheet.Later {
			break
		}
		if s.ID == sheet.Stop {
			t.Fatalf("the tour meets a stop: %v", s.After)
		}
		if s.ID == sheet.Verdict {
			v, err := g.Verdict(0)
			judged = err == nil && v.PWithin >= 0.8
		}
		at = at.Add(3 * time.Minute)
		i, by := next(s, answers)
		if words := tour(s, i); !strings.HasPrefix(words, coachMark) || len(words) > 58 {
			t.Errorf("at %v line %d the tour says %q", s.ID, i, words)
		}
		var entries []job.Entry
		if i < 0 {
			entries, err = s.Complete(g, at)
		} else {
			for _, topic := range s.Lines[i].Topics() {
				met[topic] = true
			}
			said := strings.Join(answers[by], "")
			delete(answers, by)
			entries, err = say(g, s, i, said, at)
		}
		if err != nil {
			t.Fatalf("%v: %v", s.ID, err)
		}
		j.Entries = append(j.Entries, entries...)
	}
	if !judged {
		t.Errorf("the verdict is not that it is right: %v", guide.Fold(j, guide.Offers{}).StateWords())
	}
	for topic := range Stops() {
		if !met[topic] && topic != job.ResumedPlug && topic != job.FillReading && topic != job.LeakCheck {
			t.Errorf("the tour never comes to %v", topic)
		}
	}
}
