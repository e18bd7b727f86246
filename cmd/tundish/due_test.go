package main

// This file checks what jobs leave to do, as it is listed and as a calendar.

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/agenda"
	"garage/tundish/model/job"
	"garage/tundish/model/share"
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
	path := storeOf(t, func(j storeJournal) { keep(t, j, noon, "van", "rear axle", job.NoTopic) })
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
	if code != exitDone || !strings.Contains(stdout, "DONE · ACCEPTED, LIKELY 89 in 100  van, rear axle; next change 18 Apr 2030") {
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
		lines = append(lines, i.When+" | "+i.What+" | "+i.Vehicle+", "+i.Unit)
	}
	return lines
}

// The demo's interval is 48 months; the looks are on the day that the plug was
// tightened and the day after.
func TestDueIsByUnitAndOverdueFirst(t *testing.T) {
	path := storeOf(t, func(j storeJournal) {
		keep(t, j, noon.AddDate(-9, 0, 0), "van", "rear axle", job.NoTopic)
		keep(t, j, noon.AddDate(-4, 0, -10), "van", "rear axle", job.WasteOil)
		keep(t, j, noon.AddDate(0, 0, -3), "van", "rear axle", job.PlanAccepted)
		keep(t, j, noon.AddDate(0, 0, -1), "van", "front axle", job.LeakCheck)
		keep(t, j, noon.AddDate(-1, 0, 0), "estate", "gearbox", job.WasteOil)
		keep(t, j, noon.AddDate(0, 0, -2), "estate", "gearbox", job.AtHand) // plug still in
		theirs := keep(t, j, noon.AddDate(-5, 0, 0), "coupé", "rear axle", job.NoTopic)
		shared := share.Job(theirs)
		if err := j.Create(shared, headOf(shared)); err != nil {
			t.Fatal(err)
		}
	})
	want := []string{
		"now | prove the fill | van, rear axle",
		"now | finish the job | estate, gearbox",
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
		for i, vehicle := range []string{"van", "estate"} { // at 118 400 km, due at 178 400 km
			lines := wholeAnswers(vehicle, "rear axle")
			lines[job.WasteHandedIn] = []string{"depot"}
			keepAs(t, j, noon.AddDate(-1, 0, i), lines, job.NoTopic)
		}
		read(t, j, keep(t, j, noon, "Van ", "gearbox", job.AtHand), 181_600)
	})
	code, stdout, stderr := runHere(t, nil, "due", "--json", "--store", path)
	var items []agenda.Item
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

// What the list of jobs says is due is what the list of dues has, in fewer
// words: of each unit at its newest job, in the owner's units.
func TestListOfJobsSaysWhatIsDue(t *testing.T) {
	o := &outside{getenv: func(string) string { return "" }, now: func() time.Time { return noon }}
	change := func(other map[job.Topic][]string) map[job.Topic][]string {
		lines := wholeAnswers("van", "rear axle")
		maps.Copy(lines, other)
		return lines
	}
	inMiles := map[job.Topic][]string{
		job.DisplayUnits: {"2"}, job.Capacity: {"900 ml"}, job.HoseHolds: {"25 ml"}, job.Odometer: {"80000"}, job.IntervalKm: {"40000, 48"},
		job.DrainedAmount: {"838ml@40C"}, job.VesselGraduation: {"10 ml"}, job.ContainerGraduation: {"10 ml"}, job.LoadedAmount: {"990 ml"},
		job.LoadedTemperature: {"20C"}, job.LeftInVessel: {"40 ml"}, job.EscapedAmount: {"50 ml"},
	}
	byKm := map[job.Topic][]string{job.IntervalKm: {"60 000"}}
	for _, row := range []struct {
		name  string
		years int // before noon
		lines map[job.Topic][]string
		stop  job.Topic
		later float64 // odometer of a later job of the car
		want  string
	}{
		{"re-check", 0, change(nil), job.LeakCheck, 0, "re-check due, next change 18 Apr 2030 or 178 400 km"},
		{"re-check, then the change", 5, change(nil), job.LeakCheck, 0, "re-check due, next change overdue since 18 Apr 2025"},
		{"done", 1, change(nil), job.NoTopic, 0, "next change 18 Apr 2029 or 178 400 km"},
		{"in miles", 1, change(inMiles), job.NoTopic, 0, "next change 18 Apr 2029 or 120 000 mi"},
		{"overdue by date", 5, change(nil), job.NoTopic, 0, "next change overdue since 18 Apr 2025"},
		{"overdue by distance", 1, change(nil), job.NoTopic, 181_600, "next change overdue since 178 400 km"},
		{"by distance alone", 1, change(byKm), job.NoTopic, 0, "next change 178 400 km"},
		{"no interval", 1, change(map[job.Topic][]string{job.IntervalKm: nil}), job.NoTopic, 0, ""},
		{"unit empty", 0, change(nil), job.DrainedAmount, 0, ""},
		{"plug in", 0, change(nil), job.AtHand, 0, ""},
	} {
		o.storeFlag = storeOf(t, func(j storeJournal) {
			keepAs(t, j, noon.AddDate(-row.years, 0, 0), row.lines, row.stop)
			if row.later != 0 {
				read(t, j, keep(t, j, noon.AddDate(0, 0, -1), "van", "gearbox", job.AtHand), row.later)
			}
		})
		var out bytes.Buffer
		o.out = &out
		if err := new(jobsCommand).Run(o); err != nil {
			t.Fatalf("%s: %v", row.name, err)
		}
		_, got, _ := strings.Cut(out.String(), "van, rear axle")
		got, _, _ = strings.Cut(got, "\n") // below it is when, what came out and what went in
		if got = strings.TrimPrefix(strings.TrimSuffix(got, "\n"), "; "); got != row.want {
			t.Errorf("%s: %q, want %q", row.name, got, row.want)
		}
	}
}

// storeWithOneDamaged is a store whose newest job cannot be read.
func storeWithOneDamaged(t *testing.T) (path string) {
	t.Helper()
	const mark = "a depot of no return"
	path = storeOf(t, func(j storeJournal) {
		long := job.Job{ID: job.NewID(noon, 9), Started: noon} // below 4 MB all of a store is checked when it is opened
		for n := range 2500 {
			long.Entries = append(long.Entries, job.Entry{Seq: n + 1, At: noon, Topic: job.Remark,
				Value: job.Value{Text: strings.Repeat("x", 1900)}})
		}
		if err := j.Create(long, headOf(long)); err != nil {
			t.Fatal(err)
		}
		keep(t, j, noon.AddDate(0, 0, 1), "van", "gearbox", job.DrainedAmount)
		lines := wholeAnswers("estate", "rear axle")
		lines[job.WasteHandedIn] = []string{mark}
		keepAs(t, j, noon.AddDate(0, 0, 2), lines, job.NoTopic)
	})
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, bytes.ReplaceAll(text, []byte(mark), bytes.Repeat([]byte("x"), len(mark))), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// A job that cannot be read does not take the list away, which may say of
// another that its unit is empty.
func TestListOfJobsOutlivesAJobThatCannotBeRead(t *testing.T) {
	code, stdout, stderr := runHere(t, nil, "jobs", "--store", storeWithOneDamaged(t))
	if code != exitFailed || !strings.Contains(stdout, "OPEN · EMPTY") || !strings.Contains(stdout, "estate, rear axle") || stderr == "" {
		t.Errorf("exit code %d, %s%s", code, stdout, stderr)
	}
}

// The change is told once, at the newest job of the unit; what another owner
// shared is of no unit here.
func TestNextChangeIsToldAtTheNewestJobOfAUnit(t *testing.T) {
	path := storeOf(t, func(j storeJournal) {
		keep(t, j, noon.AddDate(-4, 0, 0), "van", "rear axle", job.NoTopic)
		lines := wholeAnswers("van", "rear axle")
		lines[job.LoadedAmount] = []string{"980"}
		theirs := share.Job(keepAs(t, j, noon.AddDate(-1, 0, 0), lines, job.NoTopic))
		if err := j.Create(theirs, headOf(theirs)); err != nil {
			t.Fatal(err)
		}
	})
	_, stdout, _ := runHere(t, nil, "jobs", "--store", path)
	if strings.Count(stdout, "next change") != 1 || strings.Count(stdout, "van, rear axle")+strings.Count(stdout, "shared car") != 3 {
		t.Errorf("want three jobs and one change:\n%s", stdout)
	}
}

// An instrument that was replaced reads less than the old one did; the newest
// reading counts.
func TestNewestOdometerReadingCounts(t *testing.T) {
	path := storeOf(t, func(j storeJournal) {
		lines := wholeAnswers("van", "gearbox")
		lines[job.Odometer] = []string{"900000"}
		keepAs(t, j, noon.AddDate(-6, 0, 0), lines, job.WasteOil)
		keep(t, j, noon.AddDate(-1, 0, 0), "van", "rear axle", job.WasteOil) // at 118 400 km, due at 178 400 km
	})
	if got := strings.Join(listedDue(t, path), "\n"); strings.Contains(got, "by distance") {
		t.Errorf("overdue by the old instrument:\n%s", got)
	}
}

// A change that is due by distance alone is in the list, in the summary and in
// the list of jobs, and on no day of a calendar.
func TestDueByDistanceAlone(t *testing.T) {
	path := storeOf(t, func(j storeJournal) {
		lines := wholeAnswers("van", "rear axle")
		lines[job.IntervalKm], lines[job.WasteHandedIn] = []string{"60 000"}, []string{"depot"}
		keepAs(t, j, noon, lines, job.NoTopic)
	})
	if got := listedDue(t, path); !slices.Equal(got, []string{"at 178 400 km | next oil change | van, rear axle"}) {
		t.Errorf("due: %q", got)
	}
	code, _, stderr := runHere(t, nil, "due", "--ics", "-", "--store", path)
	if code != exitFailed || !strings.Contains(stderr, "nothing is due on a day, so there is no calendar to write; see: tundish due") {
		t.Errorf("exit code %d, %s", code, stderr)
	}
	if _, stdout, _ := runHere(t, nil, "summary", "last", "--format", "txt", "--store", path); !strings.Contains(stdout,
		"Due: next oil change  at 178 400 km") {
		t.Errorf("the summary does not say it:\n%s", stdout)
	}
}

// read notes the odometer in a job.
func read(t *testing.T, j storeJournal, kept job.Job, km float64) {
	t.Helper()
	e := job.Entry{Seq: len(kept.Entries) + 1, At: kept.Entries[len(kept.Entries)-1].At, Topic: job.Odometer,
		Value: job.Value{Number: km, Unit: job.DimKm}}
	kept.Entries = append(kept.Entries, e)
	if err := j.Append(kept.ID, headOf(kept), e); err != nil {
		t.Fatal(err)
	}
}
