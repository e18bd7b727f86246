package store

// This file runs random calls against the store and against a plain map, and
// compares all that can be read. Every run ends with Verify.

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/store/fault"
	"garage/tundish/store/record"
	"garage/tundish/testdata/runs"
)

// oracle is a store in memory: what the real one must say.
type oracle struct {
	jobs  map[string]job.Job
	heads map[string]guide.Head
	draft map[string]Draft
	last  string
	away  map[string]job.Job // discarded
}

// machine runs both side by side.
type machine struct {
	path  string
	store *Store
	want  oracle
}

func TestAgainstOracle(t *testing.T) {
	t.Parallel()
	runs.Check(t, 20, func(rt *rapid.T) {
		dir, err := os.MkdirTemp(memoryDir(), "oracle")
		if err != nil {
			rt.Fatal(err)
		}
		defer os.RemoveAll(dir)
		m := &machine{path: filepath.Join(dir, "jobs.db"),
			want: oracle{map[string]job.Job{}, map[string]guide.Head{}, map[string]Draft{}, "", map[string]job.Job{}}}
		m.reopen(rt)
		rt.Repeat(map[string]func(*rapid.T){
			"": m.compareAll, "beside": m.beside, "create": m.create, "append": m.append, "import": m.merge,
			"draft": m.saveDraft, "discard": m.discard, "take back": m.takeBack, "purge": m.purge, "reopen": m.reopen, "backup": m.backup,
			"lose the journal": m.loseJournal,
		})
		m.close(rt)
		if r, err := Verify(m.path, nil); err != nil || !r.OK() {
			rt.Fatalf("verify: %v %v", r.Findings, err)
		}
	})
}

func (m *machine) close(t *rapid.T) {
	if m.store == nil {
		return
	}
	if err := m.store.Close(); err != nil {
		t.Fatal(err)
	}
}

func (m *machine) reopen(t *rapid.T) {
	m.close(t)
	var err error
	// Half of the time the store is opened as a large one is: not looked through.
	if m.store, err = Open(m.path, Options{noSync: true, noSurvey: rapid.Bool().Draw(t, "large")}); err != nil {
		t.Fatal(err)
	}
}

func (m *machine) loseJournal(t *rapid.T) {
	m.close(t)
	if err := os.Remove(m.path + journalSuffix); err != nil {
		t.Fatal(err)
	}
	m.store = nil
	m.reopen(t)
}

// anyJob draws a job that may be there: few ids, so that calls meet.
func anyJob(t *rapid.T) job.Job {
	return jobOf(rapid.IntRange(0, 6).Draw(t, "job"), rapid.IntRange(0, 6).Draw(t, "entries"))
}

func (m *machine) create(t *rapid.T) {
	job := anyJob(t)
	err := m.store.Create(job, headFor(job))
	if there := m.want.knows(job.ID); there {
		if !errors.Is(err, fault.ErrExists) {
			t.Fatalf("created twice: %v", err)
		}
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	m.accept(job)
}

func (m *machine) accept(job job.Job) {
	m.keep(job)
	m.want.last = job.ID
}

// keep is what happens to a job that comes in from a file: it is not the last
// one that was worked on.
func (m *machine) keep(job job.Job) {
	m.want.jobs[job.ID], m.want.heads[job.ID] = job, headFor(job)
	delete(m.want.draft, job.ID)
}

func (m *machine) append(t *rapid.T) {
	id := jobID(rapid.IntRange(0, 6).Draw(t, "job"))
	j, there := m.want.jobs[id]
	first := len(j.Entries) + 1 + rapid.SampledFrom([]int{0, 0, 0, 0, 1, -1}).Draw(t, "off")
	var more []job.Entry
	for range rapid.IntRange(1, 12).Draw(t, "count") {
		more = append(more, reading(rapid.IntRange(0, 40).Draw(t, "day"), first+len(more)))
	}
	grown := job.Job{ID: id, Started: j.Started, Entries: append(slices.Clone(j.Entries), more...)}
	err := m.store.Append(id, headFor(grown), more...)
	switch {
	case first < 1:
		if !errors.Is(err, fault.ErrInvalid) {
			t.Fatalf("entry 0: %v", err)
		}
	case m.want.knows(id) && !there:
		if !errors.Is(err, fault.ErrDiscarded) {
			t.Fatalf("appended to a discarded job: %v", err)
		}
	case !there:
		if !errors.Is(err, fault.ErrNoJob) {
			t.Fatalf("appended to nothing: %v", err)
		}
	case first != len(j.Entries)+1:
		if !errors.Is(err, fault.ErrOutOfOrder) {
			t.Fatalf("appended out of order: %v", err)
		}
	case err != nil:
		t.Fatal(err)
	default:
		m.accept(grown)
	}
}

// merge lets in a job that is new, or goes on where ours ends. Diverged ones
// have a test of their own.
func (m *machine) merge(t *rapid.T) {
	job := anyJob(t)
	if away, there := m.want.away[job.ID]; there {
		job.Entries = append(slices.Clone(away.Entries), reading(3, len(away.Entries)+1))[:rapid.IntRange(0, len(away.Entries)+1).Draw(t,
			"of it")]
		if done, err := importOne(m.store, job, headFor(job)); err != nil || done != (merged(Discarded, job.ID, 0)) {
			t.Fatalf("discarded: %+v, %v", done, err)
		}
		return
	}
	if ours, there := m.want.jobs[job.ID]; there {
		job.Entries = slices.Clone(ours.Entries)
		if cut := rapid.IntRange(0, len(job.Entries)).Draw(t, "cut"); rapid.Bool().Draw(t, "shorter") {
			job.Entries = job.Entries[:cut]
		} else {
			job.Entries = append(job.Entries, reading(cut, len(job.Entries)+1))
		}
	}
	done, err := importOne(m.store, job, headFor(job))
	if err != nil || done.ID != job.ID {
		t.Fatalf("%+v, %v", done, err)
	}
	ours, there := m.want.jobs[job.ID]
	want := merged(Added, job.ID, len(job.Entries))
	if there {
		want = merged(Unchanged, job.ID, 0)
		if more := len(job.Entries) - len(ours.Entries); more > 0 {
			want = merged(Extended, job.ID, more)
			want.WasOf = headFor(ours).UnitKey()
		}
	}
	if done != want {
		t.Fatalf("%+v; want %+v", done, want)
	}
	if done.Outcome != Unchanged {
		m.keep(job)
	}
}

func (m *machine) saveDraft(t *rapid.T) {
	id := jobID(rapid.IntRange(0, 6).Draw(t, "job"))
	d := Draft{Topic: job.Remark, Text: rapid.String().Draw(t, "text"), At: at(1, 1)}
	if len(d.Text) > job.MaxTextBytes {
		return
	}
	if err := m.store.SaveDraft(id, d); err != nil {
		t.Fatal(err)
	}
	if d.Text == "" {
		delete(m.want.draft, id)
		return
	}
	m.want.draft[id] = d
}

func (m *machine) backup(t *rapid.T) {
	if err := m.store.Backup(m.path+".bak", true, nil, nil); err != nil {
		t.Fatal(err)
	}
	if r, err := Verify(m.path+".bak", nil); err != nil || !r.OK() || r.Jobs != len(m.want.jobs)+len(m.want.away) ||
		r.Discarded != len(m.want.away) {
		t.Fatalf("backup: %+v, %v", r, err)
	}
}

// knows reports whether there is a job of an id, discarded or not.
func (o oracle) knows(id string) bool {
	_, there := o.jobs[id]
	_, away := o.away[id]
	return there || away
}

func (m *machine) discard(t *rapid.T) {
	id := jobID(rapid.IntRange(0, 6).Draw(t, "job"))
	err := m.store.Discard(id)
	j, there := m.want.jobs[id]
	switch {
	case !m.want.knows(id) && !errors.Is(err, fault.ErrNoJob), m.want.knows(id) && !there && !errors.Is(err, fault.ErrDiscarded), there &&
		err != nil:
		t.Fatalf("discard: %v", err)
	case there:
		m.want.away[id] = j
		delete(m.want.jobs, id)
		delete(m.want.heads, id)
	}
}

func (m *machine) takeBack(t *rapid.T) {
	id := jobID(rapid.IntRange(0, 6).Draw(t, "job"))
	err := m.store.TakeBack(id)
	j, away := m.want.away[id]
	if away != (err == nil) || !away && !errors.Is(err, fault.ErrNoJob) {
		t.Fatalf("take back: %v", err)
	}
	if away {
		m.want.jobs[id], m.want.heads[id] = j, headFor(j)
		delete(m.want.away, id)
	}
}

func (m *machine) purge(t *rapid.T) {
	var ids []string
	for id := range m.want.away {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	ids = ids[:rapid.IntRange(0, len(ids)).Draw(t, "purged")]
	m.close(t)
	m.store = nil
	if err := Purge(m.path, ids...); err != nil {
		t.Fatal(err)
	}
	for _, id := range ids {
		delete(m.want.away, id)
		delete(m.want.draft, id)
		if m.want.last == id {
			m.want.last = ""
		}
	}
	m.reopen(t)
	if did := m.store.Opening(); did != (Opening{}) {
		t.Fatalf("after a purge: %+v", did)
	}
}

// newestFirst is the ids of the jobs whose head is kept, as a list must give them.
func (o oracle) newestFirst(keep func(guide.Head) bool) (ids []string) {
	for id, h := range o.heads {
		if keep(h) {
			ids = append(ids, id)
		}
	}
	slices.SortFunc(ids, func(a, b string) int { return o.jobs[b].Started.Compare(o.jobs[a].Started) })
	return ids
}

// same reports whether a list is as wanted.
func (o oracle) same(t *rapid.T, what string, heads []guide.Head, want []string) {
	if len(heads) != len(want) {
		t.Fatalf("%s: %d heads; want %v", what, len(heads), want)
	}
	for i, h := range heads {
		if w := o.heads[want[i]]; h.ID != w.ID || !h.Updated.Equal(w.Updated) || h.Phase != w.Phase {
			t.Fatalf("%s: line %d is %+v; want %+v", what, i, h, w)
		}
	}
}

func (m *machine) compareAll(t *rapid.T) { m.compare(t, m.store) }

// beside reads it all from outside, while the store is open.
func (m *machine) beside(t *rapid.T) {
	s, err := Open(m.path, Options{ReadOnly: true})
	if err != nil || !s.Opening().Beside {
		t.Fatalf("beside: %v", err)
	}
	defer s.Close()
	m.compare(t, s)
}

// compare reads everything in every way.
func (m *machine) compare(t *rapid.T, s *Store) {
	m.want.same(t, "list", readAll(t, s, ListOptions{}), m.want.newestFirst(func(guide.Head) bool { return true }))
	m.want.same(t, "open", readAll(t, s, ListOptions{OnlyOpen: true}), m.want.newestFirst(record.Unfinished))
	m.compareUnits(t, s)
	for id := range 7 {
		job, err := s.Load(jobID(id))
		want, there := m.want.jobs[jobID(id)]
		missing := fault.ErrNoJob
		if m.want.knows(jobID(id)) {
			missing = fault.ErrDiscarded
		}
		if there != (err == nil) || !there && !errors.Is(err, missing) || there && !sameJob(job, want) {
			t.Fatalf("job %d: %+v, %v; want %+v", id, job, err, want)
		}
		d, found, err := s.LoadDraft(jobID(id))
		if wantD, there := m.want.draft[jobID(id)]; err != nil || found != there || d != wantD {
			t.Fatalf("draft %d: %+v, %v; want %+v", id, d, err, wantD)
		}
	}
	last := m.want.last
	if _, away := m.want.away[last]; away {
		last = ""
	}
	if id, err := s.Find(job.LastJob); id != last || (err == nil) != (id != "") {
		t.Fatalf("last: %q, %v; want %q", id, err, last)
	}
	away, err := s.Discarded()
	if err != nil || len(away) != len(m.want.away) {
		t.Fatalf("discarded: %v, %v; want %d", away, err, len(m.want.away))
	}
}

// compareUnits reads the lists of each unit, whole and in part.
func (m *machine) compareUnits(t *rapid.T, s *Store) {
	units, newest := map[string]bool{}, map[string]bool{}
	for _, h := range m.want.heads {
		units[h.UnitKey()] = true
	}
	before := at(rapid.IntRange(0, 7).Draw(t, "before"), 0)
	delete(units, "")
	for unit := range units {
		of := func(keep func(guide.Head) bool) []string {
			return m.want.newestFirst(func(h guide.Head) bool { return h.UnitKey() == unit && keep(h) })
		}
		all := of(func(guide.Head) bool { return true })
		newest[all[0]] = true
		m.want.same(t, "unit", readAll(t, s, ListOptions{Unit: unit, Limit: 2}), all)
		m.want.same(t, "unit, open", readAll(t, s, ListOptions{Unit: unit, OnlyOpen: true}), of(record.Unfinished))
		m.want.same(t, "unit, earlier", readAll(t, s, ListOptions{Unit: unit, Before: before, Limit: 1}),
			of(func(h guide.Head) bool { return h.Started.Before(before) }))
	}
	earlier := func(h guide.Head) bool { return h.Started.Before(before) }
	m.want.same(t, "earlier", readAll(t, s, ListOptions{Before: before}), m.want.newestFirst(earlier))
	m.want.same(t, "earlier, open", readAll(t, s, ListOptions{Before: before, OnlyOpen: true, Limit: 2}),
		m.want.newestFirst(func(h guide.Head) bool { return earlier(h) && record.Unfinished(h) }))
	heads, err := s.Units()
	if err != nil {
		t.Fatal(err)
	}
	m.want.same(t, "units", heads, m.want.newestFirst(func(h guide.Head) bool { return newest[h.ID] }))
}

// readAll reads a list, page by page where there is a limit.
func readAll(t *rapid.T, s *Store, o ListOptions) (all []guide.Head) {
	for {
		heads, next, err := s.List(o)
		if err != nil || o.Limit > 0 && len(heads) > o.Limit {
			t.Fatalf("%+v: %d heads, %v", o, len(heads), err)
		}
		if all, o.After = append(all, heads...), next; next == "" {
			return all
		}
	}
}
