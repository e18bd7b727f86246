package report

// This file validates what is written as JSON with an independent validator
// against the published schema (JSON Schema, draft 2020-12).

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/jobtest"
	"garage/tundish/model/share"
	"garage/tundish/testdata/golden"
)

const schemaFile = "job-4.schema.json"

// topicLine is the one line of the schema that lists all topics.
var topicLine = regexp.MustCompile(`"topic": \{ "enum": \[.*\] \}`)

func TestSchemaListsAllTopics(t *testing.T) {
	var names []string
	for _, topic := range jobtest.AllTopics() {
		names = append(names, `"`+topic.String()+`"`)
	}
	line := `"topic": { "enum": [` + strings.Join(names, ", ") + `] }`
	text, err := os.ReadFile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	golden.Check(t, schemaFile, string(topicLine.ReplaceAll(text, []byte(line))))
}

func compiledSchema(t *testing.T, file string) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	path, err := filepath.Abs(file)
	if err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile(path)
	if err != nil {
		t.Fatal(err)
	}
	return schema
}

func validate(schema *jsonschema.Schema, text []byte) error {
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		return err
	}
	return schema.Validate(value)
}

func TestAnyJobFitsTheSchema(t *testing.T) {
	schema := compiledSchema(t, schemaFile)
	rapid.Check(t, func(t *rapid.T) {
		kept := jobtest.AnyJob().Draw(t, "job")
		for _, j := range []job.Job{kept, share.Job(kept)} {
			if j.Check() != nil {
				continue // shared out of 1970, before which no job is
			}
			if err := validate(schema, mustJSON(t, j)); err != nil {
				t.Fatalf("%v", err)
			}
		}
	})
	for name, job := range map[string]job.Job{"drain port": wholeDrainPort(t), "level port": wholeLevelPort(t)} {
		if err := validate(schema, mustJSON(t, job)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The schema must refuse something, or the test above says nothing.
func TestSchemaRefuses(t *testing.T) {
	schema := compiledSchema(t, schemaFile)
	good := string(mustJSON(t, wholeDrainPort(t)))
	for from, to := range map[string]string{
		`"topic":"prepare.capacity"`: `"topic":"prepare.colour"`,
		`"unit":"ml"`:                `"unit":"pint"`,
		`"schema_version": 4`:        `"schema_version": 3`,
		`"seq":1,`:                   `"seq":0,`,
		`"rounds": 1`:                `"rounds": 1, "colour": 3`,
		`Z","topic"`:                 `","topic"`,
	} {
		if !strings.Contains(good, from) {
			t.Fatalf("%s does not stand in the file", from)
		}
		if err := validate(schema, []byte(strings.Replace(good, from, to, 1))); err == nil {
			t.Errorf("%s is let through", to)
		}
	}
}

// A file of an older version fits the schema of its time, is read for ever, and is
// written as the newest version, which the older schemas refuse.
func TestFalseWord11OlderVersionsAreReadForEver(t *testing.T) {
	for file, version := range map[string]string{"job-1.json": "1", "job-2.json": "2", "job-2-level.json": "2", "job-3.json": "3",
		"job-3-level.json": "3"} {
		t.Run(file, func(t *testing.T) { readForEver(t, file, "../../testdata/schema/job-"+version+".schema.json") })
	}
}

func readForEver(t *testing.T, file, schemaOfItsTime string) {
	old, err := os.ReadFile("../../testdata/schema/" + file)
	if err != nil {
		t.Fatal(err)
	}
	if err := validate(compiledSchema(t, schemaOfItsTime), old); err != nil {
		t.Error(err)
	}
	j, notes, err := ReadJSON(bytes.NewReader(old))
	if err != nil || notes.Unknowns > 0 {
		t.Fatalf("%v, %+v", err, notes)
	}
	text := mustJSON(t, j)
	if validate(compiledSchema(t, schemaOfItsTime), text) == nil {
		t.Error("what is written now passes for the older version")
	}
	if err := validate(compiledSchema(t, schemaFile), text); err != nil {
		t.Error(err)
	}
	entries := func(text []byte) string { _, list, _ := strings.Cut(string(text), `"entries"`); return list }
	if entries(text) != entries(old) {
		t.Error("the entries are not what they were")
	}
	for n := range j.Entries {
		part := job.Job{ID: j.ID, Started: j.Started, Entries: j.Entries[:n]}
		s := guide.Fold(part, guide.Offers{})
		if p, ok := s.Next(); ok && p.AskText(s) == "" {
			t.Errorf("after %d entries nothing is asked", n)
		}
		recordOf(s, Options{})
	}
}
