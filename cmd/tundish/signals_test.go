//go:build unix

package main

// This file ends, suspends, resizes and floods the real program, and looks at
// what it leaves: the store, the terminal, the exit code.

import (
	"os"
	"strings"
	"syscall"
	"testing"

	"garage/tundish/cmd/tundish/internal/screen"
)

// atMeasure is the guide at the question what came out, with 54 half typed.
func atMeasure(t *testing.T) (o *owner, l *lineMode) {
	t.Helper()
	l = prepared(t, "How much came out?")
	answers := smallJob()
	answers["In the drain port now"] = []string{"1"}
	o = begin(t, answers, screen.Options{Env: []string{"TUNDISH_STORE=" + l.store}})
	o.upTo("How much came out?")
	o.s.Type("54")
	o.s.WaitFor("54 ml")
	return o, l
}

// keepsAll says that everything accepted before is in the store, which is sound.
func (o *owner) keepsAll(l *lineMode) {
	o.t.Helper()
	l.verify()
	if n, state := l.entries(); n < l.typed+len(o.said) || !strings.Contains(state, "EMPTY") {
		o.t.Errorf("%d entries, state %q; %d questions were answered", n, state, l.typed+len(o.said))
	}
}

func TestSignalsEndItInOrder(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		end  func(o *owner)
	}{
		{"SIGTERM", func(o *owner) { o.s.Signal(syscall.SIGTERM) }},
		{"SIGQUIT", func(o *owner) { o.s.Signal(syscall.SIGQUIT) }},
		{"SIGHUP", func(o *owner) { o.s.Signal(syscall.SIGHUP) }},
		{"SIGINT", func(o *owner) { o.s.Signal(syscall.SIGINT) }},
		{"Ctrl+C", func(o *owner) { o.s.Press(screen.CtrlC) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			o, l := atMeasure(t)
			c.end(o)
			if code := o.s.WaitExit(); code > 1 {
				t.Errorf("exit %d", code)
			}
			if left := o.s.Leftovers(); len(left) > 0 {
				t.Errorf("the terminal is left with %v", left)
			}
			o.keepsAll(l)
		})
	}
}

// A window that is closed takes the terminal away with it.
func TestClosedWindowKeepsWhatWasAccepted(t *testing.T) {
	t.Parallel()
	o, l := atMeasure(t)
	o.s.CloseTerminal()
	o.s.WaitExit()
	o.keepsAll(l)
}

func TestSuspendAndGoOn(t *testing.T) {
	t.Parallel()
	o, l := atMeasure(t)
	o.s.Press(screen.CtrlZ)
	o.s.WaitUntil("the terminal given back", func([]string) bool { return !o.s.AltScreen() })
	o.s.Settle() // it waits for SIGCONT from just after that on
	o.s.Signal(syscall.SIGCONT)
	o.s.WaitUntil("the alternate screen again", func([]string) bool { return o.s.AltScreen() })
	o.s.WaitFor("How much came out?")
	o.s.Type("0")
	o.s.WaitFor("540 ml")
	o.s.Press(screen.CtrlC)
	o.s.WaitExit()
	o.keepsAll(l)
}

func TestResizeStorm(t *testing.T) {
	t.Parallel()
	o, l := atMeasure(t)
	for i := range 60 {
		o.s.Resize(20+i*3%150, 5+i*7%60)
	}
	o.s.Resize(70, 22)
	o.s.WaitFor("How much came out?")
	o.s.WaitFor("54 ml")
	o.s.Resize(40, 10)
	o.s.WaitFor("tundish needs 60 x 20")
	o.s.Resize(80, 24)
	o.s.WaitFor("54 ml")
	o.s.Press(screen.CtrlC)
	o.s.WaitExit()
	o.keepsAll(l)
}

// A megabyte (a tenth of it in the short run) from the clipboard is not an amount, and not a confirmation.
func TestPasteOfAMegabyte(t *testing.T) {
	t.Parallel()
	o, l := atMeasure(t)
	o.s.Press(screen.CtrlU)
	kilobytes := 100
	if os.Getenv("TUNDISH_LONG") != "" {
		kilobytes = 1000
	}
	o.s.Paste(strings.Repeat("1234567 ", 125*kilobytes))
	o.s.Press(screen.Enter)
	o.s.WaitFor("How much came out?")
	o.s.Press(screen.CtrlU)
	o.s.Type("550")
	o.s.WaitFor("550 ml")
	o.s.Press(screen.CtrlC)
	o.s.WaitExit()
	o.keepsAll(l)
}

// A paste that the terminal begins and never ends is given up, and keys are keys again.
func TestPasteWithoutAnEnd(t *testing.T) {
	t.Parallel()
	o, l := atMeasure(t)
	o.s.Type("\x1b[200~0")
	o.s.WaitFor("540 ml")
	o.s.Press(screen.CtrlU)
	o.s.Type("550")
	o.s.WaitFor("550 ml")
	o.s.Press(screen.CtrlC)
	o.s.WaitExit()
	o.keepsAll(l)
}
