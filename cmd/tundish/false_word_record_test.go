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
	"regexp"
	"strings"
	"testing"

	"garage/tundish/cmd/tundish/internal/screen"
)

// run is what the program prints on the store of the line mode.
func (l *lineMode) run(args ...string) string { return l.fed("", args...) }

// fed is the same, with lines on its input.
func (l *lineMode) fed(lines string, args ...string) string {
	l.t.Helper()
	cmd := exec.Command(l.bin, append([]string{"--store", l.store}, args...)...)
	cmd.Env = screen.CleanEnv(filepath.Dir(l.store))
	cmd.Stdin = strings.NewReader(lines)
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
	const short, long = "342 ml less came out than fits", "more came out than fits"
	o.answers["How much came out?"], o.answers["How much MORE came out?"] = []string{"300"}, []string{"500"}
	o.answers[short] = []string{"7"} // more came out
	l.start()
	defer l.kill()
	said := ""
	for range 40 {
		text, ok := l.prompt()
		if !ok {
			t.Fatalf("it ended:\n%s", said)
		}
		said += text
		if strings.Contains(text, long) {
			break
		}
		fmt.Fprintln(l.in, lineAnswer(text, o))
	}
	if !strings.Contains(said, "\n"+short) || !strings.Contains(said, long) {
		t.Fatalf("never asked:\n%s", said)
	}
	l.kill()
	for _, args := range [][]string{{"--format", "txt"}, {"--format", "json"}, {"--format", "txt", "--share"}} {
		text := strings.Join(strings.Fields(l.run(append([]string{"summary", "last"}, args...)...)), " ")
		if args[1] == "txt" && !strings.Contains(text, short) || strings.Contains(text, long) {
			t.Errorf("%v: the record says:\n%s", args, text)
		}
	}
	if text := l.run("summary", "last", "--format", "json"); !strings.Contains(text, `"asked":"`+short) {
		t.Error("the file does not keep the question")
	}
}

// clockSays is the notice of a clock far after the job: its minute may turn.
var clockSays = regexp.MustCompile(`clock says [^;]+;`)

// What an owner calls a jug changes nothing in the sums but its name.
func TestFalseWord18AnOwnersNameChangesNoWord(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../testdata/jobs/drain-port.json")
	if err != nil {
		t.Fatal(err)
	}
	loaded := bytes.Index(text, []byte(`{"seq":73,`)) // from there on the job is still to be done
	text = append(bytes.TrimRight(text[:loaded], ", \n"), "]}}"...)
	const plain = "qqq"
	sums := func(name string) string {
		folder := t.TempDir()
		file := filepath.Join(folder, "job.json")
		if err := os.WriteFile(file, bytes.ReplaceAll(text, []byte("measuring jug"), []byte(name)), 0o600); err != nil {
			t.Fatal(err)
		}
		l := &lineMode{t: t, bin: screen.Build(t, "garage/tundish/cmd/tundish"), store: filepath.Join(folder, "jobs.db")}
		l.run("import", file)
		out := l.fed("*sums\n*quit\n", "guide", "--plain", "--job", "20260418-7")
		if !strings.Contains(out, "oubt: ") {
			t.Fatalf("no word of the doubt:\n%s", out)
		}
		return clockSays.ReplaceAllString(strings.Join(strings.Fields(out), " "), "clock says now;")
	}
	want := sums(plain)
	for _, name := range []string{"x, checked with water", "kitchen scale", "jug (line 3)"} {
		if got := sums(name); got != strings.ReplaceAll(want, plain, name) {
			t.Errorf("called %q, the guide says:\n%s\nwant:\n%s", name, got, strings.ReplaceAll(want, plain, name))
		}
	}
}
