//go:build unix

package main

// This file does whole jobs with the real program in a real pseudo-terminal,
// as an owner does: it reads what the screen asks and types the answer. It
// knows nothing of the program's insides.

import (
	"encoding/json"
	"os"
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

// What a row begins with that keys go to: a caution with its digit, or another line.
var (
	confirmKey = regexp.MustCompile(`(?m)^[►>](\d) \[ \]`)
	openLine   = regexp.MustCompile(`^[►>]\d \[.\] (.*)|^ [►>] (.*)`)
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

// question is the line that keys go to, or what Enter does, and the line of steps,
// which together change with every answer.
func question(rows []string) (ask, steps string) {
	for _, row := range rows {
		if strings.Contains(strings.ToLower(row), "isolate") || strings.Contains(row, " of ") && steps == "" {
			steps = row
		} else if m := openLine.FindStringSubmatch(row); m != nil {
			ask, _, _ = strings.Cut(strings.TrimSpace(m[1]+m[2]), "[")
			ask, _, _ = strings.Cut(ask, "   ")
			return ask, steps
		}
	}
	all := strings.Join(rows, "\n")
	for _, end := range []string{"Nothing is left", "Stopped:", "how it was worked out"} {
		if strings.Contains(all, end) {
			return end, steps
		}
	}
	for _, row := range rows {
		if strings.Contains(row, " Enter = ") {
			return strings.TrimSpace(row), steps
		}
	}
	return "", steps
}

// step answers the line that keys go to; false when the job is over.
func (o *owner) step() bool {
	o.t.Helper()
	return o.answer(o.s.Screen())
}

// answer is step, by what is on the screen.
func (o *owner) answer(rows []string) bool {
	o.t.Helper()
	ask, steps := question(rows)
	if strings.HasPrefix(ask, "Nothing is left") || strings.HasPrefix(ask, "Stopped:") {
		return false
	}
	o.said = append(o.said, ask)
	answer, text := o.answerTo(ask), strings.Join(rows, "\n")
	reads := regexp.MustCompile(`(?m)^ [►>] .*\[.*\]`).MatchString(text)
	switch m := confirmKey.FindStringSubmatch(text); {
	case ask == "how it was worked out": // the verdict
		o.s.Type("6")
	case m != nil:
		o.s.Type(m[1])
	case strings.HasPrefix(ask, "Enter = "):
		o.s.Press(screen.Enter)
	case reads:
		if answer != "" {
			o.s.Type(answer)
		}
		o.s.Press(screen.Enter)
	default:
		if answer == "" {
			answer = "1"
		}
		o.s.Type(answer)
	}
	o.s.WaitFrame("what follows "+ask, func(rows []string) bool {
		now, on := question(rows)
		return now != "" && (now != ask || on != steps)
	})
	return true
}

// upTo answers until a question starts with these words, or the job is over.
func (o *owner) upTo(ask string) {
	o.t.Helper()
	for range 200 {
		rows := o.s.Screen()
		if strings.Contains(strings.Join(rows, "\n"), "►CLOSE-OUT") { // the units of the car may come over it
			o.s.Settle()
			rows = o.s.Screen()
		}
		now, _ := question(rows)
		if ask != "" && strings.HasPrefix(now, ask) {
			return
		}
		if !o.answer(rows) {
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

// The whole job in every look that the screens have, by what the screen shows.
func TestWholeJobInEveryLook(t *testing.T) {
	t.Parallel()
	level := levelJob()
	level["Left in the vessel"] = []string{"60"} // as the readings have it
	for _, c := range []struct {
		name       string
		seldom     bool // only in the long run
		cols, rows int
		answers    map[string][]string
		args       []string
		env        []string
		check      func(t *testing.T, raw string)
	}{
		{name: "80x24", cols: 80, rows: 24},
		{name: "level port", cols: 80, rows: 24, answers: level},
		{name: "120x40", seldom: true, cols: 120, rows: 40},
		{name: "60x20", cols: 60, rows: 20},
		{name: "NO_COLOR", seldom: true, cols: 80, rows: 24, env: []string{"NO_COLOR=1"}, check: noColours},
		{name: "ascii", seldom: true, cols: 80, rows: 24, args: []string{"guide", "--ascii"}, check: onlyASCII},
		{name: "light", seldom: true, cols: 80, rows: 24, args: []string{"guide", "--background", "light"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if t.Parallel(); c.seldom && os.Getenv("TUNDISH_LONG") == "" {
				t.Skip("set TUNDISH_LONG")
			}
			if c.answers == nil {
				c.answers = smallJob()
			}
			o := begin(t, c.answers, screen.Options{Cols: c.cols, Rows: c.rows, Args: c.args, Env: c.env})
			o.upTo("how it was worked out")
			o.s.WaitFor("NOT PROVEN")
			o.upTo("")
			o.s.WaitFor("ACCEPTED, LIKELY") // done in seconds: not proven
			if wrapped := o.s.Wrapped(); len(wrapped) > 0 {
				t.Errorf("lines ran over the margin: %q", wrapped)
			}
			if c.check != nil {
				c.check(t, string(o.s.Raw()))
			}
			o.s.Press(screen.CtrlC)
			if code := o.s.WaitExit(); code != exitDone {
				t.Errorf("exit code %d", code)
			}
			if f := figuresOf(t, o); f.UnitState != "accepted" || f.NetFill.ML < 500 {
				t.Errorf("the record says %+v", f)
			}
		})
	}
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
