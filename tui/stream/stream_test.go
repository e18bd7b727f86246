package stream

import (
	"bytes"
	"errors"
	"io"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"garage/tundish/model/job"
	"garage/tundish/tui/session/sessiontest"
	"garage/tundish/tui/stream/streamtest"
)

var morning = time.Date(2026, 4, 18, 9, 0, 0, 0, time.UTC)

// garage is a stream on a journal, with a clock that moves on with every answer.
type garage struct {
	*streamtest.Driver
	mem   *sessiontest.Memory
	now   time.Time
	input io.Closer
	ended chan error
}

// open starts a stream; its first objects are read.
func open(t *testing.T, mem *sessiontest.Memory, now time.Time, cfg Config) *garage {
	t.Helper()
	in, typed := io.Pipe()
	said, out := io.Pipe()
	g := &garage{mem: mem, now: now, input: typed, ended: make(chan error, 1)}
	g.Driver = streamtest.New(t, typed, said)
	schema := schemaOf(t)
	g.Look = func(raw string) { fits(t, schema, raw) }
	cfg.Journal, cfg.Chance = mem, func() uint32 { return uint32(len(mem.Jobs)) + 1 }
	cfg.Clock = func() time.Time { g.now = g.now.Add(time.Minute); return g.now }
	go func() {
		err := Run(in, out, cfg)
		g.ended <- err
		_ = out.Close()
		_ = in.Close()
	}()
	t.Cleanup(func() { _ = typed.Close(); _ = said.Close() })
	g.Answers = usual()
	g.Settle()
	return g
}

// usual is a small job of invented figures.
func usual() map[string][]string {
	return map[string][]string{
		"prepare.capacity": {"600-680"}, "prepare.capacity_means": {"refill"}, "prepare.prior_level": {"believed"},
		"prepare.hose_holds":    {"25"},
		"drain.oil_temperature": {"warm"}, "drain.magnet": {"paste"}, "measure.amount": {"588"}, "preload.amount": {"730"},
		"fill.left_in_vessel": {"22"}, "seat.escaped": {"46"}, "close.leak_check": {"dry"}, "close.washer_recheck": {"dry"},
	}
}

func schemaOf(t *testing.T) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	path, err := filepath.Abs("../../testdata/schema/guide-1.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile(path)
	if err != nil {
		t.Fatal(err)
	}
	return schema
}

func fits(t *testing.T, schema *jsonschema.Schema, raw string) {
	t.Helper()
	value, err := jsonschema.UnmarshalJSON(strings.NewReader(raw))
	if err == nil {
		err = schema.Validate(value)
	}
	if err != nil {
		t.Errorf("%s does not fit: %v", raw, err)
	}
}

// theJob is the only job of the journal.
func (g *garage) theJob() job.Job {
	g.T.Helper()
	if len(g.mem.Jobs) != 1 {
		g.T.Fatalf("%d jobs, want one", len(g.mem.Jobs))
	}
	for _, j := range g.mem.Jobs {
		return j
	}
	return job.Job{}
}

// first is the first object of a kind.
func first(t *testing.T, list []streamtest.Out, member string) streamtest.Out {
	t.Helper()
	for _, o := range list {
		if o.Member == member {
			return o
		}
	}
	t.Fatalf("no %s in %+v", member, list)
	return streamtest.Out{}
}

func TestWholeJob(t *testing.T) {
	g := open(t, sessiontest.NewMemory(), morning, Config{})
	g.Upto("")
	if err := <-g.ended; err != nil {
		t.Fatal(err)
	}
	want := "prepare.1 prepare.2 prepare.3 isolate drain measure preload fill cap seat verdict close close"
	if got := strings.Join(g.Sheets, " "); got != want {
		t.Errorf("sheets %s, want %s", got, want)
	}
	head := g.mem.Heads[g.theJob().ID]
	if !head.UnitState.Settled() {
		t.Errorf("the unit is %v in the end", head.UnitState)
	}
	if t.Failed() {
		t.Log(g.Log.String())
	}
}

// All entries of a line are one transaction, and durable before they are said to be.
func TestTakenIsDurable(t *testing.T) {
	g := open(t, sessiontest.NewMemory(), morning, Config{})
	g.Upto("prepare.kind")
	writes := len(g.mem.Writes)
	var taken []streamtest.Out
	for _, o := range g.Send(map[string]any{"answer": "rear axle"}) {
		if o.Member == "taken" {
			taken = append(taken, o)
			if entries := g.theJob().Entries; len(entries) < o.Taken.Seq || entries[o.Taken.Seq-1].Topic.String() != o.Taken.Topic {
				t.Errorf("%s is not stored", o.Raw)
			}
		}
	}
	if len(taken) != 2 || len(g.mem.Writes) != writes+1 {
		t.Errorf("%d taken in %d writes, want two in one", len(taken), len(g.mem.Writes)-writes)
	}
}

// A caution is confirmed by its key and by nothing else.
func TestCautionTakesItsKeyAlone(t *testing.T) {
	g := open(t, sessiontest.NewMemory(), morning, Config{})
	g.Upto("isolate")
	p := g.Prompt
	if !p.Caution || p.Key == "" {
		t.Fatalf("%+v is no caution", p)
	}
	other := "4"
	if p.Key == other {
		other = "5"
	}
	entries := len(g.theJob().Entries)
	g.Look = nil // not all of it is of the form
	for _, line := range []string{
		`{"answer":"` + p.Key + `"}`, `{"answer":""}`, `{"answer":null}`, `{"answer":"yes"}`, `{"key":"` + other + `"}`,
		`{"complete":true}`,
		`{"choose":"` + p.Key + `"}`, `{"topic":"` + p.Topic + `","answer":"` + p.Key + `"}`, `{"correct":"` + p.Topic + `","answer":"1"}`,
		`{"topic":"` + p.Topic + `","key":"` + p.Key + `"}`,
	} {
		out := g.Say(line)
		first(t, out, "refused")
		if got := first(t, out, "prompt").Prompt; got.Topic != p.Topic || got.Key != p.Key {
			t.Errorf("after %s %s is asked, want %s again", line, got.Topic, p.Topic)
		}
	}
	if got := len(g.theJob().Entries); got != entries {
		t.Errorf("%d entries more", got-entries)
	}
	if out := g.Say(`{"key":"` + p.Key + `"}`); first(t, out, "taken").Taken.Topic != p.Topic {
		t.Errorf("%+v", out)
	}
	out := g.Say(`{"correct":"` + p.Topic + `","answer":"1"}`)
	first(t, out, "refused")
}

// An event within a line is not told by an answer to its topic.
func TestEventIsNoAnswer(t *testing.T) {
	g := open(t, sessiontest.NewMemory(), morning, Config{})
	g.Upto("seat")
	g.Upto("seat.washer")
	for _, topic := range []string{"seat.plug_seated", "cap.capped", "fill.ended"} {
		first(t, g.Say(`{"topic":"`+topic+`","answer":"1"}`), "refused")
	}
	if g.Prompt.Topic != "seat.washer" {
		t.Errorf("%s is asked", g.Prompt.Topic)
	}
}

// A figure that makes sense in another unit alone is asked about in place.
func TestDoubtOfAUnit(t *testing.T) {
	g := open(t, sessiontest.NewMemory(), morning, Config{})
	g.Upto("measure.amount")
	entries := len(g.theJob().Entries)
	out := g.Say(`{"answer":"0.588"}`)
	d := first(t, out, "doubt").Doubt
	if len(d.Choices) != 2 || d.Topic != "measure.amount" || len(g.theJob().Entries) != entries {
		t.Fatalf("%+v", out)
	}
	if first(t, out, "prompt").Prompt.Topic != "measure.amount" {
		t.Error("not the same prompt again")
	}
	first(t, g.Say(`{"choose":"pint"}`), "refused")
	out = g.Say(`{"choose":"0.588_L"}`)
	if first(t, out, "taken").Taken.Topic != "measure.amount" {
		t.Fatalf("%+v", out)
	}
	if got := job.Fold(g.theJob()); got.NumOr(job.DrainedAmount, 0) != 588 {
		t.Errorf("%v ml stored, want 588", got.NumOr(job.DrainedAmount, 0))
	}
	first(t, g.Say(`{"choose":"0.588_L"}`), "refused") // nothing is in doubt any more
}

// What does not fit is a sheet of its own; its first choice leads back to the reading.
func TestStop(t *testing.T) {
	g := open(t, sessiontest.NewMemory(), morning, Config{})
	g.Answers["measure.amount"] = []string{"250", "588"}
	g.Upto("stop")
	p := g.Prompt
	if p.Kind != "choice" || p.Options[0].Token != job.LookedTyped || p.Offer != nil {
		t.Fatalf("%+v", p)
	}
	first(t, g.Say(`{"complete":true}`), "refused")
	out := g.Say(`{"answer":"` + job.LookedTyped + `"}`)
	if d := first(t, out, "doubt").Doubt; len(d.Choices) != 1 || d.Choices[0].Token != "measure.amount" {
		t.Errorf("%+v", d)
	}
	if first(t, out, "sheet").Sheet.ID != "measure" || g.Prompt.Topic != "measure.amount" || g.Prompt.Offer != nil {
		t.Fatalf("%+v", out)
	}
	g.Upto("preload")
	if got := job.Fold(g.theJob()).NumOr(job.DrainedAmount, 0); got != 588 {
		t.Errorf("%v ml stand, want 588", got)
	}
}

// A line with an offer is not asked for and can be changed while its sheet is on, a
// folded one too.
func TestOfferIsChanged(t *testing.T) {
	g := open(t, sessiontest.NewMemory(), morning, Config{})
	g.Upto("prepare.2")
	folded, offered := "", ""
	for _, l := range g.Sheet.Lines {
		if l.Folded && l.Topics[0] == "prepare.escape_expected" {
			folded = l.Topics[0]
		}
		if l.Topics[0] == "prepare.container_graduation" && l.Offer != nil {
			offered = l.Topics[0]
		}
	}
	if folded == "" || offered == "" {
		t.Fatalf("%+v", g.Sheet.Lines)
	}
	for topic, answer := range map[string]string{folded: "40", offered: "5 ml"} {
		if out := g.Say(`{"topic":"` + topic + `","answer":"` + answer + `"}`); first(t, out, "taken").Taken.Topic != topic {
			t.Errorf("%+v", out)
		}
	}
	first(t, g.Say(`{"topic":"measure.amount","answer":"5 ml"}`), "refused") // not on this sheet
	if got := job.Fold(g.theJob()).NumOr(job.ContainerGraduation, 0); got != 5 {
		t.Errorf("marks every %v ml, want 5", got)
	}
}

// Moments are told from the clock, and can be told anew.
func TestMoments(t *testing.T) {
	g := open(t, sessiontest.NewMemory(), morning, Config{})
	g.Upto("drain.magnet")
	g.now = g.now.Add(20 * time.Minute) // plug out, and then to the laptop
	g.Step()
	tag, _ := job.Fold(g.theJob()).When(job.TagAndKey, 0)
	for _, answer := range []string{"-15", tag.Add(30 * time.Second).Format(time.RFC3339)} {
		out := g.Say(`{"topic":"drain.plug_out","answer":"` + answer + `"}`)
		if first(t, out, "taken").Taken.Topic != "drain.plug_out" {
			t.Fatalf("%+v", out)
		}
	}
	if out, _ := job.Fold(g.theJob()).When(job.PlugOut, 0); !out.Equal(tag.Add(30 * time.Second).Truncate(time.Second)) {
		t.Errorf("plug out at %v, want half a minute after %v", out, tag)
	}
	for _, answer := range []string{"-600", "2020-01-01T00:00:00Z", "soon"} {
		first(t, g.Say(`{"topic":"drain.plug_out","answer":"`+answer+`"}`), "refused")
	}
	first(t, g.Say(`{"correct":"drain.plug_out","answer":"-15"}`), "taken")
}

// A new job begins with the time of its first answer.
func TestAt(t *testing.T) {
	g := open(t, sessiontest.NewMemory(), morning, Config{})
	first(t, g.Say(`{"key":"`+g.Prompt.Key+`","at":"2026-04-18T20:00:00Z"}`), "refused") // the future
	first(t, g.Say(`{"key":"`+g.Prompt.Key+`","at":"2026-01-02T10:00:00Z"}`), "taken")
	j := g.theJob()
	want := time.Date(2026, 1, 2, 10, 0, 0, 0, time.UTC)
	if !j.Started.Equal(want) || !j.Entries[0].At.Equal(want) {
		t.Errorf("begun %v, first entry %v; want %v", j.Started, j.Entries[0].At, want)
	}
	answer := `{"answer":"` + g.Prompt.Options[0].Token + `","at":"`
	first(t, g.Say(answer+`2026-01-02T09:59:59Z"}`), "refused") // before the last entry
	first(t, g.Say(answer+`2026-01-02T12:00:00+02:00"}`), "taken")
	g.Look = nil
	first(t, g.Say(`{"figures":true,"at":"yesterday"}`), "refused")
}

// Undo takes back an answer, correct puts one right on any sheet.
func TestUndoAndCorrect(t *testing.T) {
	g := open(t, sessiontest.NewMemory(), morning, Config{})
	g.Upto("preload.amount")
	first(t, g.Say(`{"correct":"measure.amount","round":0,"item":0,"answer":"580"}`), "taken")
	first(t, g.Say(`{"correct":"prepare.hose_holds","answer":"0.03"}`), "doubt")
	first(t, g.Say(`{"choose":"0.03_L"}`), "taken")
	s := job.Fold(g.theJob())
	if got := s.NumOr(job.DrainedAmount, 0); got != 580 || s.NumOr(job.HoseHolds, 0) != 30 {
		t.Errorf("%v ml out, hose %v ml; want 580 and 30", got, s.NumOr(job.HoseHolds, 0))
	}
	if g.Prompt.Topic != "preload.amount" {
		t.Errorf("%s is asked, want what was", g.Prompt.Topic)
	}
	first(t, g.Say(`{"correct":"measure.amount","item":3,"answer":"1"}`), "refused")
	first(t, g.Say(`{"undo":true}`), "taken")
	if got := job.Fold(g.theJob()).NumOr(job.HoseHolds, 0); got != 25 {
		t.Errorf("hose %v ml, want 25 again", got)
	}
	for len(g.theJob().Entries) < 400 {
		if out := g.Say(`{"undo":true}`); out[0].Member == "refused" {
			break
		}
	}
	if g.Sheet.ID != "prepare.1" {
		t.Errorf("all is undone at %s", g.Sheet.ID)
	}
}

// Figures come as things stand; what is not known is null.
func TestFigures(t *testing.T) {
	g := open(t, sessiontest.NewMemory(), morning, Config{})
	o := g.Ask()
	if o.Plan["load_ml"] != nil || o.Off["ml"] != nil || o.Findings == nil {
		t.Errorf("%s", o.Raw)
	}
	g.Upto("preload")
	o = g.Ask()
	if load, stop := o.Plan["load_ml"], o.Plan["stop_at_ml"]; load == nil || stop == nil || *load < 650 || *load > 800 ||
		*o.Plan["low_ml"] >= *o.Plan["need_ml"] {
		t.Errorf("%s", o.Raw)
	}
	g.Upto("verdict")
	if o = g.Ask(); o.Off["ml"] == nil || o.Off["u_ml"] == nil || *o.Off["u_ml"] <= 0 || !strings.Contains(string(o.Figures),
		`"net_fill_20c":{"ml":637`) {
		t.Errorf("%s", o.Raw)
	}
}

// What does not parse is refused with why, and the prompt stands.
func TestBadInput(t *testing.T) {
	g := open(t, sessiontest.NewMemory(), morning, Config{})
	topic := g.Prompt.Topic
	g.Look = nil // what goes in fits no schema
	for line, why := range map[string]string{
		``: "cut short", `{`: "cut short", `[]`: "must be an object", `{}`: "one of answer", `null`: "must be an object",
		`{"answer":true}`:             "must be text",
		`{"answer":"1","colour":"2"}`: "not a key", `{"answer":"1","answer":"2"}`: "twice", `{"answer":"1"} {"answer":"2"}`: "one object",
		`{"topic":"no.such","answer":"1"}`: "not a topic", `{"topic":"measure.amount"}`: "one of answer",
		`{"round":1,"answer":"1"}`: "go with",
		`{"undo":false}`:           "must be true", `{"undo":true,"leave":true}`: "one of answer", `{"key":""}`: "one digit",
		`{"key":"44"}`:               "one digit",
		`{"answer":"1","at":"noon"}`: "RFC 3339", `{"correct":"measure.amount","round":-1,"answer":"1"}`: "whole number",
		"{\"answer\":\"\xff\"}": "UTF-8", `{"answer":"` + strings.Repeat("x", 3000) + `"}`: "longer", strings.Repeat(" ", 70_000): "longer",
	} {
		out := g.Say(line)
		if r := first(t, out, "refused").Refused; !strings.Contains(r.Why, why) || strings.Contains(r.Why, "\n") {
			t.Errorf("%.60q is refused with %q, want %q in it", line, r.Why, why)
		}
		if first(t, out, "prompt").Prompt.Topic != topic {
			t.Errorf("after %.60q another prompt", line)
		}
	}
	if len(g.mem.Jobs) != 0 {
		t.Error("something is stored")
	}
}

// What cannot be stored is refused, and asked again.
func TestNotStored(t *testing.T) {
	g := open(t, sessiontest.NewMemory(), morning, Config{})
	g.Upto("prepare.kind")
	g.mem.Fail = errors.New("disk full")
	if r := first(t, g.Say(`{"answer":"rear axle"}`), "refused").Refused; !strings.Contains(r.Why, "disk full") {
		t.Errorf("%+v", r)
	}
	g.mem.Fail = nil
	first(t, g.Say(`{"answer":"rear axle"}`), "taken")
}

// Left in the middle, the job comes back with the sheet resume, and goes on.
func TestResume(t *testing.T) {
	mem := sessiontest.NewMemory()
	g := open(t, mem, morning, Config{})
	g.Upto("measure")
	g.Write(`{"leave":true}`)
	if err := <-g.ended; err != nil {
		t.Fatal(err)
	}
	again := open(t, mem, g.now.Add(time.Hour), Config{})
	if again.Sheet.ID != "resume" || again.Sheet.State != "empty" || !again.Prompt.Caution {
		t.Fatalf("%+v, %+v", again.Sheet, again.Prompt)
	}
	again.Upto("")
	if got := again.Sheets[1]; got != "measure" {
		t.Errorf("after the break at %s", got)
	}
}

// The end of the input is the end of the run; a hangup too.
func TestEnds(t *testing.T) {
	g := open(t, sessiontest.NewMemory(), morning, Config{})
	_ = g.input.Close()
	if err := <-g.ended; err != nil {
		t.Error(err)
	}
	leave := make(chan struct{})
	g = open(t, sessiontest.NewMemory(), morning, Config{Leave: leave})
	close(leave)
	if err := <-g.ended; err != nil {
		t.Error(err)
	}
}

// Where two jobs are open it must be said which.
func TestManyOpen(t *testing.T) {
	mem := sessiontest.NewMemory()
	for range 2 {
		g := open(t, mem, morning, Config{New: true})
		g.Upto("isolate")
		_ = g.input.Close()
		<-g.ended
	}
	if err := Run(strings.NewReader(""), io.Discard, Config{Journal: mem, Clock: time.Now}); !errors.Is(err, errManyOpen) {
		t.Errorf("%v", err)
	}
	for id := range mem.Jobs {
		var out bytes.Buffer
		if err := Run(strings.NewReader(""), &out, Config{Journal: mem, Clock: time.Now, OpenID: id}); err != nil || out.Len() == 0 {
			t.Errorf("%v, %q", err, out.String())
		}
	}
}

// No line that comes in makes the parser fall over, and what it takes is one thing.
func FuzzParse(f *testing.F) {
	for _, line := range []string{
		`{"answer":"550 ml"}`, `{"answer":null}`, `{"answer":5.5e3}`, `{"key":"4","at":"2026-01-02T10:00:00Z"}`, `{"choose":"x"}`,
		`{"complete":true}`,
		`{"correct":"measure.amount","round":0,"item":0,"answer":"560"}`, `{"undo":true}`, `{"leave":true}`, `{"figures":true}`,
		`{"a":[{}]}`, `{"answer":"\ud800"}`,
	} {
		f.Add(line)
	}
	f.Fuzz(func(t *testing.T, line string) {
		r, err := parse(line)
		if err != nil && (r != (request{}) || err.Error() == "") {
			t.Errorf("%q: %+v beside %v", line, r, err)
		}
		if err == nil && (r.act == actKey) != (r.key != 0) {
			t.Errorf("%q: %+v", line, r)
		}
	})
}

// Of another unit than those that are met the name is typed.
func TestNameOfAnotherUnit(t *testing.T) {
	g := open(t, sessiontest.NewMemory(), morning, Config{})
	g.Upto("prepare.kind")
	g.Say(`{"answer":"other"}`)
	if p := g.Prompt; p.Topic != "prepare.unit" || p.Kind != "text" {
		t.Fatalf("%+v", p)
	}
	first(t, g.Say(`{"answer":"winch"}`), "taken")
	if got := job.Fold(g.theJob()); got.UnitName() != "winch" || got.Choice(job.Place{Topic: job.UnitKind}) != "other" {
		t.Errorf("%q of kind %q", got.UnitName(), got.Choice(job.Place{Topic: job.UnitKind}))
	}
}
