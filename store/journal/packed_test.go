package journal

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"garage/tundish/model/job"
)

// said is entries numbered from one on.
func said(from int, texts ...string) (entries []job.Entry) {
	for i, text := range texts {
		entries = append(entries, job.Entry{Seq: from + i, At: time.Date(2026, 4, 18, 9, i, 0, 0, time.UTC), Topic: job.Remark,
			Value: job.Value{Text: text}})
	}
	return entries
}

// A line of packed entries is read back as one that was never packed.
func TestPackedLinesReadBackAsOthers(t *testing.T) {
	entries := said(1, "a", "b \u2028 <&>", "c")
	packed, err := Pack(entries)
	if err != nil {
		t.Fatal(err)
	}
	started, head := entries[0].At, headOf("20260418-700000")
	for from := range entries {
		l := Line{Job: head.ID, Head: head, Merged: true, Packed: packed.From(from)}
		if from == 0 {
			l.Started = &started
		}
		text, _, err := (Mark{N: 4, Sum: "89abcdef"}).Next(&l)
		if err != nil {
			t.Fatal(err)
		}
		back, _, err := decodeLine(text)
		if err != nil || back.Count() != len(entries)-from || l.Count() != back.Count() || l.FirstSeq() != from+1 ||
			back.FirstSeq() != from+1 {
			t.Fatalf("from %d: %+v, %v", from, back, err)
		}
		for i, e := range back.Entries {
			want, err := json.Marshal(entries[from+i])
			if err != nil || !Same(e, entries[from+i]) || string(l.Packed.Text(i)) != string(want) {
				t.Errorf("from %d, entry %d: %+v, %s, %v", from, i, e, l.Packed.Text(i), err)
			}
		}
	}
}

// Whatever passes the check of an entry is packed, and unpacked again, as it is.
func TestWhatIsPackedIsUnpacked(t *testing.T) {
	texts := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"", "<&>\u2028\x00\u001b", "\ufeff\ufffd", `"\`}))
	numbers := rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.SampledFrom([]float64{0, 1e-320, 5e-7}))
	rapid.Check(t, func(r *rapid.T) {
		var entries []job.Entry
		for range rapid.IntRange(1, 5).Draw(r, "entries") {
			e := job.Entry{
				Seq: len(entries) + 1, Topic: job.Topic(rapid.IntRange(1, int(job.NumTopics)-1).Draw(r, "topic")),
				At:    time.Unix(rapid.Int64Range(0, 4e9).Draw(r, "second"), rapid.Int64Range(0, 999_999_999).Draw(r, "ns")).UTC(),
				Round: rapid.IntRange(0, 3).Draw(r, "round"), Item: rapid.IntRange(0, 3).Draw(r, "item"),
				Asked: texts.Draw(r, "asked"), Typed: texts.Draw(r, "typed"), Label: texts.Draw(r, "label"),
				Value: job.Value{Number: numbers.Draw(r, "number"), High: numbers.Draw(r, "high"), Text: texts.Draw(r, "text"),
					Unit: job.Dim(rapid.IntRange(0, int(job.NumDims)-1).Draw(r, "unit")), Choice: texts.Draw(r, "choice"),
					Parts: rapid.SliceOfN(numbers, 0, 3).Draw(r, "parts"), Unknown: rapid.Bool().Draw(r, "unknown")},
			}
			if len(e.Value.Parts) == 0 {
				e.Value.Parts = nil
			}
			if rapid.Bool().Draw(r, "temperature") {
				at := numbers.Draw(r, "at")
				e.Value.AtC = &at
			}
			if err := e.Check(); err != nil && e.Topic != job.Undo {
				r.Fatal(err)
			} else if err == nil {
				entries = append(entries, e)
			}
		}
		packed, err := Pack(entries)
		if err != nil {
			r.Fatal(err)
		}
		back, err := packed.Entries()
		if err != nil || len(back) != len(entries) {
			r.Fatalf("%d of %d entries, %v", len(back), len(entries), err)
		}
		for i, e := range entries {
			if !reflect.DeepEqual(back[i], e) {
				r.Errorf("%+v is unpacked as %+v", e, back[i])
			}
		}
	})
}

func TestPackRefusesWhatCannotFollow(t *testing.T) {
	for want, entries := range map[string][]job.Entry{
		"follows entry 1":   append(said(1, "a"), said(3, "b")...),
		"seq must be 1":     said(0, "a"),
		"texts must be UTF": said(1, strings.Repeat("a", job.MaxTextBytes+1)),
	} {
		if _, err := Pack(entries); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v; want %s", err, want)
		}
	}
}

func TestPackedBeginsWith(t *testing.T) {
	pack := func(texts ...string) Packed {
		p, err := Pack(said(1, texts...))
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	all := pack("a", "bc", "d")
	for text, want := range map[string]bool{"": true, "a": true, "a bc": true, "a bc d": true, "a bc d e": false, "a b": false,
		"b": false, "a b d": false} {
		if got := all.BeginsWith(pack(strings.Fields(text)...)); got != want {
			t.Errorf("begins with %q: %v", text, got)
		}
	}
}
