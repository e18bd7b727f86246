package guide

// This file folds units whose jobs have lost entries, contradict each other or
// are another unit's, and checks that all figures stay numbers.

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"garage/tundish/model/job"
	"garage/tundish/model/measure"
	"garage/tundish/testdata/runs"
)

// mutilated is a job that has lost some of its entries, or had them changed.
func mutilated(t *rapid.T, j job.Job, capacityTimes []float64) job.Job {
	drop := rapid.SliceOfNDistinct(rapid.IntRange(0, len(j.Entries)-1), 0, 12, rapid.ID[int]).Draw(t, "drop")
	times := rapid.SampledFrom(capacityTimes).Draw(t, "capacity times")
	exact := rapid.IntRange(0, 5).Draw(t, "no tolerance") == 0
	var kept []job.Entry
	add := func(e job.Entry) {
		e.Seq = len(kept) + 1
		kept = append(kept, e)
	}
	for i, e := range j.Entries {
		if slices.Contains(drop, i) {
			continue
		}
		e.Strikes = 0
		switch e.Topic {
		case job.Capacity:
			e.Value.Number, e.Value.High = times*e.Value.Number, times*e.Value.High
		case job.ToleranceTopic:
			if exact {
				e.Value.Number, e.Value.High = 0, 0
			}
		}
		add(e)
	}
	if len(kept) == 0 {
		return job.Job{ID: j.ID, Started: j.Started}
	}
	last := kept[len(kept)-1].At
	if rapid.IntRange(0, 4).Draw(t, "dry") == 0 {
		add(job.Entry{At: last, Topic: job.DryStart, Value: job.Value{Choice: "dry"}})
	}
	for _, struck := range rapid.SliceOfN(rapid.IntRange(1, len(kept)), 0, 3).Draw(t, "struck") {
		add(job.Entry{At: last, Topic: job.Undo, Strikes: struck})
	}
	if rapid.Bool().Draw(t, "odd entry") {
		if e := stranger(t, len(kept)+1); e.Check() == nil && e.CheckSense() == nil {
			e.At = last
			add(e)
		}
	}
	return job.Job{ID: j.ID, Started: j.Started, Entries: kept}
}

// figure is one number that a job comes to.
type figure struct {
	name string
	x    float64
}

// figuresOf are the numbers that a job comes to.
func figuresOf(s *Guide) (list []figure) {
	number := func(name string, x float64) { list = append(list, figure{name, x}) }
	value := func(name string, v measure.Value) {
		number(name, v.Nominal)
		number("u of "+name, v.U())
	}
	for round := range s.Rounds() {
		if plan, err := s.Plan(round); err == nil {
			value(fmt.Sprintf("target %d", round), plan.Target)
			value("charge", plan.Charge)
			value("by what came out", plan.FromDrained)
			value("by the stated quantity", plan.FromCapacity)
			number("preload", plan.PreloadML)
			number("z", plan.Z)
		}
		if v, err := s.Verdict(round); err == nil {
			value(fmt.Sprintf("off %d", round), v.Error)
			value("by sums", v.BySums)
			for _, x := range []float64{v.PLow, v.PWithin, v.PHigh, v.PBest, v.ActML, v.LevelZ} {
				number("verdict", x)
			}
		}
		value("balance", s.Balance(round).Passed)
	}
	if missing, _, ok := s.Missing(); ok {
		value("missing", missing)
	}
	lessons := s.Lessons()
	for _, l := range []float64{lessons.Residual.ML, lessons.Residual.UML, lessons.Escape.ML, lessons.Escape.UML} {
		number("lesson", l)
	}
	for _, w := range s.Worth() {
		number(w.What, w.ToML)
		number(w.What+" from", w.FromML)
		number(w.What+" right", w.PWithin)
	}
	if p, ok := s.BestFill(); ok {
		number("best fill", p)
	}
	for _, u := range allBreakdowns(s) {
		value("total of "+u.what, u.sum.Total)
	}
	return list
}

// Whatever a unit's jobs have lost, every figure is a number, every sum adds up,
// and folded again all are the same, bit for bit.
func TestMutilatedJobsOfAUnit(t *testing.T) {
	names := jobNames()
	whole := map[string]job.Job{}
	for _, name := range names {
		whole[name] = driven(t, name)
	}
	runs.Check(t, 35, func(t *rapid.T) {
		times, otherUnits := []float64{1, 1, 0.5, 0.9, 1.1, 2}, rapid.IntRange(0, 3).Draw(t, "other units") == 0
		if otherUnits {
			times = append(times, 0.02, 50, 1000)
		}
		jobs := make([]job.Job, rapid.IntRange(1, 4).Draw(t, "jobs"))
		for i := range jobs {
			j := whole[rapid.SampledFrom(names).Draw(t, "job")]
			j.ID, j.Started = fmt.Sprintf("job-%d", i+1), start.AddDate(i, 0, 0)
			jobs[i] = mutilated(t, j, times)
		}
		again := foldUnit(jobs)
		for i, s := range foldUnit(jobs) {
			figures := figuresOf(s)
			for _, f := range figures {
				if math.IsNaN(f.x) || math.IsInf(f.x, 0) {
					t.Fatalf("job %d: %s is %v", i+1, f.name, f.x)
				}
			}
			for _, u := range allBreakdowns(s) {
				if fault := sumFault(u); fault != "" && !otherUnits { // there rounding is more than sumFault lets pass
					t.Fatalf("job %d, %s: %s", i+1, u.what, fault)
				}
			}
			same := func(a, b figure) bool { return a.name == b.name && math.Float64bits(a.x) == math.Float64bits(b.x) }
			if other := figuresOf(again[i]); !slices.EqualFunc(figures, other, same) {
				t.Fatalf("job %d: figures differ when it is folded again:\n%v\n%v", i+1, figures, other)
			}
		}
	})
}
