package estimate

// This file lets what others measured of such a unit count, as the owner took it
// from a card: one more way to know what comes out of it, as unsure as the owners
// differ. That many of them agree makes the next one no surer.

import (
	"math"

	"garage/tundish/model/adjust"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// Card is what others measured of such a unit at an ordinary drain, ml at 20 °C.
type Card struct {
	Out   measure.Value // came out
	Stays measure.Value // stayed behind; zero where the card does not say
}

// CardTaken is the card that the owner took, whether it counts or not.
func (s *Figures) CardTaken() (Card, bool) {
	out, ok := s.Answer(job.Place{Topic: job.Card})
	if !ok || out.Value.Unknown {
		return Card{}, false
	}
	stays, told := s.Answer(job.Place{Topic: job.CardResidual})
	stays.Value.Unknown = stays.Value.Unknown || !told
	return s.cardOf(out.Value, stays.Value), true
}

// cardOf is a card by its ranges, which cover one unit more 19 times in 20. It is no
// surer than one drain of one unit is like the next.
func (s *Figures) cardOf(out, stays job.Value) Card {
	c := s.wholeML()
	figure := func(v job.Value) measure.Value {
		low, high := v.Ends()
		return measure.Gaussian(CardSays, (low+high)/2, max((high-low)/2/Coverage, ownStaysShare*c))
	}
	card := Card{Out: figure(out)}
	if !stays.Unknown {
		card.Stays = card.staying(figure(stays), c)
	}
	return card
}

// staying is what stayed behind with its errors: what did not come out of a unit
// that takes so much dry is what stayed in it, so the two are one measurement, and
// what is in the one is missing in the other.
func (c Card) staying(stays measure.Value, wholeML float64) measure.Value {
	own := math.Hypot(dryStatedU*wholeML, math.Sqrt(max(stays.Variance()-c.Out.Variance(), 0)))
	opposite := measure.Exact(c.Out.Nominal).Sub(c.Out)
	return opposite.Add(measure.Gaussian(measure.Source{Name: CardSays, Part: 1}, stays.Nominal, own))
}

// CardBefore reports whether a card was taken at an earlier job of the unit: it
// counts from then on, and a second one is of the same jobs.
func (s *Figures) CardBefore() bool {
	for b := s.earlier(); b != nil; b = b.earlier() {
		if _, taken := b.CardTaken(); taken {
			return true
		}
	}
	return false
}

// cardGap is how much more came out than on the card, as far as that can be told;
// the card has the scatter of levels and drains in it, but where nobody knows the
// level that comes on top.
func (s *Figures) cardGap() (gap measure.Value, told bool) {
	c, ok := s.CardTaken()
	if !ok || s.CardBefore() || !s.Measured() || s.DryStart() || s.DrainedVoid() {
		return gap, false
	}
	d := s.Drained()
	gap = d.Total.Sub(d.Late).Sub(c.Out).Sub(s.changed())
	if s.Prior() == TrustNobodyKnows && !s.Follows() {
		gap = gap.Add(measure.Gaussian(measure.Source{Name: LevelBefore, Job: s.ID}, 0, nobodyKnowsU*s.wholeML()))
	}
	return gap, true
}

// CardGapML is how much more came out than on the card, ml, and CardZ in standard
// uncertainties of both; 0 where they cannot be compared.
func (s *Figures) CardGapML() float64 { gap, _ := s.cardGap(); return gap.Nominal }

func (s *Figures) CardZ() float64 {
	gap, _ := s.cardGap()
	return new(adjust.Solution).Z(gap)
}

// CardAsks asks what is wrong where what came out is far from the card and from
// nothing else; where it is far from all else too, that is asked.
func (s *Figures) CardAsks() bool {
	if s.CardZ() <= ConflictZ || s.Drained().Contradict {
		return false
	}
	in, err := s.inputWithoutCard()
	if err != nil || in.check() != nil {
		return false
	}
	u := in.unit()
	return in.DrainedVoid || u.known.Z(in.Drained.Sub(u.needed()).Sub(u.Level)) <= ConflictZ
}

// CardLooked is what the owner found where what came out is far from the card; ""
// where it is not, or is not settled yet.
func (s *Figures) CardLooked() string {
	if !s.CardAsks() {
		return ""
	}
	return s.Choice(job.Place{Topic: job.CardLookedAgain, Item: s.Items(job.DrainedAmount, 0) - 1})
}

// card is the card as it counts, and what the level before is in doubt by for it:
// where what came out contradicts it, as the owner settled that, and not at all until
// it is settled.
func (s *Figures) card() (c *Card, level measure.Value) {
	taken, ok := s.CardTaken()
	if !ok || s.CardBefore() {
		return nil, level
	}
	if !s.CardAsks() {
		return &taken, level
	}
	gap, _ := s.cardGap()
	tau := adjust.StandingU(gap, ConflictZ)
	switch s.CardLooked() {
	case job.CardLevelOff:
		return &taken, standing(s.ID, 5, tau)
	case job.CardBoth:
		taken.Out = taken.Out.Add(standing(s.ID, 6, math.Sqrt(1-firstLevelPart)*tau))
		return &taken, standing(s.ID, 5, math.Sqrt(firstLevelPart)*tau)
	}
	return nil, level
}

// standing is a part of the doubt of a contradiction that stands.
func standing(id string, part int, ml float64) measure.Value {
	return measure.Gaussian(measure.Source{Name: ContradictionStands, Job: id, Part: part}, 0, ml)
}

// withCard lets a card count for a unit, and notes in a plan what it says. Where it
// contradicts what is known else, both get as much more doubt as makes the gap ordinary.
func (u *Unit) withCard(c *Card, in Stated, p *Plan) {
	out := c.Out
	gap := func() measure.Value { return u.Right.Sub(u.Usual).Sub(out) }
	p.CardZ = u.known.Z(gap())
	if tau := adjust.StandingU(u.known.Of(gap()), ConflictZ); tau > 0 {
		doubt := standing(in.Job, 7, tau/math.Sqrt2)
		u.Right, u.inside, out = u.Right.Add(doubt), u.inside.Sub(doubt), out.Add(standing(in.Job, 8, tau/math.Sqrt2))
	}
	if c.Stays.Nominal > 0 {
		u.known, _ = u.known.and(usually(u.Usual.Sub(c.Stays))...)
		u.inside = u.known.Of(u.inside)
	}
	p.FromOthers, p.FromCard = u.known.Of(u.needed()), u.known.Of(out.Add(u.Usual).Sub(u.Stays))
	u.known, _ = u.known.and(gap())
}
