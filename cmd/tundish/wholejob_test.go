//go:build unix

package main

// This file does whole jobs with the real program in a real pseudo-terminal,
// as an owner does: it reads what the screen asks and types the answer. It
// knows nothing of the program's insides.

import (
	"encoding/json"
	"os/exec"
	"regexp"
	"strings"
	"testing"

	"garage/tundish/cmd/tundish/internal/screen"
)

// owner is somebody at the keyboard: what they type when a question starts with
// these words. Everything else they take as it is offered. A line of several
// answers is for the same words asked again.
type owner struct {
	t       testing.TB
	s       *screen.Session
	answers map[string][]string
	said    []string // every question seen, in order
	env     []string
	same    bool // answer the same each time a question is asked
}

var (
	confirmKey = regexp.MustCompile(`press\s+(\d)\s`)
)

// smallJob is the drain-port job of invented figures: 588 ml came out, 730 poured in, 22
// left over, 25 in the hose, 46 caught. It goes by how a question begins.
func smallJob() map[string][]string {
	return map[string][]string{
		"Fill quantity, manual": {"600-680"}, "Level until today": {"2"}, "Hose holds": {"25"}, "The case feels": {"2"},
		"On the magnet":      {"2"},
		"How much came out?": {"588"}, "How much did you pour in?": {"730"}, "Left in the vessel": {"22"}, "Spilled, all of it": {"46"},
		"What now?": {"6"},
	}
}

// levelJob is a job with a level port, filled until it weeps.
func levelJob() map[string][]string {
	answers := smallJob()
	answers["Way in for the oil"], answers["That figure means"], answers["How much did you pour in?"] = []string{"2"}, []string{"3"},
		[]string{"700"}
	answers["Left in the vessel"], answers["Ran over"] = []string{"150"}, []string{"0"}
	return answers
}

// question is the line that asks, and the line of steps, which together change
// with every answer.
func question(screenRows []string) (ask, steps string) {
	if len(screenRows) < 4 {
		return "", ""
	}
	return strings.TrimSpace(screenRows[3]), screenRows[1]
}

// A list of options, and one of them marked, which Enter takes.
var (
	firstOption  = regexp.MustCompile(`(?m)^ +[→>]? +1  \S`)
	markedOption = regexp.MustCompile(`(?m)^ +[→>] +\d  \S`)
)

// step answers one question; false when the job is over.
func (o *owner) step() bool {
	o.t.Helper()
	rows := o.s.Screen()
	ask, _ := question(rows)
	if strings.HasPrefix(ask, "Nothing is left") || strings.HasPrefix(ask, "Stopped:") {
		return false
	}
	o.said = append(o.said, ask)
	text := strings.Join(rows, "\n")
	askBefore, stepsBefore := question(rows)
	switch m := confirmKey.FindStringSubmatch(text); {
	case m != nil:
		o.s.Type(m[1])
	default:
		answer := o.answerTo(ask)
		if answer == "" && firstOption.MatchString(text) && !markedOption.MatchString(text) {
			answer = "1"
		}
		if len(answer) == 1 && answer[0] < ' ' {
			answer = string('0' + rune(answer[0]))
		}
		if answer != "" {
			o.s.Type(answer)
		}
		o.s.Press(screen.Enter)
	}
	o.s.WaitFrame("the question after "+ask, func(rows []string) bool {
		ask, steps := question(rows)
		return ask != "" && (ask != askBefore || steps != stepsBefore)
	})
	return true
}

// upTo answers until a question starts with these words, or the job is over.
func (o *owner) upTo(ask string) {
	o.t.Helper()
	for range 200 {
		now, _ := question(o.s.Screen())
		if ask != "" && strings.HasPrefix(strings.TrimPrefix(now, "CAUTION "), ask) {
			return
		}
		if !o.step() {
			return
		}
	}
	o.t.Fatalf("never asked: %s\n%s", ask, o.s.Text())
}

// begin starts the guide on a store of its own.
func begin(t *testing.T, answers map[string][]string, o screen.Options) *owner {
	t.Helper()
	o.Env = append(screen.CleanEnv(t.TempDir()), o.Env...)
	s := screen.Start(t, screen.Build(t, "garage/tundish/cmd/tundish"), o)
	s.WaitFrame("the first question", func(rows []string) bool { ask, _ := question(rows); return ask != "" })
	return &owner{t: t, s: s, answers: answers, env: o.Env}
}

// recorded is what the JSON of a job says beside its entries.
type recorded struct {
	UnitState string `json:"unit_state"`
	Verdict   struct {
		Word    string  `json:"word"`
		PWithin float64 `json:"p_within"`
	} `json:"verdict"`
	NetFill struct {
		ML float64 `json:"ml"`
	} `json:"net_fill_20c"`
}

// figuresOf asks the program for the record of the newest job in its store.
func figuresOf(t *testing.T, o *owner) recorded {
	t.Helper()
	cmd := exec.Command(screen.Build(t, "garage/tundish/cmd/tundish"), "summary", "last", "--format", "json")
	cmd.Env = o.env
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var record struct{ Figures recorded }
	if err := json.Unmarshal(out, &record); err != nil {
		t.Fatal(err)
	}
	return record.Figures
}

func (o *owner) answerTo(ask string) string {
	ask = strings.TrimPrefix(ask, "CAUTION ")
	for start, lines := range o.answers {
		if strings.HasPrefix(ask, start) && len(lines) > 0 {
			if !o.same && len(lines) > 1 {
				o.answers[start] = lines[1:]
			}
			return lines[0]
		}
	}
	return ""
}

// The whole job in every look that the screens have.
func TestWholeJobInEveryLook(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name       string
		cols, rows int
		args       []string
		env        []string
		check      func(t *testing.T, raw string)
	}{
		{name: "120x40", cols: 120, rows: 40},
		{name: "60x20", cols: 60, rows: 20},
		{name: "NO_COLOR", cols: 80, rows: 24, env: []string{"NO_COLOR=1"}, check: noColours},
		{name: "ascii", cols: 80, rows: 24, args: []string{"guide", "--ascii"}, check: onlyASCII},
		{name: "light", cols: 80, rows: 24, args: []string{"guide", "--background", "light"}},
		{name: "sixteen colours", cols: 80, rows: 24, env: []string{"TERM=xterm", "COLORTERM="}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			o := begin(t, smallJob(), screen.Options{Cols: c.cols, Rows: c.rows, Args: c.args, Env: c.env})
			o.upTo("In the unit")
			o.s.WaitFor("VERDICT: within")
			o.upTo("")
			o.s.WaitFor("ACCEPTED, LIKELY") // done in seconds: not proven
			if wrapped := o.s.Wrapped(); len(wrapped) > 0 {
				t.Errorf("lines ran over the margin: %q", wrapped)
			}
			if c.check != nil {
				c.check(t, string(o.s.Raw()))
			}
		})
	}
}

// A terminal that cannot move its cursor gets the plain line mode by itself.
func TestDumbTerminalGetsTheLineMode(t *testing.T) {
	t.Parallel()
	s := screen.Start(t, screen.Build(t, "garage/tundish/cmd/tundish"), screen.Options{Env: screen.CleanEnv(t.TempDir(), "TERM=dumb")})
	s.WaitFor("plain line mode")
	s.WaitFor("The manual for this unit is open here")
	s.Type("*quit")
	s.Press(screen.Enter)
	if code := s.WaitExit(); code != 0 {
		t.Errorf("exit %d", code)
	}
	if raw := string(s.Raw()); strings.Contains(raw, "\x1b") {
		t.Errorf("an escape sequence to a dumb terminal: %q", raw)
	}
}

var colourSequence = regexp.MustCompile(`\x1b\[[0-9;]*\b(3[0-8]|4[0-8]|9[0-7]|10[0-7])[0-9;]*m`)

func noColours(t *testing.T, raw string) {
	if found := colourSequence.FindString(raw); found != "" {
		t.Errorf("a colour with NO_COLOR: %q", found)
	}
}

func onlyASCII(t *testing.T, raw string) {
	for i, b := range []byte(raw) {
		if b > 127 {
			t.Fatalf("byte %#x in %q", b, raw[max(0, i-40):min(len(raw), i+10)])
		}
	}
}
