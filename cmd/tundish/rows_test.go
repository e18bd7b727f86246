package main

// This file holds what lists show from what is kept of each unit to what its jobs give
// when they are folded anew.

import (
	"encoding/json"
	"errors"
	"io"
	"slices"
	"testing"
	"time"

	"go.etcd.io/bbolt"
	"pgregory.net/rapid"

	"garage/tundish/cmd/tundish/internal/about"
	"garage/tundish/cmd/tundish/internal/incoming"
	"garage/tundish/cmd/tundish/internal/rows"
	"garage/tundish/model/agenda"
	"garage/tundish/model/job"
	"garage/tundish/store"
	"garage/tundish/store/record"
	"garage/tundish/testdata/runs"
	"garage/tundish/tui/demo"
)

// garageOf is a store under test, and jobs of which some entries are in it.
type garageOf struct {
	storeJournal
	path  string
	whole []job.Job      // by number
	in    map[string]int // entries that are in the store, by id
	away  map[string]bool
}

// Whatever is done to the store, a row that is kept says what its jobs say, and there is
// one of every unit and of every job of no unit, or nothing that is kept counts.
func TestRowsKeptAreWhatJobsGive(t *testing.T) {
	var whole []job.Job
	for i, unit := range []string{"rear axle", "rear axle", "front axle", "rear axle", ""} {
		lines := wholeAnswers([]string{"van", "van", "van", "estate", "estate"}[i], unit)
		j, err := demo.Answered(job.Job{Started: noon}, lines, job.NoTopic)
		if err != nil {
			t.Fatal(err)
		}
		j.Started = noon.AddDate(0, i, 0)
		j.ID = job.NewID(j.Started, uint32(i))
		whole = append(whole, j)
	}
	runs.Check(t, 35, func(r *rapid.T) {
		g := garageOf{path: t.TempDir() + "/jobs.db", whole: whole, in: map[string]int{}, away: map[string]bool{}}
		g.open(r)
		defer func() { _ = g.Close() }()
		jobRows(g.Store).Begin()
		steps := map[string]func(*rapid.T){"go on": g.goOn, "import": g.takeIn,
			"cut off": g.cutOff, "rename": g.rename, "discard": g.discard,
			"remake": g.remake, "older program": g.older, "again": g.open}
		for range rapid.IntRange(1, 8).Draw(r, "steps") {
			steps[rapid.SampledFrom([]string{"go on", "go on", "import", "import", "cut off", "rename", "discard", "remake", "remake",
				"older program", "again"}).
				Draw(r, "step")](r)
			g.check(r)
		}
	})
}

func (g *garageOf) must(r *rapid.T, err error) {
	if err != nil {
		r.Fatal(err)
	}
}

func (g *garageOf) open(r *rapid.T) {
	if g.Store != nil {
		g.must(r, g.Close())
	}
	s, err := store.Open(g.path, store.Options{})
	g.must(r, err)
	g.storeJournal = storeJournal{s}
}

// any is a job that is not discarded.
func (g *garageOf) any(r *rapid.T) (j job.Job, in int, ok bool) {
	j = rapid.SampledFrom(g.whole).Draw(r, "job")
	return j, g.in[j.ID], !g.away[j.ID]
}

// goOn begins a job, or adds what comes next.
func (g *garageOf) goOn(r *rapid.T) {
	j, in, ok := g.any(r)
	if to := min(in+rapid.IntRange(1, 60).Draw(r, "entries"), len(j.Entries)); ok && to > in {
		part := job.Job{ID: j.ID, Started: j.Started, Entries: j.Entries[:to]}
		if in == 0 {
			g.must(r, g.Create(part, headOf(part)))
		} else {
			g.must(r, g.Append(j.ID, headOf(part), j.Entries[in:to]...))
		}
		g.in[j.ID] = to
	}
}

// takeIn imports jobs that were read together, in any order, whole or the beginnings of
// them, some twice.
func (g *garageOf) takeIn(r *rapid.T) {
	var files []incoming.Job
	var ids []string
	for range rapid.IntRange(1, 5).Draw(r, "files") {
		j, _, ok := g.any(r)
		if rapid.IntRange(0, 3).Draw(r, "part") == 0 {
			j.Entries = j.Entries[:rapid.IntRange(1, len(j.Entries)).Draw(r, "entries")]
		}
		if one, err := incoming.Take(j); ok {
			g.must(r, err)
			files, ids = append(files, one), append(ids, j.ID)
		}
	}
	units, err := incoming.New(jobRows(g.Store), files)
	g.must(r, err)
	err = (&importCommand{Files: ids}).letIn(&outside{out: io.Discard, err: io.Discard,
		getenv: func(string) string { return "" }}, g.Store, files, units)
	g.must(r, errors.Join(err, units.Close()))
	for _, id := range ids {
		j, err := g.Load(id)
		g.must(r, err)
		g.in[id] = max(g.in[id], len(j.Entries))
	}
}

// cutOff imports a job, and ends before its unit is seen to.
func (g *garageOf) cutOff(r *rapid.T) {
	if j, in, ok := g.any(r); ok && in < len(j.Entries) {
		_, err := g.ImportAll([]store.Incoming{{Job: j, Head: headOf(j)}})
		g.must(r, err)
		g.in[j.ID] = len(j.Entries)
	}
}

// rename corrects the name of a job's unit. It goes on no further.
func (g *garageOf) rename(r *rapid.T) {
	j, _, ok := g.any(r)
	now, err := g.Load(j.ID)
	at := slices.IndexFunc(now.Entries, func(e job.Entry) bool { return e.Topic == job.UnitName })
	if !ok || err != nil || at < 0 {
		return
	}
	e := job.Entry{Seq: len(now.Entries) + 1, At: now.Entries[len(now.Entries)-1].At, Topic: job.UnitName, Strikes: at + 1,
		Value: job.Value{Text: rapid.SampledFrom([]string{"front axle", "gearbox"}).Draw(r, "name")}}
	now.Entries = append(now.Entries, e)
	g.must(r, g.Append(j.ID, headOf(now), e))
	g.in[j.ID] = len(j.Entries)
}

func (g *garageOf) discard(r *rapid.T) {
	j, in, ok := g.any(r)
	switch {
	case in == 0:
	case ok:
		g.must(r, g.Discard(j.ID))
		g.away[j.ID] = true
	default:
		g.must(r, g.TakeBack(j.ID))
		delete(g.away, j.ID)
	}
}

// remake makes what is to be made.
func (g *garageOf) remake(r *rapid.T) {
	kept, fits, err := g.Made(about.FoldedBy())
	g.must(r, err)
	if !fits {
		g.must(r, g.BeginMade(about.FoldedBy()))
		if kept, fits, err = g.Made(about.FoldedBy()); err != nil || !fits {
			r.Fatal("begun, and it does not count", err)
		}
	}
	for _, k := range kept {
		if len(k.Row) == 0 {
			g.must(r, jobRows(g.Store).Remake([]rows.Key{{Unit: k.Unit, Job: k.Job}}))
		}
	}
	kept, _, err = g.Made(about.FoldedBy())
	g.must(r, err)
	if slices.ContainsFunc(kept, func(k store.Made) bool { return len(k.Row) == 0 }) {
		r.Fatal("a row is empty that was made")
	}
}

// older is what a program does that knows nothing of rows: the place in the journal is
// written without who made them.
func (g *garageOf) older(r *rapid.T) {
	g.must(r, g.Close())
	db, err := bbolt.Open(g.path, 0o600, nil)
	g.must(r, err)
	g.must(r, db.Update(func(tx *bbolt.Tx) error {
		b, key := tx.Bucket([]byte(record.About)), []byte("journal")
		text, err := record.Unseal(record.About, key, b.Get(key))
		if err != nil {
			return err
		}
		var mark map[string]any
		if err := json.Unmarshal(text, &mark); err != nil {
			return err
		}
		delete(mark, "made")
		if text, err = json.Marshal(mark); err != nil {
			return err
		}
		return b.Put(key, record.Seal(record.About, key, text))
	}))
	g.must(r, db.Close())
	g.Store = nil
	g.open(r)
	if _, fits, err := g.Made(about.FoldedBy()); err != nil || fits {
		r.Fatalf("what another program knew nothing of counts (%v)", err)
	}
}

// check folds all jobs anew.
func (g *garageOf) check(r *rapid.T) {
	heads, _, err := g.List(store.ListOptions{})
	g.must(r, err)
	kept, fits, err := g.Made(about.FoldedBy())
	g.must(r, err)
	if !fits {
		return
	}
	var anew, known []store.Made
	for _, h := range heads {
		of := rows.KeyOf(h)
		same := func(k store.Made) bool { return k.Unit == of.Unit && k.Job == of.Job }
		if at := slices.IndexFunc(kept, same); at < 0 {
			r.Fatalf("job %s: there is no row %+v", h.ID, of)
		} else if !slices.ContainsFunc(anew, same) {
			anew, known = append(anew, store.Made{Unit: of.Unit, Job: of.Job}), append(known, kept[at])
		}
	}
	all := jobRows(g.Store)
	want, err := all.Rows(anew)
	g.must(r, err)
	got, err := all.Rows(known)
	g.must(r, err)
	for of, row := range want {
		if a, b := asText(r, row), asText(r, got[of]); a != b {
			r.Fatalf("%+v is kept as\n%s\nand is\n%s", of, b, a)
		}
	}
	for _, h := range heads {
		of := rows.KeyOf(h)
		if now := want[of].Head(h); asText(r, now) != asText(r, got[of].Head(h)) {
			r.Fatalf("job %s is listed as %+v, and is %+v", h.ID, h, now)
		}
	}
	due := func(of map[rows.Key]rows.Row) []agenda.Item {
		units := rows.Units(of)
		return agenda.New(units, noon.AddDate(1, 0, 0).In(time.UTC)).All(units)
	}
	everything, err := all.Rows(kept)
	g.must(r, err)
	if a, b := due(want), due(everything); asText(r, a) != asText(r, b) {
		r.Fatalf("due by what is kept:\n%s\nby the jobs:\n%s", asText(r, b), asText(r, a))
	}
}

func asText(r *rapid.T, v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		r.Fatal(err)
	}
	return string(b)
}
