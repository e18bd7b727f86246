package report

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/pool"
	"garage/tundish/model/verdict"
	"garage/tundish/model/words"
)

// No text of a job, at any moment of it and in any format, says a word that the
// program does not use. Of CSV the columns for people count.
func TestNoOldWords(t *testing.T) {
	said := map[string]bool{}
	check := func(what, text string) {
		for _, fault := range words.Check(text) {
			if !said[fault] {
				t.Errorf("%s: %s", what, fault)
			}
			said[fault] = true
		}
	}
	for _, j := range []job.Job{wholeDrainPort(t), wholeLevelPort(t)} {
		for n := 0; n <= len(j.Entries); n += 7 {
			part := job.Job{ID: j.ID, Started: j.Started, Entries: j.Entries[:n]}
			s := guide.Fold(part, guide.Offers{})
			for _, f := range []Format{Markdown, Text, CSV} {
				text := written(t, f, part)
				if f == CSV {
					text = forPeople(t, text)
				}
				check(f.String(), text)
			}
			check("findings", findingsText(s))
			var tag bytes.Buffer
			if writeTag(&tag, false, s) == nil {
				check("tag", tag.String())
			}
		}
		check("HTML", pageText(t, written(t, HTML, j)))
	}
	check("history", historyText(t, threeJobs(t, "828", "822", "816")))
	var pooled bytes.Buffer
	if err := (pool.Pooled{}).WriteText(&pooled); err != nil {
		t.Fatal(err)
	}
	check("pool", pooled.String())
}

// forPeople are the columns of a CSV file that are words and no keys.
func forPeople(t *testing.T, text string) string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for _, row := range rows[1:] {
		for i, name := range csvHead {
			if name == "unit_state" || name == "phase" || name == "what" || name == "with" || name == "note" {
				lines = append(lines, row[i])
			}
		}
	}
	return strings.Join(lines, "\n")
}

// findingsText is what a job has found out, its sums and its verdict.
func findingsText(s *guide.Guide) string {
	var lines []string
	for _, f := range s.Findings() {
		lines = append(lines, f.Text, f.Do)
	}
	sums := []string{s.PreloadBreakdown(0).Title}
	for _, b := range []verdict.Breakdown{s.DrainedBreakdown(), s.TargetBreakdown(), s.PreloadBreakdown(0), s.NetBreakdown(0)} {
		sums = append(sums, b.Facts...)
	}
	for _, term := range s.PreloadBreakdown(0).Terms {
		sums = append(sums, term.Label, term.Note)
	}
	if sum, err := s.VerdictBreakdown(0); err == nil {
		sums = append(append(sums, sum.Facts...), sum.Advice, sum.DoubtText())
	}
	if h, err := s.Headline(s.Round()); err == nil {
		sums = append(append(sums, h.Why...), h.Text(), h.Sentence, h.Odds, h.Next, h.Sets, h.StaysText())
	}
	return strings.Join(append(lines, sums...), "\n")
}
