package report

// This file compares every form of two whole jobs with files that were looked
// at by eye. They are regression files: nothing in them is published.

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

var update = flag.Bool("update", false, "write the golden files anew")

const jobsFolder = "../../testdata/jobs"

// golden compares, or with -update writes.
func golden(t *testing.T, path string, got []byte) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs; look at it and run: go test ./model/report -update\n%s", path, firstDifference(string(got), string(want)))
	}
}

func firstDifference(got, want string) string {
	g, w := bytes.Split([]byte(got), []byte("\n")), bytes.Split([]byte(want), []byte("\n"))
	for i := range min(len(g), len(w)) {
		if !bytes.Equal(g[i], w[i]) {
			return "got:  " + string(g[i]) + "\nwant: " + string(w[i])
		}
	}
	return "one is longer"
}

func TestGoldenJobs(t *testing.T) {
	jobs := map[string]job.Job{"drain-port": wholeDrainPort(t), "level-port": wholeLevelPort(t)}
	for name, job := range jobs {
		s := guide.Fold(job, guide.Offers{})
		for f := range formatCount {
			var b bytes.Buffer
			if err := Write(&b, f, s, job, Options{}); err != nil {
				t.Fatalf("%s as %v: %v", name, f, err)
			}
			golden(t, filepath.Join(jobsFolder, name+"."+f.String()), b.Bytes())
		}
		var b bytes.Buffer
		if err := Write(&b, JSON, s, job, Options{Share: true}); err != nil {
			t.Fatal(err)
		}
		golden(t, filepath.Join(jobsFolder, name+".shared.json"), b.Bytes())
	}
}

// wholeDrainPort and wholeLevelPort are those jobs as an earlier version of this
// program left them in testdata, driven to their end; of the first, what came out
// was read again twice.
func wholeDrainPort(t *testing.T) job.Job { return stored(t, "drain-port") }
func wholeLevelPort(t *testing.T) job.Job { return stored(t, "level-port") }

func stored(t *testing.T, name string) job.Job {
	t.Helper()
	file, err := os.Open(filepath.Join(jobsFolder, name+".json"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	j, _, err := ReadJSON(file)
	if err != nil {
		t.Fatal(err)
	}
	return j
}
