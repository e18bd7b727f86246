package store

// This file simulates power loss: what the disk holds when only some of the
// writes of an accepted entry have reached it, whole or in part.

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"testing"

	"garage/tundish/model/job"
	"garage/tundish/store/fault"
	"garage/tundish/testdata/runs"
)

// bothFiles is both files at one moment.
type bothFiles struct{ file, journal []byte }

// diskWrite is one write on its way to the disk.
type diskWrite struct {
	at   int
	data []byte
}

// writesBetween is what changed in a file, page by page: the pages first, then
// the page that names the state, as bbolt syncs them.
func writesBetween(before, after []byte) (pages []diskWrite, meta diskWrite) {
	before = append(slices.Clone(before), make([]byte, len(after)-len(before))...)
	for at := 0; at < len(after); at += pageBytes {
		if data := after[at : at+pageBytes]; !bytes.Equal(before[at:at+pageBytes], data) {
			if at < firstDataPage*pageBytes {
				meta = diskWrite{at, data}
				continue
			}
			pages = append(pages, diskWrite{at, data})
		}
	}
	return pages, meta
}

// on puts writes onto a file; the last one only up to so many bytes.
func on(file []byte, writes []diskWrite, lastBytes int) []byte {
	file = slices.Clone(file)
	for i, w := range writes {
		data := w.data
		if i == len(writes)-1 {
			data = data[:lastBytes]
		}
		if grown := w.at + pageBytes; grown > len(file) {
			file = append(file, make([]byte, grown-len(file))...)
		}
		copy(file[w.at:], data)
	}
	return file
}

// TestTornWrites takes the states of both files before and after an entry, and
// opens every mixture that a loss of power can leave.
func TestTornWrites(t *testing.T) {
	t.Parallel()
	path := filepath.Join(memory(t), "jobs.db")
	s := open(t, path, Options{noSync: true})
	for n, count := range []int{9, 20, 3, 14} {
		createJob(t, s, jobOf(n, count))
	}
	now := func() bothFiles { return bothFiles{read(t, path), read(t, path+journalSuffix)} }
	random := rand.New(rand.NewPCG(20260401, 3))
	job := jobOf(7, 1)
	createJob(t, s, job)
	for before := now(); len(job.Entries) < runs.Of(7, 14); {
		next := jobOf(7, len(job.Entries)+1)
		must(t, s.Append(job.ID, headFor(next), next.Entries[len(job.Entries)]))
		after := now()
		tear(t, filepath.Join(memory(t), "torn.db"), before, after, job, next, random)
		before, job = after, next
	}
}

// tear opens the mixtures of two states of the disk.
func tear(t *testing.T, path string, before, after bothFiles, was, is job.Job, random *rand.Rand) {
	t.Helper()
	pages, meta := writesBetween(before.file, after.file)
	files := map[string][]byte{"no page": before.file}
	for n := 1; n <= len(pages); n++ {
		files[fmt.Sprintf("%d pages", n)] = on(before.file, pages[:n], pageBytes)
	}
	for n := range 6 { // pages may reach the disk in any order, and in part
		mixed := slices.Clone(pages)
		random.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
		mixed = mixed[:1+random.IntN(len(mixed))]
		files[fmt.Sprintf("some pages, %d", n)] = on(before.file, mixed, 512*random.IntN(9))
	}
	all := on(before.file, pages, pageBytes)
	for _, n := range []int{24, 40, 60, 70, 79} {
		files[fmt.Sprintf("%d bytes of the state page", n)] = on(all, []diskWrite{meta}, n)
	}
	files["all"] = after.file
	for what, file := range files {
		for _, lineBytes := range []int{0, 1, 100, 1 << 20} {
			line := tornLine(before.journal, after.journal, lineBytes)
			// In bbolt, or whole in the journal: it is there. Else it is not.
			want := was
			if what == "all" || bytes.Equal(line, after.journal) {
				want = is
			}
			survives(t, fmt.Sprintf("entry %d, %s, %d bytes of the line", len(is.Entries), what, lineBytes), path,
				bothFiles{file, line}, want)
		}
	}
}

// tornLine is a journal into which only so many bytes of the change were written.
func tornLine(before, after []byte, lineBytes int) []byte {
	at := 0
	for at < len(before) && before[at] == after[at] {
		at++
	}
	torn := slices.Clone(before)
	for i := at; i < min(at+lineBytes, len(after)); i++ {
		if i == len(torn) {
			torn = append(torn, 0)
		}
		torn[i] = after[i]
	}
	return torn
}

// survives opens a disk after a crash: the job must be as wanted, and the store
// whole.
func survives(t *testing.T, what, path string, d bothFiles, want job.Job) {
	t.Helper()
	tidy(t, filepath.Dir(path), "*")
	write(t, path, d.file)
	write(t, path+journalSuffix, d.journal)
	s, err := Open(path, Options{noSync: true})
	if err != nil {
		t.Errorf("%s: %v", what, err)
		return
	}
	got, err := s.Load(want.ID)
	if err != nil || !sameJob(got, want) {
		t.Errorf("%s: %d entries, %v; want %d", what, len(got.Entries), err, len(want.Entries))
	}
	closeNow(t, s)
	verify(t, path)
	if t.Failed() {
		t.Fatalf("%s: that is enough", what)
	}
}

// holed is a journal into which only some sectors of the change were written;
// where it grew, the others are zeros.
func holed(before, after []byte, random *rand.Rand) []byte {
	const sector = 512
	torn := append(slices.Clone(before), make([]byte, len(after)-len(before))...)
	missing := random.IntN(5)
	for at := 0; at < len(after); at += sector {
		if random.IntN(5) >= missing {
			copy(torn[at:min(at+sector, len(after))], after[at:])
		}
	}
	return torn
}

// TestTornGroup cuts the power while many jobs are let in at once: each is
// there whole or not at all, and letting them in again completes them.
func TestTornGroup(t *testing.T) {
	path, _ := storeWith(t, 9, 20)
	now := func() bothFiles { return bothFiles{read(t, path), read(t, path+journalSuffix)} }
	before := now()
	s := open(t, path, Options{noSync: true})
	jobs := []job.Job{jobOf(1, 24), jobOf(2, 9), jobOf(3, 0), jobOf(4, 30), jobOf(5, 1), jobOf(6, 0), jobOf(7, 40)}
	_, err := s.ImportAll(incomingOf(jobs))
	must(t, err)
	closeNow(t, s)
	after := now()
	pages, _ := writesBetween(before.file, after.file)
	random := rand.New(rand.NewPCG(20260401, 9))
	someIn := 0
	for round := range runs.Of(40, 120) {
		torn := filepath.Join(memory(t), "torn.db")
		write(t, torn, on(before.file, pages[:round%len(pages)], pageBytes))
		journal := tornLine(before.journal, after.journal, runs.Of(3*397, 397)*round)
		if round%2 == 1 {
			journal = holed(before.journal, after.journal, random)
		}
		write(t, torn+journalSuffix, journal)
		verify(t, torn)
		s := open(t, torn, Options{noSync: true})
		if s.Opening().JournalMade != "" {
			t.Errorf("round %d: the journal was not gone on with: %+v", round, s.Opening())
		}
		in := 0
		for _, job := range jobs {
			got, err := s.Load(job.ID)
			switch {
			case err == nil && (sameJob(got, job) || sameJob(got, jobOf(1, 20))):
				in++
			case !errors.Is(err, fault.ErrNoJob):
				t.Errorf("round %d: job %s: %d entries, %v", round, job.ID, len(got.Entries), err)
			}
		}
		if in > 1 && in < len(jobs) {
			someIn++
		}
		if _, err := s.ImportAll(incomingOf(jobs)); err != nil || !right(t, "again", s, append([]job.Job{jobOf(0, 9)}, jobs...)) {
			t.Errorf("round %d: again: %v", round, err)
		}
		closeNow(t, s)
	}
	if someIn == 0 {
		t.Error("it was never cut off between two jobs")
	}
}
