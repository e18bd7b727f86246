//go:build unix

package main

// This file looks at the bar of commands that take long, and stops them. The program
// under test is the slow one, which waits at each step.

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"garage/tundish/cmd/tundish/internal/about"
	"garage/tundish/cmd/tundish/internal/screen"
	"garage/tundish/model/job"
	"garage/tundish/store"
)

// slowSteps is how many steps there are of whatever is stopped in these tests, at least.
const slowSteps = 60

// oneJob is a job of a file.
func oneJob(t *testing.T) []byte {
	t.Helper()
	text, err := os.ReadFile("../../testdata/jobs/drain-port.json")
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// sameFiles are files of one job.
func sameFiles(t *testing.T) (files []string) {
	t.Helper()
	text, folder := oneJob(t), t.TempDir()
	for i := range slowSteps {
		files = append(files, filepath.Join(folder, fmt.Sprintf("%d.json", i)))
		if err := os.WriteFile(files[i], text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return files
}

// unitsOf makes a store of a short job of each of many units, of which nothing is kept,
// and a copy of it.
func unitsOf(t *testing.T) (path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "jobs.db")
	s, err := store.Open(path, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var jobs []store.Incoming
	for i := range slowSteps {
		j := job.Job{ID: job.NewID(noon, uint32(i)), Started: noon}
		for n, topic := range []job.Topic{job.Vehicle, job.UnitName} {
			j.Entries = append(j.Entries, job.Entry{Seq: n + 1, At: noon, Topic: topic, Value: job.Value{Text: fmt.Sprintf("van %d", i)}})
		}
		jobs = append(jobs, store.Incoming{Job: j, Head: headOf(j)})
	}
	if _, err := s.ImportAll(jobs); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(s.Backup(path+".copy", false, nil, nil), s.Close()); err != nil {
		t.Fatal(err)
	}
	return path
}

// kept counts the rows of a store that are kept.
func kept(t *testing.T, path string) (n int) {
	t.Helper()
	s, err := store.Open(path, store.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	rows, _, err := s.Made(about.FoldedBy())
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rows {
		n += min(len(r.Row), 1)
	}
	return n
}

// aWhile is longer than what a command may take without a bar.
const aWhile = time.Second

// stopping is a command that is stopped while it shows a bar.
type stopping struct {
	name, bar, said string
	env             string
	cols            int
	args            []string                        // $ is the path of the store
	files           bool                            // are named, and there is no store
	beside          bool                            // another window has the store open
	damaged         bool                            // the store is
	left            func(t *testing.T, path string) // looks at the store afterwards
}

var stopped = []stopping{
	{name: "pool", bar: "reading █", said: "60 files; nothing was written", args: []string{"pool"}, files: true},
	{name: "import", bar: "reading █", said: "60 files; nothing was stored", args: []string{"import", "--json"}, files: true},
	{name: "ASCII", bar: "reading ##", said: "of 60 files", args: []string{"pool"}, files: true, env: "LC_ALL=C"},
	{name: "narrow", bar: "reading 2", said: "of 60 files", args: []string{"pool"}, files: true, cols: 20},
	{name: "due", bar: "working out █", said: "60 units; those are kept", args: []string{"due"}, left: someAreKept},
	{name: "jobs", bar: "working out █", said: "60 units; those are kept", args: []string{"jobs"}, left: someAreKept},
	{name: "beside", bar: "working out █", said: "60 units; nothing was changed", args: []string{"due"}, beside: true},
	{name: "verify", bar: "looking through █", said: "entries; nothing was changed", args: []string{"verify"}, left: asBefore},
	{name: "repair", bar: "reading █", said: "pages; there is no new store", args: []string{"repair", "$.new"}, left: asBefore},
	{name: "restore", bar: "looking through █", said: "pages; nothing was changed", args: []string{"restore", "$.copy"}, left: asBefore},
	{name: "backup", bar: "looking through █", said: "pages; there is no new copy", args: []string{"backup", "$.new"}, left: asBefore},
	{name: "damaged", bar: "reading █", said: "pages; nothing was changed", args: []string{"jobs"}, damaged: true, left: asBefore},
	{name: "csv", bar: "working out █", said: "60 units; nothing was written", args: []string{"jobs", "--csv"}, left: noneIsKept},
}

// Without a list that goes on from there the rest is not known.
func someAreKept(t *testing.T, path string) {
	t.Helper()
	some := kept(t, path)
	if code, _, problems := runHere(t, nil, "due", "--store", path); code != exitDone || problems != "" {
		t.Errorf("the list after it: %d, %s", code, problems)
	}
	if all := kept(t, path); some == 0 || some >= slowSteps || all < some {
		t.Errorf("%d rows are kept, and %d after the next list", some, all)
	}
}

func noneIsKept(t *testing.T, path string) {
	t.Helper()
	if n := kept(t, path); n > 0 {
		t.Errorf("%d rows are kept", n)
	}
}

// asBefore looks for what is there beside the store, its journal and its copy.
func asBefore(t *testing.T, path string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(filepath.Dir(path), "*"))
	if hidden, _ := filepath.Glob(filepath.Join(filepath.Dir(path), ".*")); err != nil || len(files) != 3 || len(hidden) > 0 {
		t.Errorf("there are %q, %q (%v)", files, hidden, err)
	}
	if s, err := store.Open(path, store.Options{}); err != nil {
		t.Error(err)
	} else if n, err := s.Count(); err != nil || n != slowSteps || s.Close() != nil {
		t.Errorf("%d jobs are there (%v)", n, err)
	}
}

// start begins the command.
func (c stopping) start(t *testing.T, bin string) (s *screen.Session, path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "jobs.db")
	args := []string{"--store", path}
	if !c.files {
		path = unitsOf(t)
		args[1] = path
	}
	for _, a := range c.args {
		args = append(args, strings.ReplaceAll(a, "$", path))
	}
	if c.files {
		args = append(args, sameFiles(t)...)
	}
	if c.damaged {
		spoil(t, path)
	}
	if c.beside {
		open, err := store.Open(path, store.Options{})
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = open.Close() })
	}
	return screen.Start(t, bin, screen.Options{Args: args, Env: screen.CleanEnv(t.TempDir(), c.env), Cols: c.cols}), path
}

// spoil takes the second half of a store's file.
func spoil(t *testing.T, path string) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err == nil {
		clear(text[len(text)/2:])
		err = os.WriteFile(path, text, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
}

func TestBarAndCtrlC(t *testing.T) {
	t.Parallel()
	bin, err := exec.LookPath("slow")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range stopped {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			began := time.Now()
			s, path := c.start(t, bin)
			s.WaitFor(c.bar)
			if shown := time.Since(began); shown < aWhile {
				t.Errorf("a bar after %v", shown)
			}
			s.Press(screen.CtrlC)
			if code := s.WaitExit(); code != exitStopped {
				t.Errorf("exit %d, want %d", code, exitStopped)
			}
			if text := s.Text(); !strings.Contains(text, c.said) || strings.Contains(text, c.bar) {
				t.Errorf("the screen says\n%s", text)
			}
			if bytes.Contains(s.Raw(), []byte("\x1b")) || len(s.Wrapped()) > 0 && c.cols > 20 {
				t.Errorf("written: %q", s.Raw())
			}
			if _, err := os.Stat(path); err == nil && c.files {
				t.Error("there is a store")
			}
			if c.left != nil {
				c.left(t, path)
			}
		})
	}
}

func TestAPipeGetsNoBar(t *testing.T) {
	t.Parallel()
	var problems bytes.Buffer
	cmd := exec.Command("slow", append([]string{"pool"}, sameFiles(t)...)...)
	cmd.Stderr = &problems
	began := time.Now()
	if err := cmd.Run(); err != nil || problems.Len() > 0 || time.Since(began) < aWhile {
		t.Errorf("after %v: %v: %q", time.Since(began), err, problems.String())
	}
}

// What is repaired is folded at once, so that no list needs to.
func TestRepairKeepsWhatListsShow(t *testing.T) {
	t.Parallel()
	path := unitsOf(t)
	if code, _, problems := runHere(t, nil, "repair", path+".new", "--store", path); code != exitDone {
		t.Fatalf("%d, %s", code, problems)
	}
	if n := kept(t, path+".new"); n != slowSteps {
		t.Errorf("%d rows are kept of %d units", n, slowSteps)
	}
}
