package model

// This file turns readings into volumes at 20 °C that know what they may be
// wrong by, and adds them up: drained, loaded, passed, escaped, net.

import (
	"garage/tundish/model/measure"
	"garage/tundish/model/oil"
)

// Standard uncertainties of a temperature, °C (common practice, no source).
const (
	tempMeasuredUC = 1.0
	tempFeltUC     = 5.0
)

// reading is an amount as a volume at 20 °C:
//
//	container: V20 = Σ parts · (1 ± error of its marks) · VCF(T)/VCF(20)
//	scale:     V20 = Σ parts / ρ20, whatever the temperature
//
// Each part is a reading of its own, rectangular over one graduation or
// division. The marks of a container, the density and a temperature are one
// source each, however often they are used.
func (s *State) reading(e Entry, d Device, tempC, tempUC float64) ml20 {
	parts := e.Value.Parts
	if len(parts) == 0 {
		parts = []float64{e.Value.Number}
	}
	step, kind := d.GraduationML, readSource
	if d.Scale {
		step, kind = d.DivisionG, scaleSource
	}
	var looks []measure.Value
	for i, x := range parts {
		if x != 0 { // an empty jug is seen to be empty
			looks = append(looks, measure.Rectangular(measure.Source{Kind: kind, Name: d.Name, Reading: e.Seq, Part: i + 1}, x, step/2))
		}
	}
	sum := measure.Sum(looks...)
	if d.Scale {
		return s.weighed(sum)
	}
	return s.at20(sum.Mul(d.factor()), measure.Source{Name: temperature, Reading: e.Seq}, tempC, tempUC)
}

// at20 corrects a volume to 20 °C. A temperature out of sense corrects
// nothing: it cannot get past the entry's check.
func (s *State) at20(v measure.Value, source measure.Source, tempC, tempUC float64) ml20 {
	c, err := oil.CorrectionTo20(s.Oil().Rho15KgM3, tempC)
	if err != nil {
		return v
	}
	u := c.DLnPerC * tempUC
	return v.Mul(measure.Gaussian(source, c.Ratio, c.Ratio*u))
}

// weighed turns grams into ml at 20 °C.
func (s *State) weighed(massG measure.Value) ml20 {
	per, dLn, err := s.Oil().WeighedAt20(1)
	if err != nil {
		return measure.Exact(0)
	}
	return massG.Mul(measure.Gaussian(aboutOil, per, per*dLn*s.densityU()))
}

// amount is the reading at a place, with its device and temperature.
func (s *State) amount(with, amount, temp Topic, p Place) ml20 {
	e, ok := s.at(p.of(amount))
	if !ok || e.Value.Unknown {
		return measure.Exact(0)
	}
	d, ok := s.device(with, p)
	if !ok || d.Scale != (e.Value.Unit == DimG) {
		d = s.stand(e)
	}
	tempC, tempUC := s.temperatureOf(e, temp, p)
	return s.reading(e, d, tempC, tempUC)
}

// temperatureOf is the temperature of a reading with its standard uncertainty:
// typed with it, asked for beside it, or, as long as it is not, that of the oil
// as it ran out, else a garage's. One that nobody said the taking of counts as
// felt.
func (s *State) temperatureOf(e Entry, temp Topic, p Place) (tempC, tempUC float64) {
	tempUC = tempFeltUC
	if s.choice(Place{Topic: TemperatureHow}) == howMeasured {
		tempUC = tempMeasuredUC
	}
	if e.Value.AtC != nil {
		return *e.Value.AtC, tempUC
	}
	if t, ok := s.num(p.of(temp)); ok {
		return t, tempUC
	}
	if temp == DrainedTemperature {
		return s.oilTempC(), tempFeltUC
	}
	return 20, tempFeltUC
}

// Loaded is what was put into the vessel in a round, by the reading of the
// vessel or jug.
func (s *State) Loaded(round int) ml20 {
	var sum ml20
	for i := range s.items(LoadedAmount, round) {
		sum = sum.Add(s.amount(LoadedWith, LoadedAmount, LoadedTemperature, Place{Round: round, Item: i}))
	}
	return sum
}

// left is what was left in the vessel after the push.
func (s *State) left(round int) ml20 {
	return s.amount(LeftWith, LeftInVessel, LoadedTemperature, Place{Round: round})
}

// Passed is what left the vessel in a round, reconciled over all that was
// measured of it.
func (s *State) Passed(round int) ml20 { return s.Balance(round).Passed }

// hoseTook is what the hose kept of a push; negative where it gave.
func (s *State) hoseTook(round int) ml20 {
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
func (s *State) hoseKept(round int) ml20 {
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

func (s *State) hoseBefore(round int) Hose {
	h, _ := choiceAt[Hose](s, Place{HoseBefore, round, 0}, hoseTokens)
	return h
}

func (s *State) hoseAfter(round int) HoseEnd {
	h, _ := choiceAt[HoseEnd](s, Place{HoseAfter, round, 0}, hoseEndTokens)
	return h
}

// The catches of a job: at the swap to the plug, and where the plug weeps.
var (
	swapCatch = catch{EscapedHow, EscapedWith, EscapedAmount, PadsBefore, PadsAfter}
	leakCatch = catch{LeakedHow, LeakedWith, LeakedAmount, LeakedPadsBefore, LeakedPadsAfter}
)

// Escaped is all that escaped in a round, ml at 20 °C.
func (s *State) Escaped(round int) ml20 {
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
func (s *State) Leaked(round int) ml20 {
	var sum ml20
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

const guessSource = "guess of what escaped"

// caught is oil that got out, by the way in which it was caught.
func (s *State) caught(c catch, p Place) ml20 {
	switch s.choice(p.of(c.how)) {
	case escapeCaught:
		return s.amount(c.with, c.amount, NoTopic, p)
	case escapeGuess:
		if e, ok := s.at(p.of(c.amount)); ok {
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
func (s *State) noneEscaped(p Place) ml20 {
	switch {
	case !asksNothingEscaped(s, p):
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

// guess is an amount that was guessed.
func (s *State) guess(e Entry) ml20 {
	ml := s.roughML(e.Value)
	return measure.Rectangular(measure.Source{Name: guessSource, Reading: e.Seq}, ml, guessHalfWidth*ml)
}

// soaked is the difference of two weighings of the pads.
func (s *State) soaked(c catch, p Place) ml20 {
	before, ok1 := s.at(p.of(c.padsBefore))
	after, ok2 := s.at(p.of(c.padsAfter))
	if !ok1 || !ok2 {
		return measure.Exact(0)
	}
	return s.weighed(s.weighing(after, "pads").Sub(s.weighing(before, "pads")))
}

// weighing is one look at the scale, g.
func (s *State) weighing(e Entry, what string) measure.Value {
	stepG, ok := s.ScaleDivisionG()
	if !ok {
		stepG = kitchenStepG
	}
	return measure.Rectangular(measure.Source{Kind: weighSource, Name: what, Reading: e.Seq}, e.Value.Number, stepG/2)
}

// LetOutML is what was let out in a round.
func (s *State) LetOutML(round int) ml20 {
	return s.amount(LetOutWith, LetOutAmount, NoTopic, Place{Round: round})
}

// NetFill is what is in the unit by the ledger after a round, above what the
// drain left behind:
//
//	net = Σ rounds (passed − kept by the hose − escaped − let out − leaked)
func (s *State) NetFill(round int) ml20 {
	if round < 0 {
		return ml20{}
	}
	for r := len(s.memo.nets); r <= round; r++ {
		var net ml20
		if r > 0 {
			net = s.memo.nets[r-1]
		}
		out := measure.Sum(s.hoseTook(r), s.Escaped(r), s.LetOutML(r), s.Leaked(r))
		s.memo.nets = append(s.memo.nets, net.Add(s.Passed(r)).Sub(out))
	}
	return s.memo.nets[round]
}

// pushBegun says whether oil has gone in or out in a round; fillBegun, in.
func (s *State) pushBegun(round int) bool { return s.fillBegun(round) || s.hasIn(LetOutAmount, round) }

func (s *State) fillBegun(round int) bool {
	return s.hasIn(FillReading, round) || s.hasIn(FillEnded, round)
}
