package main

// This file holds the text on the formats to the files: its example runs on a real
// journal, and it names every table and key.

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"garage/tundish/model/job"
	"garage/tundish/store/journal"
	"garage/tundish/store/record"
)

const formatsFile = "../../model/report/FORMATS.md"

func formats(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile(formatsFile)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// What the example prints of a journal is what the store has; of one with a line damaged
// or missing it prints what comes before.
func TestFormatsExampleReadsAJournal(t *testing.T) {
	t.Parallel()
	_, example, _ := strings.Cut(formats(t), "```python\n")
	example, _, found := strings.Cut(example, "```\n")
	if lines := strings.Count(example, "\n"); !found || lines > 20 {
		t.Fatalf("an example of %d lines, want 20 at most", lines)
	}
	python, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("python3 is not installed: the example in another language was not tried")
	}
	j := openJournal(t)
	kept := []job.Job{keep(t, j, noon.AddDate(-1, 0, 0), "van", "rear axle", job.NoTopic),
		keep(t, j, noon, "estate\u202e", "gearbox", job.Decision)}
	more := kept[0].Entries[0]
	more.Seq, more.At, more.Topic, more.Value = len(kept[0].Entries)+1, noon.AddDate(1, 0, 0), job.Remark, job.Value{Text: "quiet"}
	kept[0].Entries = append(kept[0].Entries, more)
	if err := j.Append(kept[0].ID, headOf(kept[0]), more); err != nil {
		t.Fatal(err)
	}
	var want []string
	for _, k := range []struct{ of, from, to int }{{0, 0, more.Seq - 1}, {1, 0, len(kept[1].Entries)}, {0, more.Seq - 1, more.Seq}} {
		for _, e := range kept[k.of].Entries[k.from:k.to] {
			text, err := json.Marshal(e.At)
			if err != nil {
				t.Fatal(err)
			}
			want = append(want, fmt.Sprintf("%s %d %s %s ", kept[k.of].ID, e.Seq, strings.Trim(string(text), `"`), e.Topic))
		}
	}
	script := filepath.Join(t.TempDir(), "read.py")
	if err := os.WriteFile(script, []byte(example), 0o600); err != nil {
		t.Fatal(err)
	}
	lines, err := os.ReadFile(j.Path() + journal.Suffix)
	if err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(python, script, j.Path()+journal.Suffix).CombinedOutput()
	got := strings.Split(strings.TrimSpace(string(out)), "\n")
	if err != nil || len(got) != len(want) {
		t.Fatalf("%v, %d lines, want %d\n%s", err, len(got), len(want), out)
	}
	for i := range want {
		if !strings.HasPrefix(got[i], want[i]) {
			t.Errorf("line %d: %q, want %q", i, got[i], want[i])
		}
	}
	lines[len(lines)/2] ^= 1
	spoilt := filepath.Join(t.TempDir(), "spoilt")
	if err := os.WriteFile(spoilt, lines, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err = exec.Command(python, script, spoilt).CombinedOutput()
	if err == nil || !strings.Contains(string(out), "is damaged or missing") {
		t.Errorf("of a damaged journal: %v\n%s", err, out)
	}
}

func TestFormatsNameEveryTableAndKey(t *testing.T) {
	t.Parallel()
	text := formats(t)
	names := slices.Clone(record.Tables)
	for _, of := range []any{journal.Line{}, journal.Mark{}, job.Entry{}, job.Value{}} {
		for i := range reflect.TypeOf(of).NumField() {
			name, _, _ := strings.Cut(reflect.TypeOf(of).Field(i).Tag.Get("json"), ",")
			names = append(names, name)
		}
	}
	for _, name := range names {
		if name != "-" && !strings.Contains(text, "`"+name+"`") {
			t.Errorf("%s does not name %q", formatsFile, name)
		}
	}
	if len(names) < 30 {
		t.Errorf("%d names: the test looks in the wrong place", len(names))
	}
}
