package main

// This file checks what the screens are told of a unit's earlier jobs, and
// measures it.

import (
	"strconv"
	"testing"

	"garage/tundish/model/job"
	"garage/tundish/model/share"
	"garage/tundish/store"
	"garage/tundish/testdata/runs"
	"garage/tundish/tui/demo"
)

// keepMany puts a whole job of one unit into the store so many times, ten days
// and 500 km apart; the newest begins at noon.
func keepMany(tb testing.TB, j storeJournal, count int) {
	tb.Helper()
	kept, err := demo.Answered(job.Job{ID: "x", Started: noon}, wholeAnswers("van", "rear axle"), job.NoTopic)
	if err != nil {
		tb.Fatal(err)
	}
	for i := range count {
		started := noon.AddDate(0, 0, -10*i)
		one := job.Job{ID: job.NewID(started, uint32(i)), Started: started}
		for _, e := range kept.Entries {
			e.At = started.Add(e.At.Sub(noon))
			if e.Topic == job.Odometer {
				e.Value = job.Value{Number: 1e6 - 500*float64(i), Unit: job.DimKm}
			}
			one.Entries = append(one.Entries, e)
		}
		if err := j.Store.Create(one, headOf(one)); err != nil {
			tb.Fatal(err)
		}
	}
}

// The demo's job leaves 878 ml of waste oil: 826 came out, at 20 °C, and 50
// escaped. All of it counts, however old, of whatever unit; what somebody else
// shared does not, nor what was handed in.
func TestHistoryCountsTheWasteOilOfAllJobs(t *testing.T) {
	j := openJournal(t)
	count := runs.Of(30, 205)
	keepMany(t, j, count)
	oldest := keep(t, j, noon.AddDate(-20, 0, 0), "estate", "gearbox", job.NoTopic)
	handed := wholeAnswers("estate", "gearbox")
	handed[job.WasteHandedIn] = []string{"the depot"}
	keepAs(t, j, noon.AddDate(-21, 0, 0), handed, job.NoTopic)
	theirs := share.Job(oldest)
	if err := j.Create(theirs, headOf(theirs)); err != nil {
		t.Fatal(err)
	}
	d, err := j.History(named(noon, "van", "rear axle"))
	if err != nil {
		t.Fatal(err)
	}
	if d.Waste.ML != float64(count+1)*878 || d.Waste.Since.Year() != 2006 {
		t.Errorf("%v ml since %v, want %d times 878 ml since 2006", d.Waste.ML, d.Waste.Since, count+1)
	}
	if len(d.Points) != count {
		t.Errorf("%d jobs of the unit", len(d.Points))
	}
}

// What somebody else shared is not gone on with, is no unit to begin a job of,
// and brings nothing to an own job.
func TestSharedJobsOfOthersAreOnlyForReading(t *testing.T) {
	j := openJournal(t)
	elsewhere := openJournal(t)
	for _, stop := range []job.Topic{job.PlanAccepted, job.NoTopic} {
		theirs := share.Job(keep(t, elsewhere, noon.AddDate(-1, 0, int(stop)), "van", "rear axle", stop))
		if err := j.Create(theirs, headOf(theirs)); err != nil {
			t.Fatal(err)
		}
	}
	unfinished, err1 := j.Unfinished()
	units, err2 := j.Units()
	offers, err3 := j.Offers(named(noon, "estate", "gearbox"))
	if err1 != nil || err2 != nil || err3 != nil {
		t.Fatal(err1, err2, err3)
	}
	if len(unfinished) != 0 || len(units) != 0 || len(offers.Answers) != 0 || offers.Before != nil {
		t.Errorf("unfinished %v, units %v, offers %+v; want none", unfinished, units, offers)
	}
}

// The history of a unit must take time in proportion to its jobs, not to their
// square:
//
//	go test ./cmd/tundish -run '^$' -bench HistoryOfAUnit
func BenchmarkHistoryOfAUnit(b *testing.B) {
	for _, count := range []int{100, 1000} {
		b.Run(strconv.Itoa(count), func(b *testing.B) {
			s, err := store.Open(b.TempDir()+"/jobs.db", store.Options{})
			if err != nil {
				b.Fatal(err)
			}
			defer s.Close()
			j := storeJournal{s}
			keepMany(b, j, count)
			for b.Loop() {
				if _, err := j.History(named(noon, "van", "rear axle")); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A job that is not stored yet, of a unit without a name, has a history: itself.
func TestHistoryOfAJobJustBegun(t *testing.T) {
	d, err := openJournal(t).History(job.Job{ID: "x", Started: noon})
	if err != nil || len(d.Points) != 1 {
		t.Errorf("%d jobs, %v; want the one", len(d.Points), err)
	}
}
