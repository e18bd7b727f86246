package model

// This file adds readings up: loaded, passed, escaped, let out, net.

import (
	"garage/tundish/model/measure"
)

// Loaded is what was put into the vessel in a round, by the reading of the
// vessel or jug.
func (s *State) Loaded(round int) measure.Value {
	var sum measure.Value
	for i := range s.items(LoadedAmount, round) {
		sum = sum.Add(s.amount(LoadedWith, LoadedAmount, LoadedTemperature, Place{Round: round, Item: i}))
	}
	return sum
}

// left is what was left in the vessel after the push.
func (s *State) left(round int) measure.Value {
	return s.amount(LeftWith, LeftInVessel, LoadedTemperature, Place{Round: round})
}

// Passed is what left the vessel in a round, reconciled over all that was
// measured of it.
func (s *State) Passed(round int) measure.Value { return s.Balance(round).Passed }

// hoseTook is what the hose kept of a push; negative where it gave.
func (s *State) hoseTook(round int) measure.Value {
	if s.Path() == LevelPort || s.RoundKind(round) != RoundAdds || !s.hasIn(HoseAfter, round) {
		return measure.Exact(0)
	}
	took := s.hoseKept(round)
	if s.hoseBefore(round) == HoseFull {
		took = took.Sub(s.HoldUp())
	}
	return took
}

// hoseFilmShare is what a hose that has run out keeps as a film, of its fill:
// 17 of 157 ml for a gear oil in 10 mm (draining plate, H. Jeffreys 1930, from
// memory). It may be anything from none to twice as much.
const hoseFilmShare = 0.1

// hoseKept is what is still in the hose after a push. What has run out of it is
// with the oil that it ran to, and is counted there; what the pan does not hold
// of it never got there.
func (s *State) hoseKept(round int) measure.Value {
	full := s.HoldUp()
	film := measure.Rectangular("film in the hose", hoseFilmShare*full.Nominal, hoseFilmShare*full.Nominal)
	switch s.hoseAfter(round) {
	case HoseLeftFull:
		return full
	case HoseRanBack:
		return film
	case HoseRanToPan:
		if missing := full.Sub(s.Escaped(round)); missing.Nominal > film.Nominal {
			return missing
		}
		return film
	}
	return measure.Exact(0)
}

// The catches of a job: at the swap to the plug, and where the plug weeps.
var (
	swapCatch = catch{EscapedHow, EscapedWith, EscapedAmount, PadsBefore, PadsAfter}
	leakCatch = catch{LeakedHow, LeakedWith, LeakedAmount, LeakedPadsBefore, LeakedPadsAfter}
)

// Escaped is all that escaped in a round, ml at 20 °C.
func (s *State) Escaped(round int) measure.Value {
	p := Place{Round: round}
	sum := s.amount(EscapedAtCapWith, EscapedAtCap, NoTopic, p)
	sum = sum.Add(s.amount(OverflowCaughtWith, OverflowCaught, NoTopic, p))
	for i := range s.items(EscapedHow, round) {
		sum = sum.Add(s.caught(swapCatch, Place{Round: round, Item: i}))
	}
	return sum
}

// Leaked is what the plug let out after a round, with what changing its washer
// cost, ml at 20 °C.
func (s *State) Leaked(round int) measure.Value {
	var sum measure.Value
	for i := range s.items(LeakCheck, round) {
		sum = sum.Add(s.caught(leakCatch, Place{Round: round, Item: i}))
	}
	return sum
}

// Trade judgement: how far a guess may be off, as a share of it (70 guessed is
// 20 to 120), and what a plug that is only damp has lost at most.
const (
	guessHalfWidth = 0.7
	dampMostML     = 5.0
)

// caught is oil that got out, by the way in which it was caught.
func (s *State) caught(c catch, p Place) measure.Value {
	switch s.choice(p.of(c.how)) {
	case escapeCaught:
		return s.amount(c.with, c.amount, NoTopic, p)
	case escapeGuess:
		if e, ok := s.Answer(p.of(c.amount)); ok {
			return s.guess(e)
		}
	case escapePads:
		return s.soaked(c, p)
	case escapeNone:
		return s.noneEscaped(p)
	case escapeDamp:
		return measure.Rectangular(measure.Source{Name: dampPlug, Round: p.Round}, dampMostML/2, dampMostML/2)
	}
	return measure.Exact(0)
}

// dryLookUML is how sure a second look is that nothing escaped: a smear on pads
// and floor is a few ml (trade judgement).
const dryLookUML = 3.0

// noneEscaped is what "nothing escaped" is worth: until it was looked at again,
// what usually escapes. A job that was never asked for the second look keeps
// its 0.
func (s *State) noneEscaped(p Place) measure.Value {
	switch {
	case !s.asksNothingEscaped(p):
		return measure.Exact(0)
	case s.looksDry(p):
		return measure.Gaussian(measure.Source{Name: drySwap, Round: p.Round}, 0, dryLookUML)
	}
	return s.escapeIn(p.Round)
}

// looksDry reports whether a second look found that nothing escaped.
func (s *State) looksDry(p Place) bool {
	again := p.of(NothingEscaped)
	return s.choice(again) == noneDry && s.seqOf(again) > s.seqOf(p.of(EscapedHow))
}

// soaked is the difference of two weighings of the pads.
func (s *State) soaked(c catch, p Place) measure.Value {
	before, ok1 := s.Answer(p.of(c.padsBefore))
	after, ok2 := s.Answer(p.of(c.padsAfter))
	if !ok1 || !ok2 {
		return measure.Exact(0)
	}
	return s.weighed(s.weighing(after, "pads").Sub(s.weighing(before, "pads")))
}

// LetOutML is what was let out in a round.
func (s *State) LetOutML(round int) measure.Value {
	return s.amount(LetOutWith, LetOutAmount, NoTopic, Place{Round: round})
}

// NetFill is what is in the unit by the ledger after a round, above what the
// drain left behind:
//
//	net = Σ rounds (passed − kept by the hose − escaped − let out − leaked)
func (s *State) NetFill(round int) measure.Value {
	if round < 0 {
		return measure.Value{}
	}
	for r := len(s.memo.nets); r <= round; r++ {
		var net measure.Value
		if r > 0 {
			net = s.memo.nets[r-1]
		}
		out := measure.Sum(s.hoseTook(r), s.Escaped(r), s.LetOutML(r), s.Leaked(r))
		s.memo.nets = append(s.memo.nets, net.Add(s.Passed(r)).Sub(out))
	}
	return s.memo.nets[round]
}

// catch names the topics that tell how much oil got out, and how that is known.
type catch struct{ how, with, amount, padsBefore, padsAfter Topic }

// asksNothingEscaped does not believe at once that nothing escaped. A job that
// was past the swap before this was asked stays past it.
func (s *State) asksNothingEscaped(p Place) bool {
	return p.Item == 0 && s.pushes(p.Round) && s.choice(p.of(EscapedHow)) == escapeNone &&
		(s.saidIn(NothingEscaped, p.Round) || s.seqOf(p.of(EscapedHow)) > s.seqOf(p.of(TightenedHow)))
}

// measuredCatch says whether it is known how much oil got out at a place.
func (s *State) measuredCatch(c catch, p Place) bool {
	switch s.choice(p.of(c.how)) {
	case escapeDamp:
		return true
	case escapeNone:
		return !s.asksNothingEscaped(p) || s.looksDry(p)
	case escapePads:
		return s.hasItem(c.padsAfter, p.Round, p.Item)
	}
	return s.hasItem(c.amount, p.Round, p.Item)
}
