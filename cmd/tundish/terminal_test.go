//go:build unix

package main

// This file runs commands in a real terminal that answers nothing, and looks at
// every byte that they write to it.

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"strings"
	"syscall"
	"testing"
	"unicode/utf8"

	"garage/tundish/cmd/tundish/internal/look"
	"garage/tundish/cmd/tundish/internal/screen"
	"garage/tundish/cmd/tundish/internal/tty"
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
		{[]string{"calc", "hose", "--bore", "8mm", "--length", "1m"}, exitDone, "hose holds"},
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

// Whoever has said how the terminal looks, or wants no colour, or has a
// terminal that would not know what to make of it, is not asked.
func TestTheGuideAsksNothingItNeedNotKnow(t *testing.T) {
	for name, o := range map[string]screen.Options{
		"flag":      {Args: []string{"guide", "--background", "dark"}},
		"variable":  {Env: screen.CleanEnv(t.TempDir(), "TUNDISH_BACKGROUND=light")},
		"COLORFGBG": {Env: screen.CleanEnv(t.TempDir(), "COLORFGBG=15;0")},
		"NO_COLOR":  {Env: screen.CleanEnv(t.TempDir(), "NO_COLOR=1")},
		"console":   {Env: screen.CleanEnv(t.TempDir(), "TERM=linux")},
		"line mode": {Args: []string{"guide", "--plain"}},
		"TERM=dumb": {Env: screen.CleanEnv(t.TempDir(), "TERM=dumb")},
	} {
		t.Run(name, func(t *testing.T) {
			o.Answer = screen.Mute
			s := screen.Start(t, screen.Build(t, "garage/tundish/cmd/tundish"), o)
			s.WaitFor("The manual for this unit")
			s.Settle()
			wantNoQuery(t, s)
		})
	}
}

// Where nothing reports whether the terminal is dark the guide asks once, and goes
// on as if it were. An answer turns the colours at whatever time it comes, and
// is never taken for keys.
func TestTheGuideWaitsForNoAnswer(t *testing.T) {
	bin := screen.Build(t, "garage/tundish/cmd/tundish")
	start := func(a screen.Answer, args ...string) *screen.Session {
		s := screen.Start(t, bin, screen.Options{Args: args, Answer: a})
		s.WaitFor("The manual for this unit")
		s.Settle() // the frame is whole
		return s
	}
	looks := func(s *screen.Session) screen.Style { return s.StyleOf("Which unit?") }
	dark, light := looks(start(screen.Mute, "guide", "--background", "dark")), looks(start(screen.Mute, "guide", "--background", "light"))
	if dark == light {
		t.Fatalf("dark and light look the same: %v", dark)
	}

	s := start(screen.Mute)
	if n := bytes.Count(s.Raw(), []byte(tty.AskBackground)); n != 1 {
		t.Errorf("asked %d times, want 1", n)
	}
	if got := looks(s); got != dark {
		t.Errorf("without an answer it looks %v, want %v", got, dark)
	}
	before := s.Screen()
	s.Type("\x1b]11;rgb:ffff/ffff/ffff\x1b\\")
	s.WaitUntil("light colours", func([]string) bool { return looks(s) == light })
	s.Settle()
	if after := s.Screen(); !slices.Equal(before, after) {
		t.Errorf("the answer was taken for keys:\n%s", strings.Join(after, "\n"))
	}
	s.Press(screen.CtrlC)
	if code := s.WaitExit(); code != exitDone {
		t.Errorf("exit code %d after ctrl+c, want %d", code, exitDone)
	}
	if left := s.Leftovers(); len(left) > 0 {
		t.Errorf("left behind in the terminal: %v", left)
	}

	s = start(screen.AnswerLight)
	s.WaitUntil("light colours", func([]string) bool { return looks(s) == light })
	s = start(screen.AnswerAll)
	s.Settle()
	if got := looks(s); got != dark {
		t.Errorf("on a dark terminal it looks %v, want %v", got, dark)
	}
}

// A guide that is opened without a word is the one that the command line would
// have opened.
func TestGuideWithoutAWord(t *testing.T) {
	var c commands
	parser, err := newParser(&c, new(outside))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := parser.Parse(nil); err != nil {
		t.Fatal(err)
	}
	if c.Guide != (guideCommand{Flags: look.Flags{Background: "auto"}}) || c.Store != "" {
		t.Errorf("the command line makes %+v, want %+v", c.Guide, (guideCommand{Flags: look.Flags{Background: "auto"}}))
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
		t.Run(name, func(t *testing.T) { leftBehind(t, leave, name == "window shut", "demo") })
		t.Run(name+" in line mode", func(t *testing.T) { leftBehind(t, leave, name == "window shut", "demo", "--plain") })
	}
}

// leftBehind runs the demo, leaves it, and looks at what is left of it; where
// the window is shut no terminal is left to look at.
func leftBehind(t *testing.T, leave func(*screen.Session), shut bool, args ...string) {
	temp := t.TempDir()
	s := screen.Start(t, screen.Build(t, "garage/tundish/cmd/tundish"), screen.Options{
		Args: args, Env: screen.CleanEnv(t.TempDir(), "TMPDIR="+temp),
	})
	s.WaitFor("EMPTY")
	leave(s)
	if code := s.WaitExit(); code != exitDone && !shut {
		t.Errorf("exit code %d, want %d", code, exitDone)
	}
	left, err := os.ReadDir(temp)
	if err != nil || len(left) > 0 {
		t.Errorf("left in the temporary folder: %v, %v", left, err)
	}
	if shut {
		return
	}
	if left := s.Leftovers(); len(left) > 0 {
		t.Errorf("left in the terminal: %v", left)
	}
}

// A click in a real terminal (SGR mouse report, XTerm Control Sequences)
// chooses what is seen there on the line that keys go to. At the end the terminal
// reports no clicks any more.
func TestAClickPointsAtWhatIsSeen(t *testing.T) {
	t.Parallel()
	s := screen.Start(t, screen.Build(t, "garage/tundish/cmd/tundish"), screen.Options{})
	s.WaitFor("Which unit?")
	s.Type(confirmKey.FindStringSubmatch(s.Text())[1])
	s.WaitFor("► Which unit?")
	row := slices.IndexFunc(s.Screen(), func(row string) bool { return strings.Contains(row, "2 front axle") })
	before, _, _ := strings.Cut(s.Screen()[row], "2 front axle")
	column := utf8.RuneCountInString(before) + 2
	s.Type(fmt.Sprintf("\x1b[<0;%d;%dM\x1b[<0;%d;%dm", column, row+1, column, row+1))
	s.WaitFor("► Driven by")
	s.WaitGone("rear axle")
	s.Press(screen.CtrlC)
	if code := s.WaitExit(); code != exitDone {
		t.Errorf("exit code %d, want %d", code, exitDone)
	}
	if left := s.Leftovers(); len(left) > 0 {
		t.Errorf("left behind in the terminal: %v", left)
	}
}

// A job that cannot be opened is a failure, told once more where it stays to be
// read when the screen is gone.
func TestTheGuideFailsWithAJobThatCannotBeRead(t *testing.T) {
	s := screen.Start(t, screen.Build(t, "garage/tundish/cmd/tundish"), screen.Options{
		Args: []string{"--store", storeWithOneDamaged(t), "guide", "--job", "last"},
	})
	s.WaitFor("This does not work")
	s.Press(screen.Enter)
	if code := s.WaitExit(); code != exitFailed {
		t.Errorf("exit code %d, want %d", code, exitFailed)
	}
	if text := s.Text(); !strings.Contains(text, "tundish: ") {
		t.Errorf("nothing is left to read: %s", text)
	}
}
