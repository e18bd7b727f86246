package store

// This file measures what a person waits for. Syncs an entry: one of the
// journal, two of bbolt (its pages, then the page that names them), all of data
// only where the system can; a bare append has one.

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/job"
)

// BenchmarkEnterToDurable compares one accepted entry with the same bytes
// appended to a bare file and synced, turn by turn on the same disk: an entry as they
// are, and one with texts as long as any question's and answer's.
func BenchmarkEnterToDurable(b *testing.B) {
	for name, textBytes := range map[string]int{"usual": 0, "long": 400} {
		b.Run(name, func(b *testing.B) { enterToDurable(b, textBytes) })
	}
}

func enterToDurable(b *testing.B, textBytes int) {
	dir := b.TempDir()
	s := open(b, filepath.Join(dir, "jobs.db"), Options{})
	for n := range 20 {
		createJob(b, s, jobOf(n, 100))
	}
	bare, err := os.Create(filepath.Join(dir, "bare"))
	must(b, err)
	defer bare.Close()
	var ours, theirs time.Duration
	job := jobOf(1000, 0)
	createJob(b, s, job)
	for n := 0; b.Loop(); n++ {
		if len(job.Entries) == 300 {
			job = jobOf(1001+n, 0)
			createJob(b, s, job)
		}
		e := reading(1000, len(job.Entries)+1)
		e.Asked, e.Label = strings.Repeat("a", textBytes), strings.Repeat("b", textBytes)
		job.Entries = append(job.Entries, e)
		head := headFor(job)
		before := s.journal.Mark.End
		start := time.Now()
		must(b, s.Append(job.ID, head, e))
		ours += time.Since(start)
		text := make([]byte, s.journal.Mark.End-before)
		start = time.Now()
		_, err := bare.Write(text)
		must(b, err)
		must(b, bare.Sync())
		theirs += time.Since(start)
	}
	b.ReportMetric(float64(ours.Microseconds())/float64(b.N), "µs/append")
	b.ReportMetric(float64(theirs.Microseconds())/float64(b.N), "µs/bare")
	b.ReportMetric(float64(ours)/float64(theirs), "ratio")
}

// bigStore makes a store of many jobs, once for each size.
func bigStore(b *testing.B, jobs int) string {
	b.Helper()
	path := filepath.Join(b.TempDir(), "jobs.db")
	s, err := Open(path, Options{noSync: true})
	must(b, err)
	for n := 0; n < jobs; n += 100 {
		var some []job.Job
		for i := range 100 {
			some = append(some, jobOf(n+i, 10))
		}
		_, err := s.ImportAll(incomingOf(some))
		must(b, err)
	}
	must(b, s.syncAll())
	closeNow(b, s)
	return path
}

// BenchmarkJobs opens, lists and loads with few and with many jobs in the store,
// and opens it beside a writer, for which all of it is copied.
func BenchmarkJobs(b *testing.B) {
	for _, jobs := range []int{100, 1000, 10_000, 100_000} {
		path, next := bigStore(b, jobs), jobs
		run := func(what string, do func()) {
			b.Run(fmt.Sprintf("%s/%d", what, jobs), func(b *testing.B) {
				for b.Loop() {
					do()
				}
			})
		}
		run("open", func() {
			s, err := Open(path, Options{})
			must(b, err)
			closeNow(b, s)
		})
		s, err := Open(path, Options{})
		must(b, err)
		run("list20", func() {
			heads, _, err := s.List(ListOptions{Limit: 20})
			must(b, err)
			if len(heads) != 20 {
				b.Fatal("short list")
			}
		})
		run("load", func() {
			_, err := s.Load(jobID(jobs / 2))
			must(b, err)
		})
		run("beside", func() {
			beside, err := Open(path, Options{ReadOnly: true})
			must(b, err)
			closeNow(b, beside)
		})
		run("create", func() {
			createJob(b, s, jobOf(next, 10))
			next++
		})
		closeNow(b, s)
	}
}

// BenchmarkLoad300 loads a job of 300 entries.
func BenchmarkLoad300(b *testing.B) {
	path, jobs := storeWith(b, 10, 300, 10)
	s := open(b, path, Options{})
	var job job.Job
	for b.Loop() {
		var err error
		job, err = s.Load(jobs[1].ID)
		must(b, err)
	}
	if len(job.Entries) != 300 {
		b.Fatal("entries are missing")
	}
}
