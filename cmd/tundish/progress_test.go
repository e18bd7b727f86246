//go:build unix

package main

// This file looks at the bar of commands that take long, and stops them. A file that is a
// pipe nobody writes to yet makes one take as long as the test wants.

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"garage/tundish/cmd/tundish/internal/screen"
)

// slowFiles are two jobs, a pipe, a job and a pipe again, and what lets a pipe go on.
func slowFiles(t *testing.T) (files []string, goOn func(pipe int)) {
	t.Helper()
	text, err := os.ReadFile("../../testdata/jobs/drain-port.json")
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	for _, name := range []string{"1.json", "2.json", "3.pipe", "4.json", "5.pipe"} {
		path := filepath.Join(folder, name)
		files = append(files, path)
		if strings.HasSuffix(name, "pipe") {
			err = syscall.Mkfifo(path, 0o600)
		} else {
			err = os.WriteFile(path, text, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return files, func(pipe int) {
		t.Helper()
		for range 1000 { // until the program reads it
			f, err := os.OpenFile(files[pipe-1], os.O_WRONLY|syscall.O_NONBLOCK, 0)
			if err != nil {
				time.Sleep(10 * time.Millisecond)
				continue
			}
			if _, err := f.Write(text); err != nil {
				t.Fatal(err)
			}
			f.Close()
			return
		}
		t.Fatal("nobody reads the pipe")
	}
}

// aWhile is longer than what a command may take without a bar.
const aWhile = 2500 * time.Millisecond

func TestBarAndCtrlC(t *testing.T) {
	t.Parallel()
	bin := screen.Build(t, "garage/tundish/cmd/tundish")
	for _, c := range []struct {
		name, bar, said string
		args            []string
		env             string
		cols            int
	}{
		{"pool", "reading ██", "stopped after 4 of 5 files; nothing was written", []string{"pool"}, "", 80},
		{"import", "reading ██", "stopped after 4 of 5 files; nothing was stored", []string{"import", "--json"}, "", 80},
		{"ASCII", "reading ##", "stopped after 4 of 5 files", []string{"pool"}, "LC_ALL=C", 80},
		{"narrow", "reading 2 of 5 fi", "of 5 files", []string{"pool"}, "", 20},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			files, goOn := slowFiles(t)
			store := filepath.Join(t.TempDir(), "jobs.db")
			s := screen.Start(t, bin, screen.Options{Args: append(append([]string{"--store", store}, c.args...), files...),
				Env: screen.CleanEnv(t.TempDir(), c.env), Cols: c.cols})
			time.Sleep(aWhile)
			if len(s.Raw()) > 0 {
				t.Errorf("written before there is anything to tell: %q", s.Raw())
			}
			goOn(3)
			s.WaitFor(c.bar)
			time.Sleep(aWhile / 2) // for the file after it
			s.Press(screen.CtrlC)
			time.Sleep(aWhile / 2) // for the signal to come
			goOn(5)
			if code := s.WaitExit(); code != exitStopped {
				t.Errorf("exit %d, want %d", code, exitStopped)
			}
			if text := s.Text(); !strings.Contains(text, c.said) || strings.Contains(text, c.bar) {
				t.Errorf("the screen says\n%s", text)
			}
			if bytes.Contains(s.Raw(), []byte("\x1b")) || len(s.Wrapped()) > 0 && c.cols > 20 {
				t.Errorf("written: %q", s.Raw())
			}
			if _, err := os.Stat(store); err == nil {
				t.Error("there is a store")
			}
		})
	}
}

func TestAPipeGetsNoBar(t *testing.T) {
	t.Parallel()
	files, goOn := slowFiles(t)
	var problems bytes.Buffer
	cmd := exec.Command(screen.Build(t, "garage/tundish/cmd/tundish"), append([]string{"pool"}, files...)...)
	cmd.Stderr = &problems
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	time.Sleep(aWhile)
	goOn(3)
	goOn(5)
	if err := cmd.Wait(); err != nil || problems.Len() > 0 {
		t.Errorf("%v: %q", err, problems.String())
	}
}
