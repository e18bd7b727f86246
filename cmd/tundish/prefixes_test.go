package main

// This file takes up what the committed stores of older versions hold.

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	visit "garage/tundish/model/sheet"
	"garage/tundish/store"
)

// Every job of a committed store opens at a sheet, wherever it stops.
func TestJobsOfOlderStoresOpenAtASheet(t *testing.T) {
	opened := 0
	for _, name := range []string{"schema-1.db", "schema-2.db", "schema-3.db", "schema-4.db"} {
		path := filepath.Join(t.TempDir(), name)
		for _, suffix := range []string{"", ".journal"} {
			text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "store", name+suffix))
			if err == nil {
				err = os.WriteFile(path+suffix, text, 0o600)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		s, err := store.Open(path, store.Options{})
		if err != nil {
			t.Fatal(err)
		}
		heads, _, err := s.List(store.ListOptions{})
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range heads {
			j, err := s.Load(h.ID)
			if err != nil {
				t.Fatal(err)
			}
			for n := range len(j.Entries) + 1 {
				g := guide.Fold(job.Job{ID: j.ID, Started: j.Started, Entries: j.Entries[:n]}, guide.Offers{})
				if at, more := visit.Now(g, g.Updated.Add(time.Hour)); !more || len(at.Lines) == 0 {
					t.Errorf("%s, job %s after %d entries: no sheet", name, j.ID, n)
				}
				opened++
			}
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	if opened < 30 {
		t.Errorf("only %d moments were looked at", opened)
	}
}
