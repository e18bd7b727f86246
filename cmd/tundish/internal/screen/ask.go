// This file holds what can be asked of the screen: its text and colours now,
// what went wrong on it, what the program left switched on, and waiting for any
// of that, with a clock for benchmarks.

//go:build unix

package screen

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"

	uv "github.com/charmbracelet/ultraviolet"
	"golang.org/x/term"
)

// Style is how a cell is drawn. A nil colour is the terminal's own; others are
// as the program asked for them.
type Style = uv.Style

// ask answers a question about the screen while nothing is written to it.
func ask[T any](s *Session, question func(*display) T) T {
	s.mu.Lock()
	defer s.mu.Unlock()
	return question(s.display)
}

// Raw returns all bytes the program has written so far.
func (s *Session) Raw() []byte {
	return ask(s, func(*display) []byte { return slices.Clone(s.raw) })
}

// Screen returns the rows of the screen, without the blanks at their ends.
func (s *Session) Screen() []string { return ask(s, (*display).rows) }

// AltScreen reports whether the program shows the alternate screen.
func (s *Session) AltScreen() bool {
	return ask(s, func(d *display) bool { return d.emu.IsAltScreen() })
}

// Wrapped returns each row that ran over the right margin into the next, as it
// was when it did. None means that everything fitted.
func (s *Session) Wrapped() []string {
	return ask(s, func(d *display) []string { return slices.Clone(d.wraps) })
}

// Leftovers names what the program has changed in the terminal and not put
// back: "alternate screen", "hidden cursor", "no autowrap", "bracketed paste",
// "focus reports", "mouse reports", "raw input". After a clean exit there are none.
func (s *Session) Leftovers() []string {
	s.t.Helper()
	left := ask(s, (*display).leftovers)
	now, err := term.GetState(int(s.master.Fd()))
	if err != nil {
		s.t.Fatalf("read the line settings: %v", err)
	}
	if *now != *s.cooked {
		left = append(left, "raw input")
	}
	return left
}

// StyleOf returns the style of the first character of text where it first is
// on the screen, in one row. It fails the test if it is not there.
func (s *Session) StyleOf(text string) Style {
	s.t.Helper()
	for _, row := range ask(s, (*display).cells) {
		if x := column(row, text); x >= 0 {
			return row[x].Style
		}
	}
	s.t.Fatalf("no %q in any one row\n%s", text, s.portrait())
	return Style{}
}

// column returns where in a row text begins, or -1.
func column(row []uv.Cell, text string) int {
	for x, c := range row {
		var rest strings.Builder
		for _, c := range row[x:] {
			rest.WriteString(c.Content)
		}
		if c.Width > 0 && strings.HasPrefix(rest.String(), text) {
			return x
		}
	}
	return -1
}

// portrait draws the screen in a frame, for messages.
func (s *Session) portrait() string {
	return ask(s, func(d *display) string {
		rows := strings.Join(d.rows(), "\n| ")
		return fmt.Sprintf("+-- %d by %d, ended %t\n| %s\n+--", d.emu.Width(), d.emu.Height(), s.ended, rows)
	})
}

// Text returns what the waits match on: the rows of the screen without blanks
// at either end, runs of blanks made one, joined by line feeds.
func (s *Session) Text() string { return flatten(s.Screen()) }

func flatten(rows []string) string {
	out := make([]string, len(rows))
	for i, row := range rows {
		out[i] = strings.Join(strings.Fields(row), " ")
	}
	return strings.Trim(strings.Join(out, "\n"), "\n")
}

// shows reports whether want is on the screen, in one row or broken over rows
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
	s.wait(fmt.Sprintf("text %q", text), func(now string) bool { return shows(now, text) })
}

// WaitGone waits until text is no longer on the screen.
func (s *Session) WaitGone(text string) {
	s.t.Helper()
	s.wait(fmt.Sprintf("text %q to go", text), func(now string) bool { return !shows(now, text) })
}

// waitMatch waits until re matches [Session.Text] and returns the match and
// its groups.
func (s *Session) waitMatch(re *regexp.Regexp) (groups []string) {
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
		rows := ask(s, func(d *display) []string {
			if at := d.emu.CursorPosition(); at.X != 0 || at.Y != d.emu.Height()-1 {
				return nil
			}
			return d.rows()
		})
		return rows != nil && ok(rows)
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
	s.Type(string(k))
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
	deadline := time.After(s.o.Deadline)
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
		case <-deadline:
			s.t.Fatalf("waited %v in vain for %s\n%s", s.o.Deadline, what, s.portrait())
		}
	}
}

// changeWithin waits for the next output, at most d, and reports whether any
// came.
func (s *Session) changeWithin(d time.Duration) bool {
	s.mu.Lock()
	changed, ended := s.changed, s.ended
	s.mu.Unlock()
	if ended {
		return false
	}
	select {
	case <-changed:
		return true
	case <-time.After(d):
		return false
	}
}
