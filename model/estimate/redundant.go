package estimate

// This file runs the balance over whatever was measured twice in a round:
// vessel or jug, bottles, scale, strokes.

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"

	"garage/tundish/model/adjust"
	"garage/tundish/model/device"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// RoundBalance is what the redundant readings of a round say together.
type RoundBalance struct {
	Loaded     measure.Value // what was poured in,
	Left       measure.Value // and of that left over
	Passed     measure.Value // what left the vessel, by all of them
	Streams    []Stream      // measures of what passed; one means that nothing is checked
	Chi2       float64       // of their differences
	DoF        int
	P          float64         // of a Chi2 as large or larger where nothing is wrong; 1 where nothing is checked
	Suspects   []string        // the readings one of which is wrong, most easily checked first; none where the balance holds
	OffML      float64         // how far a single suspect is off, or several are apart
	conditions []measure.Value // that the others agree with it
}

// Fails reports whether the readings contradict each other at 5 %.
func (b RoundBalance) Fails() bool { return len(b.Suspects) > 0 }

// Suspect names the readings one of which is wrong.
func (b RoundBalance) Suspect() string { return strings.Join(b.Suspects, " or ") }

// strokeShareU is the standard uncertainty of a stroke count: cold oil and air
// shorten each stroke, so it is a hint (common practice, no source).
const strokeShareU = 0.15

// bottleShareHalf is how far a bottle may be off its label; EU prepackages of
// 1 L to 10 L: 1.5 % (from memory of Directive 76/211/EEC).
const bottleShareHalf = 0.015

// Balance reconciles all measures of what left the vessel in a round.
func (s *Figures) Balance(round int) RoundBalance {
	return job.Recall(&s.memo.balances, round, func() RoundBalance { return s.reconcile(round) })
}

// contradiction is the probability below which readings contradict each other,
// and suspectZ the test of a slip from which it may have been made.
const (
	contradiction = 0.05
	suspectZ      = 1.0
)

func (s *Figures) reconcile(round int) RoundBalance {
	b := RoundBalance{P: 1}
	if s.RoundKind(round) != job.RoundAdds || !s.HasIn(job.LoadedAmount, round) {
		return b
	}
	b.Loaded, b.Left = s.Loaded(round), s.Left(round)
	b.Streams = s.streams(round, b.Loaded.Sub(b.Left), b.Left)
	adjusted := b.compare(b.Streams)
	if len(b.Streams) == 1 {
		return b
	}
	b.Chi2, b.DoF = adjusted.Chi2()
	b.P = distuv.ChiSquared{K: float64(b.DoF)}.Survival(b.Chi2)
	if b.P < contradiction {
		s.inDoubt(&b, adjusted, round)
	}
	return b
}

// compare sets what left the vessel and the conditions that the streams agree.
func (b *RoundBalance) compare(streams []Stream) *adjust.Solution {
	read := streams[0].Value
	b.conditions = nil
	for _, other := range streams[1:] {
		b.conditions = append(b.conditions, other.Value.Sub(read))
	}
	adjusted, err := adjust.Solve(b.conditions)
	if err != nil {
		adjusted, b.conditions = nil, nil
	}
	b.Passed = adjusted.Of(read)
	return adjusted
}

// inDoubt is what the ledger goes by while readings contradict each other. One
// that is told apart from the rest is left out. Of several that cannot be told
// apart none is: all keep their weight, with as much more doubt as makes
// their gap an ordinary one (R. C. Paule and J. Mandel, J. Res. NBS 87 (1982)
// 377, from memory).
func (s *Figures) inDoubt(b *RoundBalance, adjusted *adjust.Solution, round int) {
	streams := b.Streams
	slips := make([]adjust.Slip, len(streams))
	for i := range streams {
		slips[i] = make(adjust.Slip, len(streams)-1)
		for j := range slips[i] {
			switch {
			case i == 0:
				slips[i][j] = -1 // the others are compared with it
			case i == j+1:
				slips[i][j] = 1
			}
		}
	}
	suspects := adjusted.Suspects(slips, suspectZ)
	low, high := math.Inf(1), math.Inf(-1)
	for _, i := range suspects {
		b.Suspects = append(b.Suspects, streams[i].Name)
		low, high = min(low, streams[i].Value.Nominal), max(high, streams[i].Value.Nominal)
	}
	if len(suspects) == 1 {
		wrong := streams[suspects[0]].Value.Nominal
		b.compare(slices.Delete(slices.Clone(streams), suspects[0], suspects[0]+1))
		b.OffML = math.Abs(wrong - b.Passed.Nominal)
		return
	}
	b.OffML = high - low
	tau, step := 0.0, b.OffML
	for range tauSteps {
		if chi2, dof := b.compare(s.inMoreDoubt(streams, suspects, tau+step, round)).Chi2(); chi2 > float64(dof) {
			tau += step
		}
		step /= 2
	}
}

// tauSteps halve the gap to a fraction of a ml.
const tauSteps = 20

// inMoreDoubt are the streams with a doubt of tau ml laid on those named.
func (s *Figures) inMoreDoubt(streams []Stream, suspects []int, tau float64, round int) []Stream {
	wider := slices.Clone(streams)
	for _, i := range suspects {
		doubt := measure.Source{Kind: device.ContradictionSource, Name: wider[i].Name, Round: round, Job: s.ID}
		wider[i].Value = wider[i].Value.Add(measure.Gaussian(doubt, 0, tau))
	}
	return wider
}

// Stream is one measure of what left the vessel.
type Stream struct {
	Name  string
	Value measure.Value
}

// LeastLoadSlipML is the least slip in what was loaded that the bottles would
// show four times in five, if they were noted, ml.
func (s *Figures) LeastLoadSlipML(round int) float64 {
	loaded := s.Loaded(round)
	label := measure.Rectangular(Bottles, loaded.Nominal, bottleShareHalf*loaded.Nominal)
	bottles := label.Add(measure.Rectangular(measure.Source{Name: Bottles, Part: 1}, 0, bottleFilmHalf*s.bottleFilmML(garageC)))
	seen, err := adjust.Solve([]measure.Value{bottles.Sub(loaded)})
	if err != nil {
		return 0
	}
	return seen.Least(adjust.Slip{1}, slipZ)
}

// slipZ is the test of a slip above which two measures contradict each other at
// 5 %.
const slipZ = 1.96

// streams are the independent measures of what left the vessel, of which one is what was
// poured in less what was left.
func (s *Figures) streams(round int, read, left measure.Value) []Stream {
	streams := []Stream{{"poured in less left over", read}}
	add := func(name string, v measure.Value) {
		streams = append(streams, Stream{name, v})
	}
	if !s.HasIn(job.LeftInVessel, round) {
		return streams // nothing to compare yet
	}
	if v, ok := s.byVesselMass(round); ok {
		add("vessel weighed before and after", v)
	}
	if v, ok := s.byBottles(round); ok {
		add("bottles opened less left", v.Sub(left))
	}
	if v, ok := s.byStrokes(round); ok {
		add("strokes of the pump", v)
	}
	return streams
}

func (s *Figures) byVesselMass(round int) (measure.Value, bool) {
	full, ok1 := s.Answer(job.At(job.VesselWeighedFull, round, 0))
	after, ok2 := s.Answer(job.At(job.VesselWeighedAfter, round, 0))
	if !ok1 || !ok2 || full.Value.Unknown || after.Value.Unknown {
		return measure.Value{}, false
	}
	return s.Weighed(s.weighing(full, "vessel").Sub(s.weighing(after, "vessel"))), true
}

func (s *Figures) BottlesNoted(round int) bool {
	e, ok := s.Answer(job.At(job.BottlesOpened, round, 0))
	return ok && !e.Value.Unknown
}

func (s *Figures) byBottles(round int) (measure.Value, bool) {
	opened, ok1 := s.Answer(job.At(job.BottlesOpened, round, 0))
	leftOver, ok2 := s.Answer(job.At(job.BottlesLeft, round, 0))
	if !ok1 || !ok2 || opened.Value.Unknown || leftOver.Value.Unknown {
		return measure.Value{}, false
	}
	used := s.Amount(job.BottlesLeft, job.Place{Round: round}).Scale(-1)
	parts := opened.Value.Parts
	if len(parts) == 0 {
		parts = []float64{opened.Value.Number}
	}
	filmML := s.bottleFilmML(s.NewOilTempC(round))
	for i, ml := range parts {
		label := measure.Rectangular(measure.Source{Kind: device.FillingSource, Name: Bottles, Part: i + 1, Round: round, Job: s.ID},
			ml, bottleShareHalf*ml)
		film := measure.Rectangular(measure.Source{Kind: device.FilmSource, Name: Bottles, Part: i + 1, Round: round, Job: s.ID},
			filmML, bottleFilmHalf*filmML)
		used = used.Add(label).Sub(film)
	}
	return used, true
}

func (s *Figures) byStrokes(round int) (measure.Value, bool) {
	n, ok1 := s.Num(job.At(job.StrokesCounted, round, 0))
	stroke, ok2 := s.Num(job.Place{Topic: job.StrokeVolume})
	if !ok1 || !ok2 || n == 0 || s.AirSpat(round) {
		return measure.Value{}, false // strokes of air count for nothing
	}
	ml := n * stroke
	return measure.Gaussian(measure.Source{Name: Strokes, Round: round, Job: s.ID}, ml, strokeShareU*ml), true
}

// AirSpat reports whether air came before the end of a push.
func (s *Figures) AirSpat(round int) bool {
	return s.Choice(job.At(job.AirInLine, round, 0)) == job.AirYes
}
