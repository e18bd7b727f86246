// This file holds the tests with a Bubble Tea program: that its frames are read
// right, that its own key table reads our keys as meant, and that timing works.

//go:build unix

package screen

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
)

func startTea(t testing.TB, name string, o Options) *Session {
	t.Helper()
	s := startChild(t, name, o, "TERM=xterm-256color")
	s.WaitFor("the last line")
	return s
}

func TestTeaFrames(t *testing.T) {
	s := startTea(t, "tea", Options{Cols: 60, Rows: 10})
	s.WaitFor("size 60x10 keys . the last line")
	if rows := s.Screen(); rows[0] != "size 60x10" || rows[2] != "the last line" || rows[3] != "" {
		t.Errorf("rows %q", rows)
	}
	s.Type("ab")
	s.waitMatch(regexp.MustCompile(`keys (<ab>|<a><b>)\.`))
	s.Resize(40, 6)
	s.WaitFor("size 40x6")
	if !s.AltScreen() {
		t.Error("not on the alternate screen")
	}
	s.Press(CtrlC)
	if code := s.WaitExit(); code != 0 {
		t.Errorf("exit code %d", code)
	}
	if left := s.Leftovers(); len(left) != 0 {
		t.Errorf("left over: %q", left)
	}
	if wraps := s.Wrapped(); len(wraps) != 0 {
		t.Errorf("wrapped: %q", wraps)
	}
}

// A frame longer than one read of the terminal comes whole; bubbletea shows the
// bottom of one that is taller than the screen.
func TestTeaLongFrame(t *testing.T) {
	s := startTea(t, "tall", Options{Cols: 120, Rows: 200})
	s.Settle()
	rows := s.Screen()
	if !strings.HasPrefix(rows[0], "line 101 ") || rows[199] != "the last line" {
		t.Errorf("first row %q, last row %q", rows[0], rows[199])
	}
	for i, row := range rows[:199] {
		if row == "" {
			t.Errorf("row %d is empty", i)
		}
	}
}

// Each key against what bubbletea's key table (key.go, v1.3.10) calls it.
func TestKeysAgainstBubbleTea(t *testing.T) {
	keys := []struct {
		key  Key
		name string
	}{
		{Enter, "enter"}, {Esc, "esc"}, {Backspace, "backspace"}, {Up, "up"}, {PgUp, "pgup"}, {CtrlU, "ctrl+u"}, {CtrlZ, "ctrl+z"},
	}
	s := startTea(t, "tea", Options{Cols: 400})
	want := "keys "
	for _, row := range keys {
		s.Press(row.key)
		want += "<" + row.name + ">"
		s.WaitFor(want + ".")
	}
}

func TestTypeSlow(t *testing.T) {
	s := startTea(t, "tea", Options{})
	s.TypeSlow("8é0")
	s.WaitFor("keys <8><é><0>.")
}

// A paste is one bracketed message for bubbletea, shown in square brackets
// (key.go, v1.3.10); line ends come as carriage returns.
func TestPaste(t *testing.T) {
	s := startTea(t, "tea", Options{})
	s.Paste("830 ml")
	s.WaitFor("keys <[830 ml]>.")
}

func TestPasteAsRead(t *testing.T) {
	s := startChild(t, "keys", Options{})
	s.WaitFor("ready")
	s.Paste("a\nb\r\nc")
	s.WaitFor(`got "\x1b[200~a\rb\rc\x1b[201~"`)
	s.Press("q")
	s.WaitExit()
}

func TestTimesAreOfThisProgram(t *testing.T) {
	s := startChild(t, "tea", Options{}, "TERM=xterm-256color")
	start := s.StartTime(func(now string) bool { return strings.Contains(now, "the last line") })
	key := s.PressAndTime(Up, func(now string) bool { return strings.Contains(now, "<up>") })
	if start <= 0 || key <= 0 {
		t.Errorf("start %v, key %v", start, key)
	}
}

// BenchmarkKeyEcho is what the harness and the terminal add to every key: a
// program that answers without drawing a frame.
func BenchmarkKeyEcho(b *testing.B) {
	s := startChild(b, "keys", Options{})
	s.WaitFor("ready")
	i := 0
	for b.Loop() {
		i++
		s.PressAndTime(Up, func(now string) bool { return strings.Contains(now, fmt.Sprintf("%d got", i)) })
	}
}

// BenchmarkTeaKey is the same for a Bubble Tea program, which draws at most 60
// frames a second.
func BenchmarkTeaKey(b *testing.B) {
	s := startTea(b, "tea", Options{Cols: 400})
	keys := 0
	for b.Loop() {
		keys++
		s.PressAndTime("x", func(now string) bool { return strings.Count(now, "<x>") == keys%40 })
		if keys%40 == 39 { // a new line of keys before the row is full
			b.StopTimer()
			s.Press("\x18")
			s.WaitFor("keys .")
			keys = 0
			b.StartTimer()
		}
	}
}

// BenchmarkTeaStart is from starting a Bubble Tea program to its first frame.
func BenchmarkTeaStart(b *testing.B) {
	for b.Loop() {
		s := startChild(b, "tea", Options{}, "TERM=xterm-256color")
		s.StartTime(func(now string) bool { return strings.Contains(now, "the last line") })
		s.Kill()
	}
}
