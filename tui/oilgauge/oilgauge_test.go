package oilgauge

// This file tests what the gauge is told, on oil changes of the simulated garage:
// that what it shows is what the verdict goes by, and how the lower bar changes
// with the work.

import (
	"math"
	"slices"
	"strings"
	"testing"

	"garage/tundish/model/estimate"
	"garage/tundish/model/garage"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
	"garage/tundish/model/verdict"
	"garage/tundish/tui/gauge"
	"garage/tundish/tui/theme"
)

// playGarage plays the first oil change of some units of a kind and gives each
// moment of them.
func playGarage(t *testing.T, kind garage.Kind, units int, each func(*guide.Guide)) {
	t.Helper()
	for seed := range units {
		v := garage.New(garage.Config{Seed: uint64(seed), World: &garage.Rough, Kind: kind})
		if err := v.Play(func(r garage.Result) bool { each(r.State); return true }); err != nil {
			t.Fatal(err)
		}
	}
}

// shareRight is the share of a normal distribution about the lower bar, of which
// the shade is twice the standard deviation to either side, between the walls.
func shareRight(d gauge.Data) float64 {
	_, within, _ := measure.Probability(measure.Gaussian("shade", d.Now.ML, d.Now.UML/estimate.Coverage), d.Right.LowML, d.Right.HighML)
	return within
}

// finished is a first oil change as its owner left it, with another answer about
// a topic of its first step.
func finished(t *testing.T, kind garage.Kind, seed int, topic job.Topic, change func(*job.Value)) *guide.Guide {
	t.Helper()
	v := garage.New(garage.Config{Seed: uint64(seed), World: &garage.Rough, Kind: kind})
	if _, err := v.Straight(); err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(v.Job.Entries, func(e job.Entry) bool { return e.Topic == topic })
	change(&v.Job.Entries[at].Value)
	return guide.Fold(v.Job, guide.Offers{})
}

// What is seen is what is said: the aim is that of the verdict's sentence, the bar ends as
// far beside it as the sentence says, in its words, and shade and walls have its odds to one
// in a hundred, whatever the stated quantity means.
func TestShadeAndWallsHaveTheOddsOfTheVerdict(t *testing.T) {
	judged := 0
	compare := func(s *guide.Guide) {
		d := Of(s, s)
		round, ok := s.JudgedRound()
		h, err := s.Headline(round)
		if !ok || err != nil || d.Kind != gauge.WentIn || round != s.Round() {
			return
		}
		judged++
		if got := shareRight(d); math.Abs(got-h.Verdict.PWithin) > 0.01 {
			t.Errorf("the gauge shows %.3f, the verdict says %.3f: %+v", got, h.Verdict.PWithin, d)
		}
		stays, _ := s.StaysBehind(round)
		if dry := s.Meaning() == estimate.MeansDry && !s.DryStart(); !dry {
			stays = measure.Value{}
		} else if !d.WithStays {
			t.Errorf("a quantity for a dry unit: %+v", d)
		}
		aim, off := h.Aim.Nominal+stays.Nominal, h.Verdict.Error.Nominal
		if math.Abs(d.Now.ML-d.Aim.ML-off) > 1e-6 || math.Abs(d.Aim.ML-aim) > 1e-6 {
			t.Errorf("%v belong in and it is off by %v, the gauge shows %+v", aim, off, d)
		}
		said := d.Now.Off + " ± " + s.Units().BareVolumes(aim, d.Now.UML)[1]
		if h.Word != verdict.LevelDisputed && !strings.HasSuffix(h.Sentence, " "+said) {
			t.Errorf("%q: the gauge says %s", h.Sentence, said)
		}
	}
	for _, kind := range []garage.Kind{garage.DrainOnly, garage.DryFirst} {
		playGarage(t, kind, 6, compare)
		for seed := range 6 {
			for _, m := range []estimate.Meaning{estimate.MeansDry, estimate.MeansRefill, estimate.MeansUnknown} {
				compare(finished(t, kind, seed, job.CapacityMeans, func(v *job.Value) { v.Choice = m.String() }))
			}
		}
	}
	if judged < 60 {
		t.Errorf("only %d verdicts", judged)
	}
}

// The lower bar goes from planned by so far and planned again, while spill is
// still to come, to went in, in every job; and it can always be drawn.
func TestLowerBarGoesWithTheWork(t *testing.T) {
	seen := map[gauge.Kind]int{}
	playGarage(t, garage.AnyKind, 8, func(s *guide.Guide) {
		d := Of(s, s)
		if d.Now.Known {
			seen[d.Kind]++
		}
		if s.Pushes(0) && s.HasIn(job.FillEnded, 0) && !s.HasIn(job.LeftInVessel, 0) {
			if look := soFar(s); !(look.Now.ML >= 0 && look.Now.ML < look.Aim.ML) {
				t.Errorf("half of it pushed: %+v", look)
			} else {
				seen[look.Kind]++
			}
		}
		if d.Now.Draft || d.CameOut.Draft {
			t.Errorf("nothing is being typed: %+v", d)
		}
		if d.CameOut.Known != (s.Has(job.DrainedAmount) || s.Has(job.DripReading)) && !s.DryStart() {
			t.Errorf("what came out: %+v", d.CameOut)
		}
		drawn := gauge.View(d, 60, theme.New(theme.Options{}))
		if strings.Count(drawn, "\n") != gauge.Rows-1 || d.LevelHole && d.Aim.Known != strings.Contains(drawn, "level hole") {
			t.Errorf("%+v\n%s", d, drawn)
		}
		if s.DryStart() != strings.Contains(drawn, "none, unit was dry") {
			t.Errorf("%+v\n%s", d, drawn)
		}
	})
	if seen[gauge.Planned] == 0 || seen[gauge.SoFar] == 0 || seen[gauge.WentIn] == 0 {
		t.Errorf("seen: %v", seen)
	}
}

// soFar is what the gauge shows of a push that has just ended, when half of what was
// loaded was still in the vessel.
func soFar(s *guide.Guide) gauge.Data {
	entries, _ := s.Ledger()
	entries = slices.DeleteFunc(slices.Clone(entries), func(e job.Entry) bool { return e.Topic == job.FillEnded })
	last := entries[len(entries)-1]
	half := job.Value{Number: s.Loaded(0).Nominal / 2, Unit: job.DimML}
	entries = append(entries, job.Entry{Seq: last.Seq + 1, At: last.At, Topic: job.FillReading, Value: half})
	s = guide.Fold(job.Job{ID: s.ID, Started: s.Started, Entries: entries}, guide.Offers{})
	return Of(s, s)
}

// What is typed and not stored is a draft.
func TestWhatIsTypedIsADraft(t *testing.T) {
	before, drafts := guide.Fold(job.Job{}, guide.Offers{}), 0
	playGarage(t, garage.DrainOnly, 2, func(s *guide.Guide) {
		now, had := s.DrainedNow()
		was, ok := before.DrainedNow()
		if d := Of(s, before); had && (!ok || now.Nominal != was.Nominal) {
			drafts++
			if !d.CameOut.Draft || math.Abs(d.CameOut.ML-now.Nominal) > 1e-9 {
				t.Errorf("%+v", d.CameOut)
			}
		} else if d.CameOut.Draft {
			t.Errorf("nothing new came out: %+v", d.CameOut)
		}
		before = s
	})
	if drafts == 0 {
		t.Error("nothing came out")
	}
}
