//go:build unix

package main

// This file holds the record to the words of the job: what was asked is told
// as it was asked.

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"garage/tundish/cmd/tundish/internal/screen"
)

// run is what the program prints on the store of the line mode.
func (l *lineMode) run(args ...string) string {
	l.t.Helper()
	cmd := exec.Command(l.bin, append([]string{"--store", l.store}, args...)...)
	cmd.Env = screen.CleanEnv(filepath.Dir(l.store))
	out, err := cmd.CombinedOutput()
	if err != nil {
		l.t.Fatalf("%v: %v\n%s", args, err, out)
	}
	return string(out)
}

// Far too little came out, and after another look far more: the question that
// stopped the owner stays what it was, in every form of the record.
func TestFalseWord11TheQuestionStaysAsItWasAsked(t *testing.T) {
	t.Parallel()
	l := prepared(t, "How much came out?")
	o := &owner{t: t, answers: smallJob()}
	o.answers["How much came out?"] = []string{"300", "500"}
	o.answers["STOP: 252 ml short"] = []string{"\x01"} // more came out
	l.start()
	defer l.kill()
	asked, said := "", ""
	for range 40 {
		text, ok := l.prompt()
		if !ok {
			t.Fatalf("it ended:\n%s", said)
		}
		said += text
		if strings.Contains(text, "STOP: ") && strings.Contains(text, "too much") {
			break
		}
		if strings.Contains(text, "STOP: ") {
			_, asked, _ = strings.Cut(text, "STOP: ")
			asked, _, _ = strings.Cut(asked, "\n")
		}
		fmt.Fprintln(l.in, lineAnswer(text, o))
	}
	if !strings.Contains(asked, "252 ml short") {
		t.Fatalf("the question was %q:\n%s", asked, said)
	}
	l.kill()
	for _, args := range [][]string{{"--format", "txt"}, {"--format", "json"}, {"--format", "txt", "--share"}} {
		text := strings.Join(strings.Fields(l.run(append([]string{"summary", "last"}, args...)...)), " ")
		if args[1] == "txt" && !strings.Contains(text, "STOP: 252 ml short") || strings.Contains(text, "too much. Let it stand") {
			t.Errorf("%v: asked was %q, the record says:\n%s", args, asked, text)
		}
	}
	if text := l.run("summary", "last", "--format", "json"); !strings.Contains(text, `"asked":"STOP: 252 ml short`) {
		t.Error("the file does not keep the question")
	}
}

// What an owner calls a jug changes nothing in the record but its name.
func TestFalseWord18AnOwnersNameChangesNoWord(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../testdata/jobs/drain-port.json")
	if err != nil {
		t.Fatal(err)
	}
	const plain = "qqq"
	record := func(name string) string {
		folder := t.TempDir()
		file, path := filepath.Join(folder, "job.json"), filepath.Join(folder, "jobs.db")
		if err := os.WriteFile(file, bytes.ReplaceAll(text, []byte("measuring jug"), []byte(name)), 0o600); err != nil {
			t.Fatal(err)
		}
		if code, _, stderr := runHere(t, nil, "import", file, "--store", path); code != exitDone {
			t.Fatalf("import: %d, %s", code, stderr)
		}
		code, out, stderr := runHere(t, nil, "summary", "20260418-7", "--format", "md", "--store", path)
		if code != exitDone || !strings.Contains(out, name) {
			t.Fatalf("summary: %d, %s\n%s", code, stderr, out)
		}
		return out
	}
	want := record(plain)
	for _, name := range []string{"reading of the scale", "x, checked with water", "kitchen scale", "jug, round 1"} {
		if got := record(name); got != strings.ReplaceAll(want, plain, name) {
			t.Errorf("called %q, the record says:\n%s\nwant:\n%s", name, got, strings.ReplaceAll(want, plain, name))
		}
	}
}
