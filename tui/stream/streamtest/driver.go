// Package streamtest does jobs over the stream, for tests: it reads what is asked and
// gives the answers that it was told.
package streamtest

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"garage/tundish/tui/lines"
)

// Out is one object that came out. Member says which it is.
type Out struct {
	Member string
	Raw    string
	Sheet  Sheet
	Prompt Prompt
	Taken  struct {
		Topic string
		Seq   int
	}
	Refused struct{ Topic, Why string }
	Doubt   struct {
		Topic, Why string
		Choices    []Choice
	}
	Done     bool
	Figures  json.RawMessage
	Plan     map[string]*float64
	Off      map[string]*float64
	Findings []string
}

// Sheet is one as it begins.
type Sheet struct {
	ID    string
	N, Of int
	State string
	Lines []struct {
		Topics []string
		Ask    string
		Offer  *string
		Folded bool
	}
}

// Prompt is what is asked.
type Prompt struct {
	Topic, Step, Kind, Ask, Why, Key string
	Topics                           []string
	Round, Item                      int
	Caution                          bool
	UnknownOK                        bool `json:"unknown_ok"`
	Offer                            *string
	Options                          []Choice
}

// Choice is an option of a prompt or a doubt.
type Choice struct{ Token, Label string }

// Driver does a job.
type Driver struct {
	T       testing.TB
	Answers map[string][]string    // by topic: tokens or what is typed, in turn; the last of them again and again
	At      func(Prompt) time.Time // when an answer happened; nil, or zero: now
	Look    func(raw string)       // sees every line, both ways; nil none
	Log     strings.Builder
	Sheet   Sheet  // that is on
	Prompt  Prompt // that is open; its kind is "" where none is
	Done    bool
	Ended   bool // nothing more comes out
	Sheets  []string
	Count   Count

	in  io.Writer
	out *bufio.Scanner
}

// Count is what a job took on a number pad.
type Count struct {
	Answers int // lines answered, and sheets completed that have none
	Keys    int // digits, signs and Enter: one for a tick, a choice, and a sheet completed
	Visits  int // to the sheets from isolate to the tag off; the verdict is looked at with what comes before it

	lines int  // answered on the sheet
	typed bool // what was answered last: its Enter completes the sheet
}

// New is a driver of a stream: in is written to, out read.
func New(t testing.TB, in io.Writer, out io.Reader) *Driver {
	d := &Driver{T: t, Answers: map[string][]string{}, in: in, out: bufio.NewScanner(out)}
	d.out.Buffer(nil, lines.Most)
	return d
}

// Next reads one object; false at the end.
func (d *Driver) Next() (Out, bool) {
	d.T.Helper()
	if !d.out.Scan() {
		d.Ended = true
		return Out{}, false
	}
	o := Out{Raw: d.out.Text()}
	fmt.Fprintln(&d.Log, o.Raw)
	var members map[string]json.RawMessage
	if err := json.Unmarshal(d.out.Bytes(), &members); err != nil {
		d.T.Fatalf("%v: %s", err, o.Raw)
	}
	if err := json.Unmarshal(d.out.Bytes(), &o); err != nil {
		d.T.Fatalf("%v: %s", err, o.Raw)
	}
	for _, name := range []string{"sheet", "prompt", "taken", "refused", "doubt", "done", "figures"} {
		if members[name] != nil {
			o.Member = name
			break
		}
	}
	if d.Look != nil {
		d.Look(o.Raw)
	}
	switch o.Member {
	case "sheet":
		d.begin(o.Sheet)
	case "prompt":
		d.Prompt = o.Prompt
	case "done":
		d.Done, d.Prompt = true, Prompt{}
	}
	return o, true
}

// begin counts the visit to a sheet.
func (d *Driver) begin(s Sheet) {
	d.Sheet = s
	d.Sheets = append(d.Sheets, s.ID)
	d.Count.lines, d.Count.typed = 0, false
	up := map[string]bool{"isolate": true, "drain": true, "measure": true, "preload": true, "fill": true, "cap": true, "seat": true,
		"close": true}
	if up[s.ID] && s.State != "filled" || s.ID == "close" && len(s.Lines) > 0 && s.Lines[0].Topics[0] != "close.leak_check" {
		d.Count.Visits++
	}
}

// Settle reads up to the next prompt, or the end.
func (d *Driver) Settle() (list []Out) {
	d.T.Helper()
	for {
		o, more := d.Next()
		if !more {
			return list
		}
		list = append(list, o)
		if o.Member == "prompt" || o.Member == "done" {
			return list
		}
	}
}

// Write writes one line.
func (d *Driver) Write(line string) {
	d.T.Helper()
	fmt.Fprintln(&d.Log, ">", line)
	if d.Look != nil {
		d.Look(line)
	}
	if _, err := io.WriteString(d.in, line+"\n"); err != nil {
		d.T.Fatalf("%v\n%s", err, d.Tail())
	}
}

// Say writes one line and reads up to the next prompt, or the end.
func (d *Driver) Say(line string) []Out {
	d.T.Helper()
	d.Write(line)
	return d.Settle()
}

// Send makes a request of members, with the time that At says.
func (d *Driver) Send(members map[string]any) []Out {
	d.T.Helper()
	if d.At != nil {
		if at := d.At(d.Prompt); !at.IsZero() {
			members["at"] = at.UTC().Format(time.RFC3339)
		}
	}
	line, err := json.Marshal(members)
	if err != nil {
		d.T.Fatal(err)
	}
	return d.Say(string(line))
}

// Ask asks for the figures, which come alone.
func (d *Driver) Ask() Out {
	d.T.Helper()
	d.Write(`{"figures":true}`)
	o, _ := d.Next()
	if o.Member != "figures" {
		d.T.Fatalf("no figures: %s", o.Raw)
	}
	return o
}

// Upto answers until a sheet begins, or a topic is asked for; "" until the job is done.
func (d *Driver) Upto(what string) {
	d.T.Helper()
	for range 300 {
		if what == "" && d.Done || what != "" && (d.Sheet.ID == what || d.Prompt.Topic == what) {
			return
		}
		if d.Done || d.Ended {
			break
		}
		d.Step()
	}
	d.T.Fatalf("never at %q\n%s", what, d.Tail())
}

// Tail is the end of what was said.
func (d *Driver) Tail() string {
	s := d.Log.String()
	return s[max(len(s)-6000, 0):]
}

// Step answers the prompt as told: of a choice that it was told nothing of, the first.
func (d *Driver) Step() {
	d.T.Helper()
	for _, o := range d.Send(d.Reply()) {
		if o.Member == "refused" {
			d.T.Fatalf("refused: %s\n%s", o.Raw, d.Tail())
		}
	}
}

// Reply is the answer to the prompt, counted.
func (d *Driver) Reply() map[string]any {
	d.T.Helper()
	c, p := &d.Count, d.Prompt
	if p.Kind == "complete" {
		if c.lines == 0 {
			c.Answers++
		}
		if !c.typed {
			c.Keys++
		}
		return map[string]any{"complete": true}
	}
	c.Answers++
	c.lines++
	c.typed = false
	answer, told := d.answerTo(p)
	switch p.Kind {
	case "confirm":
		c.Keys++
		return map[string]any{"key": p.Key}
	case "choice":
		c.Keys++
		if !told {
			answer = p.Options[0].Token
		}
		return map[string]any{"answer": answer}
	}
	if !told {
		d.T.Fatalf("nothing to answer %s\n%s", p.Topic, d.Tail())
	}
	c.typed = true
	c.Keys += len(answer) + 1
	if answer == "." {
		return map[string]any{"answer": nil}
	}
	return map[string]any{"answer": answer}
}

func (d *Driver) answerTo(p Prompt) (string, bool) {
	for _, t := range p.Topics {
		if list := d.Answers[t]; len(list) > 0 {
			if len(list) > 1 {
				d.Answers[t] = list[1:]
			}
			return list[0], true
		}
	}
	return "", false
}
