package journal

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

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
