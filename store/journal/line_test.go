package journal

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

var started = time.Date(2026, 4, 1, 8, 0, 0, 0, time.UTC)

// encode returns the line's bytes.
func (l Line) encode() ([]byte, error) {
	rest, err := json.Marshal(l)
	return l.wrap(rest), err
}

// entry is an invented entry.
func entry(seq int) job.Entry {
	return job.Entry{Seq: seq, At: started.Add(time.Duration(seq) * time.Minute), Topic: job.Remark, Value: job.Value{Text: "dry"}}
}

func headOf(id string) *guide.Head { return &guide.Head{ID: id, Started: started} }

// TestCheck spoils one thing of a line at a time.
func TestCheck(t *testing.T) {
	first := Line{Journal: Version, Store: "a store"}
	begun := Line{N: 1, Job: "a", Started: &started, Head: headOf("a")}
	next := Line{N: 3, First: 2, Job: "a", Entries: []job.Entry{entry(4), entry(5)}, Head: headOf("a")}
	for _, l := range []Line{first, begun, next} {
		if err := l.check(); err != nil {
			t.Errorf("%+v: %v", l, err)
		}
	}
	long := headOf("a")
	long.Vehicle, long.UnitName = strings.Repeat("x", maxUnitBytes), "axle"
	early := time.Time{}
	bad := entry(4)
	bad.At = time.Time{}
	for name, c := range map[string]struct {
		of    Line
		spoil func(l *Line)
		says  string
	}{
		"no store":              {first, func(l *Line) { l.Store = "" }, "names no store"},
		"no version":            {first, func(l *Line) { l.Journal = 0 }, "names no store"},
		"no number":             {next, func(l *Line) { l.N = -1 }, "number or head is missing"},
		"no head":               {next, func(l *Line) { l.Head = nil }, "number or head is missing"},
		"first below 0":         {next, func(l *Line) { l.First = -1 }, "cannot begin with line -1"},
		"first behind it":       {next, func(l *Line) { l.First = 4 }, "line 3 cannot begin with line 4"},
		"no id":                 {next, func(l *Line) { l.Job = "../a" }, "job id"},
		"another's head":        {next, func(l *Line) { l.Head = headOf("b") }, `the head is of job "b"`},
		"long names":            {next, func(l *Line) { l.Head = long }, "bytes at most"},
		"no start":              {begun, func(l *Line) { l.Started = &early }, ""},
		"not from entry 1":      {begun, func(l *Line) { l.Entries = next.Entries }, ""},
		"no entries":            {next, func(l *Line) { l.Entries = nil }, "no entries"},
		"a gap":                 {next, func(l *Line) { l.Entries = []job.Entry{entry(4), entry(6)} }, "entry 6 follows entry 4"},
		"an entry that is none": {next, func(l *Line) { l.Entries = []job.Entry{bad} }, ""},
	} {
		l := c.of
		if c.spoil(&l); l.check() == nil || !strings.Contains(l.check().Error(), c.says) {
			t.Errorf("%s: %v, want %q", name, l.check(), c.says)
		}
	}
	same := next
	same.First = 3
	if err := same.check(); err != nil {
		t.Errorf("the first of its group: %v", err)
	}
}

// TestWorked: only the guide adds to a job one line at a time.
func TestWorked(t *testing.T) {
	l := Line{N: 2, Job: "a"}
	grouped, merged, begun, first := l, l, l, l
	grouped.First, merged.Merged, begun.Started, first.N = 1, true, &started, 0
	if !l.Worked() || grouped.Worked() || merged.Worked() || begun.Worked() || first.Worked() {
		t.Error(l.Worked(), grouped.Worked(), merged.Worked(), begun.Worked(), first.Worked())
	}
}

// TestNext chains lines: each names the one before, and the marks lie end to end.
func TestNext(t *testing.T) {
	m := Mark{N: -1}
	l := Line{Journal: Version, Store: "a store"}
	text, after, err := m.Next(&l)
	if err != nil || after.N != 0 || after.Start != 0 || after.End != int64(len(text)) ||
		after.Sum != string(text[len(lineOpen):len(lineOpen)+sumDigits]) || after.Worked != "" {
		t.Fatalf("%+v, %v", after, err)
	}
	own := Line{Job: "a", Entries: []job.Entry{entry(1)}, Head: headOf("a")}
	text, second, err := after.Next(&own)
	if err != nil || second.N != 1 || second.Start != after.End || second.End != after.End+int64(len(text)) ||
		second.Worked != "a" || !after.Follows(own) || second.Follows(own) {
		t.Fatalf("%+v, %v", second, err)
	}
	merged := Line{Job: "b", Entries: []job.Entry{entry(1)}, Head: headOf("b"), Merged: true}
	if _, third, err := second.Next(&merged); err != nil || third.Worked != "a" {
		t.Errorf("%+v, %v", third, err)
	}
	if _, _, err := second.Next(&Line{Job: "b"}); err == nil {
		t.Error("a line without a head")
	}
	stranger := own
	if stranger.Prev = "00000000"; after.Follows(stranger) {
		t.Error("the checksum before is another")
	}
}

// TestDecodeLine refuses all that is not a line to the last byte.
func TestDecodeLine(t *testing.T) {
	text, err := Line{Journal: Version, Store: "a store"}.encode()
	if err != nil {
		t.Fatal(err)
	}
	if l, sum, err := decodeLine(text); err != nil || l.Store != "a store" || sum != string(text[len(lineOpen):len(lineOpen)+sumDigits]) {
		t.Errorf("%+v, %s, %v", l, sum, err)
	}
	for i := range text {
		bad := bytes.Clone(text)
		bad[i] ^= 1
		if l, sum, err := decodeLine(bad); err == nil || sum != "" || l.Store != "" {
			t.Errorf("byte %d of %q", i, bad)
		}
		if _, _, err := decodeLine(text[:i]); err == nil {
			t.Errorf("cut at %d", i)
		}
	}
	noJSON := []byte(lineOpen + lineSum([]byte("{")) + lineMid + "{" + lineClose)
	if _, sum, err := decodeLine(noJSON); err == nil || sum != "" {
		t.Error("no JSON")
	}
}

// TestChecksum: 32 bytes of zeros have the CRC-32C 8a9136aa (RFC 3720, appendix
// B.4; from memory).
func TestChecksum(t *testing.T) {
	if got := lineSum(make([]byte, 32)); got != "8a9136aa" {
		t.Errorf("%s", got)
	}
}

// FuzzLine: a line that is accepted is written again as the same line.
func FuzzLine(f *testing.F) {
	job := job.Job{ID: "20260401-aaaaaa", Started: started, Entries: []job.Entry{entry(1), entry(2), entry(3)}}
	head := guide.Head{ID: job.ID, Started: job.Started, Vehicle: "Lodestar wagon"}
	for _, l := range []Line{
		{Journal: Version, Store: "a store"},
		{N: 1, Prev: "89abcdef", Job: job.ID, Started: &job.Started, Entries: job.Entries, Head: &head},
		{N: 2, Prev: "00000000", Job: job.ID, Entries: job.Entries[1:], Head: &head},
		{N: 4, Prev: "00000000", First: 3, Job: job.ID, Started: &job.Started, Head: &head},
	} {
		text, err := l.encode()
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
		f.Add(text[:len(text)-1])
		f.Add(append(text, text...))
	}
	f.Add([]byte("{\"sum\":\"00000000\",\"rec\":}\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		l, sum, err := decodeLine(text)
		if err != nil {
			return
		}
		if l.check() != nil {
			return
		}
		again, err := l.encode()
		if err != nil {
			t.Fatalf("cannot be written: %v", err)
		}
		read, _, err := decodeLine(again)
		if err != nil || read.check() != nil || sum != string(text[len(lineOpen):len(lineOpen)+sumDigits]) {
			t.Fatalf("reads differently: %v", err)
		}
		if third, err := read.encode(); err != nil || !bytes.Equal(third, again) {
			t.Fatalf("is not stable:\n%s\n%s", again, third)
		}
	})
}
