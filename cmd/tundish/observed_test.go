package main

// This file checks in the line mode that Enter alone notes nothing that nobody
// has seen.

import (
	"bytes"
	"io"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/job"
	"garage/tundish/store"
)

// talk has a conversation with the line mode on a store: reply is given the line
// that asks and says what to type, or that it is enough. It returns all that was
// said.
func talk(t *testing.T, path string, now time.Time, reply func(question string) (line string, more bool)) string {
	t.Helper()
	in, typed := io.Pipe()
	said, out := io.Pipe()
	var problems bytes.Buffer
	go func() {
		run([]string{"guide", "--plain", "--store", path}, &outside{
			in: in, out: out, err: &problems, getenv: func(string) string { return "" }, now: func() time.Time { return now },
		})
		_ = out.Close()
	}()
	var all strings.Builder
	one := make([]byte, 1)
	for {
		n, err := said.Read(one)
		all.Write(one[:n])
		if err != nil {
			return all.String() + problems.String()
		}
		if !strings.HasSuffix(all.String(), "\n> ") {
			continue
		}
		heard := strings.TrimSuffix(all.String(), "\n> ")
		line, more := reply(heard[strings.LastIndex(heard, "\n")+1:])
		if !more {
			line = "*quit"
		}
		_, _ = io.WriteString(typed, line+"\n") // ended already: the next read says so
	}
}

// theJob is the only job of a store.
func theJob(t *testing.T, path string) job.Job {
	t.Helper()
	s, err := store.Open(path, store.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	heads, _, err := s.List(store.ListOptions{})
	if err != nil || len(heads) != 1 {
		t.Fatalf("%d jobs, %v", len(heads), err)
	}
	job, err := s.Load(heads[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	return job
}

// At each question that only a person at the car can answer, an empty line and
// a plus are refused, and no answer is said to be that of Enter.
func TestFalseWord09EnterAloneNotesNothingSeen(t *testing.T) {
	for _, c := range []struct {
		topic          job.Topic
		answer, stored string
	}{
		{job.TemperatureHow, "2", "felt"},
		{job.MagnetLook, "5", "not_looked"},
		{job.OilLook, "5", "not_looked"},
		{job.OilHistory, "4", "unknown"},
		{job.HoseBefore, "2", "primed"},
		{job.AirInLine, "3", "not_looked"},
		{job.HoseAfter, "4", "cleared"},
		{job.WasherFitted, "2", "reused"},
		{job.EscapedHow, "3", "guess"},
		{job.TightenedHow, "2", "feel"},
		{job.LeakCheck, "1", "dry"},
	} {
		t.Run(c.topic.String(), func(t *testing.T) {
			t.Parallel()
			var kept job.Job
			path := storeOf(t, func(j storeJournal) { kept = keep(t, j, noon, "van", "rear axle", c.topic) })
			before := len(kept.Entries)
			lines := []string{"", "+", c.answer}
			talk(t, path, headOf(kept).Updated.Add(time.Minute), func(question string) (string, bool) {
				if m := typeToConfirm.FindStringSubmatch(question); m != nil {
					return m[1], len(lines) == 3
				}
				if strings.Contains(question, "Which job?") || strings.Contains(question, "in the drain port") {
					return "1", true
				}
				if len(lines) == 0 {
					return "", false
				}
				if strings.Contains(question, "Enter alone") {
					t.Errorf("an answer is on offer: %s", question)
				}
				line := lines[0]
				lines = lines[1:]
				return line, true
			})
			answered := 0
			for _, e := range theJob(t, path).Entries[before:] {
				if e.Topic == c.topic && e.Value.Choice == c.stored {
					answered++
				} else if e.Topic != job.ResumedStands && e.Topic != job.ResumedPlug {
					t.Errorf("stored %v %+v", e.Topic, e.Value)
				}
			}
			if answered != 1 {
				t.Errorf("%q stored %d times, want once", c.stored, answered)
			}
		})
	}
}
