package sums

// This file tests how sums are laid out, on jobs of which each has been driven
// another way.

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
	"garage/tundish/testdata/golden"
)

// jobsOfSums are the jobs, by name.
func jobsOfSums(t *testing.T) map[string]job.Job {
	t.Helper()
	files, err := filepath.Glob("testdata/*.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	jobs := map[string]job.Job{}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var j job.Job
		if err := json.Unmarshal(data, &j); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		if err := j.Check(); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		jobs[strings.TrimSuffix(filepath.Base(file), ".json")] = j
	}
	return jobs
}

// sumsOf are all sums of a job.
func sumsOf(s *guide.Guide) []verdict.Breakdown {
	sums := []verdict.Breakdown{s.DrainedBreakdown(), s.TargetBreakdown()}
	for r := range s.Rounds() {
		sums = append(sums, s.PreloadBreakdown(r), s.NetBreakdown(r))
		if v, err := s.VerdictBreakdown(r); err == nil {
			sums = append(sums, v)
		}
	}
	return sums
}

// The printed sums of a job, to be looked at when they change.
func TestSumsAsPrinted(t *testing.T) {
	for name, j := range jobsOfSums(t) {
		t.Run(name, func(t *testing.T) {
			s := guide.Fold(j, guide.Offers{})
			var b strings.Builder
			for _, sum := range sumsOf(s) {
				b.WriteString(strings.Join(Lines(s, sum, Columns), "\n") + "\n\n")
			}
			golden.Check(t, filepath.Join("testdata", name+".txt"), b.String())
		})
	}
}

// A name from an imported job may hold anything; a line stays a line, and
// narrow, at every moment of a job.
func TestSumsAreNarrowAndOfOneLineEach(t *testing.T) {
	names := []string{
		"jug\nof\x1b[31m mine", strings.Repeat("x", 300), strings.Repeat("油", 150), "\u202eguj", "a " +
			strings.Repeat("long name ", 30), "xe tải ế",
	}
	for _, j := range jobsOfSums(t) {
		for at := range j.Entries {
			some := job.Job{ID: j.ID, Started: j.Started, Entries: append([]job.Entry(nil), j.Entries[:at+1]...)}
			for i, e := range some.Entries {
				if e.Topic == job.ContainerName {
					some.Entries[i].Value.Text = names[at%len(names)]
				}
			}
			s := guide.Fold(some, guide.Offers{})
			for _, sum := range sumsOf(s) {
				for _, width := range []int{58, Columns} {
					for _, line := range Lines(s, sum, width) {
						if strings.ContainsAny(line, "\n\x1b\u202e") || text.Width(line) > width {
							t.Errorf("line %q of %d columns, want %d", line, text.Width(line), width)
						}
					}
				}
			}
		}
	}
}

// No name, however long, and no figure, however large, makes a line wider.
func TestAnySumIsNarrow(t *testing.T) {
	s := guide.Fold(jobsOfSums(t)["us_units_on_a_scale"], guide.Offers{})
	rapid.Check(t, func(t *rapid.T) {
		term := rapid.Custom(func(t *rapid.T) verdict.Term {
			ml, u := rapid.Float64Range(-1e7, 1e7).Draw(t, "ml"), rapid.SampledFrom([]float64{0, 1e-3, 1, 30, 1e4}).Draw(t, "u")
			return verdict.Term{
				Sign: rapid.SampledFrom([]string{"", "+", "-", "="}).Draw(t, "sign"), Label: rapid.String().Draw(t, "label"),
				Value: measure.Gaussian("x", ml, u), Note: rapid.String().Draw(t, "note"),
			}
		})
		sum := verdict.Breakdown{Title: rapid.String().Draw(t, "title"), Terms: rapid.SliceOfN(term, 1, 6).Draw(t, "terms"),
			Advice: rapid.String().Draw(t, "advice")}
		for _, width := range []int{58, Columns} {
			for _, line := range Lines(s, sum, width) {
				if strings.ContainsAny(line, "\n\x1b\u202e") || text.Width(line) > width {
					t.Fatalf("line %q of %d columns, want %d", line, text.Width(line), width)
				}
			}
		}
	})
}
