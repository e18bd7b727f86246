//go:build unix

package main

// This file looks at what the guide makes of a wrong amount, of a correction,
// and of being left, as whoever sits at it meets it.

import (
	"fmt"
	"os/exec"
	"strings"
	"syscall"
	"testing"

	"garage/tundish/cmd/tundish/internal/screen"
)

// hears answers with a line, and wants words in what is said next.
func (l *lineMode) hears(typed string, words ...string) string {
	l.t.Helper()
	fmt.Fprintln(l.in, typed)
	text, _ := l.prompt()
	for _, w := range words {
		if !strings.Contains(text, w) {
			l.t.Fatalf("after %q it does not say %q:\n%s", typed, w, text)
		}
	}
	return text
}

// upTo answers as it is offered until it says some words.
func (l *lineMode) upTo(text string, words string) string {
	l.t.Helper()
	o := &owner{t: l.t}
	for range 50 {
		if strings.Contains(text, words) {
			return text
		}
		text = l.hears(lineAnswer(text, o))
	}
	l.t.Fatalf("it never says %q: %s", words, text)
	return ""
}

func TestFalseWord15AmountTypedWrong(t *testing.T) {
	t.Parallel()
	l := prepared(t, "How much came out?")
	l.start()
	defer l.kill()
	text, _ := l.prompt()
	l.upTo(text, "How much came out?")
	text = l.upTo(l.hears("55"), "STOP")
	if strings.Contains(text, "Enter =") || !strings.Contains(text, "4  I read or typed it wrong") {
		t.Errorf("at STOP: %s", text)
	}
	l.hears("", "open: ")
	l.hears("4", "How much came out")
	l.upTo(l.hears("300"), "STOP")
	l.hears("7", "How much MORE came out? Added to 300 ml")
}

func TestFalseWord17CorrectingReplaces(t *testing.T) {
	t.Parallel()
	o, _ := atMeasure(t)
	o.s.Press(screen.CtrlU)
	o.s.Type("588")
	o.s.WaitFor("588 ml (at")
	o.s.Press(screen.Enter)
	o.s.WaitGone("[588")
	for range 9 { // back to its line
		if strings.Contains(o.s.Text(), "[588") {
			break
		}
		o.s.Type("/")
		o.s.Settle()
	}
	o.s.WaitFor("[588")
	o.s.TypeSlow("600")
	o.s.WaitFor("[600 ")
	o.s.WaitFor("600 ml (at")
	o.s.Press(screen.Enter)
	o.s.WaitGone("[600 ")
	if text := o.s.Text(); strings.Contains(text, "588600") {
		t.Errorf("what was typed was joined:\n%s", text)
	}
}

func TestFalseWord17DraftIsReplaced(t *testing.T) {
	t.Parallel()
	o, l := atMeasure(t)
	o.s.Settle()
	o.s.Press(screen.CtrlC)
	o.s.WaitExit()
	again := smallJob()
	again["In the drain port now"] = []string{"1"}
	o = begin(t, again, screen.Options{Env: []string{"TUNDISH_STORE=" + l.store}})
	o.upTo("How much came out?")
	o.s.TypeSlow("550")
	o.s.WaitFor("550 ml (at")
}

func TestFalseWord19LeavingSaysHowItStands(t *testing.T) {
	t.Parallel()
	stands := []string{"car 1, rear axle: EMPTY. Do not move the car.", "To go on where you stopped: tundish"}
	for name, leave := range map[string]func(*owner){
		"ctrl+c":     func(o *owner) { o.s.Press(screen.CtrlC) },
		"terminated": func(o *owner) { o.s.Signal(syscall.SIGTERM) },
		"menu": func(o *owner) {
			o.s.Press(screen.CtrlU)
			o.s.Type("*")
			o.s.WaitFor("Correct an earlier answer")
			o.s.Type("10")
			o.s.Press(screen.Enter)
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			o, _ := atMeasure(t)
			leave(o)
			o.s.WaitExit()
			for _, want := range stands {
				if text := strings.Join(strings.Fields(o.s.Text()), " "); o.s.AltScreen() || !strings.Contains(text, want) {
					t.Errorf("left on the terminal: %q, want %q", text, want)
				}
			}
		})
	}
	t.Run("line mode", func(t *testing.T) {
		t.Parallel()
		l := prepared(t, "How much came out?")
		for typed, want := range map[string][]string{"*quit\n": stands, "": stands} {
			cmd := exec.Command(l.bin, "--store", l.store, "guide", "--plain")
			cmd.Stdin = strings.NewReader(typed)
			out, err := cmd.Output()
			for _, w := range want {
				if err != nil || !strings.Contains(string(out), w) {
					t.Errorf("left by %q: %v, %s; want %q", typed, err, out, w)
				}
			}
		}
	})
	for name, want := range map[string]string{"guide": "No job is open.", "demo": "nothing of it is kept"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			cmd := exec.Command(screen.Build(t, "garage/tundish/cmd/tundish"), name, "--plain")
			cmd.Env = screen.CleanEnv(t.TempDir())
			out, err := cmd.Output()
			if text := string(out); err != nil || !strings.Contains(text, want) || strings.Contains(text, "To go on") {
				t.Errorf("%v, %s; want %q", err, text, want)
			}
		})
	}
}
