// This file holds the tests of running, ending and asking programs.

//go:build unix

package screen

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"testing"
)

func TestPrintsAndExits(t *testing.T) {
	s := startChild(t, "print", Options{Args: []string{"one\n", "two   three"}})
	if code := s.WaitExit(); code != 3 {
		t.Errorf("exit code %d, want 3", code)
	}
	if got := s.Screen(); len(got) != 24 || got[0] != "one" || got[1] != "two   three" {
		t.Errorf("screen %q", got)
	}
	if got, want := s.Text(), "one\ntwo three"; got != want {
		t.Errorf("text %q, want %q", got, want)
	}
	if got := s.Raw(); !bytes.Equal(got, []byte("one\r\ntwo   three")) { // the line discipline makes LF into CR LF
		t.Errorf("raw %q", got)
	}
	if left := s.Leftovers(); len(left) != 0 {
		t.Errorf("left over: %q", left)
	}
}

// The replies are those of XTerm Control Sequences: CPR is CSI row ; column R,
// a colour reply is OSC 10 or 11 ; rgb:rrrr/gggg/bbbb, DA1 is CSI ? ... c.
func TestAnswers(t *testing.T) {
	for _, row := range []struct {
		answer               Answer
		textColour, backdrop string
	}{
		{AnswerAll, "rgb:ffff/ffff/ffff", "rgb:0000/0000/0000"},
		{AnswerLight, "rgb:0000/0000/0000", "rgb:ffff/ffff/ffff"},
	} {
		t.Run(row.answer.String(), func(t *testing.T) {
			s := startChild(t, "ask", Options{Answer: row.answer})
			if code := s.WaitExit(); code != 0 {
				t.Errorf("exit code %d", code)
			}
			for _, want := range []string{`cursor "\x1b[5;9R"`, `text colour "\x1b]10;` + row.textColour, `background "\x1b]11;` +
				row.backdrop, `kind "\x1b[?62;`} {
				if !shows(s.Text(), want) {
					t.Errorf("no %s in:\n%s", want, s.Text())
				}
			}
		})
	}
}

// A mute terminal leaves the query unanswered: the next thing the program reads
// is the key.
func TestMute(t *testing.T) {
	s := startChild(t, "ask", Options{Answer: Mute})
	s.wait("query", func(string) bool { return bytes.Contains(s.Raw(), []byte("\x1b[6n")) })
	s.Press(Up)
	s.WaitFor(`cursor "\x1b[A"`)
}

func TestResize(t *testing.T) {
	s := startChild(t, "size", Options{Cols: 100, Rows: 30})
	s.WaitFor("100 by 30, <nil>")
	s.Resize(52, 11)
	s.WaitFor("52 by 11, <nil>")
	if rows := s.Screen(); len(rows) != 11 {
		t.Errorf("%d rows, want 11", len(rows))
	}
}

func TestEndings(t *testing.T) {
	t.Run("exit code after a key", func(t *testing.T) {
		s := startChild(t, "keys", Options{})
		s.WaitFor("ready")
		s.Press("q")
		if code := s.WaitExit(); code != 7 {
			t.Errorf("exit code %d, want 7", code)
		}
	})
	endings := []struct {
		name string
		end  func(*Session)
		want syscall.Signal
	}{
		{"kill", (*Session).Kill, syscall.SIGKILL},
		{"signal", func(s *Session) { s.Signal(syscall.SIGINT) }, syscall.SIGINT},
		{"closed terminal", (*Session).CloseTerminal, syscall.SIGHUP},
	}
	for _, row := range endings {
		t.Run(row.name, func(t *testing.T) {
			s := startChild(t, "size", Options{})
			s.WaitFor("80 by 24")
			row.end(s)
			if got := s.reap().Signal(); got != row.want {
				t.Errorf("ended by %v, want %v", got, row.want)
			}
			if !strings.Contains(s.Text(), "80 by 24") {
				t.Errorf("the last screen is gone: %q", s.Text())
			}
		})
	}
}

func TestKillTwice(t *testing.T) {
	s := startChild(t, "size", Options{})
	s.Kill()
	s.Kill()
	if got := s.reap().Signal(); got != syscall.SIGKILL {
		t.Errorf("ended by %v", got)
	}
}

func TestLeftovers(t *testing.T) {
	all := []string{"alternate screen", "hidden cursor", "no autowrap", "bracketed paste", "focus reports", "mouse reports", "raw input"}
	for _, row := range []struct {
		key  Key
		want []string
	}{
		{"q", nil},
		{"x", all},
	} {
		s := startChild(t, "paint", Options{})
		s.WaitFor("plain")
		if !s.AltScreen() {
			t.Error("not on the alternate screen")
		}
		if got := s.Leftovers(); !slices.Equal(got, all) {
			t.Errorf("while running: %q", got)
		}
		s.Press(row.key)
		s.WaitExit()
		if got := s.Leftovers(); !slices.Equal(got, row.want) {
			t.Errorf("after key %s: %q, want %q", row.key, got, row.want)
		}
	}
}

func TestWaits(t *testing.T) {
	s := startChild(t, "keys", Options{Rows: 4})
	s.WaitFor("ready")
	s.Type("abc")
	if got := s.waitMatch(regexp.MustCompile(`(?m)^(\d) got "(\w+)"$`)); got[1] != "1" || got[2] != "abc" {
		t.Errorf("groups %q", got)
	}
	s.Type("d")
	s.WaitFor(`2 got "d"`)
	s.Type("e")
	s.WaitGone("ready") // scrolled off a screen of four rows
}

func TestWrapped(t *testing.T) {
	s := startChild(t, "print", Options{Cols: 20, Args: []string{"exactly twenty wide.\n", "this is twenty-two wide\n"}})
	s.WaitExit()
	if got, want := s.Wrapped(), []string{"this is twenty-two w"}; !slices.Equal(got, want) {
		t.Errorf("wrapped %q, want %q", got, want)
	}
}

func TestWaitForJoinsBrokenLines(t *testing.T) {
	s := startChild(t, "print", Options{Args: []string{"pour   910 ml\n  into the vessel\n"}})
	s.WaitFor("pour 910 ml into the vessel")
	if shows(s.Text(), "pour 910 ml the vessel") {
		t.Error("matches what is not there")
	}
	s.WaitExit()
}

func TestBuild(t *testing.T) {
	bin := Build(t, "./testdata/hello")
	s := Start(t, bin, Options{})
	s.WaitFor("hello from a built program")
	s.WaitExit()
	if again := Build(t, "./testdata/hello"); again != bin {
		t.Errorf("built twice: %s and %s", bin, again)
	}
	t.Setenv("TUNDISH_TEST_BINARY", "/somewhere/tundish")
	if got := Build(t, "garage/tundish/cmd/tundish"); got != "/somewhere/tundish" {
		t.Errorf("built %s in spite of TUNDISH_TEST_BINARY", got)
	}
}
