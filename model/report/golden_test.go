package report

// This file compares every form of two whole jobs with files that were looked
// at by eye. They are regression files: nothing in them is published.

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/testdata/golden"
)

const jobsFolder = "../../testdata/jobs"

func TestGoldenJobs(t *testing.T) {
	jobs := map[string]job.Job{"drain-port": wholeDrainPort(t), "level-port": wholeLevelPort(t)}
	for name, job := range jobs {
		s := guide.Fold(job, guide.Offers{})
		for f := range formatCount {
			var b bytes.Buffer
			if err := Write(&b, f, s, job, Options{}); err != nil {
				t.Fatalf("%s as %v: %v", name, f, err)
			}
			golden.Check(t, filepath.Join(jobsFolder, name+"."+f.String()), b.String())
		}
		var b bytes.Buffer
		if err := Write(&b, JSON, s, job, Options{Share: true}); err != nil {
			t.Fatal(err)
		}
		golden.Check(t, filepath.Join(jobsFolder, name+".shared.json"), b.String())
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
