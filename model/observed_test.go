package model

// This file checks that nothing which only a person at the car can tell is on
// offer, and holds what is usually seen there, for the jobs of the tests.

import "testing"

// observed are the topics that only a person at the car can tell.
var observed = map[Topic]bool{
	OilTemperature: true, TemperatureHow: true, MagnetLook: true, OilLook: true, OilHistory: true,
	DrainedAmount: true, DrainedTemperature: true, LookedAgain: true, PanLookedAgain: true,
	HoseBefore: true, LoadedAmount: true, LoadedTemperature: true,
	FillOilTemperature: true, LevelWeeps: true, OverflowCaught: true, AirInLine: true,
	HoseAfter: true, LeftInVessel: true, EscapedAtCap: true, LetOutAmount: true,
	WasherFitted: true, EscapedHow: true, EscapedAmount: true, NothingEscaped: true, TightenedHow: true,
	BalanceSuspect: true, LevelLookedAgain: true,
	LeakCheck: true, WasherRecheck: true, LeakedHow: true, LeakedAmount: true,
	ResumedPlug: true,
}

// usuallySeen are the choices of an ordinary job.
var usuallySeen = map[Topic]string{
	TemperatureHow: "measured", MagnetLook: "paste", OilLook: "clean", OilHistory: "undisturbed", LookedAgain: lookedMore, PanLookedAgain: panWrong,
	HoseBefore: "dry", LevelWeeps: weepsLevel, AirInLine: airNone, HoseAfter: "full", WasherFitted: "new",
	EscapedHow: escapeCaught, NothingEscaped: noneDry, LeakedHow: escapeCaught, TightenedHow: tightFeel,
}

// ordinary is what is seen in an ordinary job; false where each job differs.
func ordinary(s *State, p Prompt) (Value, bool) {
	switch p.Topic {
	case DrainedTemperature:
		return Value{Number: s.oilTempC(), Unit: DimC}, true
	case LoadedTemperature, FillOilTemperature:
		return Value{Number: 20, Unit: DimC}, true
	case EscapedAtCap, OverflowCaught:
		if p.weighs(s) {
			return Value{Unit: DimG}, true
		}
		return Value{Unit: DimML}, true
	}
	seen, ok := usuallySeen[p.Topic]
	switch {
	case p.Topic == HoseBefore && p.Place.Round > 0 && s.hoseAfter(p.Place.Round-1) == HoseLeftFull:
		seen = "primed"
	case p.Topic == TightenedHow && known(TorqueFigure)(s, Place{}):
		seen = tightWrench
	}
	return p.ChoiceValue(s, Option{Token: seen}), ok
}

// No spec of an observed topic has an answer on offer, not even that of an
// earlier job, and none is taken over as a fact.
func TestFalseWord09NothingObservedIsOnOffer(t *testing.T) {
	for topic := range observed {
		sp := SpecOf(topic)
		if sp == nil || !sp.Observed {
			t.Errorf("%v: the list of what is observed is not that of the table", topic)
			continue
		}
		if sp.Default != nil || topic.isFact() {
			t.Errorf("%v: observed, and still offered or taken over", topic)
		}
	}
	for topic := Undo + 1; topic < topicCount; topic++ {
		if sp := SpecOf(topic); sp.Observed != observed[topic] {
			t.Errorf("%v: observed %v in its spec, %v in the list", topic, sp.Observed, observed[topic])
		}
	}
}

// The same as a job goes: an earlier job that answered everything, a magnet or a
// washer included, brings none of it.
func TestFalseWord09AnEarlierJobOffersNothingObserved(t *testing.T) {
	for name, sc := range map[string]script{"small": small, "level": level, "two rounds": twoLoads.with(script{BalanceSuspect: {"stands"}, Decision: {"leave"}, LeftWhy: {"late"}})} {
		before := newDrive(t, sc).until(NoTopic)
		d := newDrive(t, sc)
		d.offers = Offers{Answers: map[Place]Value{}}
		entries, _ := before.Ledger()
		for _, e := range entries {
			d.offers.Answers[Place{Topic: e.Topic, Item: e.Item}] = e.Value
		}
		d.seen = func(s *State, p Prompt) {
			if v, ok := p.DefaultValue(s); ok && observed[p.Topic] {
				t.Errorf("%s: %v has %+v on offer", name, p.Topic, v)
			}
			for _, taken := range s.TakeOver(p.Part, d.at) {
				if observed[taken.Prompt.Topic] {
					t.Errorf("%s: + takes over %v", name, taken.Prompt.Topic)
				}
			}
		}
		d.until(NoTopic)
	}
}

// Who has not looked can say so, and it counts as an answer of its own.
func TestFalseWord09NotLookedIsAnAnswer(t *testing.T) {
	s := newDrive(t, small.with(script{
		MagnetLook: {"not_looked"}, OilLook: {"not_looked"}, OilHistory: {"unknown"}, AirInLine: {"not_looked"},
		DrainedTemperature: {"-"}, LoadedTemperature: {"-"},
	})).until(NoTopic)
	if s.MagnetLook() != MagnetNotLooked || s.OilLook() != LookNotLooked || s.Past() != PastNotKnown {
		t.Errorf("magnet %v, oil %v, past %v", s.MagnetLook(), s.OilLook(), s.Past())
	}
	if s.airSpat(0) {
		t.Error("air that nobody looked for is taken as seen")
	}
	if !s.drainedVoid() || s.lossTold() || s.whyVoid() != "nobody looked at it" {
		t.Errorf("oil that nobody looked at is a witness: %s", s.whyVoid())
	}
	measuredIt := newDrive(t, small).until(NoTopic)
	if got, want := s.Drained().Total.U(), measuredIt.Drained().Total.U(); got <= want {
		t.Errorf("an untaken temperature leaves ± %g, a measured one ± %g", got, want)
	}
}
