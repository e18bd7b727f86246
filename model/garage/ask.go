package garage

// This file answers a question as it is asked: with what is typed and chosen, as
// far as it is taken, and with a second look at what the guide doubts.

import (
	"errors"
	"fmt"
	"slices"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// answer finds an answer that is taken.
func (v *Visit) answer(s *guide.Guide, p guide.Prompt) (job.Entry, error) {
	if p.Ends != job.NoTopic || p.Kind == job.Acknowledge || p.Kind == job.Event {
		return p.Answer(s, "", v.at)
	}
	if p.Kind == job.Choose {
		return v.choose(s, p)
	}
	x, lines := v.offerOrLines(s, p)
	if len(lines) == 0 {
		return p.Entry(s, x, "", v.at), p.Accept(s, x)
	}
	var err error
	for _, line := range lines {
		if x, err = p.Parse(s, line); err == nil {
			return p.Entry(s, x, line, v.at), nil
		}
	}
	if unclear := (*guide.UnclearUnit)(nil); errors.As(err, &unclear) { // asked, it is the unit shown that was meant
		x = unclear.Readings[0].Value
		if err = p.Accept(s, x); err == nil {
			return p.Entry(s, x, lines[len(lines)-1], v.at), nil
		}
	}
	if p.Unknown != "" && len(v.honest) == 0 {
		return p.Entry(s, job.Value{Unknown: true}, "", v.at), nil
	}
	return job.Entry{}, fmt.Errorf("%q: no answer is taken of %q: %w", p.AskText(s), lines, err)
}

// offerOrLines is what is on offer, or that it is not known, where one of these is
// taken; else the lines that are typed.
func (v *Visit) offerOrLines(s *guide.Guide, p guide.Prompt) (job.Value, []string) {
	usual, ok := p.DefaultValue(s)
	lines, clicks := v.lines(p.Place), v.Slips.Has(ClicksOn) && p.Step != job.Prepare
	switch {
	case ok && (len(lines) == 0 || clicks):
		return usual, nil
	case p.Unknown != "" && (len(lines) == 0 || lines[0] == "" || clicks && p.Optional):
		return job.Value{Unknown: true}, nil
	case len(lines) == 0:
		return job.Value{}, nothing
	}
	return job.Value{}, lines
}

// next is the question that is answered next: of those before the one that is asked,
// the first that need not be answered and that the person knows something of.
func (v *Visit) next(s *guide.Guide) (guide.Prompt, bool) {
	asked, more := s.Next()
	if !more {
		return asked, false
	}
	for p, open := range s.Prompts() {
		if open && p.Optional && v.knows(p.Place) {
			return p, true
		}
		if p.Place == asked.Place && !(p.Topic == job.HoseHolds && v.Tools.HoseKnown) { // its size comes after it, and is told instead
			break
		}
	}
	return asked, true
}

// nothing is typed where there is nothing to be measured.
var nothing = []string{"0 ml", "0 g", "10", "10 ml", "as it was"}

func (v *Visit) choose(s *guide.Guide, p guide.Prompt) (job.Entry, error) {
	options := p.Choices(s)
	if len(options) == 0 {
		return job.Entry{}, fmt.Errorf("%q: nothing to choose", p.AskText(s))
	}
	token := v.token(s, p, options)
	chosen := options[0]
	for _, o := range options {
		if o.Token == token {
			chosen = o
		}
	}
	x := p.ChoiceValue(s, chosen)
	return p.Entry(s, x, "", v.at), p.Accept(s, x)
}

// readAgain reads again what the guide doubts, and corrects it: half of those
// who got it wrong see it then.
func (v *Visit) readAgain(s *guide.Guide, p guide.Prompt) bool {
	if !stops(p.Topic) || v.stood[p.Place] || v.Slips.Has(RandomStops) || v.Slips.Has(ClicksOn) {
		return false
	}
	v.stood[p.Place] = true
	for _, place := range v.inDoubt(p) {
		if v.dice.chance(0.5) && v.correct(s, place) {
			return true
		}
	}
	return false
}

// correct puts right what was typed at a place, if it was wrong.
func (v *Visit) correct(s *guide.Guide, place job.Place) bool {
	right, slipped := v.honest[place]
	delete(v.honest, place)
	e, stands := s.Answer(place)
	if !slipped || !stands {
		return false
	}
	again, ok := s.Correcting(e.Seq)
	if !ok {
		return false
	}
	x, err := again.Parse(s, right)
	if err != nil {
		return false
	}
	v.at = v.at.Add(v.takes(place.Topic))
	v.Job.Entries = append(v.Job.Entries, again.Entry(s, x, right, v.at))
	v.said[place], v.corrected[place] = x, true
	return true
}

// correctAny puts right the last answer that is wrong: nothing else is taken
// any more.
func (v *Visit) correctAny(s *guide.Guide) bool {
	for _, e := range slices.Backward(v.Job.Entries) {
		if v.correct(s, job.At(e.Topic, e.Round, e.Item)) {
			return true
		}
	}
	return false
}

// inDoubt are the readings that a question is about.
func (v *Visit) inDoubt(p guide.Prompt) []job.Place {
	r := p.Place.Round
	switch p.Topic {
	case job.LookedAgain, job.MeasureTrusted, job.WrongBoxDecision, job.Basis:
		return []job.Place{{Topic: job.Capacity}, {Topic: job.DrainedAmount}, {Topic: job.DrainedAmount, Item: 1}}
	case job.BalanceSuspect, job.LevelLookedAgain:
		return []job.Place{{Topic: job.LoadedAmount, Round: r}, {Topic: job.LeftInVessel, Round: r}}
	}
	return nil
}
