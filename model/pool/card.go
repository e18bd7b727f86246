package pool

// This file makes unit cards of jobs whose owners named the kind of unit alike.

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"garage/tundish/model/card"
	"garage/tundish/model/estimate"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/learn"
	"garage/tundish/model/share"
	"garage/tundish/model/verdict"
)

// kind is what belongs on one card: units of one name, of one kind, filled one way.
type kind struct{ name, unit, path string }

// ofKind is what jobs of one kind tell.
type ofKind struct {
	jobs                    int
	threads, keys, washers  map[string]int
	out, in, stays, drained learn.Running
	spill                   map[rig]*learn.Running
}

// addKind adds a job to the card of its kind; none where its owner named none.
func (p *Pool) addKind(t *Told) {
	s := t.s
	name := card.Key(s.Text(job.ClubKind))
	if name == "" || name == card.Key(share.LeftOut) {
		return
	}
	k := kind{name, kindOf(s), s.Path().String()}
	if p.kinds == nil {
		p.kinds = map[kind]*ofKind{}
	}
	g := p.kinds[k]
	if g == nil {
		g = &ofKind{threads: map[string]int{}, keys: map[string]int{}, washers: map[string]int{}, spill: map[rig]*learn.Running{}}
		p.kinds[k] = g
	}
	g.jobs++
	for topic, said := range map[job.Topic]map[string]int{
		job.PlugThread: g.threads, job.PlugKey: g.keys, job.WasherKind: g.washers,
	} {
		if text := s.Text(topic); text != "" && text != share.LeftOut {
			said[text]++
		}
	}
	if cameOut(s) {
		d := s.Drained()
		g.out.Add(d.Total.Nominal - d.Late.Nominal)
		if took, ok := s.DrainedFor(); ok {
			g.drained.Add(took.Minutes())
		}
	}
	if (t.state == verdict.Proven || t.state == verdict.Accepted) && !s.DryStart() {
		g.in.Add(s.NetFill(s.Round()).Nominal)
	}
	if t.toldResidual {
		g.stays.Add(t.residual * s.CapacityML())
	}
	if t.toldSwap {
		addTo(g.spill, rigOf(s), t.escape)
	}
}

// cameOut reports whether what came out says what usually does: all of it, out of a
// unit that was filled by somebody who should have known, and not known to be off.
func cameOut(s *guide.Guide) bool {
	plan, err := s.Plan(0)
	if err != nil || !s.Measured() || s.DryStart() || plan.DrainedVoid || plan.Basis == estimate.ByCapacity {
		return false
	}
	return s.Past() == job.PastUndisturbed && s.Prior() != estimate.TrustNobodyKnows && !s.Drained().Contradict &&
		s.CardLooked() != job.CardLevelOff && s.Drained().Total.Finite()
}

// namedKinds are the names of kinds that owners gave, as they are compared, with the number
// of jobs of each, by name.
func (p *Pool) namedKinds() (list []NamedKind) {
	of := map[string]int{}
	for k, g := range p.kinds {
		of[k.name] += g.jobs
	}
	for _, name := range slices.Sorted(maps.Keys(of)) {
		list = append(list, NamedKind{name, of[name]})
	}
	return list
}

// NamedKind is a kind of unit by its owners' name.
type NamedKind struct {
	Name string `json:"name"`
	Jobs int    `json:"jobs"`
}

// Card is the card of the kind of unit that owners named so; where some of them are of
// another kind or filled another way, it is of the most, and others is the number of the
// rest. The error says why there is none.
func (p *Pool) Card(name string) (c card.Card, others int, err error) {
	var most *ofKind
	var of kind
	for k, g := range p.kinds {
		if k.name != card.Key(name) {
			continue
		}
		others += g.jobs
		if most == nil || cmp.Or(cmp.Compare(g.jobs, most.jobs), strings.Compare(of.unit+of.path, k.unit+k.path)) > 0 {
			most, of = g, k
		}
	}
	if most == nil {
		return c, 0, fmt.Errorf("no owner named a kind of unit %q for the club", name)
	}
	if n := most.out.N(); n < card.MinJobs {
		return c, 0, fmt.Errorf("%d of %d jobs named %q tell what usually comes out; %d are needed: fewer say what one car is like",
			n, most.jobs, name, card.MinJobs)
	}
	c = card.Card{Name: strings.Join(strings.Fields(name), " "), Unit: of.unit, Path: of.path, Jobs: most.jobs,
		Thread: mostSaid(most.threads), Key: mostSaid(most.keys), Washer: mostSaid(most.washers),
		Out: *figureOf(most.out), In: figureOf(most.in), Stays: figureOf(most.stays), Drain: figureOf(most.drained)}
	for r, ml := range most.spill {
		if f := figureOf(*ml); f != nil {
			c.Spill = append(c.Spill, card.ByRig{Filler: r.filler, HoseML: r.hoseML, Figure: *f})
		}
	}
	slices.SortFunc(c.Spill, func(a, b card.ByRig) int {
		return cmp.Or(strings.Compare(a.Filler, b.Filler), cmp.Compare(a.HoseML, b.HoseML))
	})
	return c, others - most.jobs, c.Check()
}

// figureOf is nil where too few jobs tell.
func figureOf(r learn.Running) *card.Figure {
	if r.N() < card.MinJobs {
		return nil
	}
	tenth := func(x float64) float64 { return math.Round(x*10) / 10 }
	return &card.Figure{Jobs: r.N(), Mean: tenth(r.Mean()), SD: tenth(r.SD())}
}

// mostSaid is the text that most have, the first in order of several; "" where no two
// have the same.
func mostSaid(said map[string]int) (text string) {
	n := 1
	for _, t := range slices.Sorted(maps.Keys(said)) {
		if said[t] > n {
			text, n = t, said[t]
		}
	}
	return text
}
