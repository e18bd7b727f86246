package garage

// This file makes unit cards of simulated jobs, each by another owner, and looks at
// what they do for the first job of an owner more.

import (
	"math"
	"testing"

	"garage/tundish/model/card"
	"garage/tundish/model/estimate"
	"garage/tundish/model/learn"
	"garage/tundish/model/pool"
	sharing "garage/tundish/model/share"
	"garage/tundish/testdata/runs"
)

// ofKind is a card of jobs of one kind, one by each of so many owners, with that kind.
func ofKind(t *testing.T, w *World, seed uint64, owners int) (*Unit, *card.Card) {
	t.Helper()
	kind := NewCar(Config{Seed: seed, World: w, Kind: DrainOnly}).Unit
	var shared pool.Pool
	for i := range owners {
		v := NewCar(Config{Seed: seed*1000 + uint64(i) + 1, World: w, Kind: DrainOnly, Alike: kind}).Visit(0)
		if _, err := v.Straight(); err != nil {
			t.Fatal(err)
		}
		told, err := pool.Of(sharing.WithKind(v.Job))
		if err != nil {
			t.Fatal(err)
		}
		shared.Add(told)
	}
	c, others, err := shared.Card("K2 axle")
	if err != nil || others != 0 || c.Jobs != owners || c.In == nil || len(c.Spill) == 0 {
		t.Fatalf("%+v, %d others, %v", c, others, err)
	}
	return kind, &c
}

// cardSeen is what first jobs of a kind show.
type cardSeen struct {
	knownU, needU, needCovered, offU, covered, off, stopped learn.Running
}

func (c *cardSeen) add(v *Visit, end Result) {
	plan, err := end.State.Plan(0)
	rec := recordOf(v, end)
	if err != nil || !rec.told {
		return
	}
	yes := func(is bool) float64 {
		if is {
			return 1
		}
		return 0
	}
	need := estimate.AsSaid(plan.Target)
	c.knownU.Add(estimate.Coverage * estimate.AsSaid(plan.FromCapacity).U())
	c.needU.Add(estimate.Coverage * need.U())
	c.needCovered.Add(yes(math.Abs(need.Nominal-v.needML) <= estimate.Coverage*need.U()))
	c.offU.Add(estimate.Coverage * rec.u)
	c.covered.Add(yes(rec.covered()))
	c.off.Add(rec.offML * rec.offML)
	c.stopped.Add(yes(rec.stopped || rec.cardStop))
}

// A card of 30 jobs narrows what a first job of the same kind needs, and its ± still
// holds what it says.
func TestCardNarrowsTheNeedOfAFirstJob(t *testing.T) {
	kinds, firsts := sized(runs.Of(4, 6), 60), 8
	for _, w := range []*World{&Matched, &Rough} {
		var with, without cardSeen
		for k := range uint64(kinds) {
			kind, c := ofKind(t, w, k+1, 30)
			for i := range firsts {
				for _, x := range []struct {
					card *card.Card
					seen *cardSeen
				}{{nil, &without}, {c, &with}} {
					v := NewCar(Config{Seed: 1e6 + (k+1)*1000 + uint64(i), World: w, Kind: DrainOnly, Alike: kind, Card: x.card}).Visit(0)
					end, err := v.Straight()
					if err != nil {
						t.Fatal(err)
					}
					x.seen.add(v, end)
				}
			}
		}
		for name, s := range map[string]*cardSeen{"without": &without, "with": &with} {
			t.Logf("%s, %s a card: need before any drain ± %.1f ml, after it ± %.1f ml, covers %.1f %%; "+
				"off ± %.1f ml, covers %.1f %%, root of the mean square %.1f ml; "+
				"doubted %.1f %% (%d jobs)", w.Name, name, s.knownU.Mean(), s.needU.Mean(), 100*s.needCovered.Mean(), s.offU.Mean(),
				100*s.covered.Mean(),
				math.Sqrt(s.off.Mean()), 100*s.stopped.Mean(), s.off.N())
		}
		if with.knownU.Mean() > 0.98*without.knownU.Mean() || with.needU.Mean() > 0.99*without.needU.Mean() {
			t.Errorf("%s: the card does not narrow what is needed", w.Name)
		}
		if least := 0.95 - 2.6*math.Sqrt(0.95*0.05/float64(with.needCovered.N())); w == &Matched &&
			(with.needCovered.Mean() < least || with.covered.Mean() < least) {
			t.Errorf("%s: with a card ± holds %.3f and %.3f", w.Name, with.needCovered.Mean(), with.covered.Mean())
		}
	}
}
