package store

// This file has operations on files fail as a failing disk, a missing right or a full
// table of files would have them, and looks at what is said and done.

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"

	"garage/tundish/model/job"
	"garage/tundish/store/disk"
	"garage/tundish/store/fault"
	"garage/tundish/testdata/runs"
)

// inject has operations on one file fail until the test ends or it is called again.
func inject(t *testing.T, op disk.Operation, path string, cause error) {
	t.Helper()
	disk.Faults = func(done disk.Operation, of string) error {
		if done == op && of == path {
			return cause
		}
		return nil
	}
	t.Cleanup(func() { disk.Faults = nil })
}

// TestJournalThatTheDiskDoesNotGive: the store has every entry, so the owner gets in, and
// a new journal is written beside the one that fails.
func TestJournalThatTheDiskDoesNotGive(t *testing.T) {
	for _, op := range []disk.Operation{disk.Opening, disk.Reading} {
		path, jobs := storeWith(t, 3, 5)
		aside := path + journalSuffix + ".aside-1"
		inject(t, op, path+journalSuffix, syscall.EIO)
		reader, err := Open(path, Options{ReadOnly: true})
		if err != nil || !strings.Contains(fmt.Sprint(reader.Opening().Notes()), "it could not be read (input/output error)") {
			t.Fatalf("%d, to read: %v", op, err)
		}
		closeNow(t, reader)
		disk.Faults = func(done disk.Operation, of string) error { // the bad sectors go with the file that is set aside
			if _, err := os.Stat(aside); done == op && of == path+journalSuffix && errors.Is(err, fs.ErrNotExist) {
				return syscall.EIO
			}
			return nil
		}
		s := open(t, path, Options{})
		if notes := s.Opening().Notes(); len(notes) != 1 || s.Opening().JournalAside != aside ||
			!strings.Contains(notes[0], "the journal was written anew: it could not be read (input/output error); the old one is "+aside) {
			t.Errorf("%d: %q", op, notes)
		}
		if !right(t, "beside a journal that fails", s, jobs) {
			t.Errorf("%d: not all is there", op)
		}
		disk.Faults = nil
		must(t, s.Append(jobs[0].ID, headFor(jobOf(0, 4)), reading(0, 4)))
		closeNow(t, s)
		if again := open(t, path, Options{}); again.Opening() != (Opening{}) {
			t.Errorf("%d, again: %+v", op, again.Opening())
		}
	}
}

// TestLargeJournalIsMendedMeanwhile: a journal that is not looked through when it is
// opened is while the store is in use.
func TestLargeJournalIsMendedMeanwhile(t *testing.T) {
	path := filepath.Join(memory(t), "jobs.db")
	s, err := Open(path, Options{noSync: true})
	must(t, err)
	var jobs []job.Job
	for n := range 20 {
		jobs = append(jobs, jobOf(n, 900))
	}
	if _, err = s.ImportAll(incomingOf(jobs)); err != nil || s.journal.Mark.End <= smallPages*pageBytes {
		t.Fatal(s.journal.Mark, err)
	}
	closeNow(t, s)
	for _, spoilt := range []bool{false, true} {
		if whole := read(t, path+journalSuffix); spoilt {
			whole[len(whole)/3] ^= 1
			write(t, path+journalSuffix, whole)
		}
		s = open(t, path, Options{})
		if s.Opening() != (Opening{}) {
			t.Fatalf("%+v", s.Opening())
		}
		ended, end := context.WithCancel(context.Background())
		end()
		if s.MendJournal(ended); s.Opening() != (Opening{}) {
			t.Errorf("went on after the end: %+v", s.Opening())
		}
		s.MendJournal(context.Background())
		if told := strings.Contains(fmt.Sprint(s.Opening().Notes()), "it was damaged, line"); told != spoilt {
			t.Errorf("damaged: %v; told: %q", spoilt, s.Opening().Notes())
		}
		jobs[0] = jobOf(0, len(jobs[0].Entries)+1)
		must(t, s.Append(jobs[0].ID, headFor(jobs[0]), jobs[0].Entries[len(jobs[0].Entries)-1]))
		closeNow(t, s)
		verify(t, path)
	}
}

// TestWhatTheDiskFailedToStore: nobody can tell whether it is stored, so the next opening
// reads it from the disk and not from memory, and looks through all of it, also where
// the program was killed meanwhile.
func TestWhatTheDiskFailedToStore(t *testing.T) {
	for _, killed := range []bool{false, true} {
		path, jobs := storeWith(t, 3, 5)
		s, err := Open(path, Options{})
		must(t, err)
		inject(t, disk.Syncing, path+journalSuffix, syscall.EIO)
		err = s.Append(jobs[1].ID, headFor(jobOf(1, 6)), reading(1, 6))
		told, ok := errors.AsType[*fault.Error](err)
		if !ok || !told.Uncertain() || !strings.Contains(err.Error(), "cannot be told") ||
			!strings.Contains(err.Error(), "backup to another disk") {
			t.Fatalf("%v", err)
		}
		if full := fault.Full(path, syscall.ENOSPC).(*fault.Error); full.Uncertain() {
			t.Error("a full disk is certain")
		}
		var forgot []string
		disk.Faults = func(op disk.Operation, path string) error {
			if op == disk.Forgetting {
				forgot = append(forgot, path)
			}
			return nil
		}
		if killed { // nothing is closed in order
			must(t, errors.Join(s.db.Close(), s.journal.Close()))
			s.file, s.db, s.journal = nil, nil, nil
		} else {
			closeNow(t, s)
		}
		if !killed && len(forgot) != 2 {
			t.Errorf("forgotten when it was closed: %v", forgot)
		}
		forgot = nil
		again := open(t, path, Options{noSurvey: true})
		if !slices.Equal(forgot, []string{path, path + journalSuffix}) {
			t.Errorf("forgotten when it was opened: %v", forgot)
		}
		if got, err := again.Load(jobs[1].ID); err != nil || !sameJob(got, jobOf(1, 6)) {
			t.Errorf("%d entries, %v", len(got.Entries), err)
		}
		if again.suspected() {
			t.Error("it is read so for ever")
		}
	}
}

// TestRepairTakesWhatTheDiskGives: of two copies one is enough.
func TestRepairTakesWhatTheDiskGives(t *testing.T) {
	for _, suffix := range []string{"", journalSuffix} {
		for _, op := range []disk.Operation{disk.Opening, disk.Reading} {
			path, jobs := storeWith(t, 3, 5)
			inject(t, op, path+suffix, syscall.EIO)
			into := filepath.Join(memory(t), "new.db")
			r, err := Repair(path, into, headFor, nil)
			if err != nil || !r.OK() || r.Jobs != len(jobs) ||
				!strings.Contains(fmt.Sprint(r.Notes), "cannot be read (input/output error)") {
				t.Errorf("%q, %d: %+v, %v", suffix, op, r, err)
				continue
			}
			disk.Faults = nil
			holds(t, suffix, into, jobs)
		}
	}
}

// TestErrorsAreCalledWhatTheyAre: a disk that fails is no damage, and a right or a folder
// that is missing is no disk that fails.
func TestErrorsAreCalledWhatTheyAre(t *testing.T) {
	path, _ := storeWith(t, 3, 5)
	large := filepath.Join(memory(t), "large.db")
	write(t, large, read(t, path))
	openToWrite := func(o Options) func() error {
		return func() error {
			s, err := Open(path, o)
			if err == nil {
				closeNow(t, s)
			}
			return err
		}
	}
	looked := func() error {
		r, err := Verify(path, nil)
		return errors.Join(err, r.Err())
	}
	const disks = "cannot be read (input/output error); the disk may be failing: " +
		"copy the file and its journal to another disk, then run: tundish repair"
	for _, c := range []struct {
		name  string
		op    disk.Operation
		cause error
		do    func() error
		want  string
	}{
		{"reading", disk.Reading, syscall.EIO, openToWrite(Options{}), disks},
		{"reading a large one", disk.Reading, syscall.EIO, openToWrite(Options{noSurvey: true}), disks},
		{"reading, to read", disk.Reading, syscall.EIO, openToWrite(Options{ReadOnly: true}), disks},
		{"looking through", disk.Reading, syscall.EIO, looked, disks},
		{"opening", disk.Opening, syscall.EIO, openToWrite(Options{}), disks},
		{"too many files", disk.Opening, syscall.EMFILE, openToWrite(Options{}),
			"cannot be read (too many open files); close other programs and try again"},
		{"no right to write", disk.Opening, syscall.EACCES, openToWrite(Options{}),
			"cannot be written (permission denied); make file and folder writable for you, or name another file with --store"},
		{"a disk that is read only", disk.Opening, syscall.EROFS, openToWrite(Options{}),
			"cannot be written (read-only file system); make file and folder writable for you, or name another file with --store"},
		{"no right to read", disk.Opening, syscall.EACCES, openToWrite(Options{ReadOnly: true}),
			"cannot be read (permission denied); make file and folder readable for you, or name another file with --store"},
	} {
		inject(t, c.op, path, c.cause)
		err := c.do()
		if err == nil || err.Error() != path+": "+c.want || errors.Is(err, fault.ErrDamaged) {
			t.Errorf("%s: %v\nwant %s: %s", c.name, err, path, c.want)
		}
	}
}

// TestDamageIsSaidOnce: in words of the file, and the same of a file that is empty.
func TestDamageIsSaidOnce(t *testing.T) {
	path, _ := storeWith(t, 3, 5)
	must(t, os.Truncate(path, 9000))
	r, err := Verify(path, nil)
	must(t, err)
	for _, said := range []string{r.Err().Error(), r.Findings[0].String()} {
		if strings.Count(said, "damaged") > 1 || strings.Count(said, path) > 1 {
			t.Errorf("%s", said)
		}
	}
	empty := filepath.Join(memory(t), "empty.db")
	write(t, empty, nil)
	_, opened := Open(empty, Options{})
	r, err = Verify(empty, nil)
	must(t, err)
	_, repaired := Repair(empty, empty+".mended", nil, nil)
	for what, err := range map[string]error{"open": opened, "verify": r.Err(), "repair": repaired} {
		if err == nil || err.Error() != empty+": damaged: the file is empty; if it never held jobs, remove it and start again" {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// TestFolderOfTemporaryFiles: where it is missing or full, another is taken, and if there
// is none, that is what is said.
func TestFolderOfTemporaryFiles(t *testing.T) {
	path, jobs := storeWith(t, 3, 5)
	open(t, path, Options{})
	t.Setenv("TMPDIR", filepath.Join(filepath.Dir(path), "nowhere"))
	readBeside(t, "without a folder for temporary files", path, jobs)
	inject(t, disk.Creating, filepath.Dir(path), syscall.EDQUOT)
	_, err := Open(path, Options{ReadOnly: true, lockWait: soon})
	const says = "it cannot be copied to be read meanwhile (disk quota exceeded); make room for temporary files"
	if err == nil || !strings.Contains(err.Error(), says) {
		t.Errorf("%v", err)
	}
}

// TestLeftoversAreSwept: what a killed run left beside the store goes at the next opening
// for writing; what is of a process that runs, or of another store, stays.
func TestLeftoversAreSwept(t *testing.T) {
	path, _ := storeWith(t, 3)
	const gone = ".new-99999999-1" // no system has so many processes
	folder := filepath.Dir(path)
	for name, swept := range map[string]bool{
		".jobs.db" + gone: true, ".jobs.db.journal" + gone: true, ".jobs.db.schema-2" + gone: true, "jobs.db.mended": true,
		fmt.Sprintf(".jobs.db.new-%d-1", os.Getpid()): false, ".jobs.db2" + gone: false, ".jobs.db.new-": false, "jobs.db" + gone: false,
	} {
		write(t, filepath.Join(folder, name), nil)
		reader, err := Open(path, Options{ReadOnly: true})
		must(t, err)
		closeNow(t, reader)
		if _, err := os.Stat(filepath.Join(folder, name)); err != nil {
			t.Errorf("%s: gone by reading: %v", name, err)
		}
		s, err := Open(path, Options{})
		must(t, err)
		closeNow(t, s)
		if _, err := os.Stat(filepath.Join(folder, name)); errors.Is(err, fs.ErrNotExist) != swept {
			t.Errorf("%s: swept must be %v: %v", name, swept, err)
		}
	}
	copied := filepath.Join(folder, "copy.db")
	write(t, filepath.Join(folder, ".copy.db"+gone), nil)
	s := open(t, path, Options{})
	must(t, s.Backup(copied, false, nil, nil))
	if _, err := os.Stat(filepath.Join(folder, ".copy.db"+gone)); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("of a backup before: %v", err)
	}
}

// TestTailOfAJournalCostsNoMemory: whatever follows its lines, however much.
func TestTailOfAJournalCostsNoMemory(t *testing.T) {
	heap := func() uint64 {
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapSys
	}
	tail := runs.Of[int64](64<<20, 160<<20)
	for name, spoil := range map[string]func(path string) error{
		"zeros": func(path string) error { return os.Truncate(path, tail) },
		"zeros behind the beginning of a line": func(path string) error {
			return errors.Join(appendTo(path, []byte(`{"sum":"89abcdef","rec":{"n":2`)), os.Truncate(path, tail))
		},
		"lines that are none": func(path string) error { return appendTo(path, bytes.Repeat([]byte("stray\n"), 1_000_000)) },
	} {
		path, jobs := storeWith(t, 3)
		must(t, os.Truncate(path+journalSuffix, int64(len(bytes.TrimRight(read(t, path+journalSuffix), "\n"))+1)))
		must(t, spoil(path+journalSuffix))
		before := heap()
		r, err := Verify(path, nil)
		if err != nil || !r.OK() || len(r.Notes) == 0 {
			t.Errorf("%s: verify: %+v, %v", name, r, err)
		}
		if r, err := Repair(path, path+".repaired", nil, nil); err != nil || !r.OK() || r.Jobs != 1 {
			t.Errorf("%s: repair: %+v, %v", name, r, err)
		}
		s, err := Open(path, Options{})
		must(t, err)
		if !s.Opening().TornTailTaken || !right(t, name, s, jobs) {
			t.Errorf("%s: %+v", name, s.Opening())
		}
		closeNow(t, s)
		if grown := int64(heap()) - int64(before); grown > 24<<20 {
			t.Errorf("%s: %d MB more", name, grown>>20)
		}
		if info, err := os.Stat(path + journalSuffix); err != nil || info.Size() > 1<<20 {
			t.Errorf("%s: the journal has %d bytes, %v", name, info.Size(), err)
		}
	}
}

func appendTo(path string, b []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		return err
	}
	_, err = f.Write(b)
	return errors.Join(err, f.Close())
}
