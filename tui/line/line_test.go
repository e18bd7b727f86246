package line

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
	"garage/tundish/tui"
	"garage/tundish/tui/session/sessiontest"
	"garage/tundish/tui/theme"
)

var morning = time.Date(2026, 4, 18, 9, 0, 0, 0, time.UTC)

// listener is somebody who does a job in the line mode by what is said alone.
type listener struct {
	t     *testing.T
	mem   *sessiontest.Memory
	since atomic.Int64 // the clock: nanoseconds since the morning
	ticks chan tea.Msg // the clock, when the test lets it tick
	said  *bytes.Buffer
	in    io.WriteCloser
	out   *io.PipeReader
	ended chan error
	typed map[string]string // what is typed where a question begins so
}

// listening starts the line mode on a journal, at a time since the morning.
func listening(t *testing.T, mem *sessiontest.Memory, since time.Duration) *listener {
	t.Helper()
	inR, inW := io.Pipe()
	outR, outW := io.Pipe()
	l := &listener{t: t, mem: mem, ticks: make(chan tea.Msg), said: &bytes.Buffer{}, in: inW, out: outR, ended: make(chan error, 1)}
	l.since.Store(int64(since))
	l.typed = map[string]string{
		"Fill quantity": "600-680", "Hose holds": "25", "Level until today": "2", "The case feels": "2", "On the magnet": "2",
		"How much came out": "588", "How much did you pour in": "730", "Left in the vessel": "22", "Spilled, all of it": "46",
		"What now": "6",
	}
	cfg := tui.Config{
		Journal: mem, Clock: l.clock, Chance: func() uint32 { return uint32(len(mem.Jobs)) + 1 }, Bell: outW,
		After:  func(time.Duration, func(time.Time) tea.Msg) tea.Cmd { return func() tea.Msg { return <-l.ticks } },
		Export: func(id, _ string) (string, error) { return "/home/somebody/" + id + ".html", nil },
	}
	go func() {
		err := Run(inR, outW, cfg, nil, theme.New(theme.Options{}))
		_ = outW.Close()
		_ = inR.Close()
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
	for !strings.HasSuffix(b.String(), " > ") {
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
		l.t.Fatalf("%v\n%s", err, l.said)
	}
	l.said.WriteString(line + "\n")
	return l.hear()
}

// question is what is heard right before the sign for input.
func question(heard string) string {
	lines := strings.Split(strings.TrimSuffix(heard, " > "), "\n")
	return lines[len(lines)-1]
}

var toConfirm = regexp.MustCompile(`So\? type (\d), or / back$`)

// reply is what the small job answers to the question that was heard last.
func (l *listener) reply(question string) string {
	if m := toConfirm.FindStringSubmatch(question); m != nil {
		return m[1]
	}
	for begins, typed := range l.typed {
		if strings.HasPrefix(question, begins) {
			return typed
		}
	}
	if strings.HasSuffix(question, "(a digit)") {
		return "1"
	}
	return ""
}

// upTo answers until a question begins with these words, or the job ends.
func (l *listener) upTo(begins string) string {
	l.t.Helper()
	heard := l.hear()
	for range 200 {
		asks := question(heard)
		if !strings.HasSuffix(heard, "> ") || begins != "" && strings.HasPrefix(strings.TrimPrefix(asks, "CAUTION: "), begins) {
			return heard
		}
		l.since.Add(int64(5 * time.Minute)) // nobody is faster under a car
		heard = l.types(l.reply(asks))
	}
	l.t.Fatalf("never asked: %s\n%s", begins, l.said)
	return ""
}

func (l *listener) theJob() *job.State {
	l.t.Helper()
	for _, j := range l.mem.Jobs {
		return job.Fold(j)
	}
	l.t.Fatal("no job")
	return nil
}

// The whole job can be done by listening: the question and how it is answered
// come last, the state is said, nothing is drawn.
func TestJobByListening(t *testing.T) {
	l := listening(t, sessiontest.NewMemory(), 0)
	l.upTo("")
	if err := <-l.ended; err != nil {
		t.Fatal(err)
	}
	said := l.said.String()
	for _, want := range []string{
		"== MEASURE (sheet 4 of 9)  UNIT EMPTY 0:", "do not move", "UNIT NOT PROVEN", "== VERDICT", "ACCEPTED, LIKELY",
		"POUR INTO THE VESSEL: 7",
		"STOP WHEN THE VESSEL READS: ", "offered: temperature", "Nothing is left to do", "may be driven",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("never said: %s", want)
		}
	}
	for _, r := range said {
		if r == 0x1b || r >= 0x2500 && r < 0x25ff || r == '→' || r == '│' {
			t.Fatalf("%q is drawn, not said", r)
		}
	}
	if got := strings.Count(said, " so: "); got < 12 {
		t.Errorf("%d ticks are said back", got)
	}
	if t.Failed() {
		t.Log(said)
	}
}

// One caution a line, confirmed by its own digit; Enter says what is open.
func TestCautionsOneByOne(t *testing.T) {
	l := listening(t, sessiontest.NewMemory(), 0)
	heard := l.upTo("Hard level ground")
	key := toConfirm.FindStringSubmatch(question(heard))[1]
	entries := l.theJob().Count
	for _, typed := range []string{"", "y", "yes", key + key, "1234567890", ".", "+", "-15", "ground and chocks " + key} {
		heard = l.types(typed)
		if !strings.Contains(question(heard), "Hard level ground") || typed == "" && !strings.HasPrefix(heard, "open: "+key) {
			t.Errorf("after %q: %s", typed, heard)
		}
	}
	if got := l.theJob().Count; got != entries {
		t.Fatalf("%d entries more", got-entries)
	}
	if heard = l.types(key); !strings.HasPrefix(heard, key+" so: Hard level ground") {
		t.Errorf("heard %q", heard)
	}
	if got := l.theJob().Count; got != entries+1 {
		t.Errorf("%d entries more, want one", got-entries)
	}
}

// What is offered is listed once, and changed by its name; minutes ago by the sheet's
// event; what is worth knowing by its name too.
func TestOffersAreChangedByName(t *testing.T) {
	l := listening(t, sessiontest.NewMemory(), 0)
	l.upTo("Hose holds")
	heard := l.types("25")
	if !strings.Contains(heard, "offered: vessel graduation 10 ml; container graduation 10 ml") || !strings.Contains(question(heard),
		"Enter = complete, or") {
		t.Fatalf("heard %q", heard)
	}
	if heard = l.types("container graduation 5"); !strings.HasPrefix(heard, "Taken: 5 ml") {
		t.Errorf("heard %q", heard)
	}
	if heard = l.types("+"); !strings.Contains(heard, "escape expected = ") || !strings.Contains(heard, "(1 that is all; 2 one more)") ||
		!strings.Contains(heard, "It counts in the total.") {
		t.Errorf("heard %q", heard)
	}
	if heard = l.types("escape expected 40"); !strings.HasPrefix(heard, "Taken: 40 ml") {
		t.Errorf("heard %q", heard)
	}
	if heard = l.types("colour red"); !strings.HasPrefix(heard, "Nothing is open") {
		t.Errorf("heard %q", heard)
	}
	if got := l.theJob().NumOr(job.ContainerGraduation, 0); got != 5 {
		t.Errorf("marks every %v ml", got)
	}
	for range 2 {
		l.types("")
	}
	l.upToFrom("On the magnet")
	l.since.Add(int64(20 * time.Minute))
	if heard = l.types("-15"); !strings.HasPrefix(heard, "Taken: at ") {
		t.Errorf("heard %q", heard)
	}
	if heard = l.types("."); !strings.HasPrefix(heard, "Taken: not looked") {
		t.Errorf("heard %q", heard)
	}
}

// upToFrom goes on from a question that was heard already.
func (l *listener) upToFrom(begins string) string {
	l.t.Helper()
	heard := l.types("*again")
	for range 200 {
		if strings.HasPrefix(strings.TrimPrefix(question(heard), "CAUTION: "), begins) {
			return heard
		}
		heard = l.types(l.reply(question(heard)))
	}
	l.t.Fatalf("never asked: %s\n%s", begins, l.said)
	return ""
}

// A figure that can be meant in two units is asked about in place; what does not fit
// has nothing preselected, and leads back to the reading.
func TestDoubtAndStop(t *testing.T) {
	l := listening(t, sessiontest.NewMemory(), 0)
	l.upTo("How much came out")
	heard := l.types("0.250")
	if question(heard) != "Which is meant? its digit" || !strings.Contains(heard, "0.25 L") {
		t.Fatalf("heard %q", heard)
	}
	if heard = l.types(""); !strings.HasPrefix(heard, "open: which is meant") {
		t.Errorf("heard %q", heard)
	}
	l.types("2")
	heard = l.types("") // the sheet is complete, and does not fit
	if !strings.Contains(heard, "== STOP") {
		heard = l.types("*again")
	}
	if !strings.Contains(heard, "I read or typed it wrong") {
		t.Fatalf("heard %q", heard)
	}
	if heard = l.types(""); !strings.HasPrefix(heard, "open: ") {
		t.Errorf("Enter at a stop: %q", heard)
	}
	heard = l.types("4") // the first of a stop
	if !strings.Contains(question(heard), "ONCE MORE: How much came out?") {
		t.Fatalf("heard %q", heard)
	}
	l.types("588")
	if got := l.theJob().NumOr(job.DrainedAmount, 0); got != 588 {
		t.Errorf("%v ml stand", got)
	}
}

// Back asks the line before once more; Enter leaves it as it was, and goes on.
func TestBack(t *testing.T) {
	l := listening(t, sessiontest.NewMemory(), 0)
	l.upTo("Hose holds")
	if heard := l.types("/"); !strings.Contains(question(heard), "ONCE MORE: Oil pushed in by") {
		t.Errorf("heard %q", heard)
	}
	if heard := l.types("/"); !strings.Contains(question(heard), "ONCE MORE: Level until today") || !strings.Contains(heard, "== PREPARE") {
		t.Errorf("heard %q", heard)
	}
	entries := l.theJob().Count
	if heard := l.types(""); !strings.HasPrefix(question(heard), "Hose holds") || l.theJob().Count != entries {
		t.Errorf("heard %q, %d entries more", heard, l.theJob().Count-entries)
	}
	for range 20 {
		l.types("/")
	}
	if heard := l.types("*back"); !strings.HasPrefix(question(heard), "Hose holds") {
		t.Errorf("heard %q", heard)
	}
}

func TestCommands(t *testing.T) {
	l := listening(t, sessiontest.NewMemory(), 0)
	l.upTo("Hose holds")
	for _, c := range []struct{ typed, hears string }{
		{"*record", ".html"},
		{"*list", ". filled with: hand pump"},
		{"*correct 99", "with a line number"},
		{"*correct 1", "*strike 1"}, // the maker's manual
		{"*correct 2", "struck out"},
		{"*back", "Hose holds"},
		{"*strike", "with a line number"},
		{"*strike 77", "with a line number"},
		{"*undo", "taken back: filled with: hand pump"},
		{"*help", "*quit leaves"},
		{"?", "*quit leaves"},
		{"*sums", "Volumes are at 20"},
		{"*again", "== PREPARE"},
	} {
		if heard := l.types(c.typed); !strings.Contains(heard, c.hears) {
			t.Errorf("%s: heard %q, want %q in it", c.typed, heard, c.hears)
		}
	}
	l.types("*quit")
	if err := <-l.ended; err != nil {
		t.Fatal(err)
	}
	if said := l.said.String(); !strings.HasSuffix(said, "To go on where you stopped: tundish\n") {
		t.Errorf("the last words: %q", said[max(len(said)-200, 0):])
	}
}

// A wait that is over is told while an answer is waited for, with the bell.
func TestWaitIsTold(t *testing.T) {
	l := listening(t, sessiontest.NewMemory(), 0)
	heard := l.upTo("On the magnet")
	if !strings.Contains(heard, "DRIPPING FOR: 0:") {
		t.Errorf("the clock is not told: %q", heard)
	}
	l.since.Add(int64(20 * time.Minute))
	l.ticks <- nil
	if heard := l.hear(); !strings.HasPrefix(heard, "\a\n8 min are over: slow drops by now?\n") || !strings.HasPrefix(question(heard),
		"On the magnet") {
		t.Errorf("heard %q", heard)
	}
}

// The list of jobs can be left like any other question; a job of a unit that is known
// is a sheet shorter, and an open one comes back with what is asked after a break.
func TestJobs(t *testing.T) {
	mem := sessiontest.NewMemory()
	l := listening(t, mem, 0)
	l.upTo("Neutral, engine off")
	l.upToFrom("After 5 to 15 km")
	l.types("*quit")
	l = listening(t, mem, 100*time.Hour)
	heard := l.hear()
	if !strings.HasPrefix(question(heard), "Which job?") {
		t.Fatalf("heard %q", heard)
	}
	for typed, hears := range map[string]string{"*help": "*quit leaves", "?": "*quit leaves", "9": "none of them", "x": "none of them"} {
		if heard = l.types(typed); !strings.Contains(heard, hears) || !strings.HasPrefix(question(heard), "Which job?") {
			t.Fatalf("%s: heard %q", typed, heard)
		}
	}
	heard = l.types("3")
	if !strings.Contains(heard, "AS LAST TIME") {
		t.Errorf("heard %q", heard)
	}
	l.upToFrom("On the magnet")
	l.types("*quit")
	<-l.ended
	l = listening(t, mem, 101*time.Hour)
	l.hear()
	if heard = l.types("1"); !strings.Contains(heard, "You stopped") || !strings.Contains(heard, "== RESUME") {
		t.Errorf("heard %q", heard)
	}
}
