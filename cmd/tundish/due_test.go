package main

// This file checks what jobs leave to do, as it is listed and as a calendar.

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
	"time"

	"garage/tundish/model"
	"garage/tundish/model/summary"
	"garage/tundish/store"
)

// storeOf makes a store with jobs and says where it is.
func storeOf(t *testing.T, fill func(storeJournal)) string {
	t.Helper()
	path := t.TempDir() + "/jobs.db"
	s, err := store.Open(path, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	fill(storeJournal{s})
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

// A job that is done has its next change in the calendar, and needs no tag.
func TestDoneJobIsInTheCalendarAndHasNoTag(t *testing.T) {
	path := storeOf(t, func(j storeJournal) { keep(t, j, noon, "van", "rear axle", model.NoTopic) })
	// 48 months after 18 April 2026; RFC 5545 for the form.
	code, stdout, stderr := runHere(t, nil, "due", "--ics", "-", "--store", path)
	if code != exitDone || !strings.HasPrefix(stdout, "BEGIN:VCALENDAR\r\n") || !strings.Contains(stdout, "20300418") {
		t.Errorf("exit code %d, %s%s", code, stdout, stderr)
	}
	code, stdout, stderr = runHere(t, nil, "tag", "last", "--store", path)
	if code != exitFailed || stdout != "" || !strings.Contains(stderr, "no tag is needed") {
		t.Errorf("exit code %d, %s%s", code, stdout, stderr)
	}
	code, stdout, stderr = runHere(t, nil, "jobs", "--store", path)
	if code != exitDone || !strings.Contains(stdout, "DONE · FILL PROVEN  van, rear axle; next change 18 Apr 2030") {
		t.Errorf("exit code %d, %s%s", code, stdout, stderr)
	}
}

// listedDue is the list as it is printed at noon, one line an item: when, what,
// unit.
func listedDue(t *testing.T, path string) []string {
	t.Helper()
	o := &outside{getenv: func(string) string { return "" }, now: func() time.Time { return noon }, storeFlag: path}
	items, err := dueItems(o)
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for _, i := range items {
		lines = append(lines, i.when+" | "+i.What+" | "+i.Vehicle+", "+i.Unit)
	}
	return lines
}

// The demo's interval is 48 months; the looks are on the day that the plug was
// tightened and the day after.
func TestDueIsByUnitAndOverdueFirst(t *testing.T) {
	path := storeOf(t, func(j storeJournal) {
		keep(t, j, noon.AddDate(-9, 0, 0), "van", "rear axle", model.NoTopic)
		keep(t, j, noon.AddDate(-4, 0, -10), "van", "rear axle", model.WasteOil)
		keep(t, j, noon.AddDate(0, 0, -3), "van", "rear axle", model.PlanAccepted)
		keep(t, j, noon.AddDate(0, 0, -1), "van", "front axle", model.LeakCheck)
		keep(t, j, noon.AddDate(-1, 0, 0), "estate", "gearbox", model.WasteOil)
		keep(t, j, noon.AddDate(0, 0, -2), "estate", "gearbox", model.AtHand) // plug still in
		theirs := keep(t, j, noon.AddDate(-5, 0, 0), "coupé", "rear axle", model.NoTopic)
		shared := summary.Share(theirs)
		if err := j.Create(shared, headOf(shared)); err != nil {
			t.Fatal(err)
		}
	})
	want := []string{
		"now | prove the fill | van, rear axle",
		"overdue by 12 months | next oil change | coupé, rear axle",
		"overdue by 1 day | leak check after a drive | van, front axle",
		"today | washer check, cold | van, front axle",
		"in 3 years | next oil change | estate, gearbox",
		"in 4 years | next oil change | van, front axle",
		"waits | hand in waste oil | van, front axle",
		"waits | hand in waste oil | coupé, rear axle",
		"waits | hand in waste oil | van, rear axle",
	}
	if got := listedDue(t, path); !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// A later reading of the same car's odometer tells that a unit is overdue by
// distance, whatever the date; another car's tells nothing.
func TestDueByDistanceGoesByTheNewestOdometer(t *testing.T) {
	path := storeOf(t, func(j storeJournal) {
		keep(t, j, noon.AddDate(-1, 0, 0), "van", "rear axle", model.WasteOil) // at 118 400 km, due at 178 400 km
		keep(t, j, noon.AddDate(-1, 0, 1), "estate", "rear axle", model.WasteOil)
		lines := wholeAnswers("Van ", "gearbox")
		lines[model.Odometer] = []string{"181 600"}
		job, err := answered(model.Job{ID: "later", Started: noon}, lines, model.AtHand)
		if err != nil {
			t.Fatal(err)
		}
		if err := j.Create(job, headOf(job)); err != nil {
			t.Fatal(err)
		}
	})
	code, stdout, stderr := runHere(t, nil, "due", "--json", "--store", path)
	var items []dueItem
	if err := json.Unmarshal([]byte(stdout), &items); err != nil || code != exitDone {
		t.Fatalf("exit code %d, %v: %s", code, err, stderr)
	}
	for _, i := range items {
		wantKm := map[string]float64{"van": -3200, "estate": 60000}[i.Vehicle]
		if i.InKm == nil || *i.InKm != wantKm || i.Overdue != (wantKm < 0) {
			t.Errorf("%s: in %v km, overdue %v; want %v km", i.Vehicle, i.InKm, i.Overdue, wantKm)
		}
	}
	if len(items) != 2 || items[0].Vehicle != "van" {
		t.Errorf("%d things due: %s", len(items), stdout)
	}
	if got := listedDue(t, path); !strings.HasPrefix(got[0], "overdue by distance | ") {
		t.Errorf("first is %q", got[0])
	}
}

func TestDaysInWords(t *testing.T) {
	for days, want := range map[int]string{
		-1: "overdue by 1 day", -59: "overdue by 59 days", -60: "overdue by 2 months", -4 * 365: "overdue by 4 years",
		0: "today", 1: "tomorrow", 2: "in 2 days", 61: "in 2 months", 365: "in 12 months", 731: "in 2 years",
	} {
		if got := daysWords(days); got != want {
			t.Errorf("%d days: %q, want %q", days, got, want)
		}
	}
}

// What the list of jobs says is due, from its lines alone.
func TestDueWordsOfTheList(t *testing.T) {
	past, soon := noon.AddDate(0, 0, -1), noon.AddDate(0, 1, 0)
	for _, row := range []struct {
		head model.Head
		want string
	}{
		{model.Head{Phase: model.ToRecheck, UnitState: model.Proven, Due: &soon, DueKm: 178400}, "re-check due, next change 18 May 2026 or 178 400 km"},
		{model.Head{Phase: model.ToRecheck, UnitState: model.LeftOff}, "re-check due"},
		{model.Head{Phase: model.Done, UnitState: model.Proven, DueKm: 178400}, "next change 178 400 km"},
		{model.Head{Phase: model.Done, UnitState: model.Proven, Due: &past, DueKm: 178400}, "next change overdue since 17 Apr 2026"},
		{model.Head{Phase: model.Done, UnitState: model.Proven}, ""},
		{model.Head{Phase: model.Open, UnitState: model.Empty, Due: &soon}, ""},
		{model.Head{Phase: model.Stopped, UnitState: model.AsFound, Due: &soon}, ""},
	} {
		if got := dueWords(row.head, noon); got != row.want {
			t.Errorf("%v: %q, want %q", stateOf(row.head), got, row.want)
		}
	}
}
