// This file holds the tests of how the harness fails a test: at once when it
// can, with the screen in the message, and never for ever.

//go:build unix

package screen

import (
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"
)

// recorder is a test that may fail; it records the message instead.
type recorder struct {
	testing.TB
	message string
}

func (w *recorder) Helper() {}

func (w *recorder) Fatalf(format string, args ...any) {
	w.message = fmt.Sprintf(format, args...)
	runtime.Goexit()
}

// failing runs f on a copy of s whose failures are kept, and returns the message.
func failing(t *testing.T, s *Session, f func()) string {
	t.Helper()
	w := &recorder{TB: t}
	s.t = w
	defer func() { s.t = t }()
	done := make(chan struct{})
	go func() {
		defer close(done)
		f()
	}()
	<-done
	return w.message
}

func TestFailures(t *testing.T) {
	running := func(t *testing.T, name, first string) *Session {
		s := startChild(t, name, Options{})
		s.WaitFor(first)
		s.o.Deadline = 50 * time.Millisecond
		return s
	}
	ended := func(t *testing.T, _, _ string) *Session {
		s := startChild(t, "print", Options{Args: []string{"all there is"}})
		s.WaitExit()
		return s
	}
	for _, row := range []struct {
		name  string
		start func(t *testing.T, child, first string) *Session
		child string
		first string
		do    func(*Session)
		want  []string
	}{
		{"text that never comes", running, "keys", "ready", func(s *Session) { s.WaitFor("godot") },
			[]string{`waited 50ms in vain for text "godot"`, "80 by 24", "| ready"}},
		{"no text asked for", running, "keys", "ready", func(s *Session) { s.WaitFor(" ") },
			[]string{`in vain for text " "`}},
		{"text that stays", running, "keys", "ready", func(s *Session) { s.WaitGone("ready") },
			[]string{`in vain for text "ready" to go`}},
		{"program ended before the text", ended, "", "", func(s *Session) { s.WaitFor("godot") },
			[]string{"has ended", `"godot"`, "| all there is"}},
		{"program that never ends", running, "deaf", "deaf", func(s *Session) { s.WaitExit() },
			[]string{"still runs after 50ms", "| deaf"}},
		{"program that never reads", running, "deaf", "deaf", func(s *Session) { s.Type(strings.Repeat("x", 1<<20)) },
			[]string{"i/o timeout"}},
		{"signal taken for an exit", running, "keys", "ready", func(s *Session) { s.Kill(); s.WaitExit() },
			[]string{"ended by killed"}},
		{"style of text not shown", ended, "", "", func(s *Session) { s.StyleOf("godot") },
			[]string{`no "godot"`}},
		{"nothing to time", running, "keys", "ready", func(s *Session) { s.PressAndTime(Up, func(string) bool { return true }) },
			[]string{"true before the key"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := row.start(t, row.child, row.first)
			message := failing(t, s, func() { row.do(s) })
			s.o.Deadline = 30 * time.Second
			for _, want := range row.want {
				if !strings.Contains(message, want) {
					t.Errorf("no %q in message %q", want, message)
				}
			}
		})
	}
}

func TestStartOfNothing(t *testing.T) {
	w := &recorder{TB: t}
	done := make(chan struct{})
	go func() {
		defer close(done)
		Start(w, "/nonexistent/program", Options{})
	}()
	<-done
	if !strings.Contains(w.message, "start /nonexistent/program") {
		t.Errorf("message %q", w.message)
	}
}
