//go:build unix

package main

// This file looks from another window at a store that the real guide has open.

import (
	"bytes"
	"encoding/json"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"garage/tundish/cmd/tundish/internal/screen"
)

// window is another window of the same owner.
type window struct {
	t   *testing.T
	bin string
	env []string
}

// run does one command, which must leave with a code and say something on
// standard error: where it is done one line, or none where says is "".
func (w window) run(code int, says string, args ...string) (out string) {
	w.t.Helper()
	var stdout, stderr bytes.Buffer
	cmd := exec.Command(w.bin, args...)
	cmd.Env, cmd.Stdout, cmd.Stderr = w.env, &stdout, &stderr
	_ = cmd.Run() // the exit code tells
	if got := cmd.ProcessState.ExitCode(); got != code {
		w.t.Errorf("%v: exit %d, want %d: %s", args, got, code, stderr.String())
	}
	told := stderr.String()
	if lines := strings.Count(told, "\n"); !strings.Contains(told, says) || code == exitDone && lines != min(len(says), 1) {
		w.t.Errorf("%v: says %q, want %q", args, told, says)
	}
	return stdout.String()
}

// typed is what was typed in the job that a summary in JSON holds.
func (w window) typed(summary string) (typed []string) {
	w.t.Helper()
	var record struct {
		Job struct {
			Entries []struct{ Typed string }
		}
	}
	if err := json.Unmarshal([]byte(summary), &record); err != nil {
		w.t.Fatalf("%v: %s", err, summary)
	}
	for _, e := range record.Job.Entries {
		typed = append(typed, e.Typed)
	}
	return typed
}

const noteBeside = "another window has it open; this is what it had stored by now"

func TestEveryReadingCommandWorksBesideTheGuide(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "jobs.db")
	o := begin(t, smallJob(), screen.Options{Env: []string{"TUNDISH_STORE=" + path}})
	w := window{t, screen.Build(t, "garage/tundish/cmd/tundish"), o.env}
	o.upTo("How much came out?")

	before := w.typed(w.run(exitDone, noteBeside, "summary", "last", "--format", "json"))
	if len(before) < 20 {
		t.Errorf("%d entries beside the guide, %d lines were answered", len(before), len(o.said))
	}
	if list := w.run(exitDone, noteBeside, "jobs"); !strings.Contains(list, "EMPTY") {
		t.Errorf("the unit is empty, and the list says %s", list)
	}
	o.step() // 588, accepted when what follows is there
	after := w.typed(w.run(exitDone, noteBeside, "summary", "last", "--format", "json"))
	if !slices.Contains(after[len(before):], "588") {
		t.Errorf("typed after 588: %q", after[len(before):])
	}

	list := w.run(exitDone, noteBeside, "jobs", "--json")
	if tag := w.run(exitDone, noteBeside, "tag", "last"); !strings.Contains(tag, "NO OIL IN REAR AXLE") {
		t.Errorf("the tag says %s", tag)
	}
	w.run(exitDone, noteBeside, "history", "last")
	w.run(exitDone, noteBeside, "due")
	if found := w.run(exitDone, noteBeside, "verify"); !regexp.MustCompile(`(?m)^nothing is wrong$`).MatchString(found) {
		t.Errorf("verify: %s", found)
	}
	copied := filepath.Join(t.TempDir(), "copy.db")
	w.run(exitDone, noteBeside, "backup", copied)
	if ours := w.run(exitDone, "", "jobs", "--json", "--store", copied); ours != list {
		t.Errorf("the backup lists %s, want %s", ours, list)
	}
	w.run(exitDone, "", "verify", "--store", copied)
	w.run(exitFailed, "that is the store itself", "backup", path+".journal", "--force")

	const refused = "another window has it open; close that window"
	w.run(exitFailed, refused, "import", "../../testdata/jobs/level-port.json")
	w.run(exitFailed, refused, "guide", "--plain")
	o.upTo("how it was worked out") // the guide has noticed nothing
	o.s.Press(screen.CtrlC)
	o.s.WaitExit()
	w.run(exitDone, "", "jobs")
}
