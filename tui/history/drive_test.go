// A job driven from prompt to prompt through the model's own interface, so that
// Of is tested on jobs as they are. All figures are invented.

package history

import (
	"strings"
	"testing"
	"time"

	"garage/tundish/model"
)

// driven is a job of a 600 ml unit, filled through its drain port; lines say
// what is typed, all else is as offered.
func driven(t *testing.T, began time.Time, lines map[model.Topic]string, until model.Topic) *model.State {
	t.Helper()
	typed := map[model.Topic]string{
		model.Vehicle: "Blue estate", model.UnitName: "rear axle", model.Capacity: "600",
		model.HoseBore: "4.6066", model.HoseLength: "1.5", model.OilTemperature: "20",
		model.LeftInVessel: "0", model.EscapedAtCap: "0", model.EscapedAmount: "50",
		model.LeakCheck: "dry", model.WasherRecheck: "dry",
		model.TemperatureHow: "measured", model.MagnetLook: "paste", model.OilLook: "clean", model.OilHistory: "undisturbed",
		model.DrainedTemperature: "20", model.HoseBefore: "dry", model.LoadedTemperature: "20",
		model.AirInLine: "none", model.HoseAfter: "full", model.WasherFitted: "new", model.EscapedHow: "caught", model.TightenedHow: "feel",
	}
	for topic, line := range lines {
		typed[topic] = line
	}
	job := model.Job{ID: model.NewID(began, 7), Started: began}
	at := began
	for range 500 {
		s := model.Fold(job, model.Offers{})
		p, more := s.Next()
		if !more || p.Topic == until && until != model.NoTopic {
			return s
		}
		at = at.Add(time.Minute)
		if w, waits := s.Wait(); waits && at.Before(w.Ends()) {
			at = w.Ends()
		}
		job.Entries = append(job.Entries, answerTo(t, s, p, typed, at))
	}
	t.Fatal("the questions do not end")
	return nil
}

func answerTo(t *testing.T, s *model.State, p model.Prompt, typed map[model.Topic]string, at time.Time) model.Entry {
	t.Helper()
	line := typed[p.Topic]
	if line == "" && p.Topic == model.CapacityMeans {
		line = "dry" // has no offer
	}
	delete(typed, p.Topic) // a second time there is no more to add
	switch {
	case p.Kind == model.Acknowledge || p.Kind == model.Event:
		return p.Entry(s, p.AckValue(s), "", at)
	case line == "" && p.Ends != model.NoTopic:
		return p.EndEntry(s, at)
	case p.Kind == model.Choose && line != "":
		return p.Entry(s, p.ChoiceValue(s, model.Option{Token: line}), "", at)
	case line != "":
		v, err := p.Parse(s, line)
		if err != nil {
			t.Fatalf("%v: %q refused: %v", p.Topic, line, err)
		}
		return p.Entry(s, v, line, at)
	}
	v, ok := p.DefaultValue(s)
	switch {
	case !ok:
		v = model.Value{Unknown: true}
	case p.Kind == model.Choose:
		v = p.ChoiceValue(s, model.Option{Token: v.Choice})
	}
	return p.Entry(s, v, "", at)
}

// Two whole jobs with as much out as went in, and one begun: what Of gathers is
// what the jobs say, and the day is that of the zone asked for.
func TestOfGathersWhatTheJobsSay(t *testing.T) {
	amounts := func(km, out string) map[model.Topic]string {
		return map[model.Topic]string{model.Odometer: km, model.DrainedAmount: out, model.LoadedAmount: "625"}
	}
	late := func(year int) time.Time { return time.Date(year, 4, 18, 23, 30, 0, 0, time.UTC) }
	unit := []*model.State{
		driven(t, late(2026), map[model.Topic]string{model.Odometer: "90000"}, model.DrainedAmount),
		driven(t, late(2024), amounts("60000", "548"), model.NoTopic),
		driven(t, late(2022), amounts("30000", "550"), model.NoTopic),
	}
	d := Of(unit, model.Learn(unit, unit), model.Waste{ML: 600, Since: late(2022)}, time.FixedZone("east", 3600))
	if d.Name != "Blue estate, rear axle" || len(d.Points) != 3 || len(d.Outcomes) != 3 {
		t.Fatalf("%+v", d)
	}
	if p := d.Points[1]; !p.Known || !p.PerKm || p.SinceKm != 30000 {
		t.Errorf("the second job tells no loss: %+v", p)
	}
	if got := d.Outcomes[0].Unit; got != model.Empty {
		t.Errorf("with the plug out the unit is %v", got)
	}
	if o := d.Outcomes[1]; o.Unit != model.Proven || !o.Judged {
		t.Errorf("the second job left %+v", o)
	}
	if d.Escape.Jobs != 2 || d.Leakage.Jobs != 1 {
		t.Errorf("escape from %d jobs, loss from %d, want 2 and 1", d.Escape.Jobs, d.Leakage.Jobs)
	}
	text := strings.Join(View(d, 120, 36, plain(false)), "\n")
	for _, want := range []string{"Blue estate, rear axle: 3 jobs", "19 Apr 2024", "UNIT EMPTY", "548 ±", "no sign of a leak", "all waste oil waiting: 600 ml, since 19 Apr 2022"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
}

func TestOfNothing(t *testing.T) {
	if got := strings.Join(View(Of(nil, model.Lessons{}, model.Waste{}, nil), 80, 20, plain(false)), "\n"); !strings.Contains(got, "no job of this unit yet") {
		t.Error(got)
	}
}
