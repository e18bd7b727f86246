package store

// This file damages stores in every way that it can think of. A damaged store
// must open right or say that it is damaged; it must never give wrong data,
// and the file must stay as it was.

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

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/store/fault"
	"garage/tundish/store/pages"
	"garage/tundish/store/record"
	"garage/tundish/testdata/runs"
)

// right reads all jobs in every way: each call must give what was stored or
// say that the store is damaged. It reports whether every call gave it.
func right(t *testing.T, what string, s *Store, jobs []job.Job) bool {
	t.Helper()
	whole := true
	check := func(call string, good bool, err error) {
		switch {
		case errors.Is(err, fault.ErrDamaged):
			whole = false
			sentence(t, s.Path(), err)
		case err != nil:
			t.Errorf("%s: %s: %v", what, call, err)
		case !good:
			t.Errorf("%s: %s gave something else", what, call)
		}
	}
	newest := slices.Clone(jobs)
	slices.SortFunc(newest, func(a, b job.Job) int { return b.Started.Compare(a.Started) })
	heads, _, err := s.List(ListOptions{})
	check("list", sameList(heads, newest), err)
	heads, _, err = s.List(ListOptions{OnlyOpen: true})
	check("open jobs", sameList(heads, slices.DeleteFunc(slices.Clone(newest),
		func(j job.Job) bool { return !record.Unfinished(headFor(j)) })), err)
	seen := map[string]bool{}
	for _, kept := range jobs {
		got, err := s.Load(kept.ID)
		check("load "+kept.ID, sameJob(got, kept), err)
		id, err := s.Find(kept.ID[:len(kept.ID)-1])
		check("find "+kept.ID, id == kept.ID, err)
		if unit := headFor(kept).UnitKey(); unit != "" && !seen[unit] {
			seen[unit] = true
			heads, _, err := s.List(ListOptions{Unit: unit})
			check("unit", sameList(heads, slices.DeleteFunc(slices.Clone(newest),
				func(j job.Job) bool { return headFor(j).UnitKey() != unit })), err)
		}
	}
	if _, err := s.Load("nobody"); !errors.Is(err, fault.ErrNoJob) {
		check("load nobody", false, err)
	}
	return whole
}

// sameList reports whether a list is that of these jobs.
func sameList(heads []guide.Head, want []job.Job) bool {
	return slices.EqualFunc(heads, want, func(h guide.Head, j job.Job) bool {
		w := headFor(j)
		return h.ID == w.ID && h.Phase == w.Phase && h.Vehicle == w.Vehicle && h.Updated.Equal(w.Updated)
	})
}

// damaged puts a damaged file and its journal in place, opens it as it is, reads all
// and adds to it. It reports whether the store opened.
func damaged(t *testing.T, what, path string, file, journal []byte, jobs []job.Job, o Options) bool {
	t.Helper()
	write(t, path, file)
	write(t, path+journalSuffix, journal)
	o.lockWait, o.noSync, o.rebuilt = soon, true, true
	s, err := Open(path, o)
	if err != nil {
		if !errors.Is(err, fault.ErrDamaged) {
			t.Errorf("%s: %v", what, err)
		}
		sentence(t, filepath.Dir(path), err)
		if string(read(t, path)) != string(file) {
			t.Errorf("%s: the damaged file was changed", what)
		}
		return false
	}
	defer s.Close()
	if right(t, what, s, jobs) {
		last := jobs[len(jobs)-1]
		next := job.Job{ID: last.ID, Started: last.Started, Entries: append(slices.Clone(last.Entries), reading(1, len(last.Entries)+1))}
		switch err := s.Append(last.ID, headFor(next), next.Entries[len(last.Entries)]); {
		case err == nil:
			if got, err := s.Load(last.ID); !errors.Is(err, fault.ErrDamaged) && (err != nil || !sameJob(got, next)) {
				t.Errorf("%s: after one more entry: %+v, %v", what, got, err)
			}
		case !errors.Is(err, fault.ErrDamaged):
			t.Errorf("%s: append: %v", what, err)
		}
	}
	return true
}

// sample is a store with a few pages of each kind.
func sample(t *testing.T) (dir string, file, journal []byte, jobs []job.Job) {
	t.Helper()
	counts := []int{3, 0, 60, 7, 1, 9, 4, 2, 8, 5, 6, 30}
	path, jobs := storeWith(t, counts...)
	return filepath.Dir(path), read(t, path), read(t, path+journalSuffix), jobs
}

func TestEveryTruncation(t *testing.T) {
	t.Parallel()
	dir, file, journal, jobs := sample(t)
	m, _ := pages.Latest(bytes.NewReader(file))
	used := int(m.Pages) * pageBytes
	var lengths []int
	for n := 0; n < len(file); n += runs.Of(3*512, 512) {
		lengths = append(lengths, n, n+1, n+511)
	}
	for _, n := range lengths {
		opened := damaged(t, fmt.Sprintf("file of %d bytes", n), filepath.Join(dir, "cut.db"), file[:n], journal, jobs, Options{})
		if opened != (n >= used) {
			t.Errorf("%d bytes of %d opened: %v", n, used, opened)
		}
	}
}

// TestBitFlips turns over one bit at a time: in the file, with the looking
// through of small stores and without, and in the journal.
func TestBitFlips(t *testing.T) {
	t.Parallel()
	dir, file, journal, jobs := sample(t)
	path := filepath.Join(dir, "flip.db")
	random := rand.New(rand.NewPCG(20260401, 1))
	flips, opened := runs.Of(200, 600), 0
	for i := range flips {
		bit := random.IntN(len(file) * 8)
		bad := slices.Clone(file)
		bad[bit/8] ^= 1 << (bit % 8)
		what := fmt.Sprintf("flip %d, bit %d of page %d, byte %d", i, bit%8, bit/8/pageBytes, bit/8%pageBytes)
		if damaged(t, what, path, bad, journal, jobs, Options{noSurvey: i%2 == 0}) {
			opened++
		}
		tidy(t, dir, "flip.db*")
	}
	if opened == 0 || opened == flips {
		t.Errorf("%d of %d opened: the flips prove nothing", opened, flips)
	}
}

// TestDamagedIsMadeAnew: where the journal is whole the owner is let in, with every
// entry, and the damaged file is kept.
func TestDamagedIsMadeAnew(t *testing.T) {
	dir, file, journal, jobs := sample(t)
	random := rand.New(rand.NewPCG(20260401, 15))
	flipped := func(count int) []byte {
		bad := slices.Clone(file)
		for range count {
			bit := random.IntN(len(bad) * 8)
			bad[bit/8] ^= 1 << (bit % 8)
		}
		return bad
	}
	cases := map[string][]byte{"empty": nil, "zeros": make([]byte, 90_000), "cut short": file[:len(file)/2],
		"a letter": bytes.Repeat([]byte("Dear Sir, "), 5000)}
	for n := range 40 {
		cases[fmt.Sprintf("%d flips", n+1)] = flipped(n + 1)
	}
	mended := 0
	for name, bad := range cases {
		path := filepath.Join(dir, "bad.db")
		write(t, path, bad)
		write(t, path+journalSuffix, journal)
		s, err := Open(path, Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if o := s.Opening(); o.Rebuilt != "" {
			mended++
			if notes := o.Notes(); len(notes) != 1 || string(read(t, o.Rebuilt)) != string(bad) ||
				!strings.Contains(o.Rebuilt, path+".damaged-20") {
				t.Errorf("%s: told %q, or what is kept is not what was there", name, notes)
			}
		}
		if !right(t, name, s, jobs) {
			t.Errorf("%s: not all is there", name)
		}
		next := jobOf(0, 4)
		must(t, s.Append(next.ID, headFor(next), next.Entries[3]))
		closeNow(t, s)
		verify(t, path)
		tidy(t, dir, "bad.db*")
	}
	if mended < 20 {
		t.Errorf("%d of %d were made anew: that proves nothing", mended, len(cases))
	}
}

// TestLargeDamagedIsMadeAnewOnceMet: a large store is not looked through when it is
// opened; once a read has met damage, the next opening does and mends it.
func TestLargeDamagedIsMadeAnewOnceMet(t *testing.T) {
	path, jobs := storeWith(t, 3, 40, 40)
	file := read(t, path)
	leaf := int(leavesOf(t, file, jobID(1))[1]) * pageBytes
	file[leaf+bytes.Index(file[leaf:leaf+pageBytes], []byte("typed"))] ^= 1
	write(t, path, file)
	for _, o := range []Options{{noSurvey: true, ReadOnly: true}, {noSurvey: true}} {
		s, err := Open(path, o)
		must(t, err)
		if _, err := s.Load(jobID(1)); !errors.Is(err, fault.ErrDamaged) {
			t.Errorf("%+v: %v", o, err)
		}
		closeNow(t, s)
		if o.ReadOnly {
			must(t, os.Remove(path+suspectSuffix))
		}
	}
	s := open(t, path, Options{noSurvey: true})
	if s.Opening().Rebuilt == "" || !right(t, "once met", s, jobs) {
		t.Errorf("%+v", s.Opening())
	}
	if s.suspected() {
		t.Error("it is looked through for ever")
	}
}

// TestDamagedIsLeftWhereTheJournalIsNotWhole: nothing is made of less than all.
func TestDamagedIsLeftWhereTheJournalIsNotWhole(t *testing.T) {
	dir, file, journal, _ := sample(t)
	last := bytes.LastIndexByte(bytes.TrimRight(journal, "\n"), '\n') + 1
	flip := slices.Clone(journal)
	flip[len(flip)/3] ^= 1
	other, _ := storeWith(t, 1)
	for name, spoilt := range map[string][]byte{"a flip": flip, "without its last line": journal[:last],
		"cut within its last line": journal[:last+50],
		"none":                     nil, "of another store": read(t, other+journalSuffix)} {
		path := filepath.Join(dir, "bad.db")
		bad := slices.Clone(file)
		clearBytes(bad[5*pageBytes : 7*pageBytes])
		write(t, path, bad)
		write(t, path+journalSuffix, spoilt)
		_, err := Open(path, Options{})
		if !errors.Is(err, fault.ErrDamaged) || string(read(t, path)) != string(bad) || string(read(t,
			path+journalSuffix)) != string(spoilt) {
			t.Errorf("%s: %v, or a file was changed", name, err)
		}
		if left, _ := filepath.Glob(path + ".*"); len(left) != 1 {
			t.Errorf("%s: left over: %v", name, left)
		}
	}
}

// tidy removes what a case left behind.
func tidy(t *testing.T, dir, pattern string) {
	t.Helper()
	left, err := filepath.Glob(filepath.Join(dir, pattern))
	must(t, err)
	for _, name := range left {
		must(t, os.Remove(name))
	}
}

// TestFlipsOfStructure turns over bits of the heads of pages, where bbolt itself
// would be led astray.
func TestFlipsOfStructure(t *testing.T) {
	t.Parallel()
	dir, file, journal, jobs := sample(t)
	path, step := filepath.Join(dir, "flip.db"), runs.Of(67, 23)
	for page := range len(file) / pageBytes {
		for bit := page % step; bit < 48*8; bit += step {
			at := page*pageBytes + bit/8
			bad := slices.Clone(file)
			bad[at] ^= 1 << (bit % 8)
			damaged(t, fmt.Sprintf("bit %d of page %d", bit, page), path, bad, journal, jobs, Options{noSurvey: true})
			tidy(t, dir, "flip.db*")
		}
	}
}

// TestJournalFlips: the store itself is whole, so nothing that is read may
// change; Verify must see every flip of a line, and Open mend it.
func TestJournalFlips(t *testing.T) {
	path, jobs := storeWith(t, 3, 8, 2)
	file, journal := read(t, path), read(t, path+journalSuffix)
	end := len(journal)
	for journal[end-1] == '\n' {
		end--
	}
	random := rand.New(rand.NewPCG(20260401, 2))
	for range runs.Of(100, 300) {
		bit := random.IntN(end * 8)
		bad := slices.Clone(journal)
		bad[bit/8] ^= 1 << (bit % 8)
		what := fmt.Sprintf("journal bit %d", bit)
		write(t, path, file)
		write(t, path+journalSuffix, bad)
		r, err := Verify(path, nil)
		if err != nil && !errors.Is(err, fault.ErrNewer) || err == nil && r.OK() {
			t.Errorf("%s: verify found %+v, %v", what, r, err)
		}
		s, err := Open(path, Options{noSync: true})
		if err != nil {
			t.Errorf("%s: %v", what, err)
			continue
		}
		if !right(t, what, s, jobs) {
			t.Errorf("%s: jobs were lost", what)
		}
		if o := s.Opening(); o.JournalMade == "" || o.JournalAside == "" {
			t.Errorf("%s: opening it was not told of: %+v", what, o)
		}
		closeNow(t, s)
		verify(t, path)
		tidy(t, filepath.Dir(path), "*.aside-*")
	}
}

// TestPagesInEachOthersPlace swaps whole pages, as a disk does that loses its
// way; then also pages in use that say they are in their place.
func TestPagesInEachOthersPlace(t *testing.T) {
	dir, file, journal, jobs := sample(t)
	path := filepath.Join(dir, "swap.db")
	count := len(file) / pageBytes
	m, _ := pages.Latest(bytes.NewReader(file))
	free, _, err := m.Free(bytes.NewReader(file))
	must(t, err)
	for a := firstDataPage; a < count; a++ {
		for _, b := range []int{a + 1, a + 2, a + 7} {
			if b >= count {
				continue
			}
			for _, renumber := range []bool{false, true} {
				if renumber && (slices.Contains(free, uint64(a)) || slices.Contains(free, uint64(b))) {
					continue
				}
				bad := slices.Clone(file)
				one, two := bad[a*pageBytes:(a+1)*pageBytes], bad[b*pageBytes:(b+1)*pageBytes]
				copy(one, file[b*pageBytes:(b+1)*pageBytes])
				copy(two, file[a*pageBytes:(a+1)*pageBytes])
				if renumber {
					copy(one[:8], file[a*pageBytes:])
					copy(two[:8], file[b*pageBytes:])
				}
				damaged(t, fmt.Sprintf("pages %d and %d, renumbered %v", a, b, renumber), path, bad, journal, jobs, Options{noSurvey: true})
				tidy(t, dir, "swap.db*")
			}
		}
	}
}
