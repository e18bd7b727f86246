package main

// This file checks what one job brings to the next, and drafts.

import (
	"fmt"
	"maps"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/share"
	"garage/tundish/model/verdict"
	"garage/tundish/store"
	"garage/tundish/tui/demo"
	"garage/tundish/tui/session"
)

var noon = time.Date(2026, 4, 18, 12, 0, 0, 0, time.UTC)

// wholeAnswers finish the job of the demo: 830 ml came out, 990 were poured
// in and 40 left, 50 spilled. Invented figures.
func wholeAnswers(vehicle, unit string) map[job.Topic][]string {
	lines := demo.Answers()
	maps.Copy(lines, map[job.Topic][]string{
		job.Vehicle: {vehicle}, job.UnitName: {unit},
		job.DrainedAmount: {"838@40C"}, job.LoadedAmount: {"990"}, job.LeftInVessel: {"40"},
		job.EscapedAtCap: {"0"}, job.EscapedAmount: {"50"}, job.LeakCheck: {"1"}, job.WasherRecheck: {"1"},
		job.LoadedTemperature: {"20"},
	})
	return lines
}

// keep puts a job into the store: started on a day, of a unit, up to a topic.
func keep(t *testing.T, j storeJournal, started time.Time, vehicle, unit string, stop job.Topic) job.Job {
	t.Helper()
	return keepAs(t, j, started, wholeAnswers(vehicle, unit), stop)
}

// keepAs puts a job with other answers into the store.
func keepAs(t *testing.T, j storeJournal, started time.Time, lines map[job.Topic][]string, stop job.Topic) job.Job {
	t.Helper()
	job, err := demo.Answered(job.Job{ID: job.NewID(started, uint32(started.Unix())), Started: started}, lines, stop)
	if err != nil {
		t.Fatal(err)
	}
	if err := j.Create(job, headOf(job)); err != nil {
		t.Fatal(err)
	}
	return job
}

func openJournal(t testing.TB) storeJournal {
	t.Helper()
	s, err := store.Open(filepath.Join(t.TempDir(), "jobs.db"), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return storeJournal{s}
}

// named is a new job that knows its unit, as the screens begin one.
func named(started time.Time, vehicle, unit string) job.Job {
	return job.Job{ID: "new", Started: started, Entries: []job.Entry{
		{Seq: 1, At: started, Topic: job.Vehicle, Value: job.Value{Text: vehicle}},
		{Seq: 2, At: started, Topic: job.UnitName, Value: job.Value{Text: unit}},
	}}
}

func TestOffersComeFromTheNewestEarlierJobOfTheUnit(t *testing.T) {
	j := openJournal(t)
	year := func(n int) time.Time { return noon.AddDate(n, 0, 0) }
	keep(t, j, year(-3), "van", "rear axle", job.AtHand)
	last := keep(t, j, year(-2), "van", "rear axle", job.NoTopic)
	keep(t, j, year(-1), "estate", "gearbox", job.AtHand)
	keep(t, j, year(1), "van", "rear axle", job.AtHand)
	if headOf(last).UnitState != verdict.Accepted {
		t.Fatalf("the job that the test rests on is %v", headOf(last).UnitState)
	}

	offers, err := j.Offers(named(noon, " VAN", "Rear  axle "))
	if err != nil {
		t.Fatal(err)
	}
	want := guide.Fold(last, guide.Offers{}).Facts()
	if len(offers.Answers) != len(want) {
		t.Errorf("%d answers on offer, want %d", len(offers.Answers), len(want))
	}
	for place, v := range want {
		if got := offers.Answers[place]; got.Number != v.Number || got.Choice != v.Choice || got.Text != v.Text {
			t.Errorf("%v: %+v on offer, want %+v", place.Topic, got, v)
		}
	}
	if _, ok := offers.Answers[job.Place{Topic: job.Odometer}]; ok {
		t.Error("the odometer of years ago is on offer")
	}
	if v, ok := offers.Answers[job.Place{Topic: job.PriorLevel}]; ok {
		t.Errorf("the level before is on offer as %s, and nobody saw it", v.Choice)
	}
}

// A fill that was not proven does not make the level known.
func TestOffersOfAnUnprovenFillSayNothingOfTheLevel(t *testing.T) {
	j := openJournal(t)
	keep(t, j, noon.AddDate(-1, 0, 0), "van", "rear axle", job.Decision)
	offers, err := j.Offers(named(noon, "van", "rear axle"))
	if err != nil {
		t.Fatal(err)
	}
	if got, ok := offers.Answers[job.Place{Topic: job.PriorLevel}]; ok {
		t.Errorf("level on offer: %+v, want none", got)
	}
}

func TestOffersToAnotherUnitAreOfTheGarageOnly(t *testing.T) {
	j := openJournal(t)
	keep(t, j, noon.AddDate(-1, 0, 0), "van", "rear axle", job.AtHand)
	for _, kept := range []job.Job{named(noon, "van", "front axle"), {ID: "new", Started: noon}} {
		offers, err := j.Offers(kept)
		if err != nil {
			t.Fatal(err)
		}
		for _, topic := range []job.Topic{job.ContainerName, job.ContainerGraduation, job.Filler, job.HoseHolds} {
			if _, ok := offers.Answers[job.Place{Topic: topic}]; !ok {
				t.Errorf("%v is not on offer", topic)
			}
		}
		for _, topic := range []job.Topic{job.Vehicle, job.UnitName, job.Capacity, job.CapacityMeans, job.OilGrade,
			job.PlugThread, job.TorqueFigure, job.PriorLevel, job.Odometer} {
			if v, ok := offers.Answers[job.Place{Topic: topic}]; ok {
				t.Errorf("%v of another unit is on offer: %+v", topic, v)
			}
		}
	}
}

// What escaped once with the rig says hardly more than the 50 ml of the trade.
func TestOneJobOfTheRigTeachesNothing(t *testing.T) {
	j := openJournal(t)
	keep(t, j, noon.AddDate(-1, 0, 0), "van", "rear axle", job.NoTopic)
	offers, err := j.Offers(named(noon, "estate", "gearbox"))
	if err != nil {
		t.Fatal(err)
	}
	if offers.Escape.Jobs != 0 || offers.Before != nil {
		t.Errorf("escape of one job of another unit: %+v, before: %v; want neither", offers.Escape, offers.Before)
	}
}

// However many jobs of the club were let in since, the owner's own are found
// behind them, and a page of the list does not end the looking.
func TestOffersAreFoundBehindSharedJobs(t *testing.T) {
	j := openJournal(t)
	keep(t, j, noon.AddDate(-1, 0, 0), "van", "rear axle", job.NoTopic)
	var shared []store.Incoming
	for n := range 2*rigLessons + 1 {
		job := named(noon.Add(time.Duration(n-100)*time.Hour), "estate", "gearbox")
		job.ID = fmt.Sprintf("shared-%06d", n)
		shared = append(shared, store.Incoming{Job: job, Head: headOf(job)})
	}
	if _, err := j.ImportAll(shared); err != nil || !share.IsCopy(shared[0].Job.ID) {
		t.Fatalf("%v, or %s is not a shared id", err, shared[0].Job.ID)
	}
	offers, err := j.Offers(named(noon, "estate", "transfer case"))
	if err != nil || len(offers.Answers) == 0 {
		t.Errorf("%d answers, %v; want those of the own job", len(offers.Answers), err)
	}
}

// BenchmarkOffers is what opening a job waits for, with so many jobs before it.
func BenchmarkOffers(b *testing.B) {
	for _, count := range []int{3, 40, 1000} {
		b.Run(strconv.Itoa(count), func(b *testing.B) {
			j := openJournal(b)
			done, err := demo.Answered(job.Job{Started: noon}, wholeAnswers("van", "rear axle"), job.NoTopic)
			if err != nil {
				b.Fatal(err)
			}
			var earlier []store.Incoming
			for n := range count {
				job := job.Job{ID: job.NewID(noon, uint32(n)), Started: noon.AddDate(0, 0, -n-1), Entries: done.Entries}
				earlier = append(earlier, store.Incoming{Job: job, Head: headOf(job)})
			}
			if _, err := j.ImportAll(earlier); err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				if offers, err := j.Offers(named(noon, "van", "rear axle")); err != nil || offers.Before == nil {
					b.Fatalf("%+v, %v", offers.Before, err)
				}
			}
		})
	}
}

func TestOffersOfTheFirstJobAreNone(t *testing.T) {
	j := openJournal(t)
	kept := keep(t, j, noon, "van", "rear axle", job.AtHand)
	for _, job := range []job.Job{kept, {ID: "new", Started: noon.Add(-time.Hour)}} {
		if offers, err := j.Offers(job); err != nil || len(offers.Answers) > 0 {
			t.Errorf("job %s: %d answers on offer, %v; want none", job.ID, len(offers.Answers), err)
		}
	}
}

func TestUnfinishedJobsAreListedNewestFirst(t *testing.T) {
	j := openJournal(t)
	old := keep(t, j, noon.AddDate(-2, 0, 0), "van", "rear axle", job.PlanAccepted)
	keep(t, j, noon.AddDate(-1, 0, 0), "van", "front axle", job.NoTopic)
	recheck := keep(t, j, noon, "van", "gearbox", job.LeakCheck)
	heads, err := j.Unfinished()
	if err != nil {
		t.Fatal(err)
	}
	if len(heads) != 2 || heads[0].ID != recheck.ID || heads[1].ID != old.ID {
		t.Errorf("unfinished: %+v, want %s, %s", heads, recheck.ID, old.ID)
	}
}

func TestDraftsAreKeptToTheLetter(t *testing.T) {
	j := openJournal(t)
	kept := keep(t, j, noon, "van", "rear axle", job.DrainedAmount)
	if d, err := j.LoadDraft(kept.ID); err != nil || d != (session.Draft{}) {
		t.Errorf("draft %+v, %v before anything was typed", d, err)
	}
	want := session.Draft{Place: job.Place{Topic: job.DrainedAmount, Item: 1}, Text: " 500+3", At: noon}
	if err := j.SaveDraft(kept.ID, want); err != nil {
		t.Fatal(err)
	}
	got, err := j.LoadDraft(kept.ID)
	if err != nil || got.Place != want.Place || got.Text != want.Text || !got.At.Equal(want.At) {
		t.Errorf("draft %+v, %v; want %+v", got, err, want)
	}
	if err := j.SaveDraft(kept.ID, session.Draft{Place: want.Place}); err != nil {
		t.Fatal(err)
	}
	if d, err := j.LoadDraft(kept.ID); err != nil || d != (session.Draft{}) {
		t.Errorf("draft %+v, %v after the text was taken back", d, err)
	}
}
