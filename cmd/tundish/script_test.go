package main

// This file has a script by somebody who knows the form of guide --json and nothing else
// do a whole job with the real program.

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"garage/tundish/cmd/tundish/internal/screen"
)

func TestScriptDoesAWholeJob(t *testing.T) {
	python, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("SKIPPED: python3 is not here, so nothing but Go does a job over guide --json")
	}
	script, err := filepath.Abs("../../testdata/script/whole_job.py")
	if err != nil {
		t.Fatal(err)
	}
	path, bin := filepath.Join(t.TempDir(), "jobs.db"), screen.Build(t, "garage/tundish/cmd/tundish")
	cmd := exec.Command(python, script, bin, path)
	cmd.Env = append(screen.CleanEnv(filepath.Dir(path)), "PATH="+os.Getenv("PATH"))
	said, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	verdict := strings.SplitN(string(said), "\n", 3)
	if len(verdict) < 3 || verdict[0] != "accepted" || !strings.HasPrefix(verdict[1], "off by ") || !strings.Contains(verdict[2],
		" in 100") {
		t.Errorf("the verdict is %q", said)
	}
	code, stdout, stderr := runHere(t, nil, "jobs", "--json", "--store", path)
	var jobs []struct{ State string }
	if err := json.Unmarshal([]byte(stdout), &jobs); code != exitDone || err != nil || len(jobs) != 1 ||
		!strings.HasPrefix(jobs[0].State, "DONE · ACCEPTED, LIKELY ") {
		t.Errorf("%d, %s%s, %v", code, stdout, stderr, err)
	}
}
