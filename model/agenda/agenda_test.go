package agenda

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
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
