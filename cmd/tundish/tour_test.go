//go:build unix

package main

// This file plays the tour of the demo to its end, as whoever does what it says.

import (
	"bufio"
	"fmt"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"garage/tundish/cmd/tundish/internal/screen"
	"garage/tundish/model/job"
	"garage/tundish/testdata/runs"
	"garage/tundish/tui/demo"
)

// tourist answers as the tour says, by how the lines begin; of the push only that it
// ended.
func tourist(t *testing.T) *owner {
	answers := map[string][]string{}
	for topic, ask := range map[job.Topic]string{
		job.DrainedAmount: "How much came out?", job.HoseBefore: "The hose, before", job.LoadedAmount: "How much did you pour in?",
		job.LeftInVessel: "Left in the vessel", job.EscapedAmount: "Spilled, all of it", job.ResumedPlug: "In the drain port now",
	} {
		answers[ask] = slices.Clone(demo.Stops()[topic].Typed)
	}
	return &owner{t: t, answers: answers}
}

func TestFalseWord14TheTourEndsOnEveryScreen(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 40}}[:runs.Of(2, 3)] {
		t.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(t *testing.T) {
			t.Parallel()
			o := tourist(t)
			o.s = screen.Start(t, screen.Build(t, "garage/tundish/cmd/tundish"),
				screen.Options{Args: []string{"demo"}, Cols: size[0], Rows: size[1]})
			o.s.WaitFor("demo: ")
			o.upTo("")
			o.s.WaitFor("Nothing is left to do")
			if wrapped := o.s.Wrapped(); len(wrapped) > 0 {
				t.Errorf("lines ran over the margin: %q", wrapped)
			}
			o.s.Press(screen.CtrlC)
			if code := o.s.WaitExit(); code != exitDone {
				t.Errorf("exit code %d", code)
			}
		})
	}
}

func TestFalseWord14TheTourEndsInLineMode(t *testing.T) {
	t.Parallel()
	o, l := tourist(t), &lineMode{t: t, cmd: exec.Command(screen.Build(t, "garage/tundish/cmd/tundish"), "demo", "--plain")}
	l.cmd.Env = screen.CleanEnv(t.TempDir())
	in, err := l.cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := l.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	l.in, l.out = in, bufio.NewReader(out)
	if err := l.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	text, more := l.prompt()
	for range 200 {
		if !more {
			break
		}
		fmt.Fprintln(l.in, lineAnswer(text, o))
		text, more = l.prompt()
	}
	in.Close()
	if err := l.cmd.Wait(); more || err != nil || !strings.Contains(text, "Nothing is left to do") {
		t.Errorf("the tour ends with %v and %s", err, text)
	}
}
