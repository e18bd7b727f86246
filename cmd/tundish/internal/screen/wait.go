// This file holds waiting: for text, for its going, for the end of output, and
// with a clock for benchmarks.

//go:build unix

package screen

import (
	"regexp"
	"strings"
	"time"
)

// Text returns what the waits match on: the rows of the screen without blanks
// at either end, runs of blanks made one, joined by line feeds.
func (s *Session) Text() string {
	return flatten(s.Screen())
}

func flatten(rows []string) string {
	out := make([]string, len(rows))
	for i, row := range rows {
		out[i] = strings.Join(strings.Fields(row), " ")
	}
	return strings.Trim(strings.Join(out, "\n"), "\n")
}

// shows says whether want is on the screen, in one row or broken over rows
// where a blank would be. Nothing is never on the screen.
func shows(text, want string) bool {
	want = flatten(strings.Split(want, "\n"))
	oneLine := strings.Join(strings.Fields(text), " ")
	return want != "" && (strings.Contains(text, want) || strings.Contains(oneLine, want))
}

// WaitFor waits until text is on the screen. Runs of blanks count as one, and a
// line feed on the screen counts as a blank.
func (s *Session) WaitFor(text string) {
	s.t.Helper()
	s.wait("text "+quote(text), func(now string) bool { return shows(now, text) })
}

// WaitGone waits until text is no longer on the screen.
func (s *Session) WaitGone(text string) {
	s.t.Helper()
	s.wait("text "+quote(text)+" to go", func(now string) bool { return !shows(now, text) })
}

// WaitAny waits until one of the texts is on the screen and returns the first
// of them that is.
func (s *Session) WaitAny(texts ...string) (found string) {
	s.t.Helper()
	s.wait("one of the texts "+quote(texts...), func(now string) bool {
		for _, text := range texts {
			if shows(now, text) {
				found = text
				return true
			}
		}
		return false
	})
	return found
}

// WaitMatch waits until re matches [Session.Text] and returns the match and
// its groups.
func (s *Session) WaitMatch(re *regexp.Regexp) (groups []string) {
	s.t.Helper()
	s.wait("a match of "+re.String(), func(now string) bool {
		groups = re.FindStringSubmatch(now)
		return groups != nil
	})
	return groups
}

// WaitUntil waits until the screen, as Screen returns it, is as ok says; what
// names it in the failure.
func (s *Session) WaitUntil(what string, ok func(rows []string) bool) {
	s.t.Helper()
	s.wait(what, func(string) bool { return ok(s.Screen()) })
}

// WaitFrame is WaitUntil for a program that ends each frame with the cursor at
// the start of the last row, as those do that draw the whole screen: it never
// sees half of one, and need not wait for quiet.
func (s *Session) WaitFrame(what string, ok func(rows []string) bool) {
	s.t.Helper()
	s.wait(what, func(string) bool {
		s.mu.Lock()
		rows, whole := s.display.rows(), s.display.cursorAtEnd()
		s.mu.Unlock()
		return whole && ok(rows)
	})
}

// Settle waits until the program has written nothing for a while (60 ms): long
// enough for a whole frame to have come. For pictures and whole-screen
// comparisons, after a WaitFor.
func (s *Session) Settle() {
	s.t.Helper()
	giveUp := time.Now().Add(s.o.Deadline)
	for s.changeWithin(60 * time.Millisecond) {
		if time.Now().After(giveUp) {
			s.t.Fatalf("the screen never settles\n%s", s.portrait())
		}
	}
}

// PressAndTime presses a key and returns the time from writing it to reading
// the output that made until true of the screen's [Session.Text].
func (s *Session) PressAndTime(k Key, until func(screen string) bool) time.Duration {
	s.t.Helper()
	if until(s.Text()) {
		s.t.Fatalf("nothing to time: true before the key\n%s", s.portrait())
	}
	pressed := time.Now()
	s.write([]byte(k))
	return s.wait("the answer to a key", until).Sub(pressed)
}

// StartTime returns the time from starting the program to reading the output
// that made until true of the screen's [Session.Text]. Call it right after Start.
func (s *Session) StartTime(until func(screen string) bool) time.Duration {
	s.t.Helper()
	return s.wait("the first screen", until).Sub(s.started)
}

// wait blocks until ok is true of the text on the screen, and returns when the
// output that made it so was read. It fails the test at the deadline, or as
// soon as no more output can come.
func (s *Session) wait(what string, ok func(text string) bool) time.Time {
	s.t.Helper()
	deadline := time.NewTimer(s.o.Deadline)
	defer deadline.Stop()
	for {
		s.mu.Lock()
		text, changed, at, ended := flatten(s.display.rows()), s.changed, s.changedAt, s.ended
		s.mu.Unlock()
		if ok(text) {
			return at
		}
		if ended {
			s.t.Fatalf("the program has ended; waited for %s\n%s", what, s.portrait())
		}
		select {
		case <-changed:
		case <-deadline.C:
			s.t.Fatalf("waited %v in vain for %s\n%s", s.o.Deadline, what, s.portrait())
		}
	}
}

// changeWithin waits for the next output, at most d, and says whether any came.
func (s *Session) changeWithin(d time.Duration) bool {
	s.mu.Lock()
	changed, ended := s.changed, s.ended
	s.mu.Unlock()
	if ended {
		return false
	}
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-changed:
		return true
	case <-timer.C:
		return false
	}
}

func quote(texts ...string) string {
	return `"` + strings.Join(texts, `", "`) + `"`
}
