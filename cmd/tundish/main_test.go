package main

// This file runs the scripts of whole commands (testdata/scripts at the top of
// the project) and holds the words that they are written in, beside those of
// package testscript:
//
//	exits CODE COMMAND ARG…   the command must leave with this exit code
//	json PATH VALUE [WITHIN]  what was printed is JSON that has the value at the path
//	keys PATH NAME…           … and an object there with these names and no others
//	demojob FILE [DAY]        makes a store with the demo's job, of that day of 2026
//	truncate FILE BYTES       cuts a file short
//	newer FILE                makes a store say that a newer version wrote it
//
// and two programs, one for the line mode, and one for what is stopped:
//
//	listener FILE COMMAND ARG…  types the digit of each caution, as it is said, and else the next line of the file
//	slow ARG…                   is the program, and takes longer for each step that a bar counts

import (
	"bufio"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"garage/tundish/cmd/tundish/internal/progress"
	"garage/tundish/cmd/tundish/internal/screen"
	"garage/tundish/store"
	"garage/tundish/tui/demo"
)

// cleaned removes what the tests have built after the last of them.
type cleaned struct{ *testing.M }

// Many of the tests wait most of the time, for a program in a terminal: more run at once
// than there are processors, where no -parallel says otherwise.
func (c cleaned) Run() int {
	defer screen.RemoveBuilds()
	flag.Parse()
	if f := flag.Lookup("test.parallel"); f.Value.String() == f.DefValue {
		_ = f.Value.Set("4") // a number
	}
	return c.M.Run()
}

func TestMain(m *testing.M) {
	testscript.Main(cleaned{m}, map[string]func(){"tundish": main, "listener": listener, "slow": slow})
}

// slow waits at each step.
func slow() {
	progress.Pause = 50 * time.Millisecond
	main()
}

// listener runs the line mode between pipes and prints what is said, and what is typed.
// Nobody knows the digit of a caution who has not heard it.
func listener() {
	check := func(err error) {
		if err != nil {
			panic(err)
		}
	}
	text, err := os.ReadFile(os.Args[1])
	check(err)
	lines := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	l := &lineMode{cmd: exec.Command(os.Args[2], os.Args[3:]...)}
	l.in, err = l.cmd.StdinPipe()
	check(err)
	out, err := l.cmd.StdoutPipe()
	check(err)
	l.out, l.cmd.Stderr = bufio.NewReader(out), os.Stderr
	check(l.cmd.Start())
	for {
		said, asks := l.prompt()
		fmt.Print(said)
		if !asks {
			_ = l.cmd.Wait()
			os.Exit(l.cmd.ProcessState.ExitCode())
		}
		m := typeToConfirm.FindStringSubmatch(said)
		switch {
		case m != nil:
			fmt.Println(m[1])
			fmt.Fprintln(l.in, m[1])
		case len(lines) == 0:
			_ = l.in.Close()
		default:
			fmt.Println(lines[0])
			fmt.Fprintln(l.in, lines[0])
			lines = lines[1:]
		}
	}
}

func TestScripts(t *testing.T) {
	testdata, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	scripts, err := filepath.Glob("../../testdata/scripts/*.txtar")
	if err != nil || len(scripts) == 0 {
		t.Fatalf("%d scripts, %v", len(scripts), err)
	}
	path := os.Getenv("PATH")
	if !testing.Short() { // the program itself, which starts sooner than this test in its place
		path = filepath.Dir(screen.Build(t, "garage/tundish/cmd/tundish")) + string(filepath.ListSeparator) + path
	} else { // for races: those in which much is done side by side
		scripts = slices.DeleteFunc(scripts, func(path string) bool {
			name := filepath.Base(path)
			return !strings.HasPrefix(name, "import") && !strings.HasPrefix(name, "jobs") && !strings.HasPrefix(name, "due")
		})
	}
	testscript.Run(t, testscript.Params{
		Files:               scripts,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("HOME", e.WorkDir)
			e.Setenv("TZ", "UTC")
			e.Setenv("PATH", path)
			e.Setenv("PUBLISHED", filepath.Join(testdata, "published"))
			e.Setenv("JOBS", filepath.Join(testdata, "jobs"))
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits, "json": jsonHas, "keys": jsonKeys, "demojob": demoStore, "truncate": truncate, "newer": newerStore,
		},
		Condition: func(condition string) (bool, error) {
			if condition != "root" {
				return false, fmt.Errorf("condition %q is not one of ours", condition)
			}
			return os.Geteuid() == 0, nil
		},
	})
}

func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND ARG…")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	err = ts.Exec(args[1], args[2:]...)
	if exit, ok := errors.AsType[*exec.ExitError](err); ok {
		got = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// printed is the value at a path (a.0.b) in what the last command printed.
func printed(ts *testscript.TestScript, path string) any {
	var v any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile("stdout")), &v))
	for _, step := range strings.Split(path, ".") {
		if path == "." {
			break
		}
		switch inner := v.(type) {
		case map[string]any:
			found, ok := inner[step]
			if !ok {
				ts.Fatalf("no %q in the JSON: it has %v", step, slices.Sorted(maps.Keys(inner)))
			}
			v = found
		case []any:
			i, err := strconv.Atoi(step)
			if err != nil || i >= len(inner) {
				ts.Fatalf("no item %s in a list of %d", step, len(inner))
			}
			v = inner[i]
		default:
			ts.Fatalf("nothing below %v at %s", v, step)
		}
	}
	return v
}

func jsonHas(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 2 && len(args) != 3 {
		ts.Fatalf("usage: json PATH VALUE [WITHIN]")
	}
	got := printed(ts, args[0])
	same := fmt.Sprint(got) == args[1] || got == nil && args[1] == "null"
	if x, ok := got.(float64); ok && args[1] != "null" {
		want, err := strconv.ParseFloat(args[1], 64)
		ts.Check(err)
		within := 0.0
		if len(args) == 3 {
			within, err = strconv.ParseFloat(args[2], 64)
			ts.Check(err)
		}
		same = math.Abs(x-want) <= within
	}
	if same == neg {
		ts.Fatalf("%s is %v, want %s (not: %v)", args[0], got, strings.Join(args[1:], " ± "), neg)
	}
}

func jsonKeys(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: keys PATH NAME…")
	}
	object, ok := printed(ts, args[0]).(map[string]any)
	if !ok {
		ts.Fatalf("%s is no object", args[0])
	}
	if got, want := slices.Sorted(maps.Keys(object)), slices.Sorted(slices.Values(args[1:])); !slices.Equal(got, want) {
		ts.Fatalf("keys %v, want %v", got, want)
	}
}

func demoStore(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 || len(args) > 2 {
		ts.Fatalf("usage: demojob FILE [DAY]")
	}
	day := 100
	if len(args) == 2 {
		var err error
		day, err = strconv.Atoi(args[1])
		ts.Check(err)
	}
	s, err := store.Open(ts.MkAbs(args[0]), store.Options{})
	ts.Check(err)
	job, err := demo.Job(time.Date(2026, 1, day, 9, 0, 0, 0, time.UTC))
	ts.Check(err)
	ts.Check(s.Create(job, headOf(job)))
	ts.Check(s.Close())
}

func truncate(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: truncate FILE BYTES")
	}
	bytes, err := strconv.ParseInt(args[1], 10, 64)
	ts.Check(err)
	ts.Check(os.Truncate(ts.MkAbs(args[0]), bytes))
}

func TestEachScriptSaysWhatItShows(t *testing.T) {
	scripts, err := filepath.Glob("../../testdata/scripts/*.txtar")
	if err != nil || len(scripts) == 0 {
		t.Fatalf("no scripts: %v", err)
	}
	for _, script := range scripts {
		text, err := os.ReadFile(script)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(string(text), "# ") {
			t.Errorf("%s does not say in its first line what it shows", filepath.Base(script))
		}
	}
}
