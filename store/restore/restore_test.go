package restore

// This file stops restoring at one step after the other, and looks at what is left.

import (
	"context"
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/store"
	"garage/tundish/store/steps"
)

var noon = time.Date(2026, 4, 18, 12, 0, 0, 0, time.UTC)

// files is what all files below a folder hold.
func files(t *testing.T, folder string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		all[path] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// A store with a backup of it and two jobs more: wherever restoring is stopped all is as
// it was, with the newer journal and without.
func TestWhatIsStoppedChangesNothing(t *testing.T) {
	for _, withJournal := range []bool{false, true} {
		path := filepath.Join(t.TempDir(), "jobs.db")
		s, err := store.Open(path, store.Options{})
		for n := range 4 {
			j := job.Job{ID: job.NewID(noon, uint32(n)), Started: noon,
				Entries: []job.Entry{{Seq: 1, At: noon, Topic: job.UnitName, Value: job.Value{Text: "axle"}}}}
			if n == 2 {
				err = errors.Join(err, s.Backup(path+".copy", false, nil, nil))
			}
			err = errors.Join(err, s.Create(j, guide.Fold(j, guide.Offers{}).Head()))
		}
		if err = errors.Join(err, s.Close()); err != nil {
			t.Fatal(err)
		}
		newer, want := "", []steps.Kind{steps.Copying, steps.Looking, steps.Journaling, steps.Verifying, steps.Comparing}
		if withJournal {
			newer, want[2] = path+".journal", steps.TakingUp
			slices.Sort(want)
		}
		before, seen := files(t, filepath.Dir(path)), map[steps.Kind]bool{}
		for n := 0; ; n++ {
			left := n
			done, err := Store(path, path+".copy", newer, noon, func(k steps.Kind, _, _ int) error {
				if seen[k] = true; left == 0 {
					return context.Canceled
				}
				left--
				return nil
			})
			if err == nil {
				if more := 2; withJournal && done.TakenUp != more || !withJournal && len(done.Newer) != more {
					t.Errorf("in the end: %+v", done)
				}
				break
			}
			if after := files(t, filepath.Dir(path)); !errors.Is(err, context.Canceled) || !maps.Equal(before, after) {
				t.Fatalf("stopped at step %d (%v): there are %v", n, err, slices.Sorted(maps.Keys(after)))
			}
		}
		if got := slices.Sorted(maps.Keys(seen)); !slices.Equal(got, want) {
			t.Errorf("steps of %v, want %v", got, want)
		}
	}
}
