package estimate

// This file adds readings up: loaded, passed, escaped, let out, net.

import (
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// Loaded is what was put into the vessel in a round, by the reading of the
// vessel or jug, and what was added to that while the engine ran.
func (s *Figures) Loaded(round int) measure.Value {
	var sum measure.Value
	for i := range s.Items(job.LoadedAmount, round) {
		sum = sum.Add(s.Amount(job.LoadedAmount, job.Place{Round: round, Item: i}))
	}
	return sum.Add(s.Amount(job.AddedRunning, job.Place{Round: round}))
}

// Left is what was left in the vessel after the push.
func (s *Figures) Left(round int) measure.Value {
	return s.Amount(job.LeftInVessel, job.Place{Round: round})
}

// Passed is what left the vessel in a round, by all that was measured of it.
func (s *Figures) Passed(round int) measure.Value { return s.Balance(round).Passed }

// hoseTook is what the hose kept of a push; negative where it gave.
func (s *Figures) hoseTook(round int) measure.Value {
	if s.Path().PouredIn() || s.RoundKind(round) != job.RoundAdds || !s.HasIn(job.HoseAfter, round) {
		return measure.Exact(0)
	}
	took := s.hoseKept(round)
	if s.HoseBefore(round) == job.HoseFull {
		took = took.Sub(s.HoldUp())
	}
	return took
}

// hoseFilmShare is what a hose that has run out keeps as a film, of its fill, where
// bore or oil are not known: 17 of 157 ml for a gear oil in 10 mm.
const hoseFilmShare = 0.1

// hoseKept is what is still in the hose after a push. What has run out of it is
// with the oil that it ran to, and is counted there; what the pan does not hold
// of it never got there.
func (s *Figures) hoseKept(round int) measure.Value {
	full := s.HoldUp()
	film := s.HoseFilm(round)
	switch s.HoseAfter(round) {
	case job.HoseLeftFull:
		return full
	case job.HoseRanBack:
		return film
	case job.HoseRanToPan:
		if missing := full.Sub(s.Escaped(round)); missing.Nominal > film.Nominal {
			return missing
		}
		return film
	}
	return measure.Exact(0)
}

// The catches of a job: at the swap to the plug, and where the plug weeps.
var (
	SwapCatch = Catch{job.EscapedHow, job.EscapedHow, job.EscapedAmount, job.PadsBefore, job.PadsAfter}
	LeakCatch = Catch{job.LeakCheck, job.LeakedHow, job.LeakedAmount, job.LeakedPadsBefore, job.LeakedPadsAfter}
)

// escapes are what escaped in a round, at the adapter, at the hole and at each swap.
func (s *Figures) escapes(round int) []Amount {
	amounts := make([]Amount, 0, 3)
	for _, topic := range []job.Topic{job.EscapedAtCap, job.OverflowCaught} {
		p := job.At(topic, round, 0)
		amounts = append(amounts, Amount{Value: s.Amount(topic, p), At: p})
	}
	return append(amounts, s.caughtIn(SwapCatch, round)...)
}

// Escaped is all that escaped in a round, ml at 20 °C.
func (s *Figures) Escaped(round int) measure.Value { return total(s.escapes(round)) }

// EscapedAtSwap is what escaped at the swaps of a round; false where none of it,
// or not all, was measured.
func (s *Figures) EscapedAtSwap(round int) (measure.Value, bool) {
	for i := range s.Items(job.EscapedHow, round) {
		if s.Choice(job.At(job.EscapedHow, round, i)) == job.EscapeGuess {
			return measure.Value{}, false
		}
	}
	return total(s.caughtIn(SwapCatch, round)), s.SwapTold(round)
}

// caughtIn are what got out in a round, with what changing a washer cost where the plug wept.
func (s *Figures) caughtIn(c Catch, round int) (amounts []Amount) {
	for i := range s.Items(c.Asked, round) {
		p := job.At(c.Asked, round, i)
		amounts = append(amounts, Amount{Value: s.Caught(c, p), At: p})
	}
	return amounts
}

// Trade judgement: how far a guess may be off, as a share of it (70 guessed is
// 20 to 120), and what a plug that is only damp has lost at most.
const (
	guessHalfWidth = 0.7
	DampMostML     = 5.0
)

// Caught is oil that got out, by the way in which it was caught.
func (s *Figures) Caught(c Catch, p job.Place) measure.Value {
	switch s.Choice(p.Of(c.How)) {
	case job.EscapeCaught, job.EscapeGuess:
		return s.Amount(c.Amount, p)
	case job.EscapePads:
		return s.soaked(c, p)
	case job.EscapeNone:
		return s.noneEscaped(p)
	case job.EscapeDamp:
		return measure.Rectangular(measure.Source{Name: DampPlug, Round: p.Round, Job: s.ID}, DampMostML/2, DampMostML/2)
	}
	return measure.Exact(0)
}

// DryLookUML is how sure a second look is that nothing escaped: a smear on pads
// and floor is a few ml (trade judgement).
const DryLookUML = 3.0

// noneEscaped is what "nothing escaped" is worth: until it was looked at again,
// what usually escapes. A job that was never asked for the second look keeps
// its 0.
func (s *Figures) noneEscaped(p job.Place) measure.Value {
	switch {
	case !s.AsksNothingEscaped(p):
		return measure.Exact(0)
	case s.LooksDry(p):
		return measure.Gaussian(measure.Source{Name: DrySwap, Round: p.Round, Job: s.ID}, 0, DryLookUML)
	}
	return s.EscapeIn(p.Round)
}

// LooksDry reports whether a second look found that nothing escaped.
func (s *Figures) LooksDry(p job.Place) bool {
	again := p.Of(job.NothingEscaped)
	return s.Choice(again) == job.NoneDry && s.SeqOf(again) > s.SeqOf(p.Of(job.EscapedHow))
}

// soaked is the difference of two weighings of the pads.
func (s *Figures) soaked(c Catch, p job.Place) measure.Value {
	before, ok1 := s.Answer(p.Of(c.PadsBefore))
	after, ok2 := s.Answer(p.Of(c.PadsAfter))
	if !ok1 || !ok2 {
		return measure.Exact(0)
	}
	return s.Weighed(s.weighing(after, "pads").Sub(s.weighing(before, "pads")))
}

// Put is what a round put into the unit, with what it is made of, ml at 20 °C:
//
//	in  = passed − kept by the hose − escaped − leaked
//	net = net of the round before + in − let out
type Put struct {
	RoundBalance
	Hose   measure.Value // kept of the push; negative where it gave
	Out    []Amount      // escaped and leaked, each at the place where it was asked for
	In     measure.Value
	LetOut measure.Value
	Net    measure.Value // in the unit after the round, above what the drain left behind
}

// Put is what a round put in.
func (s *Figures) Put(round int) Put {
	for r := len(s.memo.puts); r <= round; r++ {
		p := Put{RoundBalance: s.Balance(r), Hose: s.hoseTook(r), Out: append(s.escapes(r), s.caughtIn(LeakCatch, r)...)}
		p.In = p.Passed.Sub(p.Hose).Sub(total(p.Out))
		p.LetOut = s.Amount(job.LetOutAmount, job.Place{Round: r})
		p.Net = p.In.Sub(p.LetOut)
		if r > 0 {
			p.Net = s.memo.puts[r-1].Net.Add(p.Net)
		}
		s.memo.puts = append(s.memo.puts, p)
	}
	return s.memo.puts[round]
}

// NetFill is what is in the unit by the ledger after a round, above what the drain left
// behind; nothing before the first.
func (s *Figures) NetFill(round int) measure.Value {
	if round < 0 {
		return measure.Value{}
	}
	return s.Put(round).Net
}

// Catch names the topics that tell how much oil got out, and how that is known;
// there is one for each item of Asked.
type Catch struct{ Asked, How, Amount, PadsBefore, PadsAfter job.Topic }

// AsksNothingEscaped does not believe at once that nothing escaped. A job that
// was past the swap before this was asked stays past it.
func (s *Figures) AsksNothingEscaped(p job.Place) bool {
	return p.Item == 0 && s.Pushes(p.Round) && s.Choice(p.Of(job.EscapedHow)) == job.EscapeNone &&
		(s.SaidIn(job.NothingEscaped, p.Round) || s.SeqOf(p.Of(job.EscapedHow)) > s.SeqOf(p.Of(job.Decision)))
}

// MeasuredCatch reports whether it is known how much oil got out at a place.
func (s *Figures) MeasuredCatch(c Catch, p job.Place) bool {
	switch s.Choice(p.Of(c.How)) {
	case job.EscapeDamp:
		return true
	case job.EscapeNone:
		return !s.AsksNothingEscaped(p) || s.LooksDry(p)
	case job.EscapePads:
		return s.HasItem(c.PadsAfter, p.Round, p.Item)
	}
	return s.HasItem(c.Amount, p.Round, p.Item)
}
