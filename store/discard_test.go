package store

// This file discards jobs, takes them back and purges them, with the power gone at every
// step, a file lost or damaged, and files of jobs that come in again.

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"garage/tundish/model/job"
	"garage/tundish/store/disk"
	"garage/tundish/store/fault"
	"garage/tundish/store/journal"
)

// discardedStore makes a closed store of four jobs, of which the second is discarded and
// the third was, and is there again; and returns those that are there.
func discardedStore(t *testing.T) (path string, there []job.Job, away job.Job) {
	t.Helper()
	path, jobs := storeWith(t, 3, 5, 40, 7)
	s, err := Open(path, Options{})
	must(t, err)
	must(t, s.Discard(jobs[1].ID))
	must(t, s.Discard(jobs[2].ID))
	must(t, s.TakeBack(jobs[2].ID))
	closeNow(t, s)
	return path, slices.Delete(slices.Clone(jobs), 1, 2), jobs[1]
}

// keepsAway checks that the jobs that are there are, and the discarded one is discarded.
func keepsAway(t *testing.T, what, path string, there []job.Job, away job.Job) {
	t.Helper()
	s := open(t, path, Options{})
	defer closeNow(t, s)
	if !right(t, what, s, there) {
		t.Errorf("%s: it is damaged", what)
	}
	if heads, err := s.Discarded(); err != nil || len(heads) != 1 || heads[0].ID != away.ID || heads[0].Entries != len(away.Entries) {
		t.Errorf("%s: discarded: %v, %v", what, heads, err)
	}
	if _, err := s.Load(away.ID); !errors.Is(err, fault.ErrDiscarded) || !strings.Contains(err.Error(), "tundish discard --undo "+away.ID) {
		t.Errorf("%s: loaded: %v", what, err)
	}
}

func TestDiscardAndTakeBack(t *testing.T) {
	path, there, away := discardedStore(t)
	keepsAway(t, "closed and opened", path, there, away)
	s := open(t, path, Options{})
	for _, given := range []string{away.ID, away.ID[:len(away.ID)-1]} {
		if id, err := s.Find(given); id != "" || !errors.Is(err, fault.ErrDiscarded) {
			t.Errorf("found by %q: %q, %v", given, id, err)
		}
		if id, err := s.FindDiscarded(given); id != away.ID || err != nil {
			t.Errorf("not found among the discarded by %q: %q, %v", given, id, err)
		}
	}
	if id, err := s.FindDiscarded(there[0].ID); id != "" || !errors.Is(err, fault.ErrNoJob) {
		t.Errorf("one that is not discarded: %q, %v", id, err)
	}
	for what, err := range map[string]error{
		"discarded twice":     s.Discard(away.ID),
		"gone on with":        s.Append(away.ID, headFor(jobOf(1, 6)), reading(1, 6)),
		"its head made again": s.KeepMade("", madeOf(headFor(away))),
	} {
		if !errors.Is(err, fault.ErrDiscarded) {
			t.Errorf("%s: %v", what, err)
		}
	}
	if err := s.TakeBack(there[0].ID); !errors.Is(err, fault.ErrNoJob) || !strings.Contains(err.Error(), "is not discarded") {
		t.Errorf("taken back what is there: %v", err)
	}
	must(t, s.TakeBack(away.ID))
	if !right(t, "taken back", s, append(slices.Clone(there), away)) {
		t.Error("it is damaged")
	}
	must(t, s.Append(away.ID, headFor(jobOf(1, 6)), reading(1, 6)))
}

// The last job is none where it is discarded: another in its place would be somebody's guess.
func TestDiscardedLastJobIsNone(t *testing.T) {
	path, jobs := storeWith(t, 3, 5)
	s := open(t, path, Options{})
	must(t, s.Discard(jobs[1].ID))
	if id, err := s.Find(job.LastJob); id != "" || !errors.Is(err, fault.ErrDiscarded) {
		t.Errorf("%q, %v", id, err)
	}
	must(t, s.TakeBack(jobs[1].ID))
	if id, err := s.Find(job.LastJob); id != jobs[1].ID || err != nil {
		t.Errorf("taken back: %q, %v", id, err)
	}
}

// One of the files is as it was before the job was discarded, as a power failure leaves
// them: the other knows.
func TestDiscardIsInEitherFile(t *testing.T) {
	for name, old := range map[string]string{"store": "", "journal": journalSuffix} {
		path, jobs := storeWith(t, 3, 5)
		closeNow(t, open(t, path, Options{}))
		s, err := Open(path, Options{})
		must(t, err)
		before := read(t, path+old)
		must(t, s.Discard(jobs[1].ID))
		closeNow(t, s)
		write(t, path+old, before)
		keepsAway(t, name+" as before", path, jobs[:1], jobs[1])
	}
}

func TestRepairKeepsDiscardedJobsDiscarded(t *testing.T) {
	for name, spoil := range map[string]func(t *testing.T, path string){
		"nothing wrong": func(*testing.T, string) {},
		"file gone":     func(t *testing.T, path string) { must(t, os.Remove(path)) },
		"journal gone":  func(t *testing.T, path string) { must(t, os.Remove(path+journalSuffix)) },
		"file without its head": func(t *testing.T, path string) {
			b := read(t, path)
			clearBytes(b[:2*pageBytes])
			write(t, path, b)
		},
		"journal gone, and file without its newest head": func(t *testing.T, path string) {
			must(t, os.Remove(path+journalSuffix))
			b := read(t, path)
			clearBytes(b[pageBytes : 2*pageBytes])
			write(t, path, b)
		},
	} {
		path, there, away := discardedStore(t)
		spoil(t, path)
		into := filepath.Join(memory(t), "new.db")
		r, err := Repair(path, into, headFor, nil)
		if err != nil || !r.OK() || r.Jobs != len(there)+1 || r.Discarded != 1 {
			t.Errorf("%s: %+v, %v", name, r, err)
			continue
		}
		keepsAway(t, name, into, there, away)
	}
}

// Where the tree cannot be read, pages that are no longer used still hold what was
// stored of a job before: the newest counts.
func TestRepairFromLoosePagesKnowsWhatIsDiscarded(t *testing.T) {
	path, there, away := discardedStore(t)
	must(t, os.Remove(path+journalSuffix))
	state := snapOf(t, path)
	b := read(t, path)
	clearBytes(b[state.Tree.Meta.Root*pageBytes : (state.Tree.Meta.Root+1)*pageBytes])
	write(t, path, b)
	into := filepath.Join(memory(t), "new.db")
	if r, err := Repair(path, into, headFor, nil); err != nil || r.Jobs != len(there)+1 || r.Discarded != 1 {
		t.Errorf("%+v, %v", r, err)
	}
	keepsAway(t, "from loose pages", into, there, away)
}

func snapOf(t *testing.T, path string) snapshot {
	t.Helper()
	f, err := os.Open(path)
	must(t, err)
	defer f.Close()
	state, err := snap(path, f)
	must(t, err)
	return state
}

func TestImportTakesNoDiscardedJobIn(t *testing.T) {
	path, there, away := discardedStore(t)
	s := open(t, path, Options{})
	other := jobOf(1, 5)
	other.Entries[4].Typed = "something else"
	for _, c := range []struct {
		name string
		job  job.Job
		want Merged
	}{
		{"the same", away, merged(Discarded, away.ID, 0)},
		{"its beginning", jobOf(1, 2), merged(Discarded, away.ID, 0)},
		{"more of it", jobOf(1, 9), merged(Discarded, away.ID, 0)},
		{"another of its id", other, merged(KeptBoth, away.ID+"~2", 5)},
		{"that again", other, merged(Unchanged, away.ID+"~2", 0)},
	} {
		if got, err := importOne(s, c.job, headFor(c.job)); err != nil || got != c.want {
			t.Errorf("%s: %+v, %v; want %+v", c.name, got, err, c.want)
		}
	}
	other.ID += "~2"
	closeNow(t, s)
	keepsAway(t, "after imports", path, append(there, other), away)
}

// purgedStore is discardedStore with a draft of the discarded job.
func purgedStore(t *testing.T) (path string, there []job.Job, away job.Job) {
	t.Helper()
	path, there, away = discardedStore(t)
	s, err := Open(path, Options{})
	must(t, err)
	must(t, s.SaveDraft(away.ID, Draft{Topic: job.Remark, Text: "half typed", At: at(1, 9)}))
	closeNow(t, s)
	return path, there, away
}

func TestPurgeLeavesNothingOfIt(t *testing.T) {
	path, there, away := purgedStore(t)
	must(t, Purge(path, away.ID))
	for _, name := range []string{path, path + journalSuffix} {
		if b := read(t, name); bytes.Contains(b, []byte(away.ID)) || bytes.Contains(b, []byte("half typed")) {
			t.Errorf("%s still holds something of it", filepath.Base(name))
		}
	}
	files, err := os.ReadDir(filepath.Dir(path))
	if err != nil || len(files) != 2 {
		t.Errorf("beside the two files: %v, %v", files, err)
	}
	s := open(t, path, Options{})
	if s.Opening() != (Opening{}) || !right(t, "purged", s, there) {
		t.Errorf("%+v", s.Opening())
	}
	if heads, err := s.Discarded(); err != nil || len(heads) != 0 {
		t.Errorf("still discarded: %v, %v", heads, err)
	}
	if _, err := s.FindDiscarded(away.ID); !errors.Is(err, fault.ErrNoJob) {
		t.Errorf("found: %v", err)
	}
	closeNow(t, s)
	into := filepath.Join(memory(t), "new.db")
	if r, err := Repair(path, into, headFor, nil); err != nil || !r.OK() || r.Jobs != len(there) {
		t.Errorf("repaired: %+v, %v", r, err)
	}
	s = open(t, path, Options{})
	if got, err := importOne(s, away, headFor(away)); err != nil || got != merged(Added, away.ID, len(away.Entries)) {
		t.Errorf("imported again: %+v, %v", got, err)
	}
}

func TestPurgeRefuses(t *testing.T) {
	path, there, away := purgedStore(t)
	before := [2][]byte{read(t, path), read(t, path+journalSuffix)}
	if err := Purge(path, there[0].ID); !errors.Is(err, fault.ErrNoJob) || !strings.Contains(err.Error(), "is not discarded") {
		t.Errorf("one that is not discarded: %v", err)
	}
	if err := Purge(path, away.ID, "nobody"); !errors.Is(err, fault.ErrNoJob) {
		t.Errorf("one that is not there: %v", err)
	}
	s, err := Open(path, Options{ReadOnly: true})
	must(t, err)
	if err := Purge(path, away.ID); !errors.Is(err, fault.ErrLocked) {
		t.Errorf("while another window reads: %v", err)
	}
	closeNow(t, s)
	if !bytes.Equal(read(t, path), before[0]) || !bytes.Equal(read(t, path+journalSuffix), before[1]) {
		t.Error("it was changed")
	}
}

// The power goes at every operation on a file in turn, and then each of them fails: what
// is found is the store as before or as after, and never a part of either.
func TestPurgeCutOffAnywhere(t *testing.T) {
	path, there, away := purgedStore(t)
	var kept []map[string][]byte // the folder before each operation
	disk.Faults = func(disk.Operation, string) error {
		kept = append(kept, folderOf(t, path))
		return nil
	}
	t.Cleanup(func() { disk.Faults = nil })
	before := folderOf(t, path)
	must(t, Purge(path, away.ID))
	disk.Faults = nil
	between := folderOf(t, path)
	between[filepath.Base(path)] = before[filepath.Base(path)] // the journal has its name, the store not yet
	if len(kept) < 20 {
		t.Fatalf("only %d operations were seen", len(kept))
	}
	for i, files := range append(kept, between) {
		at := putFolder(t, path, files)
		s, err := Open(at, Options{})
		must(t, err)
		heads, err := s.Discarded()
		closeNow(t, s)
		if err != nil || len(heads) != 1 {
			t.Fatalf("cut off at operation %d: %v, %v", i, heads, err)
		}
		keepsAway(t, fmt.Sprintf("cut off at operation %d", i), at, there, away)
		must(t, Purge(at, away.ID))
		s = open(t, at, Options{})
		if heads, err := s.Discarded(); err != nil || len(heads) != 0 || !right(t, "purged then", s, there) {
			t.Errorf("%d, purged then: %v, %v", i, heads, err)
		}
		closeNow(t, s)
	}
	for k := range kept {
		at, n := putFolder(t, path, before), 0
		disk.Faults = func(disk.Operation, string) error {
			if n++; n == k+1 {
				return syscall.EIO
			}
			return nil
		}
		err := Purge(at, away.ID)
		disk.Faults = nil
		s := open(t, at, Options{})
		heads, listErr := s.Discarded()
		if listErr != nil || len(heads) > 1 || (err == nil) != (len(heads) == 0) || !right(t, "an operation failed", s, there) {
			t.Errorf("operation %d failed: %v, %v, then %v", k, err, heads, listErr)
		}
		closeNow(t, s)
	}
}

func folderOf(t *testing.T, path string) map[string][]byte {
	t.Helper()
	found, err := os.ReadDir(filepath.Dir(path))
	must(t, err)
	files := map[string][]byte{}
	for _, f := range found {
		files[f.Name()] = read(t, filepath.Join(filepath.Dir(path), f.Name()))
	}
	return files
}

// putFolder puts files into a folder of their own, and returns the path of the store.
func putFolder(t *testing.T, path string, files map[string][]byte) string {
	t.Helper()
	folder := memory(t)
	for name, b := range files {
		write(t, filepath.Join(folder, name), b)
	}
	return filepath.Join(folder, filepath.Base(path))
}

// A store of the version before gets a journal that says its form before the first line
// of the new kind; and a program of that version refuses both files.
func TestOlderProgramRefusesAStoreWithDiscardedJobs(t *testing.T) {
	path := copyFixture(t, "schema-4.db")
	jobs := fixtureJobs()
	form := func() int {
		j, first, err := journal.Open(path+journalSuffix, false)
		must(t, err)
		must(t, j.Close())
		return first.Journal
	}
	s := open(t, path, Options{})
	if got := form(); got != 1 {
		t.Fatalf("the journal of schema 4 says form %d", got)
	}
	must(t, s.Append(jobs[0].ID, headFor(jobOf(0, 13)), reading(0, 13)))
	jobs[0].Entries = append(jobs[0].Entries, reading(0, 13))
	must(t, s.Discard(jobs[2].ID))
	if got := form(); got != 2 {
		t.Errorf("with a discarded job the journal says form %d", got)
	}
	closeNow(t, s)
	keepsAway(t, "migrated", path, jobs[:2], jobs[2])
	if _, err := openAs(path, Options{}, schema{version: 4, reads: 1}); !errors.Is(err, fault.ErrNewer) {
		t.Errorf("a program of schema 4: %v", err)
	}
	lines := bytes.Split(read(t, path+journalSuffix), []byte("\n"))
	discards := func(line []byte) bool { return bytes.Contains(line, []byte(`"discard":1`)) }
	if at := slices.IndexFunc(lines, discards); at < 1 || bytes.Contains(lines[at], []byte(`"entries":[`)) {
		t.Errorf("the line that discards is %d", at)
	}
}
