package store

// This file tests what each call promises, one table or one case at a time.

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/store/fault"
)

func TestDefaultPath(t *testing.T) {
	abs, err := filepath.Abs("data")
	must(t, err)
	for _, c := range []struct {
		name, store, xdg, home, want string
	}{
		{"the variable wins", "mine.db", abs, "/home/x", "mine.db"},
		{"then the data folder", "", abs, "/home/x", filepath.Join(abs, "tundish", "jobs.db")},
		{"a relative data folder is ignored (XDG Base Directory 0.8)", "", "data", "/home/x", filepath.Join("/home/x", ".local",
			"share", "tundish", "jobs.db")},
		{"then the home folder", "", "", "/home/x", filepath.Join("/home/x", ".local", "share", "tundish", "jobs.db")},
		{"no home is an error", "", "", "", ""},
	} {
		env := map[string]string{PathVariable: c.store, "XDG_DATA_HOME": c.xdg}
		got, err := DefaultPath(func(k string) string { return env[k] }, c.home)
		if got != c.want || (err != nil) != (c.want == "") {
			t.Errorf("%s: %q, %v; want %q", c.name, got, err, c.want)
		}
	}
}

func TestNewStoreIsPrivate(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a", "b", "jobs.db")
	s := open(t, path, Options{})
	createJob(t, s, jobOf(1, 3))
	must(t, s.Backup(path+".bak", false, nil, nil))
	for _, c := range []struct {
		name string
		mode os.FileMode
	}{
		{path, 0o600}, {path + journalSuffix, 0o600}, {path + ".bak", 0o600},
		{filepath.Dir(path), 0o700}, {filepath.Dir(filepath.Dir(path)), 0o700},
	} {
		info, err := os.Stat(c.name)
		must(t, err)
		if info.Mode().Perm() != c.mode {
			t.Errorf("%s has mode %v; want %v", c.name, info.Mode().Perm(), c.mode)
		}
	}
	left, err := filepath.Glob(filepath.Join(filepath.Dir(path), ".*"))
	must(t, err)
	if len(left) != 0 {
		t.Errorf("left over: %v", left)
	}
}

func TestAppend(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "jobs.db"), Options{})
	j := jobOf(1, 2)
	createJob(t, s, j)
	long := reading(1, 3)
	long.Typed = string(make([]byte, job.MaxTextBytes+1))
	for _, c := range []struct {
		name    string
		id      string
		entries []job.Entry
		want    error
	}{
		{"a gap", j.ID, []job.Entry{reading(1, 4)}, fault.ErrOutOfOrder},
		{"the last one again", j.ID, []job.Entry{reading(1, 2)}, fault.ErrOutOfOrder},
		{"none", j.ID, nil, fault.ErrInvalid},
		{"a gap inside", j.ID, []job.Entry{reading(1, 3), reading(1, 5)}, fault.ErrInvalid},
		{"too long a text", j.ID, []job.Entry{long}, fault.ErrInvalid},
		{"no such job", jobID(2), []job.Entry{reading(2, 1)}, fault.ErrNoJob},
		{"an id that is none", "../x", []job.Entry{reading(2, 1)}, fault.ErrInvalid},
		{"the next", j.ID, []job.Entry{reading(1, 3)}, nil},
		{"the next two", j.ID, []job.Entry{reading(1, 4), reading(1, 5)}, nil},
	} {
		before := s.journal.Mark
		head := headFor(jobOf(1, 5))
		head.ID = c.id
		if err := s.Append(c.id, head, c.entries...); !errors.Is(err, c.want) || (c.want == nil) != (err == nil) {
			t.Errorf("%s: %v; want %v", c.name, err, c.want)
		}
		if c.want != nil && s.journal.Mark != before {
			t.Errorf("%s: the journal took it", c.name)
		}
	}
	if got, err := s.Load(j.ID); err != nil || !sameJob(got, jobOf(1, 5)) {
		t.Errorf("%v, %v", got, err)
	}
}

func TestHeadMustBeStorable(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "jobs.db"), Options{})
	for name, spoil := range map[string]func(*guide.Head){
		"another job's":       func(h *guide.Head) { h.ID = jobID(9) },
		"a phase that is not": func(h *guide.Head) { h.Phase = 99 },
		"no finite odometer":  func(h *guide.Head) { h.DueKm = inf() },
		"too long a name":     func(h *guide.Head) { h.Vehicle, h.UnitName = string(make([]byte, 9000)), "x" },
	} {
		head := headFor(jobOf(1, 4))
		spoil(&head)
		if err := s.Create(jobOf(1, 4), head); !errors.Is(err, fault.ErrInvalid) {
			t.Errorf("%s: %v", name, err)
		}
	}
	head := headFor(jobOf(1, 4))
	head.Vehicle = "broken \xff text \x00 <&>"
	must(t, s.Create(jobOf(1, 4), head))
	if _, err := s.Units(); err != nil {
		t.Error(err)
	}
	if err := s.Create(jobOf(1, 4), headFor(jobOf(1, 4))); !errors.Is(err, fault.ErrExists) {
		t.Errorf("twice: %v", err)
	}
}

func TestDraftGoesWithItsEntry(t *testing.T) {
	path := filepath.Join(t.TempDir(), "jobs.db")
	s := open(t, path, Options{})
	j := jobOf(1, 1)
	createJob(t, s, j)
	draft := Draft{Topic: job.DrainedAmount, Round: 1, Item: 2, Text: "83", At: at(1, 9)}
	must(t, s.SaveDraft(j.ID, draft))
	closeNow(t, s)
	s = open(t, path, Options{})
	if got, found, err := s.LoadDraft(j.ID); err != nil || !found || got != draft {
		t.Errorf("%+v, %v, %v", got, found, err)
	}
	must(t, s.Append(j.ID, headFor(jobOf(1, 2)), reading(1, 2)))
	if _, found, err := s.LoadDraft(j.ID); err != nil || found {
		t.Errorf("the draft is still there: %v", err)
	}
	must(t, s.SaveDraft(j.ID, draft))
	must(t, s.SaveDraft(j.ID, Draft{Topic: draft.Topic}))
	if _, found, err := s.LoadDraft(j.ID); err != nil || found {
		t.Errorf("the draft is still there: %v", err)
	}
	if err := s.SaveDraft(j.ID, Draft{Topic: draft.Topic, Text: string(make([]byte, 3000))}); !errors.Is(err, fault.ErrInvalid) {
		t.Errorf("too long: %v", err)
	}
}

func TestFind(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "jobs.db"), Options{})
	if _, err := s.Find(job.LastJob); !errors.Is(err, fault.ErrNoJob) {
		t.Errorf("last of none: %v", err)
	}
	ids := []string{"20260401-aaaaaa", "20260401-aaaaaa~2", "20260401-ab0000", "20260502-cccccc"}
	for _, id := range ids {
		job := jobOf(1, 1)
		job.ID = id
		createJob(t, s, job)
	}
	j := jobOf(1, 2)
	j.ID = ids[1]
	must(t, s.Append(ids[1], headFor(j), reading(1, 2)))
	for _, c := range []struct {
		given, want string
		err         error
	}{
		{"20260401-aaaaaa", ids[0], nil},
		{"20260401-aaaaaa~", ids[1], nil},
		{"202605", ids[3], nil},
		{job.LastJob, ids[1], nil},
		{"20260401", "", fault.ErrAmbiguous},
		{"", "", fault.ErrNoJob},
		{"2027", "", fault.ErrNoJob},
		{"20260502-cccccc-and-more", "", fault.ErrNoJob},
		{"\x00\xff", "", fault.ErrNoJob},
	} {
		got, err := s.Find(c.given)
		if got != c.want || !errors.Is(err, c.err) || (err == nil) != (c.err == nil) {
			t.Errorf("%q: %q, %v; want %q, %v", c.given, got, err, c.want, c.err)
		}
	}
}

func TestListGoesOnWhereItStopped(t *testing.T) {
	path, jobs := storeWith(t, 1, 3, 6, 2, 9, 4, 4)
	s := open(t, path, Options{})
	slices.Reverse(jobs)
	var ids []string
	for after, pages := Cursor(""), 0; ; pages++ {
		heads, next, err := s.List(ListOptions{Limit: 3, After: after})
		must(t, err)
		for _, h := range heads {
			ids = append(ids, h.ID)
		}
		if after = next; next == "" {
			break
		}
	}
	for i, job := range jobs {
		if i >= len(ids) || ids[i] != job.ID {
			t.Fatalf("listed %v", ids)
		}
	}
	if heads, next, err := s.List(ListOptions{Limit: len(jobs)}); err != nil || len(heads) != len(jobs) || next != "" {
		t.Errorf("a full page says there is more: %d, %q, %v", len(heads), next, err)
	}
}

func TestClosedStoreSaysSo(t *testing.T) {
	path, jobs := storeWith(t, 2)
	s := open(t, path, Options{})
	closeNow(t, s)
	_, _, listErr := s.List(ListOptions{})
	_, loadErr := s.Load(jobs[0].ID)
	_, importErr := importOne(s, jobOf(5, 1), headFor(jobOf(5, 1)))
	for name, err := range map[string]error{
		"list": listErr, "load": loadErr, "import": importErr,
		"append": s.Append(jobs[0].ID, headFor(jobs[0]), reading(0, 3)),
		"draft":  s.SaveDraft(jobs[0].ID, Draft{Topic: job.Remark, Text: "x"}),
		"backup": s.Backup(path+".bak", false, nil, nil),
	} {
		if !errors.Is(err, fault.ErrClosed) {
			t.Errorf("%s: %v", name, err)
		}
	}
	must(t, s.Close())
}

func TestReadOnly(t *testing.T) {
	path, jobs := storeWith(t, 2, 5)
	before := read(t, path)
	s := open(t, path, Options{ReadOnly: true})
	again := open(t, path, Options{ReadOnly: true}) // readers share
	for _, reader := range []*Store{s, again} {
		if got, err := reader.Load(jobs[1].ID); err != nil || !sameJob(got, jobs[1]) {
			t.Errorf("%v, %v", got, err)
		}
		if err := reader.Append(jobs[0].ID, headFor(jobs[0]), reading(0, 3)); !errors.Is(err, fault.ErrReadOnly) {
			t.Errorf("append: %v", err)
		}
	}
	must(t, s.Backup(path+".bak", false, nil, nil))
	if string(read(t, path)) != string(before) {
		t.Error("the file was changed")
	}
}

func TestManyAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "jobs.db")
	s := open(t, path, Options{noSync: true})
	const workers, entries = 4, 40
	failed := make(chan error, workers)
	for w := range workers {
		go func() {
			job := jobOf(w, 0)
			err := s.Create(job, headFor(job))
			for seq := 1; seq <= entries && err == nil; seq++ {
				job.Entries = append(job.Entries, reading(w, seq))
				err = s.Append(job.ID, headFor(job), reading(w, seq))
				if _, _, listErr := s.List(ListOptions{Limit: 2}); err == nil {
					err = listErr
				}
			}
			failed <- err
		}()
	}
	for range workers {
		must(t, <-failed)
	}
	for w := range workers {
		if got, err := s.Load(jobID(w)); err != nil || !sameJob(got, jobOf(w, entries)) {
			t.Errorf("job %d: %v, %v", w, got, err)
		}
	}
}

// TestReindex replaces heads: the lists go by the new ones, entries and journal stay.
// All or none: a head of a job as it is not is refused.
func TestReindex(t *testing.T) {
	path, jobs := storeWith(t, 2, 3)
	s := open(t, path, Options{})
	lines := verify(t, path).Lines
	was, _, err := s.List(ListOptions{})
	must(t, err)
	done, opened := was[1], was[0]
	done.Phase, done.UnitName, opened.Phase, opened.Odds = guide.Done, "Gearbox", guide.Open, 93
	late := opened
	late.Entries++
	absent := opened
	absent.ID = jobID(9)
	for _, wrong := range []guide.Head{late, absent} {
		if err := s.KeepMade("", madeOf(done, wrong)); !errors.Is(err, fault.ErrInvalid) && !errors.Is(err, fault.ErrNoJob) {
			t.Errorf("a head of %s with %d entries: %v", wrong.ID, wrong.Entries, err)
		}
		if heads, _, err := s.List(ListOptions{}); err != nil || !reflect.DeepEqual(heads, was) {
			t.Errorf("%+v, %v after a refusal, want %+v", heads, err, was)
		}
	}
	must(t, s.KeepMade("", madeOf(done, opened)))
	for name, o := range map[string]ListOptions{"open": {OnlyOpen: true}, "all": {Limit: 1}} {
		if heads, _, err := s.List(o); err != nil || !reflect.DeepEqual(heads, []guide.Head{opened}) {
			t.Errorf("%s: %+v, %v", name, heads, err)
		}
	}
	if heads, _, err := s.List(ListOptions{Unit: done.UnitKey()}); err != nil || !reflect.DeepEqual(heads, []guide.Head{done}) {
		t.Errorf("of the unit: %+v, %v", heads, err)
	}
	for _, want := range jobs {
		if got, err := s.Load(want.ID); err != nil || !sameJob(got, want) {
			t.Errorf("%+v, %v, want %+v", got, err, want)
		}
	}
	if after := verify(t, path); !after.OK() || after.Lines != lines {
		t.Errorf("%+v, want %d lines", after, lines)
	}
}

// A copy holds the cards that it is given, to the byte, and no others; one that is given
// none knows of none.
func TestBackupHoldsCards(t *testing.T) {
	stored, _ := storeWith(t, 3)
	s, path := open(t, stored, Options{}), filepath.Join(t.TempDir(), "copy.db")
	defer closeNow(t, s)
	cardsOf := func(file string) map[string][]byte {
		t.Helper()
		copied, err := Open(file, Options{ReadOnly: true})
		must(t, err)
		defer copied.Close()
		cards, err := copied.Cards()
		must(t, err)
		return cards
	}
	must(t, s.Backup(path, false, nil, nil))
	if cards := cardsOf(path); cards != nil {
		t.Errorf("a plain copy has %d cards", len(cards))
	}
	for _, want := range []map[string][]byte{
		{"card-a.json": []byte("{}\n"), "card-b.json": []byte("[]")},
		{"card-c.json": append(bytes.Repeat([]byte(" "), 60000), '0', '\n')},
		{},
	} {
		must(t, s.Backup(path, true, want, nil))
		if got := cardsOf(path); !reflect.DeepEqual(got, want) {
			t.Errorf("%d cards come back, want %d", len(got), len(want))
		}
		r, err := Verify(path, nil)
		must(t, err)
		must(t, r.Err())
	}
	if err := s.Backup(path, true, map[string][]byte{"card-a.json": []byte("{")}, nil); err == nil {
		t.Error("what is no JSON is copied")
	}
	must(t, s.Backup(path, true, map[string][]byte{"../card-a.json": []byte("{}")}, nil))
	copied, err := Open(path, Options{ReadOnly: true})
	must(t, err)
	defer copied.Close()
	if _, err := copied.Cards(); !errors.Is(err, fault.ErrDamaged) {
		t.Errorf("a card with the name of a folder: %v", err)
	}
}
