package guide

// This file checks that nothing which only a person at the car can tell is on
// offer, and holds what is usually seen there, for the jobs of the tests.

import (
	"testing"

	"garage/tundish/model/ask"
	"garage/tundish/model/job"
)

// observed are topics that only a person at the car can tell; the table may have
// more.
var observed = map[job.Topic]bool{
	job.OilTemperature: true, job.TemperatureHow: true, job.MagnetLook: true, job.OilLook: true, job.OilHistory: true,
	job.DrainedAmount: true, job.DrainedTemperature: true, job.LookedAgain: true, job.PanLookedAgain: true,
	job.HoseBefore: true, job.LoadedAmount: true, job.LoadedTemperature: true,
	job.FillOilTemperature: true, job.LevelWeeps: true, job.OverflowCaught: true, job.AirInLine: true,
	job.HoseAfter: true, job.LeftInVessel: true, job.EscapedAtCap: true, job.LetOutAmount: true,
	job.WasherFitted: true, job.EscapedHow: true, job.EscapedAmount: true, job.NothingEscaped: true, job.TightenedHow: true,
	job.BalanceSuspect: true, job.LevelLookedAgain: true,
	job.LeakCheck: true, job.WasherRecheck: true, job.LeakedHow: true, job.LeakedAmount: true,
	job.ResumedPlug: true,
}

// usuallySeen are the choices of an ordinary job.
var usuallySeen = map[job.Topic]string{
	job.TemperatureHow: "measured", job.MagnetLook: "paste", job.OilLook: "clean", job.OilHistory: "undisturbed",
	job.LookedAgain: job.LookedMore, job.PanLookedAgain: job.PanWrong,
	job.HoseBefore: "dry", job.LevelWeeps: job.WeepsLevel, job.AirInLine: job.AirNone, job.HoseAfter: "full", job.WasherFitted: "new",
	job.EscapedHow: job.EscapeCaught, job.NothingEscaped: job.NoneDry, job.LeakedHow: job.EscapeCaught, job.TightenedHow: job.TightFeel,
}

// ordinary is what is seen in an ordinary job; false where each job differs.
func ordinary(s *Guide, p Prompt) (job.Value, bool) {
	switch p.Topic {
	case job.DrainedTemperature:
		return job.Value{Number: s.OilTempC(), Unit: job.DimC}, true
	case job.LoadedTemperature, job.FillOilTemperature:
		return job.Value{Number: 20, Unit: job.DimC}, true
	case job.EscapedAtCap, job.OverflowCaught:
		if p.weighs(s) {
			return job.Value{Unit: job.DimG}, true
		}
		return job.Value{Unit: job.DimML}, true
	}
	seen, ok := usuallySeen[p.Topic]
	_, torqueTold := s.Num(job.Place{Topic: job.TorqueFigure})
	switch {
	case p.Topic == job.HoseBefore && p.Place.Round > 0 && s.HoseAfter(p.Place.Round-1) == job.HoseLeftFull:
		seen = "primed"
	case p.Topic == job.TightenedHow && torqueTold:
		seen = job.TightWrench
	case !ok && p.Kind == job.Choose: // of a question that no test is about, the first answer
		seen, ok = p.Choices(s)[0].Token, true
	}
	return p.ChoiceValue(s, ask.Option{Token: seen}), ok
}

// No spec of an observed topic has an answer on offer, not even that of an
// earlier job, and none is taken over as a fact.
func TestFalseWord09NothingObservedIsOnOffer(t *testing.T) {
	for topic := job.Undo + 1; topic < job.NumTopics; topic++ {
		sp := ask.SpecOf(topic)
		if observed[topic] && !sp.Observed {
			t.Errorf("%v: only a person at the car can tell, and the table does not say so", topic)
		}
		if sp.Observed && (sp.Default != nil || topic.IsFact()) {
			t.Errorf("%v: observed, and still offered or taken over", topic)
		}
	}
}

// The same as a job goes: an earlier job that answered everything, a magnet or a
// washer included, brings none of it.
func TestFalseWord09AnEarlierJobOffersNothingObserved(t *testing.T) {
	for name, sc := range map[string]script{"small": small, "level": level,
		"two rounds": twoLoads.with(script{job.BalanceSuspect: {"stands"}, job.Decision: {"leave"}, job.LeftWhy: {"late"}})} {
		before := newDrive(t, sc).until(job.NoTopic)
		d := newDrive(t, sc)
		d.offers = Offers{Offers: ask.Offers{Answers: map[job.Place]job.Value{}}}
		entries, _ := before.Ledger()
		for _, e := range entries {
			d.offers.Answers[job.Place{Topic: e.Topic, Item: e.Item}] = e.Value
		}
		d.seen = func(s *Guide, p Prompt) {
			if v, ok := p.DefaultValue(s); ok && observed[p.Topic] {
				t.Errorf("%s: %v has %+v on offer", name, p.Topic, v)
			}
		}
		d.until(job.NoTopic)
	}
}

// Who has not looked can say so, and it counts as an answer of its own.
func TestFalseWord09NotLookedIsAnAnswer(t *testing.T) {
	s := newDrive(t, small.with(script{
		job.MagnetLook: {"not_looked"}, job.OilLook: {"not_looked"}, job.OilHistory: {"unknown"}, job.AirInLine: {"not_looked"},
		job.DrainedTemperature: {"-"}, job.LoadedTemperature: {"-"},
	})).until(job.NoTopic)
	if s.MagnetLook() != job.MagnetNotLooked || s.OilLook() != job.LookNotLooked || s.Past() != job.PastNotKnown {
		t.Errorf("magnet %v, oil %v, past %v", s.MagnetLook(), s.OilLook(), s.Past())
	}
	if s.AirSpat(0) {
		t.Error("air that nobody looked for is taken as seen")
	}
	if !s.DrainedVoid() || s.LossTold() || s.WhyVoid() != "nobody looked at it" {
		t.Errorf("oil that nobody looked at is a witness: %s", s.WhyVoid())
	}
	measuredIt := newDrive(t, small).until(job.NoTopic)
	if got, want := s.Drained().Total.U(), measuredIt.Drained().Total.U(); got <= want {
		t.Errorf("an untaken temperature leaves ± %g, a measured one ± %g", got, want)
	}
}
