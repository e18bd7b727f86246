package agenda

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/jobtest"
)

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

// due is what a job that was accepted leaves to do beside the looks after the drive: case I3, flakes in 500 km, and I2, hairs
// at the latest in 5000; water is drained again.
func TestWhatMagnetAndWaterLeaveToDo(t *testing.T) {
	for _, row := range []struct {
		magnet, look string
		odometerKm   float64
		want         string // name, odometer, day
	}{
		{"flakes", "clean", 60000, "look at the magnet again 60500 0001-01-01"},
		{"flakes", "clean", 0, "look at the magnet again 0 2026-05-18"},
		{"hairs", "clean", 60000, "look at the magnet again 65000 0001-01-01"},
		{"hairs", "clean", 0, ""}, {"paste", "clean", 60000, ""}, {"clean", "clean", 60000, ""},
		{"clean", "milky", 60000, "drain again, water 60008 0001-01-01"}, {"clean", "milky", 0, "drain again, water 0 2026-04-25"},
	} {
		var got []string
		for _, d := range Dues(settled(row.magnet, row.look, row.odometerKm), nil) {
			if d.Kind == MagnetAgain || d.Kind == FlushAgain {
				got = append(got, fmt.Sprintf("%s %g %s", d.Kind.Words(), d.Km, d.Day.Format(time.DateOnly)))
			}
		}
		if strings.Join(got, "; ") != row.want {
			t.Errorf("%s, %s at %g km: %q, want %q", row.magnet, row.look, row.odometerKm, got, row.want)
		}
	}
}

// settled is a job of a unit of 600 ml, left with a reason.
func settled(magnet, look string, odometerKm float64) *guide.Guide {
	begins := time.Date(2026, 4, 18, 9, 0, 0, 0, time.UTC)
	j := job.Job{ID: "a", Started: begins}
	say := func(topic job.Topic, v job.Value) {
		n := len(j.Entries)
		j.Entries = append(j.Entries, job.Entry{Seq: n + 1, At: begins.Add(time.Duration(n) * time.Minute), Topic: topic, Value: v})
	}
	ml := func(x float64) job.Value { return job.Value{Number: x, Unit: job.DimML} }
	choice := func(token string) job.Value { return job.Value{Choice: token} }
	say(job.Capacity, ml(600))
	say(job.PlugOut, job.Value{})
	say(job.MagnetLook, choice(magnet))
	say(job.OilLook, choice(look))
	say(job.DrainedAmount, ml(590))
	say(job.DrainedMore, choice(job.MoreDone))
	say(job.LoadedAmount, ml(650))
	say(job.FillEnded, job.Value{})
	say(job.LeftInVessel, ml(10))
	say(job.PlugSeated, job.Value{})
	say(job.EscapedHow, choice(job.EscapeCaught))
	say(job.EscapedAmount, ml(40))
	say(job.BreatherReopened, job.Value{})
	say(job.Decision, choice(job.DecideLeave.String()))
	say(job.LeftWhy, job.Value{Text: "late"})
	if odometerKm > 0 {
		say(job.Odometer, job.Value{Number: odometerKm, Unit: job.DimKm})
	}
	return guide.Fold(j, guide.Offers{})
}

// lines are items as a list has them, with all that is counted.
func lines(items []Item) string {
	var b strings.Builder
	for _, i := range items {
		fmt.Fprintf(&b, "%s: %s", i.What, i.When)
		if i.Day != nil {
			fmt.Fprintf(&b, ", on %s, in %d days", *i.Day, *i.InDays)
		}
		if i.AtKm != nil {
			fmt.Fprintf(&b, ", at %g km", *i.AtKm)
		}
		if i.InKm != nil {
			fmt.Fprintf(&b, ", in %g km", *i.InKm)
		}
		if i.WasteML != nil {
			fmt.Fprintf(&b, ", %.0f ml", *i.WasteML)
		}
		if i.Overdue {
			b.WriteString(", overdue")
		}
		if i.Done.Topic != job.NoTopic {
			fmt.Fprintf(&b, ", by %v", i.Done.Topic)
		}
		b.WriteString("\n")
	}
	return b.String()
}

// What a job leaves to do, as its days go by, and as its car is driven: the newest reading of the odometer is that of the job
// begun last, of whatever unit of the car. 830 ml at 38 °C and 53 that were spilled, film and all, are 872 ml at 20 °C.
func TestWhatIsDue(t *testing.T) {
	at := func(s *guide.Guide) Unit { return UnitOf([]*guide.Guide{s}) }
	unproven := jobtest.New(t, jobtest.DrainPort())
	unproven.Until(job.Decision)
	kept := jobtest.DrainPort()
	kept[job.WasteHandedIn] = []string{guide.UnknownLine}
	ended := jobtest.New(t, kept).Until(job.NoTopic)
	elsewhere := func(car string, km float64, after time.Duration, id string) Unit {
		return Unit{Odometer: &Reading{car, km, ended.Started.Add(after), id}}
	}
	car := job.UnitKey(ended.Head().Vehicle, "any")
	for name, row := range map[string]struct {
		units []Unit
		days  int
		want  string
	}{
		"on the day": {[]Unit{at(waiting(t))}, 0, "leak check after a drive: today, on 2026-04-18, in 0 days, by close.leak_check\n" +
			"washer check, cold: tomorrow, on 2026-04-19, in 1 days\n" +
			"next oil change: in 3 years, on 2029-04-18, in 1096 days, at 183456 km, in 60000 km\n"},
		"later": {[]Unit{at(waiting(t))}, 20,
			"leak check after a drive: overdue by 20 days, on 2026-04-18, in -20 days, overdue, by close.leak_check\n" +
				"washer check, cold: overdue by 19 days, on 2026-04-19, in -19 days, overdue\n" +
				"next oil change: in 3 years, on 2029-04-18, in 1076 days, at 183456 km, in 60000 km\n"},
		"not proven": {[]Unit{at(unproven.Guide())}, 0, "prove the fill: now\n"},
		"ended, its oil kept": {[]Unit{at(ended)}, 0,
			"next oil change: in 3 years, on 2029-04-18, in 1096 days, at 183456 km, in 60000 km\n" +
				"hand in waste oil: waits, 872 ml, by close.waste_handed_in\n"},
		"driven too far": {[]Unit{at(ended), elsewhere(car, 183457, time.Hour, "b")}, 0,
			"next oil change: overdue by distance, on 2029-04-18, in 1096 days, at 183456 km, in -1 km, overdue\n" +
				"hand in waste oil: waits, 872 ml, by close.waste_handed_in\n"},
		"as far as it may": {[]Unit{at(ended), elsewhere(car, 183456, time.Hour, "b")}, 0,
			"next oil change: in 3 years, on 2029-04-18, in 1096 days, at 183456 km, in 0 km\n" +
				"hand in waste oil: waits, 872 ml, by close.waste_handed_in\n"},
		"so long ago": {[]Unit{at(ended), elsewhere(car, 183456, time.Hour, "b")}, 2000,
			"next oil change: overdue by 2 years, on 2029-04-18, in -904 days, at 183456 km, in 0 km, overdue\n" +
				"hand in waste oil: waits, 872 ml, by close.waste_handed_in\n"},
		"read before": {[]Unit{elsewhere(car, 5, -time.Hour, "z"), at(ended), elsewhere(car, 5, 0, "1"), elsewhere("another", 9e5,
			time.Hour, "b")}, 0,
			"next oil change: in 3 years, on 2029-04-18, in 1096 days, at 183456 km, in 60000 km\n" +
				"hand in waste oil: waits, 872 ml, by close.waste_handed_in\n"},
		"by distance alone": {[]Unit{at(settled("flakes", "clean", 60000))}, 0,
			"prove the fill: now\nlook at the magnet again: at 60 500 km, at 60500 km\n"},
	} {
		if got := lines(New(row.units, writing.AddDate(0, 0, row.days)).All(row.units)); got != row.want {
			t.Errorf("%s:\n%swant\n%s", name, got, row.want)
		}
	}
}

// First what cannot wait, then what is overdue, then by day; of two alike, that of the job begun last.
func TestOrderOfTheList(t *testing.T) {
	begun := func(id string, hours int, until job.Topic) Unit {
		d := jobtest.New(t, jobtest.DrainPort())
		d.Until(until)
		d.Job.ID, d.Job.Started = id, d.Job.Started.Add(time.Duration(hours)*time.Hour)
		return UnitOf([]*guide.Guide{d.Guide()})
	}
	units := []Unit{begun("a", 0, job.LeakCheck), begun("b", 1, job.Decision), begun("c", 2, job.Decision), begun("d", 2, job.LeakCheck)}
	var got []string
	for _, i := range New(units, writing.AddDate(0, 0, 1)).All(units) {
		got = append(got, i.Job+" "+i.Kind.String())
	}
	if want := "c prove|b prove|d leak|a leak|d washer|a washer|d change|a change"; strings.Join(got, "|") != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestWordsOfWhatIsDue(t *testing.T) {
	done := guide.Fold(jobtest.New(t, jobtest.DrainPort()).ToTheEnd(), guide.Offers{})
	unproven := jobtest.New(t, jobtest.DrainPort())
	unproven.Until(job.Decision)
	for _, row := range []struct {
		s    *guide.Guide
		days int
		want string
	}{
		{waiting(t), 0, "re-check due, next change 18 Apr 2029 or 183 456 km"}, {done, 0, "next change 18 Apr 2029 or 183 456 km"},
		{done, 1097, "next change overdue since 18 Apr 2029"}, {done, 1096, "next change 18 Apr 2029 or 183 456 km"}, {unproven.Guide(),
			0, ""},
	} {
		u := UnitOf([]*guide.Guide{row.s})
		a := New([]Unit{u}, writing.AddDate(0, 0, row.days))
		if got := a.Words(u, row.s.ID); got != row.want || a.Words(u, "another") != "" {
			t.Errorf("%d days on: %q, want %q", row.days, got, row.want)
		}
	}
}
