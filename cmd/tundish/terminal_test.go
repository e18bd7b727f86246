//go:build unix

package main

// This file runs commands in a real terminal that answers nothing, and looks at
// every byte that they write to it.

import (
	"bytes"
	"os"
	"strings"
	"syscall"
	"testing"

	"garage/tundish/cmd/tundish/internal/screen"
)

// queries are what programs ask terminals: colours (OSC 10, 11), where the
// cursor is (CSI 6n), what it is (CSI c, CSI > c, CSI > q), and a mode (CSI ? n $ p).
// Source: XTerm Control Sequences, invisible-island.net.
func queries() map[string]string {
	return map[string]string{
		"\x1b]10;?": "its text colour", "\x1b]11;?": "its background", "\x1b[6n": "where its cursor is",
		"\x1b[c": "what it is", "\x1b[0c": "what it is", "\x1b[>c": "what version it is", "\x1b[>q": "its name", "$p": "a mode",
	}
}

func wantNoQuery(t *testing.T, s *screen.Session) {
	t.Helper()
	for query, what := range queries() {
		if at := bytes.Index(s.Raw(), []byte(query)); at >= 0 {
			t.Errorf("the terminal is asked %s at byte %d: %q", what, at, s.Raw()[:at+len(query)])
		}
	}
}

func TestCommandsAskTheTerminalNothing(t *testing.T) {
	bin := screen.Build(t, "garage/tundish/cmd/tundish")
	for _, row := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"--version"}, exitDone, "tundish "},
		{[]string{"--help"}, exitDone, "Usage: tundish"},
		{[]string{"jobs"}, exitDone, "no jobs yet"},
		{[]string{"calc", "hose", "--bore", "8mm", "--length", "1m"}, exitDone, "hold-up"},
		{[]string{"calc", "hose", "--bore", "x"}, exitUsage, "tundish: --bore"},
	} {
		t.Run(strings.Join(row.args, " "), func(t *testing.T) {
			s := screen.Start(t, bin, screen.Options{Args: row.args, Answer: screen.Mute})
			if code := s.WaitExit(); code != row.code {
				t.Errorf("exit code %d, want %d", code, row.code)
			}
			if !bytes.Contains(s.Raw(), []byte(row.want)) {
				t.Errorf("%q is not printed: %q", row.want, s.Raw())
			}
			wantNoQuery(t, s)
			if bytes.Contains(s.Raw(), []byte("\x1b")) {
				t.Errorf("an escape sequence is written: %q", s.Raw())
			}
		})
	}
}

// The guide draws, but asks nothing either; it has begun before anything could
// be waited for.
func TestTheGuideAsksTheTerminalNothing(t *testing.T) {
	s := screen.Start(t, screen.Build(t, "garage/tundish/cmd/tundish"), screen.Options{Answer: screen.Mute})
	s.WaitFor("Which units")
	wantNoQuery(t, s)
	s.Press(screen.CtrlC)
	if code := s.WaitExit(); code != exitDone {
		t.Errorf("exit code %d after ctrl+c, want %d", code, exitDone)
	}
	wantNoQuery(t, s)
	if left := s.Leftovers(); len(left) > 0 {
		t.Errorf("left behind in the terminal: %v", left)
	}
}

// Without package boot Bubble Tea would ask: this says that the harness sees it.
func TestAQueryWouldBeSeen(t *testing.T) {
	s := screen.Start(t, screen.Build(t, "./internal/boot/testdata/asks"), screen.Options{Answer: screen.AnswerAll})
	if code := s.WaitExit(); code != 0 {
		t.Fatalf("exit code %d", code)
	}
	if !bytes.Contains(s.Raw(), []byte("\x1b]11;?")) {
		t.Errorf("a program that asks for the background is not seen to ask: %q", s.Raw())
	}
}

// However the demo is left, short of a kill, its store is thrown away.
func TestTheDemoLeavesNothingBehind(t *testing.T) {
	for name, leave := range map[string]func(*screen.Session){
		"ctrl+c":      func(s *screen.Session) { s.Press(screen.CtrlC) },
		"terminated":  func(s *screen.Session) { s.Signal(syscall.SIGTERM) },
		"hung up":     func(s *screen.Session) { s.Signal(syscall.SIGHUP) },
		"window shut": func(s *screen.Session) { s.CloseTerminal() },
		"interrupted": func(s *screen.Session) { s.Signal(syscall.SIGINT) },
	} {
		t.Run(name, func(t *testing.T) {
			temp := t.TempDir()
			s := screen.Start(t, screen.Build(t, "garage/tundish/cmd/tundish"), screen.Options{
				Args: []string{"demo"}, Env: screen.CleanEnv(t.TempDir(), "TMPDIR="+temp),
			})
			s.WaitFor("UNIT EMPTY")
			leave(s)
			if code := s.WaitExit(); code != exitDone && name != "window shut" {
				t.Errorf("exit code %d, want %d", code, exitDone)
			}
			left, err := os.ReadDir(temp)
			if err != nil || len(left) > 0 {
				t.Errorf("left in the temporary folder: %v, %v", left, err)
			}
			if name == "window shut" {
				return
			}
			if left := s.Leftovers(); len(left) > 0 {
				t.Errorf("left in the terminal: %v", left)
			}
		})
	}
}
