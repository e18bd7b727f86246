package guide

// This file checks the whole chain, from typed readings to the probability of
// the verdict, against a Monte Carlo propagation of distributions (JCGM
// 101:2008) that is written anew in plain numbers: every input is drawn, and
// the same arithmetic done hundreds of thousands of times. Nothing of the chain is used but
// its answers.

import (
	"math"
	"math/rand/v2"
	"sort"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

const draws = 300_000

// dice draws errors.
type dice struct{ *rand.Rand }

func (d dice) normal(u float64) float64    { return u * d.NormFloat64() }
func (d dice) within(half float64) float64 { return half * (2*d.Float64() - 1) }

// to20 is V20/V for lubricating oil: API MPMS 11.1 (1980), table 54D.
func to20(rho15, tempC float64) float64 {
	vcf := func(t float64) float64 {
		a := 0.6278 / rho15 * (t - 15)
		return math.Exp(-a * (1 + 0.8*a))
	}
	return vcf(tempC) / vcf(20)
}

// outcomes are what the draws came to: what is needed, how far off the fill
// is, and by how much the draw misses what was read: of what came out, and of
// what usually escapes.
type outcomes struct{ needed, off, outMiss, escapeMiss []float64 }

func (o *outcomes) add(needed, inUnit, outMiss, escapeMiss float64) {
	o.needed, o.off = append(o.needed, needed), append(o.off, inUnit-needed)
	o.outMiss, o.escapeMiss = append(o.outMiss, outMiss), append(o.escapeMiss, escapeMiss)
}

// given is a drawn quantity where the draws miss nothing: the regression on what
// they miss, which is what a linear world knows after the readings.
func given(xs, miss []float64) []float64 {
	_, beta := stat.LinearRegression(miss, xs, nil, false)
	out := make([]float64, len(xs))
	for i, x := range xs {
		out[i] = x - beta*miss[i]
	}
	return out
}

func meanAndSD(xs []float64) (mean, sd float64) {
	for _, x := range xs {
		mean += x / float64(len(xs))
	}
	for _, x := range xs {
		sd += (x - mean) * (x - mean) / float64(len(xs)-1)
	}
	return mean, math.Sqrt(sd)
}

func shareWithin(xs []float64, low, high float64) float64 {
	n := 0
	for _, x := range xs {
		if x >= low && x <= high {
			n++
		}
	}
	return float64(n) / float64(len(xs))
}

// byOneJug draws the job of TestChainByOneJug: of what the trade takes for
// granted, 8 % of 900 ± 31.2 stay behind, ± 18 of that this time, the level before
// is good to 5 %, and 50 ± 8 escape at a swap, ± 24 of that this time.
func byOneJug(d dice) outcomes {
	const rho = 870.0
	stayU := math.Sqrt(36*36 - 18*18)
	var out outcomes
	for range draws {
		marks := 1 + d.within(0.02)
		read := func(ml, tempC, tempU float64) float64 {
			return (ml + d.within(5) + d.normal(1.5)) * marks * to20(rho, tempC+d.normal(tempU))
		}
		needed := 900 + d.normal(0.005*900) - 72 - d.normal(stayU) - d.normal(18)
		cameOut, escaped := read(830, 45, 1), read(55, 20, 5)+d.normal(2)
		in := read(910, 20, 1) - read(30, 20, 1) - 25*(1+d.normal(0.05)) - escaped
		out.add(needed, in, cameOut-d.normal(45)-needed, escaped-50-d.normal(8)-d.normal(24))
	}
	return out
}

// byScale draws the job of TestChainByScale. A weighing is exact to half a
// division and the scale to 0.2 %; the sheet's density, 885 ± 3 kg/m³, is that of
// all oil but what came out, which may be another make (± 5 kg/m³). Of the 800 of
// a refill, and 8 % more that stay behind, this drain keeps 2 % more or less, and the
// level before is good to as much.
func byScale(d dice) outcomes {
	const rho = 885.0
	const lift = 1.00121 // of the air on what is weighed
	const whole = 800 / (1 - 0.08)
	var out outcomes
	for range draws {
		scale := 1 + d.within(0.002)
		perG := 1000 / (rho + d.normal(3)) * lift * to20(rho, 15)
		weigh := func(gross, tare float64) float64 { return (gross + d.within(1) - tare - d.within(1)) * perG * scale }
		one := func(g float64) float64 { return (g + d.within(1)) * perG * scale }
		needed := 800 + d.normal(0.022*800) - d.normal(0.02*whole)
		cameOut, guess := weigh(1030, 330)*(1+d.normal(5/rho)), 60+d.within(0.7*60)
		out.add(needed, one(760)-one(20)-guess, cameOut-d.normal(0.02*whole)-needed, guess-50-d.normal(8)-d.normal(24))
	}
	return out
}

// agrees compares a verdict with what the draws came to. The linear chain takes
// the error for normal; pTolerance and halfTolerance say how far that may carry
// off the probability, and the ± that covers 19 in 20.
func agrees(t *testing.T, s *Guide, drawn outcomes, pTolerance, halfTolerance float64) {
	t.Helper()
	plan, v := planFor(t, s, 0), verdictOf(t, s, 0)
	mean, sd := meanAndSD(given(drawn.needed, drawn.outMiss))
	near(t, "needed", plan.Target.Nominal, mean, 0.15)
	near(t, "u of needed over drawn", plan.Target.U()/sd, 1, 0.005)
	drawn.off = given(given(drawn.off, drawn.outMiss), drawn.escapeMiss) // the two misses are as good as independent
	off := asDrawn(v.Error)
	mean, sd = meanAndSD(drawn.off)
	near(t, "off", off.Nominal, mean, 0.15)
	near(t, "u of off over drawn", off.U()/sd, 1, 0.005)
	low, high := plan.Low-plan.Target.Nominal, plan.High-plan.Target.Nominal
	_, within, _ := measure.Probability(off, low, high)
	near(t, "P(within)", within, shareWithin(drawn.off, low, high), pTolerance)

	sort.Float64s(drawn.off) // 19 in 20: what the ± of every screen says
	half := (drawn.off[draws*39/40] - drawn.off[draws/40]) / 2
	near(t, "± over drawn", estimate.Coverage*off.U()/half, 1, halfTolerance)
}

// asDrawn is how far off a fill is said to be, without what the ± has on top for
// how unsure judgement is of itself: 2.37 in place of 2 for all but instruments,
// bottles, temperatures and contradictions (JCGM 100:2008, G.4.2 and table G.2).
func asDrawn(said measure.Value) measure.Value {
	return said.Map(func(source measure.Source, c float64) (measure.Source, float64) {
		if source.Kind == 0 && source.Name != estimate.Temperature && source.Name != estimate.ContradictionStands {
			c *= 2 / 2.37
		}
		return source, c
	})
}

func TestChainByOneJug(t *testing.T) {
	s := newDrive(t, small.with(script{
		job.Capacity: {"900"}, job.OilTemperature: {"45"}, job.DrainedAmount: {"830"}, job.LoadedAmount: {"910"}, job.LeftInVessel: {"30"},
		job.EscapedAmount: {"55"},
		job.LeftWith:      {"c0"},
	})).until(job.Decision)
	agrees(t, s, byOneJug(dice{rand.New(rand.NewPCG(1, 1))}), 0.003, 0.03)
}

// A guess is evenly spread, and most of the doubt: the normal curve gives 0.78
// where 0.76 is right, and a ± that is 9 % on the safe side.
func TestChainByScale(t *testing.T) {
	s := newDrive(t, small.with(script{
		job.Capacity: {"800"}, job.CapacityMeans: {"refill"}, job.ToleranceTopic: {"40"}, job.PriorLevel: {"verified"},
		job.OilDensity: {"885"}, job.ScaleDivision: {"2"},
		job.HoseBefore: {"primed"}, job.DrainedWith: {"scale"}, job.DrainedAmount: {"1030-330"}, job.LoadedWith: {"scale"},
		job.LoadedAmount: {"760 g"},
		job.LeftWith:     {"scale"}, job.LeftInVessel: {"20 g"}, job.EscapedAtCap: {"0"}, job.EscapedAtCapWith: {"c0"},
		job.EscapedHow: {"guess"}, job.EscapedAmount: {"60 ml"},
	})).until(job.Decision)
	agrees(t, s, byScale(dice{rand.New(rand.NewPCG(2, 2))}), 0.025, 0.1)
}

// twoJugs is a job that measures out with one jug and in with another, both
// kitchen jugs with marks that may be 5 % off.
var twoJugs = small.with(script{
	job.Capacity: {"900"}, job.PriorLevel: {"verified"}, job.ContainerName: {"jug", "can"}, job.ContainerMore: {"another", "done"},
	job.ContainerError: {"5", "5"},
	job.DrainedWith:    {"c0"}, job.DrainedAmount: {"830"}, job.LoadedWith: {"c1"}, job.LoadedAmount: {"905"}, job.LeftWith: {"c1"},
	job.EscapedAtCapWith: {"c1"}, job.EscapedWith: {"c1"},
})

// One jug of 5 % for out and in knows the difference better than two such
// jugs, and the note says by how much.
func TestOneJugBeatsTwo(t *testing.T) {
	apart := newDrive(t, twoJugs).until(job.Decision)
	same := newDrive(t,
		twoJugs.with(script{job.LoadedWith: {"c0"}, job.LeftWith: {"c0"}, job.EscapedAtCapWith: {"c0"},
			job.EscapedWith: {"c0"}})).until(job.Decision)
	uApart, uSame := verdictOf(t, apart, 0).Error.U(), verdictOf(t, same, 0).Error.U()
	if uSame >= 0.9*uApart {
		t.Errorf("one jug ± %.1f, two jugs ± %.1f", uSame, uApart)
	}
	note := same.SharedJugNote()
	units := same.Units()
	for _, want := range []string{"jug", units.FormatVolume(estimate.Coverage * uSame), units.FormatVolume(estimate.Coverage * uApart)} {
		if !strings.Contains(note, want) {
			t.Errorf("%q does not say %q", note, want)
		}
	}
	if note := apart.SharedJugNote(); note != "" {
		t.Errorf("two jugs: %q", note)
	}
	// Before the load the note tells of the jug in hand, so that it is taken again.
	before := newDrive(t, twoJugs).until(job.LoadedWith).SharedJugNote()
	if !strings.HasPrefix(before, "Same jug out and in: its error cancels, ± ") {
		t.Errorf("before the load: %q", before)
	}
}
