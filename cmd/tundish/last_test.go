package main

// This file checks which job the word "last" means.

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"garage/tundish/model/job"
)

// A stranger's finished job that is imported says nothing of one's own car,
// which stands empty.
func TestFalseWord12ImportIsNeverTheLastJob(t *testing.T) {
	theirs := storeOf(t, func(j storeJournal) { keep(t, j, noon.AddDate(0, 0, 1), "coupe", "front axle", job.NoTopic) })
	code, done, stderr := runHere(t, nil, "summary", "last", "--format", "json", "--store", theirs)
	if code != exitDone {
		t.Fatalf("exit code %d, %s", code, stderr)
	}
	file := filepath.Join(t.TempDir(), "theirs.json")
	if err := os.WriteFile(file, []byte(done), 0o600); err != nil {
		t.Fatal(err)
	}

	mine := storeOf(t, func(j storeJournal) { keep(t, j, noon, "van", "rear axle", job.DrainedAmount) })
	if code, _, stderr := runHere(t, nil, "import", file, "--store", mine); code != exitDone {
		t.Fatalf("import: exit code %d, %s", code, stderr)
	}
	code, tag, stderr := runHere(t, nil, "tag", "last", "--store", mine)
	if code != exitDone || !strings.Contains(tag, "NO OIL IN REAR AXLE") {
		t.Errorf("exit code %d, %s%s", code, tag, stderr)
	}

	none := storeOf(t, func(storeJournal) {})
	if code, _, stderr := runHere(t, nil, "import", file, "--store", none); code != exitDone {
		t.Fatalf("import: exit code %d, %s", code, stderr)
	}
	if code, out, stderr := runHere(t, nil, "tag", "last", "--store", none); code != exitFailed || out != "" ||
		!strings.Contains(stderr, "last") {
		t.Errorf("nobody worked here, and last is: exit code %d, %s%s", code, out, stderr)
	}
}
