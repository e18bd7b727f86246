package main

// This file discards a job that later ones of its unit rest on, and one that another
// window has open.

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"garage/tundish/model/agenda"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/store"
)

// Later jobs of the unit are folded without a discarded one, in every list and at the
// guide's next job, and with it again once it is back. What it changes is said before.
func TestLaterJobsGoOnWithoutADiscardedOne(t *testing.T) {
	var first, second job.Job
	path := storeOf(t, func(j storeJournal) {
		first = keep(t, j, noon.AddDate(-2, 0, 0), "van", "rear axle", job.NoTopic)
		second = keep(t, j, noon.AddDate(-1, 0, 0), "van", "rear axle", job.NoTopic)
		keep(t, j, noon.AddDate(-1, 1, 0), "van", "front axle", job.NoTopic)
	})
	chain := func() (ids []string, stored, folded guide.Head) {
		t.Helper()
		s, err := store.Open(path, store.Options{})
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		j := storeJournal{s}
		offers, err := j.Offers(named(noon, "van", "rear axle"))
		if err != nil {
			t.Fatal(err)
		}
		g, err := j.state(second.ID)
		if err != nil {
			t.Fatal(err)
		}
		heads, _, err := j.List(store.ListOptions{Unit: g.Head().UnitKey(), Limit: 1})
		if err != nil || len(heads) != 1 {
			t.Fatal(heads, err)
		}
		return chainOf(offers.Before), heads[0], g.Head()
	}
	with, _, before := chain()
	code, stdout, stderr := runHere(t, nil, "discard", first.ID, "--yes", "--json", "--store", path)
	var done discardDone
	if err := json.Unmarshal([]byte(stdout), &done); code != exitDone || err != nil {
		t.Fatalf("%d, %s%s, %v", code, stdout, stderr, err)
	}
	without, stored, after := chain()
	if !slices.Equal(with, []string{second.ID, first.ID}) || !slices.Equal(without, []string{second.ID}) {
		t.Errorf("the unit's next job comes after %v, then after %v", with, without)
	}
	want := laterJob{second.ID, agenda.StateOf(before), agenda.StateOf(after)}
	if !slices.Equal(done.Later, []laterJob{want}) {
		t.Errorf("said of later jobs: %+v, want %+v", done.Later, want)
	}
	if stored.Odds != after.Odds || before.Odds == after.Odds {
		t.Errorf("odds with it %d, without it %d, in the list %d", before.Odds, after.Odds, stored.Odds)
	}
	if code, _, stderr = runHere(t, nil, "discard", "--undo", first.ID, "--store", path); code != exitDone {
		t.Fatal(stderr)
	}
	if again, stored, _ := chain(); !slices.Equal(again, with) || stored.Odds != before.Odds {
		t.Errorf("taken back: after %v, odds %d in the list, want %v, %d", again, stored.Odds, with, before.Odds)
	}
}

// The newest job says how the unit stands; an older one does not.
func TestDiscardingWarnsOfAUnitThatStandsOpen(t *testing.T) {
	var done, open job.Job
	path := storeOf(t, func(j storeJournal) {
		done = keep(t, j, noon.AddDate(-1, 0, 0), "van", "rear axle", job.NoTopic)
		open = keep(t, j, noon, "van", "rear axle", job.LoadedAmount)
	})
	for id, want := range map[string]bool{done.ID: false, open.ID: true} {
		code, stdout, stderr := runHere(t, nil, "discard", id, "--store", path)
		if warned := strings.Contains(stdout, "warning: the unit stands EMPTY by this job"); code != exitFailed || warned != want {
			t.Errorf("%s: %d, %s%s", id, code, stdout, stderr)
		}
	}
}

func TestNoJobIsDiscardedThatAnotherWindowHasOpen(t *testing.T) {
	var kept job.Job
	path := storeOf(t, func(j storeJournal) { kept = keep(t, j, noon, "van", "rear axle", job.AtHand) })
	s, err := store.Open(path, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"discard", kept.ID, "--yes"}, {"purge", "--yes"}} {
		code, stdout, stderr := runHere(t, nil, append(args, "--store", path)...)
		if args[0] == "purge" { // nothing is discarded, and to see that needs no lock
			if code != exitDone || !strings.HasPrefix(stdout, "nothing is discarded") {
				t.Errorf("%v: %d, %s%s", args, code, stdout, stderr)
			}
		} else if code != exitFailed || !strings.Contains(stderr, "another window has it open; close that window") {
			t.Errorf("%v: %d, %s%s", args, code, stdout, stderr)
		}
	}
	if err := s.Discard(kept.ID); err != nil {
		t.Fatal(err)
	}
	code, _, stderr := runHere(t, nil, "purge", "--yes", "--store", path)
	if code != exitFailed || !strings.Contains(stderr, "another window has it open; close that window") {
		t.Errorf("purge: %d, %s", code, stderr)
	}
	if err := s.TakeBack(kept.ID); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}
