package store

// This file tests what Open does where bbolt and journal are not in step.

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"garage/tundish/model/job"
	"garage/tundish/store/disk"
	"garage/tundish/store/fault"
	"garage/tundish/store/pages"
)

// behind makes a store whose journal is so many entries ahead of bbolt.
func behind(t *testing.T, entries int) (path string, job job.Job) {
	t.Helper()
	path, jobs := storeWith(t, 3, 5)
	old := read(t, path)
	s, err := Open(path, Options{noSync: true})
	must(t, err)
	job = jobs[1]
	for range entries {
		job = jobOf(1, len(job.Entries)+1)
		must(t, s.Append(job.ID, headFor(job), job.Entries[len(job.Entries)-1]))
	}
	createJob(t, s, jobOf(4, 2))
	closeNow(t, s)
	write(t, path, old)
	return path, job
}

// TestJournalAhead: also how an old backup in place of a lost file catches up.
func TestJournalAhead(t *testing.T) {
	path, j := behind(t, 20)
	r := verify(t, path)
	if len(r.Notes) != 1 || !strings.Contains(r.Notes[0].Fact, "21 lines") {
		t.Errorf("verify notes %v", r.Notes)
	}
	if _, err := Open(path, Options{ReadOnly: true}); !errors.Is(err, fault.ErrReadOnly) || !strings.Contains(err.Error(),
		"21 line(s) of its journal") {
		t.Errorf("read only: %v", err)
	}
	s := open(t, path, Options{})
	if s.Opening() != (Opening{Replayed: 21}) {
		t.Errorf("%+v", s.Opening())
	}
	for _, want := range []job.Job{j, jobOf(0, 3), jobOf(4, 2)} {
		if got, err := s.Load(want.ID); err != nil || !sameJob(got, want) {
			t.Errorf("%+v, %v", got, err)
		}
	}
	if id, err := s.Find(job.LastJob); err != nil || id != jobID(4) {
		t.Errorf("last is %q, %v", id, err)
	}
	closeNow(t, s)
	if again := open(t, path, Options{}); again.Opening() != (Opening{}) {
		t.Errorf("and again: %+v", again.Opening())
	}
}

func TestTornLineIsTakenOut(t *testing.T) {
	for _, piece := range []string{"{", `{"sum":"00000000","rec":{"n":3`, "\x00\x00\x00", "\n\n\nabc", "x\ny\n"} {
		path, jobs := storeWith(t, 3, 5)
		journal := read(t, path+journalSuffix)
		end := len(bytes.TrimRight(journal, "\n")) + 1
		copy(journal[end:], piece)
		write(t, path+journalSuffix, journal)
		if r := verify(t, path); len(r.Notes) == 0 {
			t.Errorf("%q: verify notes nothing", piece)
		}
		s := open(t, path, Options{})
		if s.Opening() != (Opening{TornTailTaken: true}) {
			t.Errorf("%q: %+v", piece, s.Opening())
		}
		must(t, s.Append(jobs[0].ID, headFor(jobOf(0, 4)), reading(0, 4)))
		closeNow(t, s)
		if left := read(t, path+journalSuffix); bytes.Contains(left, []byte(piece+"\n\n")) {
			t.Errorf("%q is still there", piece)
		}
	}
}

func TestJournalThatDoesNotBelong(t *testing.T) {
	other, _ := storeWith(t, 3, 4)
	elsewhere := read(t, other+journalSuffix)
	for _, c := range []struct {
		name  string
		spoil func(journal []byte) []byte
		aside bool
	}{
		{"missing", func([]byte) []byte { return nil }, false},
		{"empty", func([]byte) []byte { return []byte{} }, true},
		{"of another store that held no more", func([]byte) []byte { return elsewhere }, true},
		{"cut short", func(b []byte) []byte { return b[:len(bytes.TrimRight(b, "\n"))/2] }, true},
		{"without its last line", func(b []byte) []byte { return b[:bytes.LastIndexByte(bytes.TrimRight(b, "\n"), '\n')+1] }, true},
		{"not a journal", func([]byte) []byte { return bytes.Repeat([]byte("Dear Sir, "), 5000) }, true},
		{"the last line twice", func(b []byte) []byte {
			whole := append(bytes.TrimRight(b, "\n"), '\n')
			last := whole[bytes.LastIndexByte(whole[:len(whole)-1], '\n')+1:]
			return slices.Concat(whole, last)
		}, true},
	} {
		path, jobs := storeWith(t, 3, 5)
		spoilt := c.spoil(read(t, path+journalSuffix))
		must(t, os.Remove(path+journalSuffix))
		if spoilt != nil {
			write(t, path+journalSuffix, spoilt)
		}
		r, err := Verify(path, nil)
		if err != nil || len(r.Findings)+len(r.Notes) == 0 {
			t.Errorf("%s: verify did not see it: %v", c.name, err)
		}
		s := open(t, path, Options{})
		o := s.Opening()
		if notes := o.Notes(); len(notes) == 0 || c.aside && !strings.Contains(notes[0], o.JournalAside) {
			t.Errorf("%s: told %q", c.name, notes)
		}
		if o.JournalMade == "" || (o.JournalAside != "") != c.aside {
			t.Errorf("%s: %+v", c.name, o)
		}
		if c.aside && string(read(t, o.JournalAside)) != string(spoilt) {
			t.Errorf("%s: what was set aside is not what was there", c.name)
		}
		for _, job := range jobs {
			if got, err := s.Load(job.ID); err != nil || !sameJob(got, job) {
				t.Errorf("%s: %+v, %v", c.name, got, err)
			}
		}
		if id, err := s.Find(job.LastJob); err != nil || id != jobs[1].ID {
			t.Errorf("%s: last is %q, %v", c.name, id, err)
		}
		must(t, s.Append(jobs[0].ID, headFor(jobOf(0, 4)), reading(0, 4)))
	}
}

// TestJournalThatKnowsMore: it does not go on from the store, and holds entries
// that the store has not. Nobody but Repair may set that right.
func TestJournalThatKnowsMore(t *testing.T) {
	other, _ := storeWith(t, 3, 6)
	elsewhere := read(t, other+journalSuffix)
	another := filepath.Join(memory(t), "jobs.db")
	s := open(t, another, Options{})
	createJob(t, s, fork(jobOf(1, 5), 2, "a", "b", "c"))
	closeNow(t, s)
	forked := read(t, another+journalSuffix)
	for name, spoil := range map[string]func(journal []byte) []byte{
		"of another store":                  func([]byte) []byte { return elsewhere },
		"of one whose job went another way": func([]byte) []byte { return forked },
		"ahead, with a piece between": func(b []byte) []byte {
			lines := bytes.SplitAfter(append(bytes.TrimRight(b, "\n"), '\n'), []byte("\n"))
			lines[3] = slices.Concat(lines[3], []byte("{\"sum\"\n"))
			return bytes.Join(lines, nil)
		},
		"ahead with a gap": func(b []byte) []byte {
			lines := bytes.SplitAfter(append(bytes.TrimRight(b, "\n"), '\n'), []byte("\n"))
			lines[4][30] ^= 1
			return bytes.Join(lines, nil)
		},
	} {
		path, _ := behind(t, 3)
		write(t, path+journalSuffix, spoil(read(t, path+journalSuffix)))
		file, journal := read(t, path), read(t, path+journalSuffix)
		if r, err := Verify(path, nil); err != nil || r.OK() {
			t.Errorf("%s: verify sees nothing: %+v, %v", name, r, err)
		}
		_, err := Open(path, Options{})
		if !errors.Is(err, fault.ErrDamaged) {
			t.Fatalf("%s: %v", name, err)
		}
		sentence(t, path, err)
		if !bytes.Equal(read(t, path), file) || !bytes.Equal(read(t, path+journalSuffix), journal) {
			t.Errorf("%s: the files were changed", name)
		}
		into := filepath.Join(memory(t), "new.db")
		r, err := Repair(path, into, headFor, nil)
		if err != nil || r.Entries < 3+6 && name != "ahead with a gap" {
			t.Errorf("%s: repair: %+v, %v", name, r, err)
		}
		verify(t, into)
	}
}

func TestJournalThatIsAFolder(t *testing.T) {
	path, _ := storeWith(t, 3)
	must(t, os.Rename(path+journalSuffix, path+".kept"))
	must(t, os.Mkdir(path+journalSuffix, 0o700))
	_, err := Open(path, Options{})
	if !errors.Is(err, fault.ErrNotFile) {
		t.Fatalf("%v", err)
	}
	sentence(t, path+journalSuffix, err)
	if r, err := Verify(path, nil); err != nil || r.OK() {
		t.Errorf("verify: %+v, %v", r, err)
	}
}

// TestJournalNotSynced: the disk fails, or says only now that it is full, when
// both files were written.
func TestJournalNotSynced(t *testing.T) {
	for _, cause := range []error{syscall.EIO, syscall.ENOSPC} {
		journalNotSynced(t, cause)
	}
}

func journalNotSynced(t *testing.T, cause error) {
	t.Helper()
	path, jobs := storeWith(t, 3, 5)
	s := open(t, path, Options{})
	s.journal.Flush = func(*os.File) error { return cause }
	err := s.Append(jobs[1].ID, headFor(jobOf(1, 6)), reading(1, 6))
	if !errors.Is(err, fault.ErrUncertain) {
		t.Fatalf("%v", err)
	}
	sentence(t, path, err)
	if done, err := s.ImportAll(incomingOf([]job.Job{jobOf(7, 2), jobOf(8, 2)})); len(done) > 0 || !errors.Is(err, fault.ErrUncertain) {
		t.Errorf("went on: %+v, %v", done, err)
	}
	if err := s.Append(jobs[1].ID, headFor(jobOf(1, 7)), reading(1, 7)); !errors.Is(err, fault.ErrUncertain) {
		t.Errorf("went on: %v", err)
	}
	if err := s.SaveDraft(jobs[1].ID, Draft{Topic: job.Remark, Text: "5"}); !errors.Is(err, fault.ErrUncertain) {
		t.Errorf("went on: %v", err)
	}
	closeNow(t, s)
	s = open(t, path, Options{})
	if got, err := s.Load(jobs[1].ID); err != nil || !sameJob(got, jobOf(1, 6)) {
		t.Errorf("%d entries, %v", len(got.Entries), err)
	}
}

// TestBackupOfDamage: a copy of damage is no backup.
func TestBackupOfDamage(t *testing.T) {
	path, _ := storeWith(t, 3, 40, 40)
	file := read(t, path)
	leaves := leavesOf(t, file, jobID(1))
	at := int(leaves[1]) * pageBytes
	file[at+bytes.Index(file[at:at+pageBytes], []byte("typed"))] ^= 1
	write(t, path, file)
	s, err := Open(path, Options{noSurvey: true})
	must(t, err)
	defer s.Close()
	if err := s.Backup(path+".bak", false, nil, nil); !errors.Is(err, fault.ErrDamaged) {
		t.Errorf("%v", err)
	}
	if _, err := os.Stat(path + ".bak"); err == nil {
		t.Error("the copy was kept")
	}
}

// TestStatePageLost: bbolt falls back to the state before the last entry, which
// was accepted. The journal has it.
func TestStatePageLost(t *testing.T) {
	path := filepath.Join(memory(t), "jobs.db")
	job := jobOf(1, 1)
	s := open(t, path, Options{})
	createJob(t, s, job)
	closeNow(t, s)
	for range 6 {
		s := open(t, path, Options{})
		job = jobOf(1, len(job.Entries)+1)
		must(t, s.Append(job.ID, headFor(job), job.Entries[len(job.Entries)-1]))
		m, _ := pages.Latest(s.file)
		closeNow(t, s)
		file := read(t, path)
		file[int(m.TxID%2)*pageBytes+60] ^= 1
		write(t, path, file)
		s = open(t, path, Options{})
		if got, err := s.Load(job.ID); err != nil || !sameJob(got, job) {
			t.Fatalf("%d of %d entries, %v", len(got.Entries), len(job.Entries), err)
		}
		closeNow(t, s)
	}
}

// TestBackupKeepsItsLastEntry: a copy has no journal beside it, so both of its
// state pages name the same state.
func TestBackupKeepsItsLastEntry(t *testing.T) {
	path, jobs := storeWith(t, 3, 5)
	s := open(t, path, Options{})
	must(t, s.Backup(path+".bak", false, nil, nil))
	whole := read(t, path+".bak")
	for slot := range 2 {
		bad := slices.Clone(whole)
		bad[slot*pageBytes+60] ^= 1
		write(t, path+".bak", bad)
		must(t, errors.Join(disk.Remove(path+".bak"+journalSuffix)))
		copied := open(t, path+".bak", Options{})
		if got, err := copied.Load(jobs[1].ID); err != nil || !sameJob(got, jobs[1]) {
			t.Errorf("%d of %d entries, %v", len(got.Entries), len(jobs[1].Entries), err)
		}
		closeNow(t, copied)
	}
}

func TestBackup(t *testing.T) {
	path, jobs := storeWith(t, 3, 5)
	s := open(t, path, Options{})
	target := filepath.Join(memory(t), "copy.db")
	must(t, s.Backup(target, false, nil, nil))
	link := filepath.Join(filepath.Dir(target), "link.db")
	must(t, os.Symlink(path, link))
	must(t, os.Link(path+journalSuffix, link+".2"))
	for _, c := range []struct {
		name, to string
		force    bool
		want     error
	}{
		{"a file that is there", target, false, fault.ErrExists},
		{"the same, forced", target, true, nil},
		{"the store itself", path, true, fault.ErrExists},
		{"the store by a link", link, true, fault.ErrExists},
		{"its journal", path + journalSuffix, true, fault.ErrExists},
		{"its journal by another name", link + ".2", true, fault.ErrExists},
		{"a folder", filepath.Dir(path), true, fault.ErrNotFile},
		{"a folder that is not there", filepath.Join(filepath.Dir(path), "no", "copy.db"), false, fault.ErrReadOnly},
	} {
		err := s.Backup(c.to, c.force, nil, nil)
		if !errors.Is(err, c.want) || (err == nil) != (c.want == nil) {
			t.Errorf("%s: %v; want %v", c.name, err, c.want)
		}
		if err != nil {
			sentence(t, c.to, err)
		}
	}
	copied := open(t, target, Options{})
	for _, job := range jobs {
		if got, err := copied.Load(job.ID); err != nil || !sameJob(got, job) {
			t.Errorf("%+v, %v", got, err)
		}
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(target), ".*")); len(left) != 0 {
		t.Errorf("left over: %v", left)
	}
}
