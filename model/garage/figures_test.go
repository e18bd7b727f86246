package garage

// This file holds what the guide says to what is so, over many units and years:
// the figures that it must reach, each a line of a table. Limits are the design's
// of this tool (computed with a prototype in two simulated garages, no source).

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"garage/tundish/model/learn"
	"garage/tundish/testdata/runs"
)

// worlds are those that a figure has a limit for, in their order, and one that is
// printed alone.
var worlds = []*World{&Matched, &Rough, &Third, &Uneven}

// played is all that was played in one world.
type played struct {
	series  map[Kind][]record // clean, six oil changes each
	singles []record          // clean, drain only, one oil change each
	slips   []record          // the same with one slip each
	careful []record          // that of persons who take what is offered against slips
	belongs []record          // those with a slip about what belongs in
	bottles []record          // 100 ml misread at the load, bottles noted
	unseen  map[Kind][]record // the same without another measure, and the next oil change
	forgot  []record          // nothing was caught
	leaking []record          // clean, drain only, 3 % lost from one change to the next
}

// oneGoodJug measures out and in with one jug whose marks are off by 2 % at most:
// what is found of a slip or of a loss goes by the tools.
func oneGoodJug(c *Car) {
	const good = 0.02
	t := c.Tools
	t.Jug.off, t.Jug.claimed = t.Jug.off*good/t.Jug.claimed, good
	t.OutBy, t.LoadedBy = "c0", "c0"
}

// jobsAUnit is how many oil changes a unit is followed for.
const jobsAUnit = 6

var kinds = []Kind{DrainOnly, DryFirst, LevelHole}

func playWorld(t *testing.T, w *World, units, singles int) *played {
	p := &played{series: map[Kind][]record{}, unseen: map[Kind][]record{}}
	for _, k := range kinds {
		p.series[k] = run{Config: Config{World: w, Kind: k}, cars: units, jobs: jobsAUnit}.drive(t)
	}
	drain := Config{World: w, Kind: DrainOnly}
	p.singles = run{Config: drain, cars: singles, jobs: 1}.drive(t)
	p.slips = run{Config: drain, cars: singles, jobs: 1, slips: oneSlip}.drive(t)
	p.belongs = run{Config: drain, cars: singles, jobs: 1, slips: func(i, _ int) Slips {
		return Of([]Slip{HundredOut, WrongFigure, WrongMeaning, PriorWrong}[i%4])
	}}.drive(t)
	careful := drain
	careful.Careful = true
	p.careful = run{Config: careful, cars: singles, jobs: 1, slips: oneSlip}.drive(t)
	alone := func(noted bool) func(*Car) { // nothing else but bottles checks the load
		return func(c *Car) {
			oneGoodJug(c)
			c.Tools.BottlesNoted, c.Tools.VesselWeighed = noted, false
		}
	}
	misread := func(_, n int) Slips {
		if n > 0 {
			return 0
		}
		return Of(HundredLoaded)
	}
	p.bottles = run{Config: drain, cars: units, jobs: 1, change: alone(true), slips: misread}.drive(t)
	for _, k := range []Kind{DrainOnly, DryFirst} {
		p.unseen[k] = run{Config: Config{World: w, Kind: k}, cars: units, jobs: 2, change: alone(false), slips: misread}.drive(t)
	}
	leaking := drain
	leaking.LossShare = 0.03
	p.leaking = run{Config: leaking, cars: units * 2 / 3, jobs: jobsAUnit, change: oneGoodJug}.drive(t)
	drain.Slips = Of(ForgottenCatch)
	p.forgot = run{Config: drain, cars: units / 3, jobs: 1}.drive(t)
	return p
}

// seen is a figure as it came out: a share or a difference of shares, of n of
// which about p hold, or the mean of n of a standard deviation.
type seen struct {
	x, p float64
	n    int
	sd   float64
}

func shareOf(list []record, is func(record) bool) seen {
	x := share(list, is)
	return seen{x: x, p: x, n: len(list)}
}

// fewest is how many a share must be of for its normal approximation to mean
// anything.
const fewest = 10

// worstOf is the lowest, or the highest, of a figure at each job from one on.
func worstOf(list []record, from int, highest bool, of func([]record) seen) seen {
	worst := seen{}
	for n := from; n < jobsAUnit; n++ {
		at := of(only(list, func(r record) bool { return r.n == n }))
		if at.n >= fewest && (worst.n == 0 || (at.x > worst.x) == highest) {
			worst = at
		}
	}
	return worst
}

func covers(list []record) seen { return shareOf(only(list, told), record.covered) }

// saidAbove is how far what is said of accepted fills is above what is so.
func saidAbove(list []record) seen {
	list = only(list, accepted)
	return seen{x: saidMean(list) - share(list, within), p: share(list, within), n: len(list)}
}

// rateOf is the mean rate of loss that is found.
func rateOf(list []record) seen {
	var r learn.Running
	for _, rec := range list {
		r.Add(rec.lost)
	}
	return seen{x: r.Mean(), n: r.N(), sd: r.SD()}
}

func last(r record) bool { return r.n == jobsAUnit-1 }

func eitherWay(s seen) seen { s.x = math.Abs(s.x); return s }

func off100(r record) bool { return r.beyond(100) }

// figure is one that must be reached.
type figure struct {
	number, what string
	least        bool // the limit is the least; else the most
	limit        [3]float64
	of           func(*played) seen
}

var none = math.NaN() // no limit: it is printed alone

func figures() []figure { return slices.Concat(overTheYears(), single(), withSlips()) }

// overTheYears are the figures of clean jobs, one after another.
func overTheYears() []figure {
	var list []figure
	for _, k := range kinds {
		list = append(list,
			figure{"1", fmt.Sprintf("± covers, %v, jobs 1 to 6", k), true, [3]float64{0.93, 0.93, 0.85},
				func(p *played) seen { return covers(p.series[k]) }},
			figure{"1", fmt.Sprintf("± covers, %v, the worst of jobs 1 to 6", k), true, [3]float64{0.90, 0.90, 0.85},
				func(p *played) seen { return worstOf(p.series[k], 0, false, covers) }},
			figure{"1", fmt.Sprintf("said above true, %v, the worst of jobs 2 to 6", k), false, [3]float64{0.05, 0.05, none},
				func(p *played) seen { return worstOf(p.series[k], 1, true, saidAbove) }})
	}
	rate := func(p *played) seen { return rateOf(only(p.leaking, last)) }
	return append(list, []figure{
		{"7", "level hole weeps at the first push", true, [3]float64{0.94, 0.94, none},
			func(p *played) seen { return shareOf(p.series[LevelHole], func(r record) bool { return r.weeps }) }},
		{"8", "one good jug, loses 3 % from change to change: ± covers at job 6", true, [3]float64{0.90, none, none},
			func(p *played) seen { return covers(only(p.leaking, last)) }},
		{"8", "the rate found at job 6, at least", true, [3]float64{0.022, none, none}, rate},
		{"8", "the rate found at job 6, at most", false, [3]float64{0.028, none, none}, rate},
		{"9", "clean drains doubted", false, [3]float64{0.06, 0.16, none},
			func(p *played) seen { return shareOf(p.series[DrainOnly], func(r record) bool { return r.stopped }) }},
	}...)
}

// single are the figures of clean jobs of which each is the unit's first.
func single() []figure {
	return []figure{
		{"1", "said from true, accepted single jobs", false, [3]float64{0.06, 0.06, 0.05},
			func(p *played) seen { return eitherWay(saidAbove(p.singles)) }},
		{"2", "right, of accepted single jobs", true, [3]float64{0.90, 0.90, none},
			func(p *played) seen { return shareOf(only(p.singles, accepted), within) }},
		{"2", "off by more than 100 ml, of accepted single jobs", false, [3]float64{0.035, 0.035, none},
			func(p *played) seen { return shareOf(only(p.singles, accepted), off100) }},
		{"2", "off by more than 100 ml, of all single jobs", false, [3]float64{0.045, 0.045, none},
			func(p *played) seen { return shareOf(p.singles, off100) }},
	}
}

// withSlips are the figures of jobs with a slip.
func withSlips() []figure {
	stand := func(p *played) []record { return only(p.belongs, func(r record) bool { return r.stands }) }
	found := func(r record) bool { return r.doubts > 0 }
	return []figure{
		{"3", "said where a contradiction stands", false, [3]float64{0.6, 0.6, none},
			func(p *played) seen { return seen{x: saidMean(stand(p)), p: 0.5, n: len(stand(p))} }},
		{"3", "right where a contradiction stands", false, [3]float64{none, none, none},
			func(p *played) seen { return shareOf(stand(p), within) }},
		{"3", "accepted and outside where a contradiction stands", false, [3]float64{0.03, 0.03, none},
			func(p *played) seen { return shareOf(stand(p), func(r record) bool { return r.accepted && !r.within }) }},
		{"4", "asked again where nothing is said to have escaped", true, [3]float64{1, 1, 1},
			func(p *played) seen { return shareOf(p.forgot, func(r record) bool { return r.asksNone }) }},
		{"5", "one good jug, load misread by 100 ml, bottles noted: found", true, [3]float64{0.93, 0.93, none},
			func(p *played) seen { return shareOf(p.bottles, found) }},
		{"5", "of those, both readings named", true, [3]float64{1, 1, none},
			func(p *played) seen {
				return shareOf(only(p.bottles, found), func(r record) bool { return r.doubts > 1 })
			}},
		{"6", "the same without bottles: found at the next drain", true, [3]float64{0.65, 0.65, none},
			func(p *played) seen { return nextDrain(p.unseen[DrainOnly]) }},
		{"6", "the same after a dry start", true, [3]float64{0.65, 0.65, none},
			func(p *played) seen { return nextDrain(p.unseen[DryFirst]) }},
		{"12", "one slip each: off by more than 100 ml, of accepted", false, [3]float64{none, none, none},
			func(p *played) seen { return shareOf(only(p.slips, accepted), off100) }},
		{"12", "the same, careful: read twice, bottles noted, figure looked up twice", false, [3]float64{0.05, 0.05, none},
			func(p *played) seen { return shareOf(only(p.careful, accepted), off100) }},
	}
}

// nextDrain is the share of units doubted at their second oil change.
func nextDrain(list []record) seen {
	return shareOf(only(list, func(r record) bool { return r.n == 1 }), func(r record) bool { return r.stopped })
}

// slack is what chance alone may take from a limit.
func (s seen) slack(limit float64) float64 {
	if s.sd > 0 {
		return 3.3 * s.sd / math.Sqrt(float64(s.n))
	}
	p := limit
	if s.p > 0 && s.p < 1 {
		p = s.p
	}
	return 3.3 * math.Sqrt(p*(1-p)/math.Max(float64(s.n), 1))
}

// holds reports whether a figure keeps its limit, chance allowed for.
func (f figure) holds(s seen, world int) bool {
	if world >= len(f.limit) || math.IsNaN(f.limit[world]) || s.n == 0 {
		return true
	}
	limit := f.limit[world]
	if f.least {
		return s.x >= limit-s.slack(limit)
	}
	return s.x <= limit+s.slack(limit)
}

// limits are those of the worlds, in words; none where none has any.
func (f figure) limits() string {
	sign := "≤"
	if f.least {
		sign = "≥"
	}
	text := fmt.Sprintf("%s %.1f / %.1f / %.1f", sign, 100*f.limit[0], 100*f.limit[1], 100*f.limit[2])
	if text = strings.ReplaceAll(text, "NaN", "-"); strings.HasSuffix(text, " - / - / -") {
		return ""
	}
	return text
}

// table is figures in Markdown, a column a world.
func table(all []*played) string {
	var b strings.Builder
	b.WriteString("\n| figure | limit | matched | rough | third | uneven |\n|---|---|---|---|---|---|\n")
	for _, f := range figures() {
		fmt.Fprintf(&b, "| %s. %s | %s |", f.number, f.what, f.limits())
		for i, p := range all {
			s := f.of(p)
			mark := ""
			if !f.holds(s, i) {
				mark = " **no**"
			}
			fmt.Fprintf(&b, " %.1f (%d)%s |", 100*s.x, s.n, mark)
		}
		b.WriteString("\n")
	}
	return b.String()
}

// The short run plays a few units of the two worlds that the model may be tuned by;
// the long one, of TUNDISH_GARAGE_JOBS units, all, and prints the tables.
func TestFigures(t *testing.T) {
	units, long := longRun()
	if !long {
		units = runs.Of(9, 12)
	}
	var all []*played
	for i, w := range worlds {
		if i >= 2 && !long {
			continue
		}
		p := playWorld(t, w, units, units*20/3)
		all = append(all, p)
		for _, f := range figures() {
			if s := f.of(p); !f.holds(s, i) {
				t.Errorf("%s: %s. %s: %.1f of %d, limit %.1f", w.Name, f.number, f.what, 100*s.x, s.n, 100*f.limit[i])
			}
		}
	}
	if long {
		t.Log(table(all))
		t.Log(byHand(all))
		t.Log(normalised(all))
	}
}

// normalised is how far what is off lies from what is said of it, in its own standard
// uncertainties: 0 and 1 where all is as assumed and no judgement is widened.
func normalised(all []*played) string {
	var b strings.Builder
	b.WriteString("\n| (off - said)/u: mean, standard deviation | first job | all six | nothing doubted | a contradiction stands |\n" +
		"|---|---|---|---|---|\n")
	for i, p := range all {
		for _, k := range kinds {
			fmt.Fprintf(&b, "| %s, %v |", worlds[i].Name, k)
			for _, keep := range []func(record) bool{
				func(r record) bool { return r.n == 0 }, told,
				func(r record) bool { return !r.stopped && !r.stands }, func(r record) bool { return r.stands },
			} {
				var z learn.Running
				for _, r := range only(only(p.series[k], told), keep) {
					z.Add((r.offML - r.saysML) / r.u)
				}
				fmt.Fprintf(&b, " %+.2f, %.2f (%d) |", z.Mean(), z.SD(), z.N())
			}
			b.WriteString("\n")
		}
	}
	return b.String()
}

// filled is drain-only units at their first oil change, by one way of filling:
// clean and with one slip each.
type filled struct{ clean, slips []record }

// cell is how many are off by more than so many ml, in percent.
func cell(list []record, ml float64) string {
	return fmt.Sprintf("%.0f", 100*share(list, func(r record) bool { return r.beyond(ml) }))
}

// byHand compares the guide with the two rules of the trade, on the same units, in
// the two worlds that it is made for.
func byHand(all []*played) string {
	rows := []struct {
		name string
		of   func(*World, *played) filled
	}{
		{"by hand: put in what came out", func(w *World, p *played) filled { return handFilled(w, p, WhatCameOut) }},
		{"by hand: put in the manual's quantity and 50 ml", func(w *World, p *played) filled { return handFilled(w, p, StatedAnd50) }},
		{"with the guide", func(_ *World, p *played) filled { return filled{p.singles, p.slips} }},
		{"with the guide, accepted as right", func(_ *World, p *played) filled {
			return filled{only(p.singles, accepted), only(p.slips, accepted)}
		}},
	}
	var b strings.Builder
	b.WriteString("\n| off by more than | 50 ml | 100 ml | 50 ml, one slip | 100 ml, one slip |\n|---|---|---|---|---|\n")
	for _, row := range rows {
		m, r := row.of(worlds[0], all[0]), row.of(worlds[1], all[1])
		fmt.Fprintf(&b, "| %s |", row.name)
		for _, pair := range [][2][]record{{m.clean, r.clean}, {m.slips, r.slips}} {
			for _, ml := range []float64{50, 100} {
				fmt.Fprintf(&b, " %s to %s %% |", cell(pair[0], ml), cell(pair[1], ml))
			}
		}
		b.WriteString("\n")
	}
	return b.String()
}

// handFilled fills the units of the single jobs by hand.
func handFilled(w *World, p *played, r Rule) (f filled) {
	for i := range p.singles {
		c := Config{Seed: uint64(i), World: w, Kind: DrainOnly}
		f.clean = append(f.clean, record{offML: New(c).ByHand(r)})
		c.Slips = oneSlip(i, 0)
		f.slips = append(f.slips, record{offML: New(c).ByHand(r)})
	}
	return f
}
