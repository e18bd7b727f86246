package estimate

// This file runs the balance over whatever was measured twice in a round:
// vessel or jug, bottles, scale, strokes.

import (
	"math"
	"slices"
	"strings"

	"garage/tundish/model/balance"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// RoundBalance is what the redundant readings of a round say together.
type RoundBalance struct {
	Passed   measure.Value // what left the vessel, reconciled
	Result   balance.Result
	Streams  int      // measures of what passed; 1 means nothing is checked
	Suspects []string // the readings one of which is wrong; none where the balance holds
	OffML    float64  // how far a single suspect is off, or several are apart
}

// Fails reports whether the readings contradict each other at 5 %.
func (b RoundBalance) Fails() bool { return len(b.Suspects) > 0 }

// Suspect names the readings one of which is wrong.
func (b RoundBalance) Suspect() string { return strings.Join(b.Suspects, " or ") }

// strokeShareU is the standard uncertainty of a stroke count: cold oil and air
// shorten each stroke, so it is a hint (common practice, no source).
const strokeShareU = 0.15

// bottleShareHalf is how far a bottle may be off its label; EU prepackages of
// 1 L to 10 L: 1.5 % (from memory of Directive 76/211/EEC). What clings to the
// inside of one is 3 to 13 ml (trade judgement).
const (
	bottleShareHalf  = 0.015
	bottleFilmML     = 8.0
	bottleFilmHalfML = 5.0
)

// Balance reconciles all measures of what left the vessel in a round.
func (s *Figures) Balance(round int) RoundBalance {
	return job.Recall(&s.memo.balances, round, func() RoundBalance { return s.reconcile(round) })
}

func (s *Figures) reconcile(round int) RoundBalance {
	streams := s.PassedStreams(round)
	switch len(streams) {
	case 0:
		return RoundBalance{}
	case 1:
		return RoundBalance{Passed: streams[0].Value, Streams: 1}
	}
	var balances []balance.Balance
	for _, other := range streams[1:] {
		balances = append(balances, balance.Balance{In: []string{streams[0].Name}, Out: []string{other.Name}})
	}
	values, result, err := balance.Reconcile(streams, balances)
	if err != nil {
		return RoundBalance{Passed: streams[0].Value, Streams: len(streams)}
	}
	b := RoundBalance{Passed: values[0], Result: result, Streams: len(streams)}
	if len(result.Suspects) > 0 {
		b.Suspects = suspectsOf(result)
		b.Passed, b.OffML = settle(streams, balances, b, round)
	}
	return b
}

// suspectLimit is how much smaller the square of a reading's z may be than the
// largest for the two not to be told apart at 5 % (one degree of freedom of χ²).
const suspectLimit = 3.84

// suspectsOf names all readings that the balance cannot tell apart from the one
// most likely wrong.
func suspectsOf(result balance.Result) []string {
	var most float64
	for _, st := range result.Streams {
		most = max(most, st.Z)
	}
	var names []string
	for _, st := range result.Streams {
		if st.Role == balance.Redundant && st.Z*st.Z >= most*most-suspectLimit {
			names = append(names, st.Name)
		}
	}
	return names
}

// settle is what the ledger goes by while readings are in doubt. One that is
// told apart from the rest is left out. Of several none is: all keep their
// weight, with as much more doubt as makes their gap an ordinary one (R. C. Paule
// and J. Mandel, J. Res. NBS 87 (1982) 377, from memory).
func settle(streams []balance.NamedValue, balances []balance.Balance, b RoundBalance, round int) (passed measure.Value, offML float64) {
	if len(b.Suspects) == 1 {
		rest := without(streams, b.Suspects[0])
		for _, st := range streams {
			if st.Name == b.Suspects[0] {
				offML = math.Abs(st.Value.Nominal - rest.Nominal)
			}
		}
		return rest, offML
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, st := range streams {
		if slices.Contains(b.Suspects, st.Name) {
			low, high = min(low, st.Value.Nominal), max(high, st.Value.Nominal)
		}
	}
	offML, passed = high-low, b.Passed
	tau, step := 0.0, offML
	for range tauSteps {
		values, result, err := balance.Reconcile(inMoreDoubt(streams, b.Suspects, tau+step, round), balances)
		if err != nil {
			break
		}
		passed = values[0]
		if result.Chi2 > float64(result.DoF) {
			tau += step
		}
		step /= 2
	}
	return passed, offML
}

// tauSteps halve the gap to a fraction of a ml.
const tauSteps = 20

// inMoreDoubt are the streams with a doubt of tau ml laid on those named.
func inMoreDoubt(streams []balance.NamedValue, names []string, tau float64, round int) []balance.NamedValue {
	wider := slices.Clone(streams)
	for i, st := range wider {
		if slices.Contains(names, st.Name) {
			wider[i].Value = st.Value.Add(measure.Gaussian(measure.Source{Kind: ContradictionSource, Name: st.Name, Round: round}, 0, tau))
		}
	}
	return wider
}

// without is the best value of what passed with one reading left out: what the
// ledger goes by while that reading is in doubt.
func without(streams []balance.NamedValue, name string) measure.Value {
	var best measure.Value
	found := false
	for _, st := range streams {
		if st.Name == name {
			continue
		}
		if !found || st.Value.U() < best.U() {
			best, found = st.Value, true
		}
	}
	return best
}

// PassedStreams are the independent measures of what left the vessel.
func (s *Figures) PassedStreams(round int) []balance.NamedValue {
	var streams []balance.NamedValue
	add := func(name string, v measure.Value) {
		streams = append(streams, balance.NamedValue{Name: name, Value: v, Measured: true})
	}
	if s.RoundKind(round) != job.RoundAdds || !s.HasIn(job.LoadedAmount, round) {
		return nil
	}
	left := s.Left(round)
	add("loaded less left over", s.Loaded(round).Sub(left))
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
	used := s.Amount(job.BottlesLeftWith, job.BottlesLeft, job.NoTopic, job.Place{Round: round}).Scale(-1)
	parts := opened.Value.Parts
	if len(parts) == 0 {
		parts = []float64{opened.Value.Number}
	}
	for i, ml := range parts {
		label := measure.Rectangular(measure.Source{Kind: FillingSource, Name: Bottles, Part: i + 1}, ml, bottleShareHalf*ml)
		film := measure.Rectangular(measure.Source{Kind: FilmSource, Name: Bottles, Part: i + 1}, bottleFilmML, bottleFilmHalfML)
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
	return measure.Gaussian("strokes of the pump", ml, strokeShareU*ml), true
}

// AirSpat reports whether air came before the end of a push.
func (s *Figures) AirSpat(round int) bool {
	return s.Choice(job.At(job.AirInLine, round, 0)) == job.AirYes
}
