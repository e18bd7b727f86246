package tui

// This file tests what the gauge is told: that what it shows is what the verdict
// goes by, and how the lower bar changes with the work.

import (
	"maps"
	"math"
	"strings"
	"testing"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
	"garage/tundish/tui/gauge"
)

// smallJob is the small job with other answers.
func smallJob(changes map[job.Topic]string) map[job.Topic]string {
	answers := maps.Clone(typedFor)
	maps.Copy(answers, changes)
	return answers
}

func (st *stage) gauge() gauge.Data { return gaugeData(st.app.scene(st.app.width, st.app.height)) }

// shareRight is the share of a normal distribution about the lower bar, of which
// the shade is twice the standard deviation to either side, between the walls.
func shareRight(d gauge.Data) float64 {
	_, within, _ := measure.Probability(measure.Gaussian("shade", d.Now.ML, d.Now.UML/estimate.Coverage), d.Right.LowML, d.Right.HighML)
	return within
}

// What is seen is what is said: shade and walls have the odds of the verdict to
// one in a hundred.
func TestShadeAndWallsHaveTheOddsOfTheVerdict(t *testing.T) {
	jobs := troubled()
	jobs["dry start"] = dryStart
	jobs["refill figure"] = smallJob(map[job.Topic]string{job.CapacityMeans: "2"})
	jobs["short load, added"] = maps.Clone(jobs["short load"])
	jobs["short load, added"][job.Decision] = "1|2"
	judged := 0
	for name, answers := range jobs {
		st := newStage(t, newMemory(), 80, 24)
		st.answers = answers
		for range 200 {
			g := st.app.guide
			if g.finished {
				break
			}
			if v, ok := g.state.Judged(); ok && g.answer.prompt.Topic == job.Decision && g.state.Path() != job.LevelPort {
				d := st.gauge()
				judged++
				if got := shareRight(d); math.Abs(got-v.PWithin) > 0.01 {
					t.Errorf("%s: the gauge shows %.3f, the verdict says %.3f: %+v", name, got, v.PWithin, d)
				}
				if net := g.state.NetFill(g.state.Round()).Nominal; !d.WithStays && math.Abs(d.Now.ML-net) > 1e-9 {
					t.Errorf("%s: %v went in, the gauge shows %v", name, net, d.Now.ML)
				}
			}
			st.answerOne()
		}
	}
	if judged < len(jobs)-3 {
		t.Errorf("only %d verdicts in %d jobs", judged, len(jobs))
	}
}

// Where a range is stated the walls never leave it, and nothing is right for the
// gauge that is not for the verdict.
func TestWallsAreCutAtTheMakersRange(t *testing.T) {
	for _, means := range []string{"1", "2"} {
		st := newStage(t, newMemory(), 80, 24)
		st.answers = smallJob(map[job.Topic]string{job.Capacity: "560-640", job.CapacityMeans: means})
		st.upTo(job.Decision)
		v, ok := st.app.guide.state.Judged()
		if d := st.gauge(); !ok || !d.Right.Known || d.Right.LowML < 560 || d.Right.HighML > 640 || shareRight(d) > v.PWithin+0.01 ||
			d.ManualML != 600 {
			t.Errorf("meaning %s: %+v, odds %v", means, d, v.PWithin)
		}
	}
}

// A quantity for a dry unit counts what stayed inside, and so does the gauge.
func TestDryFigureShowsWhatStays(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.answers = smallJob(map[job.Topic]string{job.CapacityMeans: "1"})
	st.upTo(job.Decision)
	s := st.app.guide.state
	if s.Meaning() != estimate.MeansDry {
		t.Fatalf("the quantity means %v", s.Meaning())
	}
	_, usual := s.Usual()
	d := st.gauge()
	if want := s.NetFill(0).Nominal + usual.Stays.Nominal; !d.WithStays || math.Abs(d.Now.ML-want) > 1e-6 || !(usual.Stays.Nominal > 20) {
		t.Errorf("shown is %v, want %v", d.Now.ML, want)
	}
	if drawn := gauge.View(d, 80, st.app.theme); !strings.Contains(drawn, "what stays") {
		t.Errorf("it does not say so:\n%s", drawn)
	}
}

// The lower bar is planned, so far, planned again while spill is still to come,
// and went in; what is typed and not stored is a draft.
func TestLowerBarGoesWithTheWork(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.answers = smallJob(map[job.Topic]string{job.CapacityMeans: "2"})
	st.upTo(job.DrainedAmount)
	if d := st.gauge(); d.Now.Known || d.CameOut.Known || d.ManualML != 600 || !d.Aim.Known || !d.Right.Known {
		t.Errorf("before anything is measured: %+v", d)
	}
	st.typed("550")
	if d := st.gauge(); !d.CameOut.Draft || math.Abs(d.CameOut.ML-550) > 5 {
		t.Errorf("while it is typed: %+v", d.CameOut)
	}
	st.typed("*")
	for _, row := range []struct {
		at   job.Topic
		kind gauge.Kind
	}{{job.PlanAccepted, gauge.Planned}, {job.FillReading, gauge.Planned}, {job.LeftInVessel, gauge.Planned}, {job.PlugSeated, gauge.Planned}, {job.Decision, gauge.WentIn}} {
		st.upTo(row.at)
		d := st.gauge()
		if d.Kind != row.kind || !d.Now.Known || d.Now.Draft || math.Abs(d.Now.ML-d.Aim.ML) > 60 || !(d.Now.UML > 5) {
			t.Errorf("at %v: %+v", row.at, d)
		}
		if row.at != job.FillReading {
			continue
		}
		st.typed("300")
		if d := st.gauge(); d.Kind != gauge.SoFar || !d.Now.Draft || !(d.Now.ML > 200 && d.Now.ML < 300) {
			t.Errorf("with 300 of 625 ml left in the vessel: %+v", d.Now)
		}
		st.typed("*")
	}
}

func TestGaugeSaysThatADryUnitLetNothingOut(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.answers = dryStart
	st.upTo(job.PlanAccepted)
	if d := st.gauge(); d.CameOut.None == "" || d.CameOut.Known {
		t.Errorf("%+v", d.CameOut)
	}
}

func TestLevelHoleTakesThePlaceOfTheWalls(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.answers = levelPort
	st.upTo(job.Decision)
	d := st.gauge()
	if drawn := gauge.View(d, 80, st.app.theme); !d.LevelHole || !strings.Contains(drawn, "level hole") || strings.Contains(drawn, "│") {
		t.Errorf("%+v\n%s", d, drawn)
	}
}
