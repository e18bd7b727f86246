package main

// This file checks what is in the store after an import that was cut off.

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"garage/tundish/cmd/tundish/internal/incoming"
	"garage/tundish/cmd/tundish/internal/rows"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/report"
	"garage/tundish/store"
	"garage/tundish/tui/demo"
)

// exported writes jobs of their own into files and gives the files' names.
func exported(t *testing.T, count int) (files []string) {
	t.Helper()
	done, err := demo.Answered(job.Job{Started: noon}, wholeAnswers("van", "rear axle"), job.NoTopic)
	if err != nil {
		t.Fatal(err)
	}
	for n := range count {
		j := done
		j.ID = job.NewID(noon, uint32(n))
		var text bytes.Buffer
		if err := report.Write(&text, report.JSON, guide.Fold(j, guide.Offers{}), j, report.Options{Zone: time.UTC}); err != nil {
			t.Fatal(err)
		}
		files = append(files, fmt.Sprintf("%03d.json", n))
		put(t, files[n], text.String())
	}
	return files
}

// A file that is gone when it is to be let in ends the import there: all before
// it are in, whatever group they were in, and the error says how many.
func TestImportThatIsCutOffSaysWhatIsIn(t *testing.T) {
	o := inFolder(t)
	var out bytes.Buffer
	o.out, o.err, o.now = &out, &bytes.Buffer{}, time.Now
	files := exported(t, 60)
	letIn := func(j storeJournal) error {
		all := make([]incoming.Job, len(files))
		for i, file := range files {
			all[i] = incoming.Job{Bytes: groupBytes / 20, Of: rows.Key{Job: file}}
		}
		units, err := incoming.New(jobRows(j.Store), all)
		if err != nil {
			t.Fatal(err)
		}
		err = (&importCommand{Files: files}).letIn(o, j.Store, all, units)
		return errors.Join(err, units.Close())
	}
	for _, gone := range []int{57, 0, 45} {
		if err := os.Rename(files[gone], "away"); err != nil {
			t.Fatal(err)
		}
		j := openJournal(t)
		out.Reset()
		err := letIn(j)
		if err == nil || !strings.Contains(err.Error(), files[gone]) ||
			strings.Contains(err.Error(), fmt.Sprintf("the %d files before it are in", gone)) != (gone > 0) {
			t.Errorf("file %d gone: %v", gone, err)
		}
		heads, _, err := j.List(store.ListOptions{})
		if told := strings.Count(out.String(), ": added: job "); err != nil || len(heads) != gone || told != gone {
			t.Errorf("file %d gone: %d jobs are in, %d were told, %v", gone, len(heads), told, err)
		}
		if err := os.Rename("away", files[gone]); err != nil {
			t.Fatal(err)
		}
		out.Reset()
		if err := letIn(j); err != nil {
			t.Error(err)
		}
		lines := strings.Split(strings.TrimSpace(out.String()), "\n")
		if !slices.IsSortedFunc(lines, strings.Compare) || len(lines) != len(files) || strings.Count(out.String(), "nothing new") != gone {
			t.Errorf("again, %d of %d files told of, %d nothing new, want %d", len(lines), len(files),
				strings.Count(out.String(), "nothing new"), gone)
		}
	}
}
