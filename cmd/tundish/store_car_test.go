package main

// This file checks what the units of one car are to each other.

import (
	"slices"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/share"
	"garage/tundish/model/verdict"
)

// Other units of the car that hold no oil, or are not proven, come with a job, by the
// last job that did anything to them; those of other cars do not, nor shared jobs.
func TestOpenUnitsOfTheCarComeWithAJob(t *testing.T) {
	j := openJournal(t)
	day := func(n int) time.Time { return noon.AddDate(0, 0, n) }
	keep(t, j, day(0), "van", "gearbox", job.NoTopic)
	keep(t, j, day(1), "van", "rear axle", job.DrainedAmount)
	keep(t, j, day(2), "VAN", "rear  axle", job.AtHand) // nothing done to it
	keep(t, j, day(3), "van", "front axle", job.Decision)
	keep(t, j, day(4), "van", "transfer case", job.AtHand)
	keep(t, j, day(5), "bus", "rear axle", job.DrainedAmount)
	theirs := share.Job(keep(t, j, day(6), "bus", "gearbox", job.DrainedAmount))
	theirs.Started = day(7)
	if err := j.Create(theirs, headOf(theirs)); err != nil {
		t.Fatal(err)
	}
	for unit, want := range map[string][]guide.OpenUnit{
		"transfer case": {{Name: "front axle", State: verdict.Unproven}, {Name: "rear axle", State: verdict.Empty}},
		"rear axle":     {{Name: "front axle", State: verdict.Unproven}},
	} {
		offers, err := j.Offers(named(day(8), "van", unit))
		if err != nil {
			t.Fatal(err)
		}
		slices.SortFunc(offers.OpenUnits, func(a, b guide.OpenUnit) int { return strings.Compare(a.Name, b.Name) })
		if !slices.Equal(offers.OpenUnits, want) {
			t.Errorf("beside the %s open are %v, want %v", unit, offers.OpenUnits, want)
		}
	}
}
