//go:build unix

package main

// This file kills the real program after every entry of a job, and at random
// moments, and looks whether what it accepted is still there.

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"garage/tundish/cmd/tundish/internal/screen"
	"garage/tundish/store"
)

// lineMode is the program in its plain line mode, with a store of its own. Its
// input and output are pipes.
type lineMode struct {
	t     testing.TB
	bin   string
	store string
	cmd   *exec.Cmd
	in    io.WriteCloser
	out   *bufio.Reader
	typed int // answers given so far by prepared
}

// prepared is a store with the small job, done in the line mode up to a
// question, and left there.
func prepared(t testing.TB, ask string) *lineMode {
	t.Helper()
	l := &lineMode{t: t, bin: screen.Build(t, "garage/tundish/cmd/tundish"), store: filepath.Join(t.TempDir(), "jobs.db")}
	o := &owner{t: t, answers: smallJob()}
	l.start()
	defer l.kill()
	for range 200 {
		text, ok := l.prompt()
		if !ok || strings.Contains(text, ask) {
			return l
		}
		fmt.Fprintln(l.in, lineAnswer(text, o))
		l.typed++
	}
	t.Fatalf("never asked: %s", ask)
	return nil
}

func (l *lineMode) start() {
	l.t.Helper()
	l.cmd = exec.Command(l.bin, "--store", l.store, "guide", "--plain")
	l.cmd.Env = screen.CleanEnv(filepath.Dir(l.store))
	var err error
	if l.in, err = l.cmd.StdinPipe(); err != nil {
		l.t.Fatal(err)
	}
	out, err := l.cmd.StdoutPipe()
	if err != nil {
		l.t.Fatal(err)
	}
	if err := l.cmd.Start(); err != nil {
		l.t.Fatal(err)
	}
	l.out = bufio.NewReader(out)
}

// prompt reads up to the sign for input; false where the program has ended.
func (l *lineMode) prompt() (string, bool) {
	var text strings.Builder
	for {
		b, err := l.out.ReadByte()
		if err != nil {
			return text.String(), false
		}
		text.WriteByte(b)
		if s := text.String(); strings.HasSuffix(s, signForInput) {
			return s, true
		}
	}
}

func (l *lineMode) kill() {
	_ = l.cmd.Process.Kill() // SIGKILL
	_ = l.cmd.Wait()
}

// entries asks the store, by the program, how many entries the newest job has,
// and in what state it says the unit is.
func (l *lineMode) entries() (n int, state string) {
	l.t.Helper()
	cmd := exec.Command(l.bin, "--store", l.store, "jobs", "--json")
	cmd.Env = screen.CleanEnv(filepath.Dir(l.store))
	out, err := cmd.Output()
	if err != nil {
		l.t.Fatalf("jobs: %v\n%s", err, out)
	}
	var jobs []struct {
		Entries int    `json:"entries"`
		State   string `json:"state"`
	}
	if err := json.Unmarshal(out, &jobs); err != nil {
		l.t.Fatalf("jobs: %v\n%s", err, out)
	}
	if len(jobs) == 0 {
		return 0, ""
	}
	return jobs[0].Entries, jobs[0].State
}

// signForInput ends a question of the line mode.
const signForInput = " > "

var typeToConfirm = regexp.MustCompile(`So\? type (\d), or / back`)

// askedAfterBreak reports whether a prompt only asks what must be looked at again
// after a break.
func askedAfterBreak(text string) bool {
	return strings.Contains(text, "Chocks and rated stands as at the start") || strings.Contains(text, "In the drain port now") ||
		strings.Contains(text, "== RESUME")
}

// digitShown finds the first digit that an answer is listed with.
var digitShown = regexp.MustCompile(`(?m)^(\d)  `)

// lineAnswer is what the owner types at a prompt of the line mode.
func lineAnswer(text string, o *owner) string {
	text = strings.TrimSuffix(text, signForInput)
	question := text[strings.LastIndex(text, "\n")+1:]
	if m := typeToConfirm.FindStringSubmatch(question); m != nil {
		return m[1]
	}
	answer := o.answerTo(question)
	if answer == "" && strings.HasSuffix(question, "(a digit)") {
		if m := digitShown.FindStringSubmatch(text); m != nil {
			return m[1]
		}
		return "1" // the question was heard alone
	}
	return answer
}

// After every entry of the job: kill -9, look, go on. Whatever was answered by
// the next prompt was accepted, and must be there.
func TestKilledAfterEveryEntryLosesNothing(t *testing.T) {
	t.Parallel()
	l := &lineMode{t: t, bin: screen.Build(t, "garage/tundish/cmd/tundish"), store: filepath.Join(t.TempDir(), "jobs.db")}
	o := &owner{t: t, answers: smallJob()}
	accepted, kills := 0, 0
	for range 400 {
		l.start()
		text, ok := l.prompt()
		if !ok {
			break // nothing is left to ask
		}
		if strings.Contains(text, "Which job?") {
			fmt.Fprintln(l.in, 1) // a job that only wants a second look is not opened unasked
			text, _ = l.prompt()
		}
		after := text
		for again := true; again; { // what is asked after each break, then one answer of the job
			again = askedAfterBreak(after)
			fmt.Fprintln(l.in, lineAnswer(after, o))
			after, _ = l.prompt() // the answer is stored before this comes
			if tookSome(after) {
				accepted++
			}
		}
		l.kill()
		kills++
		n, state := l.entries()
		if n < accepted {
			t.Fatalf("after kill %d: %d entries, %d were accepted\nasked: %s\nthen: %s", kills, n, accepted, text, after)
		}
		if strings.Contains(after, "UNIT EMPTY") && !strings.Contains(state, "EMPTY") {
			t.Fatalf("the unit is empty, and the list says %q", state)
		}
		if os.Getenv("TUNDISH_LONG") == "" && kills == 8 {
			return
		}
		if strings.HasPrefix(state, "DONE") {
			break
		}
	}
	if _, state := l.entries(); !strings.HasPrefix(state, "DONE · ACCEPTED, LIKELY") {
		t.Errorf("the job ended as %q after %d kills", state, kills)
	}
	t.Logf("%d kills, %d answers, none lost", kills, accepted)
}

// tookSome reports whether the line mode says that it took an answer: an entry at least.
func tookSome(text string) bool {
	return strings.Contains(text, "Taken: ") || strings.Contains(text, " so: ")
}

// mostAtOnce is more entries than any line, or a sheet that is complete, makes.
const mostAtOnce = 12

// killRounds is how often the program is killed at a random moment:
// TUNDISH_KILL_ROUNDS, else few enough for an ordinary run.
func killRounds(t *testing.T) int {
	if text := os.Getenv("TUNDISH_KILL_ROUNDS"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 {
			t.Fatalf("TUNDISH_KILL_ROUNDS: %q is not a count", text)
		}
		return n
	}
	if os.Getenv("TUNDISH_LONG") != "" {
		return 40
	}
	return 8
}

// Killed at random moments of a job that is typed as fast as it goes, the
// program loses no answer that it had acknowledged with the next question, and
// its store opens and verifies each time.
func TestKilledAtRandomMomentsLosesNothing(t *testing.T) {
	t.Parallel()
	seed := uint64(time.Now().UnixNano())
	random := rand.New(rand.NewPCG(seed, 1))
	rounds := killRounds(t)
	l := &lineMode{t: t, bin: screen.Build(t, "garage/tundish/cmd/tundish")}
	acknowledged, before := 0, 0
	o := &owner{}
	for round := range rounds {
		if before == 0 {
			l.store = filepath.Join(t.TempDir(), "jobs.db")
			o = &owner{t: t, answers: smallJob(), same: true}
		}
		l.start()
		deadline := time.AfterFunc(time.Hour, func() { _ = l.cmd.Process.Kill() })
		within := func() { deadline.Reset(time.Duration(random.IntN(120_000)) * time.Microsecond) }
		if round%8 == 0 { // also while it starts; where it starts slowly it would never get further
			within()
			within = func() {}
		}
		lives, ended := typeUntilKilled(l, o, within)
		deadline.Stop()
		l.kill()
		acknowledged += lives
		if _, err := os.Stat(l.store); err != nil {
			continue // killed before there was a store
		}
		n, state := l.entries()
		if n < before+lives || n > before+mostAtOnce*(lives+1) {
			t.Fatalf("round %d, seed %d: %d entries in the store; %d before, %d acknowledged since", round, seed, n, before, lives)
		}
		l.verify()
		if before = n; ended || strings.HasPrefix(state, "DONE") || strings.HasPrefix(state, "TO RE-CHECK") {
			before = 0 // the job is over: a new one in a new store
		}
	}
	if acknowledged == 0 {
		t.Error("no answer was ever acknowledged: the kills prove nothing")
	}
	t.Logf("%d kills at random moments, %d answers acknowledged, 0 lost, 0 stores unreadable (seed %d)", rounds, acknowledged, seed)
}

// typeUntilKilled answers until the program is gone, and counts the answers
// that were acknowledged by the next prompt. begun is told of the first prompt.
func typeUntilKilled(l *lineMode, o *owner, begun func()) (acknowledged int, ended bool) {
	text, ok := l.prompt()
	begun()
	for ok {
		if strings.Contains(text, "Which job?") {
			return acknowledged, true
		}
		if _, err := fmt.Fprintln(l.in, lineAnswer(text, o)); err != nil {
			return acknowledged, false
		}
		if text, ok = l.prompt(); (ok || strings.Contains(text, "Nothing is left to do")) && tookSome(text) {
			acknowledged++
		}
	}
	return acknowledged, false
}

func (l *lineMode) verify() {
	l.t.Helper()
	cmd := exec.Command(l.bin, "--store", l.store, "verify")
	cmd.Env = screen.CleanEnv(filepath.Dir(l.store))
	if out, err := cmd.CombinedOutput(); err != nil {
		l.t.Fatalf("verify: %v\n%s", err, out)
	}
}

// Killed on the screen half-way through a reading, the guide comes back to the
// same question, says that the unit is empty, and has what was half typed.
func TestKilledOnTheScreenComesBack(t *testing.T) {
	t.Parallel()
	o, l := atMeasure(t)
	env := []string{"TUNDISH_STORE=" + l.store}
	o.waitForDraft(l.store)
	o.s.Kill()

	again := begin(t, map[string][]string{"In the drain port now": {"1"}}, screen.Options{Env: env})
	again.s.WaitFor("EMPTY")
	again.s.WaitFor("RESUME")
	again.upTo("How much came out?")
	again.s.WaitFor("54 ml")
}

// waitForDraft waits until what was half typed is committed to the store, where
// it goes once typing pauses.
func (o *owner) waitForDraft(path string) {
	o.t.Helper()
	for range 3000 {
		if draftIn(o.t, path) == "54" {
			return
		}
		time.Sleep(10 * time.Millisecond) // a file cannot be waited on
	}
	o.t.Fatal("what was half typed never came to the store")
}

// draftIn is what is half typed for the newest job, while the guide is open.
func draftIn(t testing.TB, path string) string {
	t.Helper()
	s, err := store.Open(path, store.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	id, err := s.Find("last")
	if err != nil {
		t.Fatal(err)
	}
	d, _, err := s.LoadDraft(id)
	if err != nil {
		t.Fatal(err)
	}
	return d.Text
}
