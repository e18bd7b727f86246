// A job driven from prompt to prompt through the model's own interface, so that
// Of is tested on jobs as they are. All figures are invented.

package history

import (
	"strings"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// driven is a job of a 600 ml unit, filled through its drain port; lines say
// what is typed, all else is as offered.
func driven(t *testing.T, before *guide.Guide, began time.Time, lines map[job.Topic]string, until job.Topic) *guide.Guide {
	t.Helper()
	typed := map[job.Topic]string{
		job.Vehicle: "Blue estate", job.UnitName: "rear axle", job.Capacity: "600",
		job.HoseHolds: "25", job.Decision: "accept", job.OilTemperature: "20",
		job.LeftInVessel: "0", job.EscapedAtCap: "0", job.EscapedAmount: "50",
		job.LeakCheck: "dry", job.WasherRecheck: "dry",
		job.TemperatureHow: "measured", job.MagnetLook: "paste", job.OilLook: "clean", job.OilHistory: "undisturbed",
		job.DrainedTemperature: "20", job.HoseBefore: "dry", job.LoadedTemperature: "20",
		job.AirInLine: "none", job.HoseAfter: "full", job.WasherFitted: "new", job.EscapedHow: "caught", job.TightenedHow: "feel",
	}
	for topic, line := range lines {
		typed[topic] = line
	}
	j := job.Job{ID: job.NewID(began, 7), Started: began}
	at := began
	for range 500 {
		s := guide.Fold(j, guide.Offers{Before: before})
		p, more := s.Next()
		for open, is := range s.Prompts() { // which nobody asks for
			if is && open.Topic == job.Odometer && typed[job.Odometer] != "" {
				p = open
			}
		}
		if !more || p.Topic == until && until != job.NoTopic {
			return s
		}
		at = at.Add(time.Minute)
		if w, waits := s.Wait(); waits && at.Before(w.Ends()) {
			at = w.Ends()
		}
		j.Entries = append(j.Entries, answerTo(t, s, p, typed, at))
	}
	t.Fatal("the questions do not end")
	return nil
}

func answerTo(t *testing.T, s *guide.Guide, p guide.Prompt, typed map[job.Topic]string, at time.Time) job.Entry {
	t.Helper()
	line := typed[p.Topic]
	if line == "" && p.Topic == job.CapacityMeans {
		line = "dry" // has no offer
	}
	delete(typed, p.Topic) // a second time there is no more to add
	_, offered := p.DefaultValue(s)
	if line == "" && !offered && p.Ends == job.NoTopic && p.Kind != job.Acknowledge && p.Kind != job.Event {
		return p.Entry(s, job.Value{Unknown: true}, "", at)
	}
	e, err := p.Answer(s, line, at)
	if err != nil {
		t.Fatalf("%v: %q refused: %v", p.Topic, line, err)
	}
	return e
}

// Two whole jobs with as much out as went in, and one begun: what Of gathers is
// what the jobs say, and the day is that of the zone asked for.
func TestOfGathersWhatTheJobsSay(t *testing.T) {
	amounts := func(km, out string) map[job.Topic]string {
		return map[job.Topic]string{job.Odometer: km, job.DrainedAmount: out, job.LoadedAmount: "625"}
	}
	late := func(year int) time.Time { return time.Date(year, 4, 18, 23, 30, 0, 0, time.UTC) }
	first := driven(t, nil, late(2022), amounts("30000", "550"), job.NoTopic)
	second := driven(t, first, late(2024), amounts("60000", "548"), job.NoTopic)
	unit := []*guide.Guide{
		driven(t, second, late(2026), map[job.Topic]string{job.Odometer: "90000"}, job.DrainedAmount), second, first,
	}
	d := Of(unit, unit[0].Lessons(), verdict.Waste{ML: 600, Since: late(2022)},
		time.FixedZone("east", 3600))
	if d.Name != "Blue estate, rear axle" || len(d.Points) != 3 || len(d.Outcomes) != 3 {
		t.Fatalf("%+v", d)
	}
	if p := d.Points[1]; !p.Known || !p.PerKm || p.SinceKm != 30000 {
		t.Errorf("the second job tells no loss: %+v", p)
	}
	if got := d.Outcomes[0].Unit; got != verdict.Empty {
		t.Errorf("with the plug out the unit is %v", got)
	}
	if o := d.Outcomes[1]; o.Unit != verdict.Proven {
		t.Errorf("the second job left %+v", o)
	}
	if d.Escape.Jobs != 2 || d.Leakage.Jobs != 1 {
		t.Errorf("escape from %d jobs, loss from %d, want 2 and 1", d.Escape.Jobs, d.Leakage.Jobs)
	}
	text := strings.Join(View(d, 120, 36, plain(false)), "\n")
	for _, want := range []string{"Blue estate, rear axle: 3 jobs", "19 Apr 2024", "EMPTY", "548 ±", "no sign of a leak",
		"all waste oil waiting: 600 ml, since 19 Apr 2022"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
}

func TestOfNothing(t *testing.T) {
	if got := strings.Join(View(Of(nil, verdict.Lessons{}, verdict.Waste{}, nil), 80, 20, plain(false)), "\n"); !strings.Contains(got,
		"no job of this unit yet") {
		t.Error(got)
	}
}
