package main

// This file checks what the units of one car are to each other.

import (
	"slices"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/ask"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/share"
	"garage/tundish/model/verdict"
	"garage/tundish/tui/session"
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
	for unit, want := range map[string][]ask.OpenUnit{
		"transfer case": {{Name: "front axle", State: verdict.Unproven}, {Name: "rear axle", State: verdict.Empty}},
		"rear axle":     {{Name: "front axle", State: verdict.Unproven}},
	} {
		offers, err := j.Offers(named(day(8), "van", unit))
		if err != nil {
			t.Fatal(err)
		}
		slices.SortFunc(offers.OpenUnits, func(a, b ask.OpenUnit) int { return strings.Compare(a.Name, b.Name) })
		if !slices.Equal(offers.OpenUnits, want) {
			t.Errorf("beside the %s open are %v, want %v", unit, offers.OpenUnits, want)
		}
	}
}

// The engine is refused by name while a unit of the car holds no oil, and the units of a
// session know which are to come.
func TestTheEngineWaitsForTheOpenUnit(t *testing.T) {
	j := openJournal(t)
	keep(t, j, noon, "van", "rear axle", job.DrainedAmount)
	if err := session.Join(j, "last", "s1", noon.Add(time.Hour)); err == nil {
		t.Error("a job that is not there was joined")
	}
	heads, err := j.Unfinished()
	if err != nil || len(heads) != 1 {
		t.Fatal(heads, err)
	}
	if err := session.Join(j, heads[0].ID, "s1", noon.Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	for id, unit := range map[string]string{"auto": "gearbox, automatic", "case": "transfer case"} {
		if err := session.Begin(j, id, "s1", "van", unit, noon.Add(time.Hour)); err != nil {
			t.Fatal(err)
		}
	}
	auto, err := session.Load(j, "auto", noon.Add(61*time.Minute))
	if err != nil {
		t.Fatal(err)
	}
	g := auto.Real()
	p := guide.Prompt{Spec: ask.SpecOf(job.EngineOn), Place: job.Place{Topic: job.EngineOn}}
	if err := p.Accept(g, job.Value{}); err == nil || !strings.Contains(err.Error(), "rear axle is EMPTY") {
		t.Errorf("the engine: %v", err)
	}
	if got := g.Offered.ToCome; !slices.Equal(got, []string{"transfer case"}) || !g.Has(job.ContainerGraduation) {
		t.Errorf("to come: %v; told: %v", got, g.Has(job.ContainerGraduation))
	}
	units, err := j.carOf("van")
	if next, ok := units.Next(); err != nil || !ok || next.UnitName() != "rear axle" || len(units.Units) != 3 ||
		units.Units[2].UnitName() != "gearbox, automatic" {
		t.Errorf("units: %v, %v", units, err)
	}
}

// A record does not say that the car may be driven while another unit of it is EMPTY.
func TestARecordKnowsOfAnOpenUnit(t *testing.T) {
	done := ""
	path := storeOf(t, func(j storeJournal) {
		done = keep(t, j, noon, "van", "rear axle", job.NoTopic).ID
		keep(t, j, noon.AddDate(0, 0, 1), "van", "transfer case", job.LoadedAmount)
	})
	for _, format := range []string{"txt", "md", "html"} {
		_, stdout, _ := runHere(t, nil, "summary", done, "--store", path, "--format", format)
		if said := strings.Join(strings.Fields(stdout), " "); strings.Contains(said, "It may be driven") ||
			!strings.Contains(said, "The car is NOT to be driven: its transfer case is EMPTY.") {
			t.Errorf("%s:\n%.600s", format, stdout)
		}
	}
	_, shared, _ := runHere(t, nil, "summary", done, "--store", path, "--format", "txt", "--share")
	if strings.Contains(shared, "transfer case") {
		t.Error("a shared record names another unit of the car")
	}
}
