package report

// This file holds the JSON form to its promise: what is written is read back
// to the same job and written again to the same bytes, and what is not such a
// file is refused with the place where it is wrong.

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/jobtest"
	"garage/tundish/model/text"
)

func mustJSON(t jobtest.Fataler, job job.Job) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, JSON, guide.Fold(job, guide.Offers{}), job, Options{}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestAnyJobComesBackByteForByte(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := jobtest.AnyJob().Draw(t, "job")
		first := mustJSON(t, job)
		back, notes, err := ReadJSON(bytes.NewReader(first))
		if err != nil {
			t.Fatalf("not read back: %v\n%s", err, first)
		}
		if !reflect.DeepEqual(job, back) {
			t.Fatalf("another job came back:\n%+v\n%+v", job, back)
		}
		if second := mustJSON(t, back); !bytes.Equal(first, second) {
			t.Fatalf("written differently the second time:\n%s\n%s", first, second)
		}
		if len(notes.UnknownFields) > 0 {
			t.Fatalf("own fields not known: %v", notes.UnknownFields)
		}
	})
}

// Whoever prints a file to a terminal must not have the terminal obey it: all
// bytes but line ends are ones that show (RFC 8259, section 7, allows escapes
// for any character).
func TestJSONHoldsNothingHidden(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		file := strings.ReplaceAll(string(mustJSON(t, jobtest.AnyJob().Draw(t, "job"))), "\n", "")
		if i := strings.IndexFunc(file, text.Hidden); i >= 0 {
			t.Fatalf("hidden sign at byte %d: %q", i, file[i:min(i+10, len(file))])
		}
	})
}

const oneEntry = `{"schema":"tundish-job","schema_version":1,"job":{"id":"a","started":"2026-04-18T09:00:00Z","entries":[
%s]}}`

func TestReadJSONRefuses(t *testing.T) {
	good := `{"seq":1,"at":"2026-04-18T09:01:00Z","topic":"prepare.capacity","value":{"number":900,"unit":"ml"}}`
	if _, _, err := ReadJSON(strings.NewReader(fmt.Sprintf(oneEntry, good))); err != nil {
		t.Fatalf("the plain file is refused: %v", err)
	}
	entry := func(from, to string) string {
		if !strings.Contains(good, from) {
			t.Fatalf("%q is not in the entry", from)
		}
		return fmt.Sprintf(oneEntry, strings.Replace(good, from, to, 1))
	}
	file := func(from, to string) string { return strings.Replace(fmt.Sprintf(oneEntry, good), from, to, 1) }
	tests := []struct{ name, text, want string }{
		{"nothing", "", "line 1: not JSON"},
		{"a list", "[]", "JSON object"},
		{"cut short", fmt.Sprintf(oneEntry, good)[:120], "line 2: not JSON"},
		{"more behind it", fmt.Sprintf(oneEntry, good) + "{}", "not JSON"},
		{"another schema", file("tundish-job", "other"), "schema must be"},
		{"schema in capitals", file(`"schema":`, `"SCHEMA":`), "schema must be"},
		{"newer", file(`"schema_version":1`, `"schema_version":5`), "newer version"},
		{"version 0", file(`"schema_version":1`, `"schema_version":0`), "not one that was ever written"},
		{"version 1.5", file(`"schema_version":1`, `"schema_version":1.5`), "not one that was ever written"},
		{"the word for the newest", file(`"id":"a"`, `"id":"last"`), `id must not be "last"`},
		{"long question", entry(`"seq":1`, `"seq":1,"asked":"`+strings.Repeat("a", 2001)+`"`), "2000 bytes at most"},
		{"no job", `{"schema":"tundish-job","schema_version":1}`, "no job"},
		{"bad id", file(`"id":"a"`, `"id":"../a"`), "job id"},
		{"key twice", entry(`"seq":1`, `"seq":1,"seq":1`), `line 2, entry 1: "seq" stands twice`},
		{"key twice in value", entry(`"number":900`, `"number":900,"number":1`), `"number" stands twice`},
		{"too large a number", entry("900", "1e999"), "entry 1: number must be finite"},
		{"number out of sense", entry("900", "1e12"), "numbers must be finite and below"},
		{"number as text", entry("900", `"900"`), "number must be a number"},
		{"not a number", entry("900", "NaN"), "not JSON"},
		{"seq wrong", entry(`"seq":1`, `"seq":2`), "seq must be 1 here"},
		{"seq not whole", entry(`"seq":1`, `"seq":1.5`), "whole number"},
		{"no time", entry(`"at":"2026-04-18T09:01:00Z",`, ""), "at must be a time"},
		{"wrong time", entry("2026-04-18T09:01:00Z", "18 April"), "at must be a time"},
		{"unknown topic", entry("prepare.capacity", "prepare.colour"), `entry 1: topic: topic "prepare.colour"`},
		{"unknown unit", entry(`"ml"`, `"gills"`), "unit"},
		{"null", entry("900", "null"), "number must be a number"},
		{"value a list", entry(`{"number":900,"unit":"ml"}`, "[]"), "wrong kind"},
		{"strikes a later one", entry(`"seq":1`, `"seq":1,"strikes":1`), "strikes must name an earlier entry"},
		{"deep", entry(`"seq":1`, `"seq":1,"x":`+strings.Repeat("[", 40)+strings.Repeat("]", 40)), "nested too deeply"},
		{"long text", entry(`"seq":1`, `"seq":1,"typed":"`+strings.Repeat("a", 2001)+`"`), "2000 bytes at most"},
		{"not UTF-8", entry(`"seq":1`, `"seq":1,"typed":"`+"\xff"+`"`), "UTF-8"},
		{"below nothing", entry("900", "-5"), "entry 1: prepare.capacity: value.number must not be below 0, but is -5"},
		{"wrong unit", entry(`"ml"`, `"C"`), `value.unit must be ml, not "C"`},
		{"parts of another sum", entry("900", `830,"parts":[500,300]`), "value.number must be the sum of its parts, 800, not 830"},
		{"raw control", entry(`"seq":1`, `"seq":1,"typed":"`+"\x1b"+`"`), "not JSON"},
		{"too large a file", strings.Repeat(" ", maxBytes+1), "larger than 4 MB"},
		{"too many entries", strings.Replace(fmt.Sprintf(oneEntry, good), "[\n", "[\n"+manyEntries(good, job.MaxEntries)+",", 1),
			"more than 5000 entries"},
	}
	for _, tt := range tests {
		j, _, err := ReadJSON(strings.NewReader(tt.text))
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: error %v, want one with %q", tt.name, err, tt.want)
		}
		if !reflect.DeepEqual(j, job.Job{}) {
			t.Errorf("%s: a job came back with the error", tt.name)
		}
	}
	if _, _, err := ReadJSON(strings.NewReader(tests[6].text)); !errors.Is(err, errNewerSchema) {
		t.Errorf("a newer file: %v, want ErrNewerSchema", err)
	}
}

func manyEntries(entry string, n int) string {
	list := make([]string, n)
	for i := range list {
		list[i] = strings.Replace(entry, `"seq":1`, fmt.Sprintf(`"seq":%d`, i+1), 1)
	}
	return strings.Join(list, ",")
}

func TestUnknownFieldsAreNamedAndLeftOut(t *testing.T) {
	text := fmt.Sprintf(oneEntry,
		`{"seq":1,"at":"2026-04-18T09:01:00Z","topic":"close.remark",`+
			`"value":{"text":"\u001b[2J","mood":{"a":[1,{"b":2}]}},"colour\u202e":3}`)
	job, notes, err := ReadJSON(strings.NewReader("\ufeff" + text))
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"value.mood", `entry.colour\u202e`}
	if !reflect.DeepEqual(notes.UnknownFields, want) || notes.Unknowns != 2 || notes.Hidden != 1 {
		t.Errorf("notes %+v, want fields %q and one hidden text", notes, want)
	}
	if job.Entries[0].Value.Text != "\x1b[2J" {
		t.Errorf("the text was changed: %q", job.Entries[0].Value.Text)
	}
}

func FuzzReadJSON(f *testing.F) {
	f.Add([]byte(fmt.Sprintf(oneEntry, `{"seq":1,"at":"2026-04-18T09:01:00Z","topic":"prepare.capacity",`+
		`"value":{"number":3,"unit":"ml","parts":[1,2],"at_c":20}}`)))
	f.Add([]byte(`{"schema":"tundish-job","schema_version":1,"shared":true,` +
		`"job":{"id":"a","started":"2026-04-18T09:00:00Z","entries":[]}}`))
	f.Add([]byte(`{"schema":1}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		j, _, err := ReadJSON(bytes.NewReader(data))
		if err != nil {
			if !reflect.DeepEqual(j, job.Job{}) || strings.ContainsFunc(err.Error(), text.Hidden) {
				t.Fatalf("error %q with job %+v", err, j)
			}
			return
		}
		first := mustJSON(t, j)
		back, _, err := ReadJSON(bytes.NewReader(first))
		if err != nil {
			t.Fatalf("what was read cannot be read again: %v", err)
		}
		if second := mustJSON(t, back); !bytes.Equal(first, second) {
			t.Fatalf("not the same again:\n%s\n%s", first, second)
		}
	})
}
