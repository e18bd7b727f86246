package tui

// This file does jobs in the line mode by what is said alone.

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/job"
	"garage/tundish/tui/theme"
)

// listener is somebody who does a job in the line mode by what is said alone.
type listener struct {
	t     *testing.T
	since atomic.Int64 // the clock: nanoseconds since the morning
	ticks chan tea.Msg // the clock, when the test lets it tick
	said  *bytes.Buffer
	in    io.WriteCloser
	out   *io.PipeReader
	ended chan error
}

// listening starts the line mode on a journal.
func listening(t *testing.T, mem *memory) *listener {
	t.Helper()
	return listeningAt(t, mem, 0)
}

// listeningAt does so at a time since the morning.
func listeningAt(t *testing.T, mem *memory, since time.Duration) *listener {
	t.Helper()
	inR, inW := io.Pipe()
	outR, outW := io.Pipe()
	l := &listener{t: t, ticks: make(chan tea.Msg), said: &bytes.Buffer{}, in: inW, out: outR, ended: make(chan error, 1)}
	l.since.Store(int64(since))
	cfg := Config{
		Journal: mem, Clock: l.clock, Chance: func() uint32 { mem.made++; return mem.made }, Bell: outW,
		After:  func(time.Duration, func(time.Time) tea.Msg) tea.Cmd { return func() tea.Msg { return <-l.ticks } },
		Export: func(id string) (string, error) { return "/home/somebody/" + id + ".html", nil },
	}
	go func() {
		err := RunPlain(inR, outW, cfg, theme.New(theme.Options{}))
		_ = outW.Close()
		l.ended <- err
	}()
	return l
}

func (l *listener) clock() time.Time { return morning.Add(time.Duration(l.since.Load())) }

// hear reads up to the sign for input, or the end.
func (l *listener) hear() string {
	l.t.Helper()
	var b strings.Builder
	one := make([]byte, 1)
	for !strings.HasSuffix(b.String(), "\n> ") {
		if _, err := l.out.Read(one); err != nil {
			break
		}
		b.Write(one)
	}
	l.said.WriteString(b.String())
	return b.String()
}

func (l *listener) types(line string) string {
	l.t.Helper()
	l.since.Add(int64(30 * time.Second))
	if _, err := fmt.Fprintln(l.in, line); err != nil {
		l.t.Fatal(err)
	}
	return l.hear()
}

// lastLine is what is heard right before the sign for input.
func lastLine(heard string) string {
	lines := strings.Split(strings.TrimSuffix(heard, "\n> "), "\n")
	return lines[len(lines)-1]
}

var (
	toConfirm  = regexp.MustCompile(`type (\d) and Enter to confirm`)
	toChoose   = regexp.MustCompile(`\(a number from 1 to \d+(; Enter alone is \d+)?\)$`)
	heardTyped = map[string]string{
		"What is on the plug's magnet?": "2", "Temperature of that oil": "20", "Temperature of the new oil": "20", "The oil of the hose": "1",
		"Escaped so far": "0", "The drain plug: how": "2",
		"Stated quantity": "600", "Hose: bore": "4.6066", "Hose: length": "1.5", "Temperature of the oil": "20", "How much came out?": "550",
		"Really in the vessel now?": "625", "Left in the vessel now?": "0", "Escaped at the swap?": "50",
	}
)

// reply is what the small job answers to the question that was heard last.
func reply(question string) string {
	if m := toConfirm.FindStringSubmatch(question); m != nil {
		return m[1]
	}
	for begins, typed := range heardTyped {
		if strings.HasPrefix(question, begins) {
			return typed
		}
	}
	if m := toChoose.FindStringSubmatch(question); m != nil && m[1] == "" {
		return "1"
	}
	return ""
}

// upTo answers until a question begins with these words, or the job ends.
func (l *listener) upTo(begins string) string {
	l.t.Helper()
	heard := l.hear()
	for range 200 {
		question := lastLine(heard)
		if !strings.HasSuffix(heard, "> ") || (begins != "" && strings.HasPrefix(strings.TrimPrefix(question, "CAUTION: "), begins)) {
			return heard
		}
		l.since.Add(int64(5 * time.Minute)) // nobody is faster under a car
		heard = l.types(reply(question))
	}
	l.t.Fatalf("never asked: %s\n%s", begins, l.said)
	return ""
}

// The whole job can be done by listening: the question and how it is answered
// come last, the state is said, nothing is drawn.
func TestPlainJobByListening(t *testing.T) {
	l := listening(t, newMemory())
	l.upTo("")
	if err := <-l.ended; err != nil {
		t.Fatal(err)
	}
	said := l.said.String()
	for _, want := range []string{"EMPTY", "Do not move the car.", "NOT PROVEN", "VERDICT: within", "FILLED, PROVEN",
		"Nothing is left to do"} {
		if !strings.Contains(said, want) {
			t.Errorf("never said: %s", want)
		}
	}
	for _, r := range said {
		if r == 0x1b || (r >= 0x2500 && r < 0x25ff) || r == '→' || r == '│' {
			t.Fatalf("%q is drawn, not said", r)
		}
	}
	for _, heard := range strings.Split(said, "\n> ") {
		if last := lastLine(heard); !strings.HasSuffix(last, ")") && !strings.Contains(heard, "Nothing is left") {
			t.Errorf("the last line before the input is not the question: %q", last)
		}
	}
}

// After a mistake only the mistake and the question are said again; *again says
// all of it.
func TestPlainSaysALongListOnce(t *testing.T) {
	l := listening(t, newMemory())
	l.upTo("What does that quantity mean?")
	if heard := l.types("7"); strings.Contains(heard, "Dry fill:") || strings.Count(heard, "\n") != 2 {
		t.Errorf("after a mistake: %q", heard)
	}
	if heard := l.types("*again"); !strings.Contains(heard, "1. Dry fill:") || !strings.Contains(heard, "AS FOUND") {
		t.Errorf("*again says %q", heard)
	}
}

// What stands as it stood is not said at every question, but *again says it.
func TestPlainSaysHowThingsStandOnce(t *testing.T) {
	l := listening(t, newMemory())
	l.upTo("Temperature of that oil")
	const figure = "came out, at 20 °C: 550 ml"
	if heard := l.said.String(); strings.Count(heard, figure) != 1 {
		t.Errorf("%s is said %d times", figure, strings.Count(heard, figure))
	}
	if heard := l.types(""); strings.Contains(heard, figure) {
		t.Errorf("said again with the next question: %q", heard)
	}
	if heard := l.types("*again"); !strings.Contains(heard, figure) {
		t.Errorf("*again says %q", heard)
	}
}

// A wait that is over is told while an answer is waited for, with the bell.
func TestPlainWaitIsTold(t *testing.T) {
	l := listening(t, newMemory())
	heard := l.upTo("How much is out by now?")
	if !strings.Contains(heard, "plug out, draining for a moment; after 15 min: slow drops by now?") {
		t.Errorf("the clock is not told: %q", heard)
	}
	l.since.Add(int64(20 * time.Minute))
	l.ticks <- nil
	if heard := l.hear(); heard != "\a\n15 min are over: slow drops by now?\n> " {
		t.Errorf("heard %q", heard)
	}
}

func TestPlainCommands(t *testing.T) {
	l := listening(t, newMemory())
	if heard := l.upTo("Name the unit"); !strings.Contains(heard, "Taken: the car") {
		t.Errorf("heard %q", heard)
	}
	for _, c := range []struct{ typed, hears string }{
		{"*record", ".html"},
		{"*list", "2. car: the car"},
		{"*correct 9", "with a line number"},
		{"*correct 2", "CORRECTING line 2: Name the car"},
		{"*back", "Name the unit"},
		{"*strike", "with a line number"},
		{"*strike 77", "with a line number"},
		{"*undo", "struck out: car: the car"},
		{"+", "Taken: filled through: Drain port only"},
		{"*help", "*quit leaves"},
		{"*sums", "Volumes are at 20"},
	} {
		if heard := l.types(c.typed); !strings.Contains(heard, c.hears) {
			t.Errorf("%s: heard %q, want %q in it", c.typed, heard, c.hears)
		}
	}
	l.types("*quit")
	if err := <-l.ended; err != nil {
		t.Fatal(err)
	}
}

// The list of jobs can be left like any other question.
func TestPlainListOfJobsCanBeLeft(t *testing.T) {
	mem := newMemory()
	newStage(t, mem, 80, 24).upTo(job.LeakCheck)
	l := listening(t, mem)
	if heard := l.hear(); !strings.Contains(lastLine(heard), "Which job?") {
		t.Fatalf("heard %q", heard)
	}
	for _, typed := range []string{"*help", "?"} {
		if heard := l.types(typed); !strings.Contains(heard, "*quit leaves") || !strings.Contains(lastLine(heard), "Which job?") {
			t.Fatalf("%s: heard %q", typed, heard)
		}
	}
	l.types("*quit")
	if err := <-l.ended; err != nil {
		t.Fatal(err)
	}
}

// A job that was stopped is not said to have nothing left to do.
func TestPlainSaysThatTheJobWasStopped(t *testing.T) {
	mem := newMemory()
	st := newStage(t, mem, 80, 24)
	st.answers = troubled()["chips"]
	st.answers[job.ChipsDecision] = "1"
	st.upTo(job.NoTopic)
	if !st.app.guide.state.StoppedByOwner() {
		t.Fatalf("not stopped:\n%s", st.screen())
	}
	for id := range mem.jobs {
		var said bytes.Buffer
		cfg := Config{Journal: mem, Clock: func() time.Time { return st.now }, OpenID: id, After: never}
		if err := RunPlain(strings.NewReader(""), &said, cfg, theme.New(theme.Options{})); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(said.String(), "Stopped: the unit is not to be used") || strings.Contains(said.String(), "Nothing is left") {
			t.Errorf("heard %q", said.String())
		}
	}
}
