package model

// This file runs the balance over whatever was measured twice in a round:
// vessel or jug, bottles, scale, strokes.

import (
	"math"

	"garage/tundish/model/balance"
	"garage/tundish/model/measure"
)

// RoundBalance is what the redundant readings of a round say together.
type RoundBalance struct {
	Passed  ml20 // what left the vessel, reconciled
	Result  balance.Result
	Streams int    // measures of what passed; 1 means nothing is checked
	Suspect string // the reading most likely wrong, "" where the balance holds
	OffML   float64
}

// Fails says whether the readings contradict each other at 5 %.
func (b RoundBalance) Fails() bool { return b.Suspect != "" }

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
func (s *State) Balance(round int) RoundBalance {
	return recall(&s.memo.balances, round, func() RoundBalance { return s.reconcile(round) })
}

func (s *State) reconcile(round int) RoundBalance {
	streams := s.passedStreams(round)
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
		b.Suspect, b.OffML = suspectOf(streams, result)
		b.Passed = without(streams, b.Suspect)
	}
	return b
}

// suspectOf names the suspect; where two readings only contradict each other,
// the one that is known less well.
func suspectOf(streams []balance.NamedValue, result balance.Result) (name string, offML float64) {
	worst := -1
	for i, st := range streams {
		for _, suspect := range result.Suspects {
			if st.Name == suspect && (worst < 0 || st.Value.U() > streams[worst].Value.U()) {
				worst = i
			}
		}
	}
	if worst < 0 {
		return result.Suspects[0], 0
	}
	rest := without(streams, streams[worst].Name)
	return streams[worst].Name, math.Abs(streams[worst].Value.Nominal - rest.Nominal)
}

// without is the best value of what passed with one reading left out: what the
// ledger goes by while that reading is in doubt.
func without(streams []balance.NamedValue, name string) ml20 {
	var best ml20
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

// passedStreams are the independent measures of what left the vessel.
func (s *State) passedStreams(round int) []balance.NamedValue {
	var streams []balance.NamedValue
	add := func(name string, v ml20) {
		streams = append(streams, balance.NamedValue{Name: name, Value: v, Measured: true})
	}
	if s.RoundKind(round) != RoundAdds || !s.hasIn(LoadedAmount, round) {
		return nil
	}
	left := s.left(round)
	add("loaded less left over", s.Loaded(round).Sub(left))
	if !s.hasIn(LeftInVessel, round) {
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

func (s *State) byVesselMass(round int) (ml20, bool) {
	full, ok1 := s.at(Place{VesselWeighedFull, round, 0})
	after, ok2 := s.at(Place{VesselWeighedAfter, round, 0})
	if !ok1 || !ok2 || full.Value.Unknown || after.Value.Unknown {
		return ml20{}, false
	}
	return s.weighed(s.weighing(full, "vessel").Sub(s.weighing(after, "vessel"))), true
}

func (s *State) bottlesNoted(round int) bool {
	e, ok := s.at(Place{BottlesOpened, round, 0})
	return ok && !e.Value.Unknown
}

func (s *State) byBottles(round int) (ml20, bool) {
	opened, ok1 := s.at(Place{BottlesOpened, round, 0})
	leftOver, ok2 := s.at(Place{BottlesLeft, round, 0})
	if !ok1 || !ok2 || opened.Value.Unknown || leftOver.Value.Unknown {
		return ml20{}, false
	}
	used := s.amount(BottlesLeftWith, BottlesLeft, NoTopic, Place{Round: round}).Scale(-1)
	parts := opened.Value.Parts
	if len(parts) == 0 {
		parts = []float64{opened.Value.Number}
	}
	for i, ml := range parts {
		label := measure.Rectangular(measure.Source{Kind: fillingSource, Name: bottles, Part: i + 1}, ml, bottleShareHalf*ml)
		film := measure.Rectangular(measure.Source{Kind: filmSource, Name: bottles, Part: i + 1}, bottleFilmML, bottleFilmHalfML)
		used = used.Add(label).Sub(film)
	}
	return used, true
}

func (s *State) byStrokes(round int) (ml20, bool) {
	n, ok1 := s.num(Place{StrokesCounted, round, 0})
	stroke, ok2 := s.num(Place{Topic: StrokeVolume})
	if !ok1 || !ok2 || n == 0 || s.airSpat(round) {
		return ml20{}, false // strokes of air count for nothing
	}
	ml := n * stroke
	return measure.Gaussian("strokes of the pump", ml, strokeShareU*ml), true
}

// airSpat says whether air came before the end of a push.
func (s *State) airSpat(round int) bool { return s.choice(Place{AirInLine, round, 0}) == airYes }
