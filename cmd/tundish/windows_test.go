//go:build unix

package main

// This file runs the program for Windows where a wine is installed that can start
// programs of this Go. One that lacks what they need (bcryptprimitives.dll) cannot.

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// wine runs a program for Windows in a folder.
type wine struct {
	path, folder, program string
}

func (w wine) run(input string, args ...string) (string, error) {
	cmd := exec.Command(w.path, append([]string{w.program}, args...)...)
	cmd.Dir, cmd.WaitDelay, cmd.Stdin = w.folder, 10*time.Second, strings.NewReader(input)
	cmd.Env = append(os.Environ(), "WINEPREFIX="+filepath.Join(w.folder, "prefix"), "WINEDEBUG=-all", "TZ=UTC")
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	err := cmd.Run()
	return strings.ReplaceAll(out.String(), "\r\n", "\n") + errs.String(), err
}

// wineHere is the wine that can start the program; the test is skipped without.
func wineHere(t *testing.T) wine {
	t.Helper()
	if os.Getenv("TUNDISH_LONG") == "" {
		t.Skip("it builds the program for Windows: set TUNDISH_LONG")
	}
	w := wine{folder: t.TempDir(), program: "tundish.exe"}
	for _, name := range []string{"wine", "wine64", "/usr/lib/wine/wine64"} {
		if path, err := exec.LookPath(name); err == nil {
			w.path = path
			break
		}
	}
	if w.path == "" {
		t.Skip("SKIPPED: no wine here; the program for Windows is only built")
	}
	build := exec.Command("go", "build", "-o", filepath.Join(w.folder, w.program), ".")
	build.Env = append(os.Environ(), "GOOS=windows", "GOARCH=amd64", "CGO_ENABLED=0")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	if out, err := w.run("", "--version"); err != nil {
		t.Skipf("SKIPPED: this wine cannot start a program of this Go, which is only built: %v\n%.200s", err, out)
	}
	return w
}

func TestWindowsDoesWhatOthersDo(t *testing.T) {
	w := wineHere(t)
	file, err := os.ReadFile("../../testdata/jobs/drain-port.json")
	if err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(w.folder, "job.json"), string(file))
	for _, step := range []struct{ input, args, want string }{
		{"", "calc hose --bore 8mm --length 1.5m --json", `"holdup_ml": 75.39`},
		{"", "import job.json --store jobs.db", "20260418-700000"},
		{"", "verify --store jobs.db", "nothing is wrong"},
		{"", "backup copy.db --store jobs.db", "copied to copy.db"},
		{"", "jobs --store copy.db", "blue estate, rear axle"},
		{"", "summary 2026 --format csv -o record.csv --store jobs.db", ""},
		{"", "summary 2026 --format txt --store jobs.db", "Oil change: rear axle of blue estate"},
		{"quit\n", "--plain --job new --store jobs.db", "PREPARE"},
	} {
		out, err := w.run(step.input, strings.Fields(step.args)...)
		if err != nil || !strings.Contains(out, step.want) {
			t.Errorf("%s: %v: %q is not in\n%s", step.args, err, step.want, out)
		}
	}
	if text, err := os.ReadFile(filepath.Join(w.folder, "record.csv")); err != nil || !bytes.HasPrefix(text, []byte("job,unit_state")) {
		t.Errorf("the record: %v, %.40q", err, text)
	}
}
