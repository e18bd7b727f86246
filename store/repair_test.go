package store

// This file tests that a new store can be built from what is left of a damaged
// one, and that nothing is written over.

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"garage/tundish/model/job"
	"garage/tundish/store/fault"
	"garage/tundish/store/pages"
)

// holds reports whether a repaired store has all jobs, each whole.
func holds(t *testing.T, what, path string, jobs []job.Job) {
	t.Helper()
	s := open(t, path, Options{})
	if s.Opening() != (Opening{}) {
		t.Errorf("%s: the new store was not in step: %+v", what, s.Opening())
	}
	if !right(t, what, s, jobs) {
		t.Errorf("%s: the new store is damaged", what)
	}
	closeNow(t, s)
}

func TestRepairFromEitherCopy(t *testing.T) {
	for name, spoil := range map[string]func(t *testing.T, path string){
		"nothing wrong":         func(*testing.T, string) {},
		"file gone":             func(t *testing.T, path string) { must(t, os.Remove(path)) },
		"file empty":            func(t *testing.T, path string) { write(t, path, nil) },
		"file zeros":            func(t *testing.T, path string) { write(t, path, make([]byte, 100_000)) },
		"file cut in half":      func(t *testing.T, path string) { b := read(t, path); write(t, path, b[:len(b)/2]) },
		"file without its head": func(t *testing.T, path string) { b := read(t, path); clearBytes(b[:2*pageBytes]); write(t, path, b) },
		"journal gone":          func(t *testing.T, path string) { must(t, os.Remove(path+journalSuffix)) },
		"journal empty":         func(t *testing.T, path string) { write(t, path+journalSuffix, nil) },
		"journal cut in half": func(t *testing.T, path string) {
			b := read(t, path+journalSuffix)
			write(t, path+journalSuffix, b[:len(b)/2])
		},
		"journal without a head": func(t *testing.T, path string) {
			b := read(t, path+journalSuffix)
			b[20] ^= 1
			write(t, path+journalSuffix, b)
		},
		"root page gone, no journal": func(t *testing.T, path string) {
			b := read(t, path)
			m, _ := pages.Latest(bytes.NewReader(b))
			clearBytes(b[m.Root*pageBytes : (m.Root+1)*pageBytes])
			write(t, path, b)
			must(t, os.Remove(path+journalSuffix))
		},
		"no head, no journal": func(t *testing.T, path string) {
			b := read(t, path)
			clearBytes(b[:2*pageBytes])
			write(t, path, b)
			must(t, os.Remove(path+journalSuffix))
		},
	} {
		path, jobs := storeWith(t, 3, 40, 0, 7)
		spoil(t, path)
		file, _ := os.ReadFile(path)
		journal, _ := os.ReadFile(path + journalSuffix)
		into := filepath.Join(memory(t), "new.db")
		r, err := Repair(path, into, headFor, nil)
		if name == "no head, no journal" {
			// Nothing says any more that it is a store: it could be anybody's file.
			if !errors.Is(err, fault.ErrForeign) {
				t.Errorf("%s: %+v, %v", name, r, err)
			}
			continue
		}
		alone := name == "root page gone, no journal" // whether a job is missing cannot be told
		if err != nil || r.OK() == alone || r.Jobs != len(jobs) || r.Entries != 50 {
			t.Errorf("%s: %+v, %v", name, r, err)
			continue
		}
		holds(t, name, into, jobs)
		after, _ := os.ReadFile(path)
		journalAfter, _ := os.ReadFile(path + journalSuffix)
		if string(after) != string(file) || string(journalAfter) != string(journal) {
			t.Errorf("%s: the damaged files were changed", name)
		}
		if left, _ := filepath.Glob(into + ".new*"); len(left) != 0 {
			t.Errorf("%s: left over: %v", name, left)
		}
	}
}

func clearBytes(b []byte) { copy(b, make([]byte, len(b))) }

// TestRepairOfFlips: whatever is flipped in one copy, the other has it all.
func TestRepairOfFlips(t *testing.T) {
	path, jobs := storeWith(t, 3, 20, 0, 7)
	file, journal := read(t, path), read(t, path+journalSuffix)
	random := rand.New(rand.NewPCG(20260401, 5))
	for i := range 60 {
		badFile, badJournal := slices.Clone(file), slices.Clone(journal)
		spoilt := badFile
		if i%2 == 1 {
			spoilt = badJournal
		}
		for range 1 + i {
			bit := random.IntN(len(spoilt) * 8)
			spoilt[bit/8] ^= 1 << (bit % 8)
		}
		write(t, path, badFile)
		write(t, path+journalSuffix, badJournal)
		into := filepath.Join(memory(t), "new.db")
		if r, err := Repair(path, into, headFor, nil); err != nil || r.Jobs != len(jobs) || !r.OK() {
			t.Errorf("round %d: %+v, %v", i, r, err)
			continue
		}
		holds(t, fmt.Sprintf("round %d", i), into, jobs)
	}
}

func TestRepairNamesWhatIsLost(t *testing.T) {
	path, jobs := storeWith(t, 3, 9)
	lines := strings.SplitAfter(strings.TrimRight(string(read(t, path+journalSuffix)), "\n")+"\n", "\n")
	must(t, os.Remove(path))
	s, err := Open(path+"2", Options{})
	must(t, err)
	job := jobOf(5, 1)
	createJob(t, s, job)
	for n := 2; n <= 6; n++ {
		must(t, s.Append(job.ID, headFor(jobOf(5, n)), reading(5, n)))
	}
	closeNow(t, s)
	own := strings.SplitAfter(strings.TrimRight(string(read(t, path+"2"+journalSuffix)), "\n")+"\n", "\n")
	// Entry 4 of the job is in no line that is left, and the file is gone.
	broken := strings.Join(append(append(lines, own[1:4]...), own[5:]...), "")
	write(t, path+journalSuffix, []byte(broken))
	into := filepath.Join(memory(t), "new.db")
	r, err := Repair(path, into, headFor, nil)
	must(t, err)
	if len(r.Findings) != 2 || !strings.Contains(r.Findings[0].Fact, "line 4 is missing; it may be of job "+job.ID) ||
		!strings.Contains(r.Findings[1].Fact, "entry 4 is in neither copy, it and the 2 behind it are lost") {
		t.Errorf("%v", r.Findings)
	}
	holds(t, "with a gap", into, append(jobs, jobOf(5, 3)))
}

// TestRepairFromTheJournalAlone: whatever is missing of the only copy is said, also
// where a whole job was gone and nothing of it is left to miss.
func TestRepairFromTheJournalAlone(t *testing.T) {
	path, jobs := storeWith(t, 3, 9, 2, 5)
	whole := read(t, path+journalSuffix)
	lines := bytes.SplitAfter(append(bytes.TrimRight(whole, "\n"), '\n'), []byte("\n"))
	without := func(drop ...int) []byte {
		var kept []byte
		for i, line := range lines {
			if !slices.Contains(drop, i) {
				kept = append(kept, line...)
			}
		}
		return kept
	}
	flipped := func(line int, old, new string) []byte {
		other := slices.Clone(lines)
		other[line] = bytes.Replace(lines[line], []byte(old), []byte(new), 1)
		return bytes.Join(other, nil)
	}
	for _, c := range []struct {
		name    string
		journal []byte
		jobs    int
		want    []string // in the findings; none: only the end cannot be told
	}{
		{"all of it", whole, 4, nil},
		{"a figure changed", flipped(2, "ml@20C", "Ml@20C"), 3,
			[]string{"line 2 is missing", "checksum does not fit", "of job " + jobs[1].ID}},
		{"no line at all in its place", flipped(2, `{"sum"`, `{"sux"`), 3, []string{"line 2 is missing", "of job " + jobs[1].ID}},
		{"zeros in its place", slices.Concat(without(2, 3, 4), make([]byte, len(lines[2])), []byte("\n"), lines[3], lines[4]), 3,
			[]string{"line 2 is missing", jobs[0].ID + ", " + jobs[2].ID}},
		{"a line missing", without(2), 3, []string{"line 2 is missing", jobs[0].ID + ", " + jobs[2].ID, "missing altogether"}},
		{"two lines missing", without(2, 3), 2, []string{"lines 2 to 3 are missing"}},
		{"lines in another order", slices.Concat(without(2, 3, 4), lines[3], lines[2], lines[4]), 4,
			[]string{"line 2 is missing", "does not follow"}},
		{"cut within the last line", whole[:len(without(4))+40], 3, []string{"cut off after line 3", "cannot be read"}},
		{"cut within its job", whole[:len(without(4))+200], 3, []string{"cut off after line 3", "of job " + jobs[3].ID}},
		{"the first line changed", flipped(0, `"store":"`, `"Store":"`), 4, nil},
	} {
		must(t, errors.Join(os.RemoveAll(path), os.RemoveAll(path+".mended"), os.RemoveAll(path+".mended"+journalSuffix)))
		write(t, path+journalSuffix, c.journal)
		r, err := Repair(path, path+".mended", headFor, nil)
		if err != nil || r.Jobs != c.jobs || r.OK() != (c.want == nil) {
			t.Errorf("%s: %+v, %v", c.name, r, err)
			continue
		}
		said := fmt.Sprint(r.Findings)
		for _, want := range c.want {
			if !strings.Contains(said, want) {
				t.Errorf("%s: %s; want %q", c.name, said, want)
			}
		}
		if told := strings.Contains(fmt.Sprint(r.Notes), "cannot be told"); told != (r.AfterLine > 0) || c.want == nil && !told {
			t.Errorf("%s: notes %v", c.name, r.Notes)
		}
	}
}

// TestRepairOfAnOlderCopy: what the file holds is not missed in the journal; what it
// does not hold is.
func TestRepairOfAnOlderCopy(t *testing.T) {
	for _, c := range []struct {
		line int
		lost bool
	}{{1, false}, {2, false}, {4, true}, {5, true}} {
		path, _ := behind(t, 4)
		lines := bytes.SplitAfter(append(bytes.TrimRight(read(t, path+journalSuffix), "\n"), '\n'), []byte("\n"))
		lines[c.line] = nil
		write(t, path+journalSuffix, bytes.Join(lines, nil))
		if r, err := Repair(path, path+".mended", headFor, nil); err != nil || r.OK() == c.lost {
			t.Errorf("without line %d: %+v, %v", c.line, r, err)
		}
	}
}

func TestRepairKeepsBothWhereTheCopiesDiffer(t *testing.T) {
	path, jobs := storeWith(t, 4)
	other := filepath.Join(memory(t), "jobs.db")
	s := open(t, other, Options{})
	createJob(t, s, fork(jobs[0], 2, "a", "b"))
	closeNow(t, s)
	write(t, path+journalSuffix, read(t, other+journalSuffix))
	into := filepath.Join(memory(t), "new.db")
	r, err := Repair(path, into, headFor, nil)
	if err != nil || r.Jobs != 2 || len(r.Findings) != 1 {
		t.Errorf("%+v, %v", r, err)
	}
	fixed := open(t, into, Options{})
	first, err := fixed.Load(jobs[0].ID)
	must(t, err)
	second, err := fixed.Load(jobs[0].ID + "~2")
	must(t, err)
	if !sameJob(first, fork(jobs[0], 2, "a", "b")) || !sameJob(renamed(second, jobs[0].ID), jobs[0]) {
		t.Errorf("%+v, %+v", first, second)
	}
}

func TestRepairKeepsDraftsAndHeads(t *testing.T) {
	path, jobs := storeWith(t, 4)
	s := open(t, path, Options{})
	draft := Draft{Topic: job.Remark, Text: "8", At: at(1, 1)}
	must(t, s.SaveDraft(jobs[0].ID, draft))
	closeNow(t, s)
	into := filepath.Join(memory(t), "new.db")
	_, err := Repair(path, into, nil, nil)
	must(t, err)
	fixed := open(t, into, Options{})
	if got, _, err := fixed.LoadDraft(jobs[0].ID); err != nil || got != draft {
		t.Errorf("draft %+v, %v", got, err)
	}
	if heads, _, err := fixed.List(ListOptions{}); err != nil || heads[0].Vehicle != headFor(jobs[0]).Vehicle {
		t.Errorf("%+v, %v", heads, err)
	}
}

func TestRepairWritesOverNothing(t *testing.T) {
	path, _ := storeWith(t, 4)
	for _, there := range []string{"new.db", "new.db" + journalSuffix} {
		dir := memory(t)
		write(t, filepath.Join(dir, there), []byte("mine"))
		_, err := Repair(path, filepath.Join(dir, "new.db"), headFor, nil)
		if !errors.Is(err, fault.ErrExists) || string(read(t, filepath.Join(dir, there))) != "mine" {
			t.Errorf("%s: %v", there, err)
		}
	}
	if _, err := Repair(path, path, headFor, nil); !errors.Is(err, fault.ErrExists) {
		t.Errorf("into itself: %v", err)
	}
	empty := filepath.Join(memory(t), "empty.db")
	write(t, empty, nil)
	if _, err := Repair(empty, empty+".new", headFor, nil); !errors.Is(err, fault.ErrDamaged) {
		t.Errorf("of nothing: %v", err)
	}
	if _, err := os.Stat(empty + ".new"); err == nil {
		t.Error("a store was made of nothing")
	}
}
