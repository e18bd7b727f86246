//go:build unix

package main

// This file does a whole job in the plain line mode in a real terminal, where
// what is typed is echoed between what is said.

import (
	"math"
	"strings"
	"testing"

	"garage/tundish/cmd/tundish/internal/screen"
)

// heard is what the line mode has said so far, without what the terminal adds.
func heard(s *screen.Session) string { return strings.ReplaceAll(string(s.Raw()), "\r", "") }

// prompts is how often the line mode has asked for a line.
func prompts(s *screen.Session) int { return strings.Count(heard(s), signForInput) }

// lineJob works through a job in the line mode until nothing is left to do.
func lineJob(t *testing.T, answers map[string][]string) (*screen.Session, *owner) {
	t.Helper()
	env := screen.CleanEnv(t.TempDir())
	s := screen.Start(t, screen.Build(t, "garage/tundish/cmd/tundish"), screen.Options{Args: []string{"guide", "--plain"}, Env: env})
	o := &owner{t: t, s: s, answers: answers, env: env}
	for asked := 1; asked < 200; asked++ {
		done := false
		s.WaitUntil("the next question", func([]string) bool {
			done = strings.Contains(heard(s), "Nothing is left to do")
			return done || prompts(s) >= asked
		})
		if done {
			break
		}
		all := heard(s)
		s.Type(lineAnswer(all[:strings.LastIndex(all, signForInput)], o)) // the question is the last line
		s.Press(screen.Enter)
	}
	return s, o
}

func TestWholeJobInTheLineModeInATerminal(t *testing.T) {
	t.Parallel()
	s, o := lineJob(t, smallJob())
	if code := s.WaitExit(); code != exitDone {
		t.Errorf("exit code %d, want %d", code, exitDone)
	}
	all := heard(s)
	for _, want := range []string{"EMPTY", "NOT PROVEN", "== VERDICT", "ACCEPTED, LIKELY"} {
		if !strings.Contains(all, want) {
			t.Errorf("never said: %s\n%s", want, all)
		}
	}
	if strings.Contains(all, "\x1b") {
		t.Error("an escape sequence in the line mode")
	}
	if f := figuresOf(t, o); f.UnitState != "accepted" || math.Abs(f.NetFill.ML-637) > 3 {
		t.Errorf("the record says %+v; want accepted, net 637 ml", f)
	}
}
