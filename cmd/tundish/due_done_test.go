package main

// This file stores that looks after a drive are made and waste is handed in, and looks at
// what is due then.

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"garage/tundish/model/job"
)

// left runs due --done and returns what of it is left by its JSON, or fails.
func left(t *testing.T, path, id string, args ...string) (answer string, items []string) {
	t.Helper()
	code, stdout, stderr := runHere(t, nil, append([]string{"due", "--done", id, "--json", "--store", path}, args...)...)
	var done struct {
		Job, Item, Answer string
		Left              []struct{ Item string }
	}
	if err := json.Unmarshal([]byte(stdout), &done); code != exitDone || err != nil || done.Job != id {
		t.Fatalf("%v: %d, %s%s, %v", args, code, stdout, stderr, err)
	}
	for _, i := range done.Left {
		items = append(items, i.Item)
	}
	return done.Item + " " + done.Answer, items
}

// Each look leaves the list and the calendar once it is made, and is stored as the guide
// stores it: the job is done after the last.
func TestLooksAreMadeFromTheListOfWhatIsDue(t *testing.T) {
	var made job.Job
	path := storeOf(t, func(j storeJournal) { made = keep(t, j, noon.AddDate(0, 0, -2), "van", "rear axle", job.LeakCheck) })
	calendar := func() string {
		t.Helper()
		_, stdout, _ := runHere(t, nil, "due", "--ics", "-", "--store", path)
		return stdout
	}
	if c := calendar(); !strings.Contains(c, "-leak@tundish") || !strings.Contains(c, "-washer@tundish") {
		t.Fatal("the calendar has no looks:\n", c)
	}
	if answer, items := left(t, path, made.ID, "--item", "leak", "--answer", "dry"); answer != "leak dry" ||
		!slices.Contains(items, "washer") || slices.Contains(items, "leak") {
		t.Errorf("%s, then %v", answer, items)
	}
	if c := calendar(); strings.Contains(c, "-leak@tundish") || !strings.Contains(c, "-washer@tundish") {
		t.Error("the calendar after the first look:\n", c)
	}
	if answer, items := left(t, path, made.ID, "--item", "washer", "--answer", "1"); answer != "washer dry" || slices.Contains(items,
		"washer") {
		t.Errorf("%s, then %v", answer, items)
	}
	if c := calendar(); strings.Contains(c, "-washer@tundish") {
		t.Error("the calendar after the second look:\n", c)
	}
	if _, stdout, _ := runHere(t, nil, "jobs", "--store", path); !strings.Contains(stdout, made.ID+"  DONE · ") {
		t.Error(stdout)
	}
}

func TestWeepingIsGoneOnWithInTheGuide(t *testing.T) {
	var made job.Job
	path := storeOf(t, func(j storeJournal) { made = keep(t, j, noon.AddDate(0, 0, -2), "van", "rear axle", job.LeakCheck) })
	code, stdout, stderr := runHere(t, nil, "due", "--done", made.ID, "--item", "leak", "--answer", "weeps", "--store", path)
	if code != exitDone || !strings.Contains(stdout, "leak check after a drive: weeps") ||
		!strings.Contains(stdout, "the guide goes on with it: tundish --job "+made.ID) {
		t.Errorf("%d, %s%s", code, stdout, stderr)
	}
}

// What cannot be told is asked, and nothing is stored meanwhile.
func TestWhatIsDoneIsAsked(t *testing.T) {
	var made job.Job
	path := storeOf(t, func(j storeJournal) { made = keep(t, j, noon.AddDate(0, 0, -2), "van", "rear axle", job.LeakCheck) })
	_, before, _ := runHere(t, nil, "due", "--json", "--store", path)
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"--item", "leak"}, exitFailed, "plug and seals: dry or weeps"},
		{[]string{"--item", "leak", "--answer", "perhaps"}, exitFailed, "leak check after a drive: "},
		{[]string{"--item", "washer", "--answer", "dry"}, exitFailed, `"washer" of job ` + made.ID + " is done by no answer alone"},
		{[]string{"--item", "change"}, exitFailed, "begin the unit's next"},
		{[]string{"--item", "bolts"}, exitUsage, `has no "bolts" due: `},
		{[]string{"--ics", "x.ics"}, exitUsage, "leave one out"},
	} {
		code, stdout, stderr := runHere(t, nil, append([]string{"due", "--done", made.ID, "--store", path}, c.args...)...)
		if code != c.code || stdout != "" || !strings.Contains(stderr, c.want) {
			t.Errorf("%v: %d, %s%s", c.args, code, stdout, stderr)
		}
	}
	if _, after, _ := runHere(t, nil, "due", "--json", "--store", path); after != before {
		t.Errorf("something was stored:\n%s\nthen\n%s", before, after)
	}
}
