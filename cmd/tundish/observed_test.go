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
	for asked := 0; ; {
		n, err := said.Read(one)
		all.Write(one[:n])
		if err != nil {
			return all.String() + problems.String()
		}
		if !strings.HasSuffix(all.String(), signForInput) {
			continue
		}
		heard := strings.TrimSuffix(all.String(), signForInput)
		line, more := reply(heard[strings.LastIndex(heard, "\n")+1:])
		if asked++; !more || asked > 300 {
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

// At each question that only a person at the car can answer, Enter alone says what is
// open, and "not looked" or a digit is what is stored.
func TestFalseWord09EnterAloneNotesNothingSeen(t *testing.T) {
	for _, c := range []struct {
		asks, answer string
		topic        job.Topic
		stored       string
	}{
		{"The case feels", "1", job.TemperatureHow, "felt"},
		{"On the magnet", "0", job.MagnetLook, "not_looked"},
		{"The oil looks", "0", job.OilLook, "not_looked"},
		{"The hose, before", "2", job.HoseBefore, "primed"},
		{"The push ended", "2", job.AirInLine, "air"},
		{"Adapter is CAPPED", "4", job.HoseAfter, "cleared"},
		{"Drain plug is IN", "2", job.WasherFitted, "reused"},
		{"Tightened", "2", job.TightenedHow, "feel"},
		{"After 5 to 15 km", "1", job.LeakCheck, "dry"},
	} {
		t.Run(c.topic.String(), func(t *testing.T) {
			t.Parallel()
			path := storePath(t)
			o := &owner{t: t, answers: smallJob()}
			lines := []string{"", "+", c.answer}
			talk(t, path, noon, func(question string) (string, bool) {
				if !strings.HasPrefix(question, c.asks) {
					return lineAnswer(question, o), len(lines) == 3
				}
				if strings.Contains(question, "Enter") {
					t.Errorf("an answer is on offer: %s", question)
				}
				if len(lines) < 3 && job.Fold(theJob(t, path)).Choice(job.Place{Topic: c.topic}) != "" {
					t.Error("something is stored")
				}
				line := lines[0]
				lines = lines[1:]
				return line, true
			})
			if got := job.Fold(theJob(t, path)).Choice(job.Place{Topic: c.topic}); got != c.stored {
				t.Errorf("%q stored, want %q", got, c.stored)
			}
		})
	}
}
