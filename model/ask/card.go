package ask

// This file offers what others measured of such a unit, as cards have it, and
// settles what is wrong where what came out is far from the card that was taken.

import (
	"fmt"

	"garage/tundish/model/card"
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

func cardSpecs() []Spec {
	wanted := func(s *Known, _ job.Place) bool {
		return s.EverSaid(job.Card) || !s.Has(job.GroundAndChocks) && len(s.CardsOnOffer()) > 0
	}
	return []Spec{
		optional(job.ClubKind, longest(40), "Kind of unit, for the club",
			"A name that owners of such a unit agree on. Shared only if you say so.", "not named"),
		optional(job.Card, checkCard, "Others measured such a unit",
			"As unsure as their units differ. What comes out here is held against it.", "left out").when(wanted),
		optional(job.CardResidual, checkCard, "Stays inside, by the same", "", "left out").when(wanted),
	}
}

// checkCard refuses what no drain of such a unit brings.
func checkCard(s *Known, _ job.Place, v job.Value) error {
	if low, high := v.Ends(); !(low < high) || high > estimate.MaxCapacityML {
		return fmt.Errorf("a range is needed, such as %s", s.Units().BareVolume(528)+"-"+s.Units().BareVolume(568))
	}
	return nil
}

// OfferedCard is a card as an answer.
type OfferedCard struct {
	Card       card.Card
	Out, Stays job.Value // Stays is Unknown where the card does not say
}

// mostCards is how many cards are offered at once: a digit each, and one to leave
// them out.
const mostCards = 8

// CardsOnOffer are the cards of such units: of the same kind, filled the same way, and
// of the name for the club where one is given. None where the unit has one by an
// earlier job.
func (s *Known) CardsOnOffer() []OfferedCard {
	if len(s.Offered.Cards) == 0 || s.CardBefore() {
		return nil
	}
	kind, name := s.Choice(job.Place{Topic: job.UnitKind}), card.Key(s.Text(job.ClubKind))
	var list []OfferedCard
	for _, c := range s.Offered.Cards {
		if c.Unit != kind || c.Path != s.Path().String() || name != "" && name != card.Key(c.Name) || len(list) == mostCards {
			continue
		}
		if o := offeredCard(c); !o.Out.Unknown {
			list = append(list, o)
		}
	}
	return list
}

// offeredCard has the ends of ± twice the standard uncertainty of one unit more;
// where that is more than the figure itself, it says nothing.
func offeredCard(c card.Card) OfferedCard {
	value := func(f *card.Figure) job.Value {
		if f == nil || estimate.Coverage*f.U() > f.Mean {
			return job.Value{Unknown: true}
		}
		half := estimate.Coverage * f.U()
		return job.Value{Number: f.Mean - half, High: f.Mean + half, Unit: job.DimML, Text: fmt.Sprintf("%s, %d jobs", c.Name, f.Jobs)}
	}
	return OfferedCard{Card: c, Out: value(&c.Out), Stays: value(c.Stays)}
}

var cardBelowOptions = []Option{
	{job.LookedMore, "more came out: type how much MORE", "car level, oil warm, plug the lowest one?"},
	{job.CardLevelOff, "it was low before: leaked, or never full", "what came out counts for less"},
	{job.CardOtherUnit, "theirs is another kind of unit", "what others measured does not count"},
	{job.CardBoth, "none of these: let both stand", "give or take grows until the gap is ordinary"},
}

var cardAboveOptions = []Option{
	{job.CardLevelOff, "it was overfilled before", "what came out counts for less"},
	{job.CardOtherUnit, "theirs is another kind of unit", "what others measured does not count"},
	{job.CardBoth, "none of these: let both stand", "give or take grows until the gap is ordinary"},
}

func cardStop() Spec {
	gap := func(s *Known, _ job.Place) float64 { return s.CardGapML() }
	return Spec{
		Topic: job.CardLookedAgain, Safety: true, Stop: true, Doubts: lastOut, Options: cardBelowOptions,
		OptionsOf: func(s *Known, _ job.Place) []Option {
			if s.CardGapML() > 0 {
				return cardAboveOptions
			}
			return cardBelowOptions
		},
		When: func(s *Known, p job.Place) bool {
			return p.Item == s.Items(job.DrainedAmount, 0)-1 && !s.SaysMoreDrained(p) && s.CardAsks()
		},
		Stale: movedFrom(gap), Confirms: gap,
		AskOf: askCard,
		Why:   "Further apart than their units differ: find out which is wrong.",
	}
}

func askCard(s *Known, _ job.Place) string {
	c, _ := s.CardTaken()
	gap, more := s.CardGapML(), "more"
	if gap < 0 {
		gap, more = -gap, "less"
	}
	return fmt.Sprintf("%s %s came out than others': %s. Why?", s.Units().FormatVolume(gap), more, s.FormatU(c.Out))
}
