package guide

// This file checks what a card does to the aim by hand, and what is asked where a job
// is far from it.

import (
	"math"
	"slices"
	"testing"

	"garage/tundish/model/ask"
	"garage/tundish/model/card"
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// ofOthers is a card of so many jobs that the scatter counts as it is.
func ofOthers(mean, sd float64) card.Card {
	const many = 10_000
	return card.Card{Name: "K2 rear axle", Unit: "final_drive", Path: "drain_only", Jobs: many,
		Out: card.Figure{Jobs: many, Mean: mean, SD: sd}}
}

func withCard(t *testing.T, mean, sd float64, lines script) *drive {
	d := newDrive(t, small.with(script{job.CapacityMeans: {"refill"}}).with(lines))
	d.offers.Cards = []card.Card{ofOthers(mean, sd)}
	return d
}

// A refill of 600 ± 2.2 % is C - R to 13.2 ml, the card 560 ± 20 ml: the mean weighted by
// both is 587.9, u 11.02 ml, and 2 % of 600/0.92 ml for this drain's own on top (computed).
func TestCardIsOneMoreObservation(t *testing.T) {
	s := withCard(t, 560, 20, script{job.Card: {"520-600"}}).until(job.OilTemperature)
	plan, err := s.Plan(0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "what is known", plan.FromCapacity.Nominal, 587.863, 0.01)
	near(t, "its u", plan.FromCapacity.U(), math.Sqrt(121.37+13.043*13.043), 0.01)
	near(t, "z", plan.CardZ, 40/math.Sqrt(574.24), 1e-3)
	in, _, _ := s.WholePlan()
	if last := s.TargetBreakdown(); in.Card == nil || len(last.Terms) == 0 {
		t.Fatal("nothing is broken down")
	}
	for i, term := range s.TargetBreakdown().Terms {
		if term.Label == "both together" {
			near(t, "both together", term.Value.Nominal, plan.FromCapacity.Nominal, 1e-6)
			near(t, "their u", term.Value.U(), plan.FromCapacity.U(), 1e-6)
			return
		}
		if i > 20 {
			break
		}
	}
	t.Errorf("the breakdown does not name it: %+v", s.TargetBreakdown().Terms)
}

// What came out and what stayed in are one measurement: of a unit whose dry quantity is
// stated, a card with both says no more than one with the first.
func TestCardCountsStayingOnce(t *testing.T) {
	dryFigure := script{job.CapacityMeans: {"dry"}, job.Card: {"510-590"}}
	one := withCard(t, 550, 20, dryFigure).until(job.OilTemperature)
	both := withCard(t, 550, 20, dryFigure.with(script{job.CardResidual: {"30-70"}})).until(job.OilTemperature)
	a, errA := one.Plan(0)
	b, errB := both.Plan(0)
	if errA != nil || errB != nil {
		t.Fatal(errA, errB)
	}
	if b.FromCapacity.U() < 0.97*a.FromCapacity.U() {
		t.Errorf("± %.2f becomes ± %.2f by what stays inside", 2*a.FromCapacity.U(), 2*b.FromCapacity.U())
	}
}

// No card is asked for where there is none, and one that is not taken leaves no entry.
func TestCardCostsNothing(t *testing.T) {
	for _, d := range []*drive{newDrive(t, small), withCard(t, 560, 20, nil)} {
		s := d.until(job.PlanAccepted)
		if s.EverSaid(job.Card) || s.EverSaid(job.CardResidual) || s.EverSaid(job.ClubKind) {
			t.Error("something is said of cards")
		}
		for p := range newDrive(t, small).state().Prompts() {
			if p.Topic == job.Card {
				t.Error("a card is asked for without one")
			}
		}
	}
	other := withCard(t, 560, 20, nil)
	other.offers.Cards[0].Path = "level_port"
	if list := other.until(job.OilTemperature).CardsOnOffer(); len(list) != 0 {
		t.Errorf("a card of another way in is offered: %+v", list)
	}
}

// On offer are the ends of ± twice the standard uncertainty of one unit more; a scatter as wide as the figure offers nothing.
func TestOfferedCardHasItsEnds(t *testing.T) {
	list := withCard(t, 560, 20, nil).until(job.AtHand).CardsOnOffer()
	if len(list) != 1 {
		t.Fatalf("%+v", list)
	}
	near(t, "low", list[0].Out.Number, 520, 0.01)
	near(t, "high", list[0].Out.High, 600, 0.01)
	if list := withCard(t, 560, 281, nil).until(job.AtHand).CardsOnOffer(); len(list) != 0 {
		t.Errorf("560 ± 562 ml is offered: %+v", list)
	}
}

// 550 came out; others measured 640 ± 40: asked at once, and what is said of it counts.
func TestFarFromTheCardIsAskedAtOnce(t *testing.T) {
	far := func(answer string) *Guide {
		lines := script{job.Card: {"600-680"}}
		if answer != "" {
			lines[job.CardLookedAgain] = []string{answer}
		}
		d := withCard(t, 640, 20, lines)
		if answer == "" {
			return d.until(job.CardLookedAgain)
		}
		return d.until(job.PlanAccepted)
	}
	s := far("")
	p := asked(t, s, job.CardLookedAgain)
	if !p.Stop || !p.Safety || p.AskText(s) != "90 ml less came out than others': 640 ± 40 ml. Why?" {
		t.Errorf("asked %q, a stop: %v", p.AskText(s), p.Stop)
	}
	without := newDrive(t, small.with(script{job.CapacityMeans: {"refill"}})).until(job.PlanAccepted)
	plain, _ := without.Plan(0)
	for answer, proves := range map[string]bool{job.CardOtherUnit: true, job.CardLevelOff: false, job.CardBoth: false} {
		s := far(answer)
		plan, err := s.Plan(0)
		if err != nil {
			t.Fatal(err)
		}
		if plan.CardCounts == proves || slices.Contains(s.ForbidsProven(), verdict.ForbidsOverruled) == proves {
			t.Errorf("%s: the card counts %v, reasons %v", answer, plan.CardCounts, s.ForbidsProven())
		}
		if same := plan.Target.Nominal == plain.Target.Nominal && plan.Target.U() == plain.Target.U(); same != proves {
			t.Errorf("%s: aim %v, u %v; without a card %v, u %v", answer, plan.Target.Nominal, plan.Target.U(), plain.Target.Nominal,
				plain.Target.U())
		}
	}
}

// A card that contradicts the manual is not averaged with it in silence: 600 ± 13.2 and
// 480 ± 20 are 5.0 standard uncertainties apart (computed), both stand in more doubt, and
// nothing is proven by them.
func TestCardAgainstTheManual(t *testing.T) {
	s := withCard(t, 480, 20, script{job.Card: {"440-520"}}).until(job.OilTemperature)
	plan, err := s.Plan(0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "z", plan.CardZ, 120/math.Sqrt(574.24), 1e-3)
	if plan.FromCapacity.U() < 30 || !slices.Contains(s.ForbidsProven(), verdict.ForbidsOverruled) {
		t.Errorf("what is known has u %.1f, reasons %v", plan.FromCapacity.U(), s.ForbidsProven())
	}
}

// A card counts once for a unit, from the job on at which it was taken.
func TestCardCountsOncePerUnit(t *testing.T) {
	first := withCard(t, 560, 20, script{job.Card: {"520-600"}})
	first.job.ID, first.job.Started, first.at = "first", start.AddDate(-2, 0, 0), start.AddDate(-2, 0, 0)
	before := first.until(job.NoTopic)
	next := newDrive(t, small)
	next.offers = Offers{Offers: ask.Offers{Cards: []card.Card{ofOthers(560, 20)}}, Before: before}
	s := next.until(job.NoTopic)
	if s.EverSaid(job.Card) || len(s.CardsOnOffer()) != 0 {
		t.Error("the card is offered again")
	}
	var of bool
	plan, err := s.Plan(0)
	if err != nil {
		t.Fatal(err)
	}
	for source := range plan.Target.Terms() {
		of = of || source.Name == estimate.CardSays
	}
	if !of {
		t.Error("the card of the first job is forgotten")
	}
}
