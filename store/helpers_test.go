package store

// This file holds what the tests share: invented jobs, and the check that every
// store that a test opened must pass in the end.

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/store/disk"
	"garage/tundish/store/journal"
	"garage/tundish/store/pages"
)

// As the files of a store have them.
const (
	journalSuffix = journal.Suffix
	pageBytes     = pages.Size
	firstDataPage = pages.FirstData
	fileMode      = disk.FileMode
)

func at(day, minute int) time.Time {
	return time.Date(2026, 4, 1, 8, 0, 0, 0, time.UTC).AddDate(0, 0, day).Add(time.Duration(minute) * time.Minute)
}

func jobID(n int) string { return job.NewID(at(n, 0), uint32(n)) }

// reading is an invented entry, as a person would type it.
func reading(day, seq int) job.Entry {
	topics := []job.Topic{job.DrainedAmount, job.LoadedAmount, job.DripReading, job.Remark}
	return job.Entry{Seq: seq, At: at(day, seq), Topic: topics[seq%len(topics)], Item: seq % 3,
		Typed: fmt.Sprintf("%dml@20C", 800+seq), Value: job.Value{Number: float64(800 + seq), Unit: job.DimML}}
}

func jobOf(n, entries int) job.Job {
	job := job.Job{ID: jobID(n), Started: at(n, 0)}
	for seq := 1; seq <= entries; seq++ {
		job.Entries = append(job.Entries, reading(n, seq))
	}
	return job
}

// headFor stands for the fold of the model: the same job gives the same head.
func headFor(job job.Job) guide.Head {
	h := guide.Head{ID: job.ID, Started: job.Started, Updated: job.Started, Entries: len(job.Entries)}
	if n := len(job.Entries); n > 0 {
		h.Updated = job.Entries[n-1].At
		h.Vehicle = []string{"Lodestar wagon", "Hill goat"}[n/4%2]
		h.UnitName = []string{"Rear axle", "Front axle"}[int(job.ID[7]-'0')%2]
		h.Phase = guide.Phase(n / 3 % 4)
	}
	return h
}

// open opens a store that must open, and has it verified when the test ends.
func open(t testing.TB, path string, o Options) *Store {
	t.Helper()
	s, err := Open(path, o)
	if err != nil {
		t.Fatalf("open: %v", err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Errorf("close: %v", err)
		}
		verify(t, path)
	})
	return s
}

// verify looks a store through; nothing may be wrong with it.
func verify(t testing.TB, path string) Report {
	t.Helper()
	r, err := Verify(path, nil)
	if err != nil {
		t.Errorf("verify: %v", err)
	}
	for _, f := range r.Findings {
		t.Errorf("verify: %v", f)
	}
	return r
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// closeNow closes a store in the middle of a test.
func closeNow(t testing.TB, s *Store) {
	t.Helper()
	must(t, s.Close())
}

func createJob(t testing.TB, s *Store, job job.Job) {
	t.Helper()
	must(t, s.Create(job, headFor(job)))
}

// importOne lets one job in.
func importOne(s *Store, job job.Job, head guide.Head) (Merged, error) {
	done, err := s.ImportAll([]Incoming{{Job: job, Head: head}})
	if err != nil {
		return Merged{}, err
	}
	return done[0], nil
}

// storeWith makes a closed store with jobs of so many entries.
func storeWith(t testing.TB, entries ...int) (path string, jobs []job.Job) {
	t.Helper()
	path = filepath.Join(memory(t), "jobs.db")
	s, err := Open(path, Options{noSync: true})
	must(t, err)
	for n, count := range entries {
		jobs = append(jobs, jobOf(n, count))
		createJob(t, s, jobs[n])
	}
	closeNow(t, s)
	return path, jobs
}

func merged(o Outcome, id string, entries int) Merged {
	return Merged{Outcome: o, ID: id, Entries: entries}
}

// madeOf is heads alone to be kept.
func madeOf(heads ...guide.Head) Made { return Made{Heads: heads} }

func sameJob(a, b job.Job) bool {
	return a.ID == b.ID && a.Started.Equal(b.Started) && slices.EqualFunc(a.Entries, b.Entries, journal.Same)
}

func read(t testing.TB, path string) []byte {
	t.Helper()
	b, err := os.ReadFile(path)
	must(t, err)
	return b
}

func write(t testing.TB, path string, b []byte) {
	t.Helper()
	must(t, os.WriteFile(path, b, fileMode))
}

// memoryDir is a folder in memory where the system has one, for the tests that
// make many files and in which nothing hangs on a real disk.
func memoryDir() string {
	const shared = "/dev/shm"
	if info, err := os.Stat(shared); err == nil && info.IsDir() {
		return shared
	}
	return ""
}

// memory is a folder of its own in memoryDir.
func memory(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp(memoryDir(), "store")
	must(t, err)
	t.Cleanup(func() { os.RemoveAll(dir) })
	return dir
}

func inf() float64 { return math.Inf(1) }
