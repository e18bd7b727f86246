package sheet

import (
	"slices"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/ask"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// A9: of a box of 9 L that warms by 2 K a minute, 13 ml a minute are warming alone, 5 to 6
// drops a second (computed, 850 kg/m³; a drop is 0.04 ml, common practice, no source).
func TestDropsThatAreWarmingAlone(t *testing.T) {
	at := time.Date(2026, 4, 18, 9, 0, 0, 0, time.UTC)
	j := job.Job{ID: "a9", Started: at}
	for _, e := range []job.Entry{
		{Topic: job.UnitKind, Value: job.Value{Choice: job.AutomaticBox}},
		{Topic: job.FillPath, Value: job.Value{Choice: job.OverflowTube.String()}},
		{Topic: job.Capacity, Value: job.Value{Number: 9000, Unit: job.DimML}},
		{Topic: job.CapacityMeans, Value: job.Value{Choice: "dry"}},
		{Topic: job.OilDensity, Value: job.Value{Number: 850, Unit: job.DimKgM3}},
		{Topic: job.OilRunning, Value: job.Value{Number: 39, Unit: job.DimC}},
		{Topic: job.OilRunning, Item: 1, Value: job.Value{Number: 41, Unit: job.DimC}},
	} {
		at = at.Add(time.Minute)
		e.Seq, e.At = len(j.Entries)+1, at
		j.Entries = append(j.Entries, e)
	}
	text := warming(guide.Fold(j, guide.Offers{}), 0)
	if !strings.Contains(text, "by 13 ml a minute") || !strings.Contains(text, "56 drops in 10 s are that") {
		t.Error(text)
	}
}

// What comes after the verdict is what will be asked.
func TestTheVerdictSaysHowTheWorkEnds(t *testing.T) {
	path := func(p job.Path) job.Job {
		e := job.Entry{Seq: 1, Topic: job.FillPath, Value: job.Value{Choice: p.String()}}
		return job.Job{ID: "e1", Entries: []job.Entry{e}}
	}
	open := guide.Offers{Offers: ask.Offers{OpenUnits: []ask.OpenUnit{{Name: "rear axle", State: verdict.Empty}}}}
	for _, c := range []struct {
		path   job.Path
		offers guide.Offers
		want   string
	}{
		{job.DrainPortOnly, guide.Offers{}, "Wheels turned by hand"},
		{job.OverflowTube, guide.Offers{}, "Tag off, jack away"},
		{job.DrainPortOnly, open, "The car stays up"},
		{job.Dipstick, guide.Offers{Offers: ask.Offers{ToCome: []string{"rear axle"}}}, "The car stays up"},
	} {
		if says := closeOutBegins(guide.Fold(path(c.path), c.offers)); !strings.Contains(says, c.want) {
			t.Errorf("%v: %q", c.path, says)
		}
	}
}

// What the oil's data sheet and the hose are asked for is said where the push begins, with
// what is taken for it; nothing is where the oil is not known. The time itself is held to
// published figures in hydraulics.
func TestTheFillSheetSaysHowLongThePushTakes(t *testing.T) {
	whole := olderJob(t, "jobs/drain-port.json")
	begin := slices.IndexFunc(whole.Entries, func(e job.Entry) bool { return e.Topic == job.AdapterIn })
	for _, without := range []job.Topic{job.NoTopic, job.OilGrade} {
		j := prefix(whole, begin)
		for i, e := range j.Entries {
			if e.Topic == without {
				j.Entries[i].Value = job.Value{Unknown: true}
			}
		}
		s, _ := Now(guide.Fold(j, guide.Offers{}), j.Started)
		says := slices.ContainsFunc(s.Words.Intro, func(line string) bool {
			return strings.HasPrefix(line, "The push at 24 °C: 2 to 6 min (about 0.5 bar by hand, port 800 mm above")
		})
		if s.ID != Fill || says != (without == job.NoTopic) {
			t.Errorf("without %v, sheet %v: %q", without, s.At, s.Words.Intro)
		}
	}
}
