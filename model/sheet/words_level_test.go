package sheet

import (
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
