package guide

import (
	"testing"

	"garage/tundish/model/device"
	"garage/tundish/model/estimate"
	"garage/tundish/model/measure"
	"garage/tundish/model/verdict"
)

func TestThingOf(t *testing.T) {
	for _, c := range []struct {
		source measure.Source
		want   string
	}{
		{measure.Source{Kind: device.ReadSource, Name: "jug", Reading: 61, Part: 1}, "reading of the jug"},
		{measure.Source{Kind: device.ReadSource, Name: "jug (line 3)", Reading: 61, Part: 1, Job: "20260418a"},
			"reading of the jug (line 3)"},
		{measure.Source{Name: estimate.Temperature, Reading: 61}, "temperature"},
		{measure.Source{Kind: device.FillingSource, Name: estimate.Bottles, Part: 2}, "the bottles"},
		{measure.Source{Kind: device.FilmSource, Name: estimate.Bottles, Part: 1}, "the bottles"},
		{measure.Source{Kind: device.MarksSource, Name: "jug"}, "marks of the jug"},
		{measure.Source{Kind: device.WaterSource, Name: "jug"}, "marks of the jug"},
		{measure.Source{Kind: device.MarksSource, Name: "jug, checked with water"}, "marks of the jug, checked with water"},
		{measure.Source{Kind: device.WeighSource, Name: "vessel", Reading: 80}, "weighing the vessel"},
		{measure.Source{Name: estimate.GuessSource, Reading: 80}, "spill at the swap"},
		{measure.Source{Name: estimate.DampPlug, Round: 1}, "damp plug"},
		{measure.Source{Name: estimate.StaysBehind}, "what stays inside"},
	} {
		if got := verdict.WordsOf(verdict.ThingOf(c.source)); got != c.want {
			t.Errorf("%+v is of %q, want %q", c.source, got, c.want)
		}
	}
}

// A probability is never said to be nothing or all.
func TestNoChanceIsCertain(t *testing.T) {
	for p, want := range map[float64]string{-1e-17: "< 1 %", 0: "< 1 %", 0.003: "< 1 %", 0.8958: "90 %", 0.995: "> 99 %", 1: "> 99 %",
		1 + 1e-15: "> 99 %"} {
		v := verdict.Verdict{PWithin: p, PHigh: 1 - p}
		if _, got, _ := v.Chances(); got != want {
			t.Errorf("%v prints %q, want %q", p, got, want)
		}
		if odds := v.Odds(); odds < 1 || odds > 99 {
			t.Errorf("%v is %d in 100", p, odds)
		}
	}
}
