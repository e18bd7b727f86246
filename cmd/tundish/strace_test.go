//go:build linux

package main

// This file has system calls of the real program fail, by strace where that is installed
// and may trace.

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"garage/tundish/cmd/tundish/internal/screen"
)

// traced is the program under strace, which writes its trace to a file.
func traced(t *testing.T, l *lineMode, trace string, flags []string, args ...string) *exec.Cmd {
	t.Helper()
	flags = append([]string{"-f", "-qq", "-o", trace}, flags...)
	cmd := exec.Command("strace", slices.Concat(flags, []string{l.bin, "--store", l.store}, args)...)
	cmd.Env = screen.CleanEnv(filepath.Dir(l.store))
	return cmd
}

func needsStrace(t *testing.T) {
	t.Helper()
	if err := exec.Command("strace", "-qq", "-o", os.DevNull, "true").Run(); err != nil {
		t.Skipf("strace is not installed or may not trace: %v", err)
	}
}

// A disk that does not take an answer: nobody can tell whether it is stored, so that is
// said, the pipe ends, and the next opening reads from the disk.
func TestTracedSyncThatFails(t *testing.T) {
	t.Parallel()
	needsStrace(t)
	l := prepared(t, "Hose holds")
	before, _ := l.entries()
	failing := []string{"-e", "trace=fdatasync", "-e", "inject=fdatasync:error=EIO:when=1+"}
	l.cmd = traced(t, l, os.DevNull, failing, "guide", "--plain")
	var said, warned bytes.Buffer
	l.cmd.Stderr = &warned
	in, err := l.cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := l.cmd.StdoutPipe()
	if err == nil {
		err = l.cmd.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	l.in, l.out = in, bufio.NewReader(io.TeeReader(out, &said))
	o := &owner{t: t, answers: smallJob()}
	text, ok := l.prompt()
	for n := 0; ok && n < 20; n++ {
		fmt.Fprintln(l.in, lineAnswer(text, o))
		text, ok = l.prompt()
	}
	if err := l.cmd.Wait(); err == nil || l.cmd.ProcessState.ExitCode() != exitFailed {
		t.Errorf("%v", err)
	}
	for _, stream := range []string{said.String(), warned.String()} {
		if strings.Count(stream, "NOT CERTAIN: ") != 1 || strings.Contains(stream, "NOT STORED") {
			t.Errorf("said:\n%s", stream)
		}
	}
	trace := filepath.Join(t.TempDir(), "trace")
	if out, err := traced(t, l, trace, []string{"-e", "trace=fadvise64"}, "jobs").CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
	if calls, err := os.ReadFile(trace); err != nil || !bytes.Contains(calls, []byte("POSIX_FADV_DONTNEED")) {
		t.Errorf("%v, read from memory:\n%s", err, calls)
	}
	if after, _ := l.entries(); after < before {
		t.Errorf("%d entries, %d were stored before", after, before)
	}
}

// A journal that the disk does not give keeps nobody out, and a store that it does not
// give is not called damaged.
func TestTracedReadThatFails(t *testing.T) {
	t.Parallel()
	needsStrace(t)
	l := prepared(t, "Hose holds")
	failing := func(path string) []string {
		return []string{"-P", path, "-e", "trace=pread64", "-e", "inject=pread64:error=EIO:when=1+"}
	}
	out, err := traced(t, l, os.DevNull, failing(l.store+".journal"), "jobs").CombinedOutput()
	said := string(out)
	if err != nil || !strings.Contains(said, "it could not be read (input/output error)") || !strings.Contains(said, "car 1, rear axle") {
		t.Errorf("the journal: %v\n%s", err, said)
	}
	out, err = traced(t, l, os.DevNull, failing(l.store), "jobs").CombinedOutput()
	said = string(out)
	if err == nil || !strings.Contains(said, "jobs.db: cannot be read (input/output error); the disk may be failing") ||
		strings.Contains(said, "damaged") {
		t.Errorf("the store: %v\n%s", err, said)
	}
}
