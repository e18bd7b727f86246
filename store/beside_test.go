package store

// This file reads stores while they are open for writing: what is read must be
// what was accepted by then, whatever the writer is in the middle of.

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"garage/tundish/model/job"
	"garage/tundish/store/fault"
	"garage/tundish/store/pages"
)

// readBeside reads all jobs of a store that another has open.
func readBeside(t *testing.T, what, path string, jobs []job.Job) {
	t.Helper()
	s, err := Open(path, Options{ReadOnly: true})
	if err != nil {
		t.Errorf("%s: %v", what, err)
		return
	}
	defer closeNow(t, s)
	if !s.Opening().Beside || s.Path() != path {
		t.Errorf("%s: %s, %+v", what, s.Path(), s.Opening())
	}
	if !right(t, what, s, jobs) {
		t.Errorf("%s: what was read is damaged", what)
	}
}

func TestReadBesideAWriter(t *testing.T) {
	temp := t.TempDir()
	t.Setenv("TMPDIR", temp)
	path, jobs := storeWith(t, 3, 5)
	s := open(t, path, Options{})
	readBeside(t, "before anything", path, jobs)
	must(t, s.Append(jobs[1].ID, headFor(jobOf(1, 6)), reading(1, 6)))
	jobs[1] = jobOf(1, 6)
	createJob(t, s, jobOf(2, 90))
	jobs = append(jobs, jobOf(2, 90))
	readBeside(t, "after two", path, jobs)

	r, err := Verify(path, nil)
	if err != nil || !r.OK() || !r.Beside || r.Path != path || r.Jobs != 3 || r.Entries != 99 || r.Lines != 4 || len(r.Notes) > 0 {
		t.Errorf("verify: %+v, %v", r, err)
	}
	reader, err := Open(path, Options{ReadOnly: true})
	must(t, err)
	must(t, s.Append(jobs[0].ID, headFor(jobOf(0, 4)), reading(0, 4)))
	if !right(t, "opened before the last entry", reader, jobs) {
		t.Error("a copy that was open has changed")
	}
	if notes := reader.Opening().Notes(); len(notes) != 1 || !strings.Contains(notes[0], "another window has it open") {
		t.Errorf("told %q", notes)
	}
	if err := reader.Append(jobs[0].ID, headFor(jobOf(0, 4)), reading(0, 4)); !errors.Is(err, fault.ErrReadOnly) {
		t.Errorf("append: %v", err)
	}
	target := filepath.Join(memory(t), "copy.db")
	must(t, reader.Backup(target, false, nil, nil))
	for _, ours := range []string{path, path + journalSuffix} {
		if err := reader.Backup(ours, true, nil, nil); !errors.Is(err, fault.ErrExists) {
			t.Errorf("backup onto %s: %v", ours, err)
		}
	}
	closeNow(t, reader)
	if left, err := os.ReadDir(temp); err != nil || len(left) > 0 {
		t.Errorf("left over: %v, %v", left, err)
	}
	if copied := open(t, target, Options{}); !right(t, "the backup", copied, jobs) {
		t.Error("it is damaged")
	}
}

// TestReadBesideALiveWriter reads while another thread stores as fast as it
// can: never less than was acknowledged before, never what was not yet given.
func TestReadBesideALiveWriter(t *testing.T) {
	path, _ := storeWith(t, 60, 0)
	s := open(t, path, Options{noSync: true})
	var given, accepted atomic.Int64
	burst, written := make(chan int), make(chan error)
	go func() {
		for n := range burst {
			var err error
			for range n {
				seq := int(given.Add(1))
				err = errors.Join(err, s.Append(jobID(1), headFor(jobOf(1, seq)), reading(1, seq)))
				accepted.Add(1)
			}
			written <- err
		}
	}()
	defer close(burst)
	for round := range 60 {
		burst <- round % 13
		least := int(accepted.Load())
		reader, err := Open(path, Options{ReadOnly: true})
		must(t, err)
		job, err := reader.Load(jobID(1))
		most := int(given.Load())
		if n := len(job.Entries); err != nil || n < least || n > most || !sameJob(job, jobOf(1, n)) {
			t.Errorf("round %d: %d entries, %v; %d to %d were stored", round, n, err, least, most)
		}
		closeNow(t, reader)
		must(t, <-written)
	}
}

// meddler is a place for a copy that does something in the middle of the copying.
type meddler func() error

func (m meddler) Write(b []byte) (int, error) { return len(b), m() }

// TestCopyThatWasOvertaken: whatever is stored while a copy is taken, with its
// pages in the place of those that are free by then, that copy is not used.
func TestCopyThatWasOvertaken(t *testing.T) {
	path, jobs := storeWith(t, 3, 200)
	s := open(t, path, Options{noSync: true})
	held, err := openFile(path, true)
	must(t, err)
	defer held.Close()
	entry := func() error {
		last := &jobs[0]
		*last = jobOf(0, len(last.Entries)+1)
		return s.Append(last.ID, headFor(*last), last.Entries[len(last.Entries)-1])
	}
	for name, store := range map[string]func() error{
		"an entry": entry, "a draft": func() error { return s.SaveDraft(jobs[0].ID, Draft{Topic: job.Remark, Text: "5"}) },
		"a job": func() error { return s.Create(jobOf(len(jobs), 3), headFor(jobOf(len(jobs), 3))) },
	} {
		for at := range 4 {
			writes := 0
			to := meddler(func() error {
				if writes++; writes != at+1 {
					return nil
				}
				return store()
			})
			if err := copyUnchanged(to, path, held, nil); !errors.Is(err, errBusy) {
				t.Errorf("%s at piece %d of %d: %v", name, at, writes, err)
			}
			if writes <= at {
				t.Fatalf("there are only %d pieces", writes)
			}
			if name == "a job" {
				jobs = append(jobs, jobOf(len(jobs), 3))
			}
		}
	}
	readBeside(t, "when it is quiet again", path, jobs)
}

// TestChangesLeaveTheLastStateAlone pins what copying beside a writer rests on:
// no page that a state uses is written to by the change that follows it.
func TestChangesLeaveTheLastStateAlone(t *testing.T) {
	path, _ := storeWith(t, 3, 200, 40)
	s := open(t, path, Options{noSync: true})
	random := rand.New(rand.NewPCG(20260401, 7))
	counts := map[int]int{0: 3, 1: 200, 2: 40}
	for round := range 150 {
		before := read(t, path)
		m, _ := pages.Latest(bytes.NewReader(before))
		free, _, err := m.Free(bytes.NewReader(before))
		must(t, err)
		n := random.IntN(3)
		switch round % 4 {
		case 0:
			must(t, s.SaveDraft(jobID(n), Draft{Topic: job.Remark, Text: strings.Repeat("x", random.IntN(2000))}))
		case 1:
			_, err := s.ImportAll(incomingOf([]job.Job{jobOf(10+round, random.IntN(60)), jobOf(500-round, random.IntN(60))}))
			must(t, err)
		default:
			counts[n]++
			must(t, s.Append(jobID(n), headFor(jobOf(n, counts[n])), reading(n, counts[n])))
		}
		after := read(t, path)
		for id := uint64(firstDataPage); id < m.Pages; id++ {
			page := before[id*pageBytes : (id+1)*pageBytes]
			if !slices.Contains(free, id) && !bytes.Equal(page, after[id*pageBytes:(id+1)*pageBytes]) {
				t.Fatalf("round %d: page %d of the state before was written to", round, id)
			}
		}
		if now, _ := pages.Latest(bytes.NewReader(after)); now.TxID != m.TxID+1 {
			t.Fatalf("round %d: state %d follows state %d", round, now.TxID, m.TxID)
		}
	}
}

// TestFileSwappedWhileCopied: somebody puts a repaired store in the place of the
// one that is being copied. What was copied is no longer the store.
func TestFileSwappedWhileCopied(t *testing.T) {
	path, _ := storeWith(t, 3, 5)
	repaired, _ := storeWith(t, 3, 5, 7)
	held, err := openFile(path, true)
	must(t, err)
	defer held.Close()
	swap := meddler(func() error {
		if _, err := os.Stat(repaired); err != nil {
			return nil // done
		}
		return os.Rename(repaired, path)
	})
	if err := copyUnchanged(swap, path, held, nil); !errors.Is(err, errBusy) {
		t.Errorf("the copy of the file that is gone: %v", err)
	}
}

// TestReadBesideHalfAnEntry holds the writer at every step of an entry: its
// line in part, its pages in part, the page that names the state in part.
func TestReadBesideHalfAnEntry(t *testing.T) {
	path, jobs := storeWith(t, 9, 20, 3)
	now := func() bothFiles { return bothFiles{read(t, path), read(t, path+journalSuffix)} }
	before := now()
	s := open(t, path, Options{noSync: true})
	was, is := jobs[1], jobOf(1, 21)
	must(t, s.Append(is.ID, headFor(is), reading(1, 21)))
	after := now()
	closeNow(t, s)
	pages, meta := writesBetween(before.file, after.file)
	all := on(before.file, pages, pageBytes)
	for _, n := range []int{0, 1, 100, 200} {
		besideDisk(t, fmt.Sprintf("%d bytes of the line", n), bothFiles{before.file, tornLine(before.journal, after.journal, n)},
			was, n > 0)
	}
	for n := range pages {
		besideDisk(t, fmt.Sprintf("%d pages", n), bothFiles{on(before.file, pages[:n], pageBytes), after.journal}, was, true)
	}
	for _, n := range []int{0, 24, 60, 70, 79} {
		besideDisk(t, fmt.Sprintf("%d bytes of the state page", n), bothFiles{on(all, []diskWrite{meta}, n), after.journal}, was, true)
	}
	besideDisk(t, "all", after, is, false)
}

// besideDisk reads a disk as a writer has left it by now. In the middle of an
// entry it must be waited for, and nothing may be called damage.
func besideDisk(t *testing.T, what string, d bothFiles, want job.Job, busy bool) {
	t.Helper()
	path := filepath.Join(memory(t), "jobs.db")
	write(t, path, d.file)
	write(t, path+journalSuffix, d.journal)
	writer, err := openLocked(path, Options{}, nil)
	must(t, err)
	defer writer.Close()
	s, err := Open(path, Options{ReadOnly: true, lockWait: soon})
	if busy {
		if !errors.Is(err, fault.ErrLocked) || errors.Is(err, fault.ErrDamaged) {
			t.Errorf("%s: %v", what, err)
		}
		return
	}
	must(t, err)
	defer s.Close()
	if got, err := s.Load(want.ID); err != nil || !sameJob(got, want) {
		t.Errorf("%s: %d entries, %v; want %d", what, len(got.Entries), err, len(want.Entries))
	}
}

// TestCannotBeReadBeside: without its journal nobody can tell whether the file
// holds all that was accepted. It is refused, and nothing is called damage.
func TestCannotBeReadBeside(t *testing.T) {
	other, _ := storeWith(t, 3, 4)
	elsewhere := read(t, other+journalSuffix)
	for name, c := range map[string]struct {
		spoil func(journal []byte) []byte
		says  string
	}{
		"missing":          {func([]byte) []byte { return nil }, "it was missing"},
		"of another store": {func([]byte) []byte { return elsewhere }, "it was of another store"},
		"cut short":        {func(b []byte) []byte { return b[:len(bytes.TrimRight(b, "\n"))/2] }, "the last line that the store knows"},
		"the last line twice": {func(b []byte) []byte {
			whole := append(bytes.TrimRight(b, "\n"), '\n')
			return slices.Concat(whole, whole[bytes.LastIndexByte(whole[:len(whole)-1], '\n')+1:])
		}, "more than goes on from the store"},
	} {
		path, _ := storeWith(t, 3, 5)
		journal := c.spoil(read(t, path+journalSuffix))
		must(t, os.Remove(path+journalSuffix))
		if journal != nil {
			write(t, path+journalSuffix, journal)
		}
		writer, err := openLocked(path, Options{}, nil)
		must(t, err)
		_, err = Open(path, Options{ReadOnly: true, lockWait: soon})
		if !errors.Is(err, fault.ErrLocked) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", name, err)
			continue
		}
		sentence(t, path, err)
		must(t, writer.Close())
	}
}

// TestReadBesideAReplay: a writer is putting lines back that a crash left in
// the journal alone. They were accepted, so the file alone says too little.
func TestReadBesideAReplay(t *testing.T) {
	path, j := behind(t, 20)
	writer, err := openLocked(path, Options{}, nil)
	must(t, err)
	if _, err := Open(path, Options{ReadOnly: true, lockWait: soon}); !errors.Is(err, fault.ErrLocked) {
		t.Errorf("%v", err)
	}
	must(t, writer.Close())
	open(t, path, Options{})
	readBeside(t, "when they are back", path, []job.Job{jobOf(0, 3), j, jobOf(4, 2)})
}
