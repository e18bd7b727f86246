package store

// This file tests what becomes of jobs that are let in.

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"pgregory.net/rapid"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/store/fault"
	"garage/tundish/store/pages"
)

// fork is a job that goes its own way after so many entries.
func fork(j job.Job, after int, more ...string) job.Job {
	j.Entries = slices.Clone(j.Entries[:after])
	for _, text := range more {
		seq := len(j.Entries) + 1
		j.Entries = append(j.Entries, job.Entry{Seq: seq, At: at(0, seq), Topic: job.Remark, Typed: text, Value: job.Value{Text: text}})
	}
	return j
}

func renamed(job job.Job, id string) job.Job { job.ID = id; return job }

func TestImport(t *testing.T) {
	ours := jobOf(1, 4)
	id := ours.ID
	late := ours
	late.Started = at(1, 1)
	other := fork(ours, 2, "a", "b")
	for _, c := range []struct {
		name string
		in   []job.Job
		want []Merged
	}{
		{"new", []job.Job{jobOf(2, 3)}, []Merged{merged(Added, jobID(2), 3)}},
		{"new, without entries", []job.Job{jobOf(2, 0), jobOf(2, 0)}, []Merged{merged(Added, jobID(2), 0), merged(Unchanged, jobID(2), 0)}},
		{"the same", []job.Job{ours}, []Merged{merged(Unchanged, id, 0)}},
		{"the beginning of ours", []job.Job{jobOf(1, 2), jobOf(1, 0)}, []Merged{merged(Unchanged, id, 0), merged(Unchanged, id, 0)}},
		{"ours goes on", []job.Job{jobOf(1, 6), jobOf(1, 6)}, []Merged{merged(Extended, id, 2), merged(Unchanged, id, 0)}},
		{"diverged, twice", []job.Job{other, other}, []Merged{merged(KeptBoth, id+"~2", 4), merged(Unchanged, id+"~2", 0)}},
		{"diverged, then gone on with", []job.Job{other, fork(other, 4, "c")}, []Merged{merged(KeptBoth, id+"~2", 4), merged(Extended, id+
			"~2", 1)}},
		{"diverged three ways", []job.Job{other, fork(ours, 2, "x"), other, fork(ours, 2, "x")},
			[]Merged{merged(KeptBoth, id+"~2", 4), merged(KeptBoth, id+"~3", 3), merged(Unchanged, id+"~2", 0), merged(Unchanged, id+"~3",
				0)}},
		{"another start", []job.Job{late, late}, []Merged{merged(KeptBoth, id+"~2", 4), merged(Unchanged, id+"~2", 0)}},
		{"ours back under the number it has elsewhere", []job.Job{renamed(ours, id+"~2")}, []Merged{merged(Unchanged, id, 0)}},
		{"kin under its own number", []job.Job{renamed(other, id+"~2"), other}, []Merged{merged(Added, id+"~2", 4), merged(Unchanged,
			id+"~2", 0)}},
		{"a number that is taken", []job.Job{renamed(other, id+"~2"), renamed(fork(ours, 2, "x"), id+"~2")},
			[]Merged{merged(Added, id+"~2", 4), merged(KeptBoth, id+"~3", 3)}},
	} {
		s := open(t, filepath.Join(memory(t), "jobs.db"), Options{})
		createJob(t, s, ours)
		for i, job := range c.in {
			got, err := importOne(s, job, headFor(job))
			got.WasOf = ""
			if err != nil || got != c.want[i] {
				t.Errorf("%s, import %d: %+v, %v; want %+v", c.name, i+1, got, err, c.want[i])
			}
			kept, err := s.Load(c.want[i].ID)
			if err != nil || c.want[i].Outcome != Unchanged && !sameJob(kept, renamed(job, kept.ID)) {
				t.Errorf("%s, import %d: kept %+v, %v", c.name, i+1, kept, err)
			}
		}
		if kept, err := s.Load(id); err != nil || !slices.EqualFunc(kept.Entries[:4], ours.Entries, func(a,
			b job.Entry) bool {
			return a.Typed == b.Typed
		}) {
			t.Errorf("%s: ours is now %+v, %v", c.name, kept, err)
		}
	}
}

func TestImportRefusesWhatIsNotWhole(t *testing.T) {
	s := open(t, filepath.Join(memory(t), "jobs.db"), Options{})
	gap := jobOf(1, 3)
	gap.Entries = gap.Entries[1:]
	nameless := jobOf(1, 1)
	nameless.ID = "a/b"
	for name, job := range map[string]job.Job{"a gap": gap, "no id": nameless, "no start": {ID: "x"}} {
		if got, err := importOne(s, job, headFor(jobOf(1, 1))); !errors.Is(err, fault.ErrInvalid) || got != (Merged{}) {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
	long := renamed(jobOf(1, 2), strings.Repeat("a", 64))
	createJob(t, s, long)
	for want := range 2 {
		other := fork(long, 1, "b")
		got, err := importOne(s, other, headFor(other))
		if err != nil || got.ID != strings.Repeat("a", maxBaseBytes)+"~2" || (got.Outcome == Unchanged) != (want == 1) {
			t.Errorf("a long id: %+v, %v", got, err)
		}
	}
}

// TestImportOrderDoesNotMatter: however often and in which order the versions
// of a job come in, every entry of each is kept, and a second round adds nothing.
func TestImportOrderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		dir := memory(t)
		s, err := Open(filepath.Join(dir, "jobs.db"), Options{noSync: true})
		if err != nil {
			rt.Fatal(err)
		}
		defer s.Close()
		versions := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) job.Job {
			return fork(job.Job{ID: jobID(1), Started: at(1, 0)}, 0, rapid.SliceOfN(rapid.SampledFrom([]string{"a", "b"}), 0,
				4).Draw(t, "entries")...)
		}), 1, 8).Draw(rt, "versions")
		for _, job := range versions {
			if _, err := importOne(s, job, headFor(job)); err != nil {
				rt.Fatal(err)
			}
		}
		for _, j := range versions {
			done, err := importOne(s, j, headFor(j))
			if err != nil || done.Outcome != Unchanged {
				rt.Fatalf("again: %+v, %v", done, err)
			}
			kept, err := s.Load(done.ID)
			if err != nil || !sameJob(renamed(j, kept.ID), job.Job{ID: kept.ID, Started: kept.Started,
				Entries: kept.Entries[:len(j.Entries)]}) {
				rt.Fatalf("kept %+v, %v", kept, err)
			}
		}
	})
}

// incomingOf are jobs with their lines of the list.
func incomingOf(jobs []job.Job) (all []Incoming) {
	for _, job := range jobs {
		all = append(all, Incoming{Job: job, Head: headFor(job)})
	}
	return all
}

// TestImportAllIsImportOfEach: whatever comes, kin of each other and numbered
// ids too, many at once become what they become one by one.
func TestImportAllIsImportOfEach(t *testing.T) {
	id := jobID(1)
	long := strings.Repeat("a", maxBaseBytes-2)
	ids := []string{id, id + "~2", id + "~2~3", jobID(2), jobID(3), long + "~2", long + "~2bcd", long + "~2bcd~2"}
	rapid.Check(t, func(rt *rapid.T) {
		dir := memory(t)
		defer os.RemoveAll(dir)
		var stores [2]*Store
		for i := range stores {
			var err error
			if stores[i], err = Open(filepath.Join(dir, fmt.Sprint(i)), Options{noSync: true}); err != nil {
				rt.Fatal(err)
			}
			defer stores[i].Close()
		}
		jobs := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) job.Job {
			job := job.Job{ID: rapid.SampledFrom(ids).Draw(t, "id"), Started: at(rapid.IntRange(1, 2).Draw(t, "start"), 0)}
			return fork(job, 0, rapid.SliceOfN(rapid.SampledFrom([]string{"a", "b"}), 0, 3).Draw(t, "entries")...)
		}), 0, 12).Draw(rt, "jobs")
		done, err := stores[0].ImportAll(incomingOf(jobs))
		if err != nil || len(done) != len(jobs) {
			rt.Fatalf("%d of %d, %v", len(done), len(jobs), err)
		}
		for i, in := range incomingOf(jobs) {
			if one, err := importOne(stores[1], in.Job, in.Head); err != nil || done[i] != one {
				rt.Fatalf("job %d, %s: %+v; alone %+v, %v", i, in.Job.ID, done[i], one, err)
			}
			a, errA := stores[0].Load(done[i].ID)
			b, errB := stores[1].Load(done[i].ID)
			if errA != nil || errB != nil || len(a.Entries) < len(b.Entries) {
				rt.Fatalf("job %s: %+v, %v; alone %+v, %v", done[i].ID, a, errA, b, errB)
			}
		}
		for _, s := range stores {
			if r, err := Verify(s.Path(), nil); err != nil || !r.OK() || r.Lines != stores[1].journal.Mark.N {
				rt.Fatalf("%+v, %v", r, err)
			}
		}
	})
}

// TestImportAllUpToTheBadOne: those before it are in, it and those behind are not.
func TestImportAllUpToTheBadOne(t *testing.T) {
	s := open(t, filepath.Join(memory(t), "jobs.db"), Options{})
	jobs := []job.Job{jobOf(1, 3), jobOf(2, 3), jobOf(3, 3), jobOf(4, 3)}
	jobs[2].Entries = jobs[2].Entries[1:]
	done, err := s.ImportAll(incomingOf(jobs))
	if len(done) != 2 || !errors.Is(err, fault.ErrInvalid) {
		t.Fatalf("%+v, %v", done, err)
	}
	if heads, _, err := s.List(ListOptions{}); err != nil || len(heads) != 2 || heads[1].ID != jobs[0].ID {
		t.Errorf("%+v, %v", heads, err)
	}
	head := incomingOf(jobs[3:])
	head[0].Head.ID = "another"
	head[0].Head.Vehicle = string(make([]byte, 9000))
	if done, err := s.ImportAll(append(incomingOf(jobs[:1]), head...)); len(done) != 1 || !errors.Is(err, fault.ErrInvalid) {
		t.Errorf("a head that cannot be stored: %+v, %v", done, err)
	}
}

// TestImportAllIsOneTransaction, after a journal that goes on by a line a job.
func TestImportAllIsOneTransaction(t *testing.T) {
	s := open(t, filepath.Join(memory(t), "jobs.db"), Options{})
	var jobs []job.Job
	for n := range 50 {
		jobs = append(jobs, jobOf(n, 4))
	}
	synced := 0
	before, _ := pages.Latest(s.file)
	s.journal.Flush = func(*os.File) error {
		if m, _ := pages.Latest(s.file); m != before {
			t.Error("bbolt has lines that the journal may lose")
		}
		synced++
		return nil
	}
	_, err := s.ImportAll(incomingOf(jobs))
	must(t, err)
	after, _ := pages.Latest(s.file)
	if after.TxID != before.TxID+1 || synced != 1 || s.journal.Mark.N != len(jobs) {
		t.Errorf("%d transactions, %d syncs of the journal, %d lines", after.TxID-before.TxID, synced, s.journal.Mark.N)
	}
}

// TestImportAllGetsThroughAFullDisk: the disk has no room for the lines of all,
// and takes them one by one. Nothing of the first attempt is left.
func TestImportAllGetsThroughAFullDisk(t *testing.T) {
	s := open(t, filepath.Join(memory(t), "jobs.db"), Options{})
	jobs := []job.Job{jobOf(1, 3), jobOf(2, 3), jobOf(3, 3), jobOf(4, 3)}
	attempts := 0
	s.journal.Flush = func(*os.File) error {
		if attempts++; attempts == 1 {
			return syscall.ENOSPC
		}
		return nil
	}
	done, err := s.ImportAll(incomingOf(jobs))
	if err != nil || len(done) != len(jobs) || s.journal.Mark.N != len(jobs) {
		t.Errorf("%+v, %v; %d lines", done, err, s.journal.Mark.N)
	}
	if !right(t, "then", s, jobs) {
		t.Error("the store is damaged")
	}
}

// What comes from elsewhere is never the last job, whatever its id; what the
// guide goes on with is, wherever it came from.
func TestFalseWord12ImportIsNeverLast(t *testing.T) {
	path := filepath.Join(memory(t), "jobs.db")
	s := open(t, path, Options{})
	last := func(want string) {
		t.Helper()
		id, err := s.Find(job.LastJob)
		if id != want || (want == "") != errors.Is(err, fault.ErrNoJob) {
			t.Errorf("last is %q, %v; want %q", id, err, want)
		}
	}
	stranger := jobOf(5, 0) // reading refuses the id, an older store may hold it
	stranger.ID = job.LastJob
	for _, job := range []job.Job{stranger, jobOf(6, 3)} {
		if _, err := importOne(s, job, guide.Head{ID: job.ID, Started: job.Started}); err != nil {
			t.Fatal(err)
		}
	}
	last("")
	createJob(t, s, jobOf(0, 2))
	if _, err := importOne(s, jobOf(6, 5), headFor(jobOf(6, 5))); err != nil {
		t.Fatal(err)
	}
	last(jobID(0))
	closeNow(t, s)
	must(t, os.Remove(path+journalSuffix)) // it is written anew
	s = open(t, path, Options{})
	last(jobID(0))
	must(t, s.Append(jobID(6), headFor(jobOf(6, 6)), reading(6, 6)))
	last(jobID(6))
	closeNow(t, s)
	if _, err := Repair(path, path+".new", nil, nil); err != nil {
		t.Fatal(err)
	}
	s = open(t, path+".new", Options{})
	last(jobID(6))
}
