package main

// This file checks that every job is folded after its unit's earlier jobs, and that
// the lists say the same whatever the order in which jobs came into the store.

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/agenda"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/report"
	"garage/tundish/model/share"
	"garage/tundish/model/verdict"
	"garage/tundish/store"
)

// yearsOf puts into the store: a whole job of the unit a year, with one at which
// nothing was done, one that is kept twice, one of another unit and one that
// somebody shared in between. It returns the whole ones, oldest first.
func yearsOf(t *testing.T, j storeJournal) (whole []job.Job) {
	t.Helper()
	year := func(n int) time.Time { return noon.AddDate(n, 0, 0) }
	whole = append(whole, keep(t, j, year(-5), "van", "rear axle", job.NoTopic))
	keep(t, j, year(-4), "van", "rear axle", job.AtHand)
	whole = append(whole, keep(t, j, year(-3), "van", "rear axle", job.NoTopic))
	twice := whole[1]
	twice.ID, twice.Entries = twice.ID+"~2", slices.Clone(twice.Entries)
	last := &twice.Entries[len(twice.Entries)-1]
	last.At = last.At.Add(time.Minute)
	theirs := share.Job(twice)
	for _, job := range []job.Job{twice, theirs} {
		if err := j.Create(job, headOf(job)); err != nil {
			t.Fatal(err)
		}
	}
	keep(t, j, year(-2), "van", "front axle", job.NoTopic)
	return append(whole, keep(t, j, year(-1), "VAN", " Rear  axle", job.NoTopic), keep(t, j, noon, "van", "rear axle", job.LeakCheck))
}

// chainOf names a job and those before it, newest first.
func chainOf(s *guide.Guide) (ids []string) {
	for ; s != nil; s = s.Before() {
		ids = append(ids, s.ID)
	}
	return ids
}

// A job at which nothing was done is before none, of one that is kept twice the
// first is before later ones, and neither of the two before the other.
func TestEveryJobIsFoldedAfterItsUnitsEarlierOnes(t *testing.T) {
	j := openJournal(t)
	whole := yearsOf(t, j)
	ids := func(jobs ...job.Job) (ids []string) {
		for _, job := range slices.Backward(jobs) {
			ids = append(ids, job.ID)
		}
		return ids
	}
	want := map[string][]string{whole[0].ID: ids(whole[0]), whole[1].ID: ids(whole[:2]...), whole[2].ID: ids(whole[:3]...),
		whole[3].ID: ids(whole...), whole[1].ID + "~2": {whole[1].ID + "~2", whole[0].ID}}
	heads, _, err := j.List(store.ListOptions{})
	if err != nil || len(heads) != 8 {
		t.Fatalf("%d jobs, %v", len(heads), err)
	}
	each := make([]*guide.Guide, len(heads))
	if err := j.each(heads, nil, func(i int, s *guide.Guide) { each[i] = s }); err != nil {
		t.Fatal(err)
	}
	for i, h := range heads {
		s, err := j.state(h.ID)
		if err != nil {
			t.Fatal(err)
		}
		expected := want[h.ID]
		if expected == nil { // as it was found, of another unit, shared
			expected = chainOf(s)
			if len(expected) > 2 || h.UnitState != verdict.AsFound && len(expected) != 1 {
				t.Errorf("job %s comes after %v", h.ID, expected[1:])
			}
		}
		if got := chainOf(s); !slices.Equal(got, expected) {
			t.Errorf("job %s: %v, want %v", h.ID, got, expected)
		}
		if got := chainOf(each[i]); !slices.Equal(got, expected) {
			t.Errorf("job %s of the list: %v, want %v", h.ID, got, expected)
		}
	}
	unit, err := j.unitJobs(whole[0])
	if err != nil || len(unit) != 6 || !slices.Equal(chainOf(unit[0]), ids(whole...)) {
		t.Errorf("%d jobs of the unit, the newest %v, %v", len(unit), chainOf(unit[0]), err)
	}
	for _, n := range []int{0, 1} { // resumed, and begun after it
		offers, err := j.Offers(named(noon.AddDate(n, 0, 0), "van", "rear axle"))
		if err != nil || !slices.Equal(chainOf(offers.Before), ids(whole[:3+n]...)) {
			t.Errorf("a job of year %d comes after %v, %v", n, chainOf(offers.Before), err)
		}
	}
}

// A head rests on the jobs before it. Where one of those goes on, or turns out to be
// of another unit, it is made again; the lists show it as it is in any case.
func TestHeadsOfLaterJobsAreMadeAgain(t *testing.T) {
	j := openJournal(t)
	first := keep(t, j, noon.AddDate(-1, 0, 0), "van", "rear axle", job.LeakCheck)
	later := keep(t, j, noon, "van", "rear axle", job.NoTopic)
	folded := func() guide.Head {
		s, err := j.fold(later)
		if err != nil {
			t.Fatal(err)
		}
		return s.Head()
	}
	right := folded()
	wrong := right
	wrong.Odds, wrong.Phase = 7, guide.Open
	stored := func() guide.Head {
		heads, _, err := j.List(store.ListOptions{Unit: right.UnitKey(), Limit: 1})
		if err != nil || len(heads) != 1 {
			t.Fatal(heads, err)
		}
		return heads[0]
	}
	spoil := func() {
		if err := j.KeepMade("", store.Made{Heads: []guide.Head{wrong}}); err != nil {
			t.Fatal(err)
		}
	}
	spoil()
	if open, err := j.Unfinished(); err != nil || !slices.ContainsFunc(open, func(h guide.Head) bool { return h.Odds == right.Odds }) {
		t.Errorf("unfinished: %+v, %v", open, err)
	}
	if h := stored(); h.Odds != wrong.Odds {
		t.Fatalf("the head was not spoilt: %+v", h)
	}
	goOn := func(e job.Entry) {
		t.Helper()
		e.Seq, e.At = len(first.Entries)+1, first.Entries[len(first.Entries)-1].At.Add(time.Minute)
		first.Entries = append(first.Entries, e)
		if err := j.Append(first.ID, headOf(first), e); err != nil {
			t.Fatal(err)
		}
		right = folded()
		if h := stored(); h.Odds != right.Odds || h.Phase != right.Phase {
			t.Errorf("after %v: %+v, want odds %d, %v", e.Topic, h, right.Odds, right.Phase)
		}
	}
	goOn(job.Entry{Topic: job.LeakCheck, Value: job.Value{Choice: job.CheckDry}})
	spoil()
	unitName := slices.IndexFunc(first.Entries, func(e job.Entry) bool { return e.Topic == job.UnitName })
	goOn(job.Entry{Topic: job.UnitName, Value: job.Value{Text: "gearbox"}, Strikes: first.Entries[unitName].Seq})
	if s, err := j.state(later.ID); err != nil || s.Before() != nil {
		t.Errorf("still after %v, %v", chainOf(s), err)
	}
}

// Whatever the order in which the files come in, and in a store that was repaired,
// the list is the same.
func TestTheListIsTheSameInAnyOrderOfImport(t *testing.T) {
	o := inFolder(t)
	var out bytes.Buffer
	o.out, o.err, o.now = &out, &bytes.Buffer{}, time.Now
	j := openJournal(t)
	yearsOf(t, j)
	heads, _, err := j.List(store.ListOptions{})
	if err != nil {
		t.Fatal(err)
	}
	var files []string
	for _, h := range heads {
		text, err := summaryOf(j, h.ID, report.JSON, report.Options{})
		if err == nil {
			err = os.WriteFile(h.ID+".json", text, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, h.ID+".json")
	}
	lists := map[string][]string{}
	for name, order := range map[string][]string{"newest first": files, "oldest first": slices.Sorted(slices.Values(files))} {
		o.storeFlag = filepath.Join(t.TempDir(), "jobs.db")
		if err := (&importCommand{Files: order}).Run(o); err != nil {
			t.Fatal(err)
		}
		lists[name] = listOf(t, o, &out)
		repaired := filepath.Join(t.TempDir(), "again.db")
		if err := (&repairCommand{Into: repaired}).Run(o); err != nil {
			t.Fatal(err)
		}
		o.storeFlag = repaired
		lists[name+", repaired"] = listOf(t, o, &out)
	}
	want := lists["oldest first"]
	for name, list := range lists {
		if !slices.Equal(list, want) || len(list) != len(files) {
			t.Errorf("%s:\n%s\nwant\n%s", name, strings.Join(list, "\n"), strings.Join(want, "\n"))
		}
	}
}

// listOf is what jobs --json prints, a line a job, and must be what the store keeps.
func listOf(t *testing.T, o *outside, out *bytes.Buffer) (lines []string) {
	t.Helper()
	out.Reset()
	if err := (&jobsCommand{jsonFlag: jsonFlag{JSON: true}}).Run(o); err != nil {
		t.Fatal(err)
	}
	var list []guide.Head
	if err := json.Unmarshal(out.Bytes(), &list); err != nil {
		t.Fatal(err)
	}
	s, err := o.readStore()
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	kept, _, err := s.List(store.ListOptions{})
	if err != nil || len(kept) != len(list) {
		t.Fatal(len(kept), err)
	}
	for i, h := range list {
		if kept[i].Odds != h.Odds || kept[i].Phase != h.Phase || kept[i].UnitState != h.UnitState {
			t.Errorf("kept %+v, shown %+v", kept[i], h)
		}
		lines = append(lines, h.ID+" "+agenda.StateOf(h))
	}
	return lines
}

// A shared record is made of the earlier jobs too, and names of them nothing either.
func TestSharedSummaryNamesNothingOfEarlierJobs(t *testing.T) {
	j := openJournal(t)
	answers := func() map[job.Topic][]string {
		lines := wholeAnswers("van", "rear axle")
		maps.Copy(lines, map[job.Topic][]string{job.ContainerName: {"Xyzzy's jug"}})
		return lines
	}
	keepAs(t, j, noon.AddDate(-1, 0, 0), answers(), job.NoTopic)
	keepAs(t, j, noon, answers(), job.NoTopic)
	heads, _, err := j.List(store.ListOptions{Limit: 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []report.Format{report.Markdown, report.HTML, report.Text, report.JSON, report.CSV} {
		text, err := summaryOf(j, heads[0].ID, f, report.Options{Share: true})
		if err != nil || bytes.Contains(text, []byte("Xyzzy")) {
			t.Errorf("%v: %v, or a name in it", f, err)
		}
	}
}
