package garage

// This file holds the two ways through a job to the same entries, and the jobs of
// a unit to the same bits.

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"testing"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// standing are the entries that stand, in the order of their places, without
// wording and times.
func standing(t *testing.T, j job.Job) []string {
	t.Helper()
	s := job.Fold(j)
	var list []string
	for _, e := range s.Standing() {
		value, err := json.Marshal(e.Value)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, fmt.Sprintf("%v round %d item %d: %s", e.Topic, e.Round, e.Item, value))
	}
	slices.SortFunc(list, cmp.Compare[string])
	return list
}

// Thirty jobs, of every kind and with slips, end in the same entries whether the
// questions are waited for or not.
func TestBothWaysSameEntries(t *testing.T) {
	slips := []Slips{
		0, 0, Of(HundredOut), Of(HundredLoaded), Of(WrongFigure), Of(ForgottenCatch), Of(HoseWrong, HotReadAsCold), Of(WrongMeaning),
	}
	compared := 0
	for i := range 15 {
		c := Config{Seed: uint64(i), World: &Rough, Kind: Kind(1 + i%3), Slips: slips[i%len(slips)], Careful: i%4 == 0}
		asked, straight := NewCar(c), NewCar(c)
		for n := range 2 {
			a, b := asked.Visit(c.Slips), straight.Visit(c.Slips)
			ra, err := a.toDecision()
			if err != nil {
				t.Fatalf("car %d, job %d: %v", i, n, err)
			}
			rb, err := b.Straight()
			if err != nil {
				t.Fatalf("car %d, job %d, straight: %v", i, n, err)
			}
			want, got := standing(t, a.Job), standing(t, b.Job)
			for k := range max(len(want), len(got)) {
				if k >= len(want) || k >= len(got) || want[k] != got[k] {
					t.Fatalf("car %d, job %d, %v: by the questions\n%s\nstraight\n%s", i, n, c.Kind, at(want, k), at(got, k))
				}
			}
			if ra.OffML != rb.OffML || ra.Accepted != rb.Accepted {
				t.Errorf("car %d, job %d: off by %.3f and %.3f ml, accepted %v and %v", i, n, ra.OffML, rb.OffML, ra.Accepted, rb.Accepted)
			}
			compared += len(want)
		}
	}
	if compared < 30*60 {
		t.Errorf("only %d entries compared", compared)
	}
}

func at(list []string, i int) string {
	if i < len(list) {
		return list[i]
	}
	return "(no more)"
}

// thirtyJobs are the oil changes of one car, and the round that the last ended in.
func thirtyJobs(t testing.TB) (jobs []job.Job, round int) {
	car := NewCar(Config{Seed: 1, World: &Matched, Kind: DrainOnly})
	for range 30 {
		v := car.Visit(0)
		r, err := v.Straight()
		if err != nil {
			t.Fatal(err)
		}
		jobs, round = append(jobs, v.Job), r.Round
	}
	return jobs, round
}

func judgeLast(t testing.TB, jobs []job.Job, round int) verdict.Verdict {
	var unit guide.Chain
	var last *guide.Guide
	for _, j := range jobs {
		last = unit.Fold(j)
	}
	v, err := last.Verdict(round)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Thirty jobs of one unit are judged always to the same bits.
func TestThirtyJobsSameBits(t *testing.T) {
	jobs, round := thirtyJobs(t)
	first := judgeLast(t, jobs, round)
	for range 3 {
		v := judgeLast(t, jobs, round)
		if v.Error.Nominal != first.Error.Nominal || v.Error.U() != first.Error.U() || v.PWithin != first.PWithin {
			t.Errorf("off by %v ± %v, before %v ± %v", v.Error.Nominal, v.Error.U(), first.Error.Nominal, first.Error.U())
		}
	}
}

// Thirty jobs folded, adjusted together and the last judged.
func BenchmarkThirtyJobs(b *testing.B) {
	jobs, round := thirtyJobs(b)
	for b.Loop() {
		judgeLast(b, jobs, round)
	}
}
