package garage

// This file goes through the guide's questions, in one of two ways that end in
// the same entries.

import (
	"errors"
	"fmt"
	"time"

	"garage/tundish/model/card"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// mostEntries ends a job that goes round in circles.
const mostEntries = 350

func (v *Visit) fold() *guide.Guide {
	offers := guide.Offers{Before: v.before}
	if v.Config.Card != nil {
		offers.Cards = []card.Card{*v.Config.Card}
	}
	return guide.Fold(v.Job, offers)
}

// Play answers question by question to the end and calls each with the job as it
// stands after every entry. It stops where each does not want more.
func (v *Visit) Play(each func(Result) bool) error {
	for len(v.Job.Entries) < mostEntries {
		s := v.fold()
		if len(v.Job.Entries) > 0 && !each(v.result(s)) {
			return nil
		}
		p, more := v.next(s)
		if !more {
			return nil
		}
		if err := v.step(s, p); err != nil {
			return err
		}
	}
	return fmt.Errorf("no end after %d entries", mostEntries)
}

// Straight does the same as toDecision with the entries written as they must come,
// so that most jobs are folded twice: for the plan and for the verdict. No slip
// that the guide refuses to take must be made then.
func (v *Visit) Straight() (Result, error) {
	v.straight = true
	return v.toDecision()
}

// toDecision answers question by question until the owner accepts the fill or
// leaves it.
func (v *Visit) toDecision() (Result, error) {
	if v.straight {
		v.begin()
	}
	for len(v.Job.Entries) < mostEntries {
		s := v.fold()
		p, more := v.next(s)
		if !more {
			return Result{}, errors.New("the end without a decision")
		}
		if err := v.step(s, p); err != nil {
			return Result{}, err
		}
		decided := v.choice(job.At(job.Decision, p.Place.Round, 0))
		if accepted := decided == job.DecideAccept.String(); accepted || decided == job.DecideLeave.String() {
			v.Car.before = v.fold()
			r := v.result(s)
			r.Accepted, r.Round = accepted, p.Place.Round
			return r, nil
		}
		if v.straight {
			v.goOn(s, p.Place)
		}
	}
	return Result{}, fmt.Errorf("no end after %d entries", mostEntries)
}

// ask turns to a question: its dice, and what is to be done before it is
// answered, once.
func (v *Visit) ask(s *guide.Guide, place job.Place) {
	n := v.asked[place]
	v.asked[place]++
	v.dice = v.diceOf(place, n)
	if n == 0 {
		v.act(s, place)
	}
}

// diceOf are those of a question, asked the nth time.
func (v *Visit) diceOf(p job.Place, n int) dice {
	return v.Config.dice(fmt.Sprint(v.n, p.Topic, p.Round, p.Item), n)
}

// step does what is asked, answers it and lets time go by.
func (v *Visit) step(s *guide.Guide, p guide.Prompt) error {
	place := p.Place
	if p.Ends != job.NoTopic {
		place.Topic = p.Ends
	}
	v.ask(s, place)
	if place == (job.Place{Topic: job.BalanceSuspect}) {
		v.suspects = max(v.suspects, len(s.Balance(0).Suspects))
	}
	if v.readAgain(s, p) {
		return nil
	}
	e, err := v.answer(s, p)
	if err == nil {
		err = e.Check()
	}
	if err != nil {
		if v.correctAny(s) {
			return nil
		}
		return fmt.Errorf("%v of round %d, item %d: %w", p.Topic, p.Place.Round, p.Place.Item, err)
	}
	v.add(e, v.takes(p.Topic))
	return nil
}

// add lets the time go by that an answer took, and what follows from it happen.
func (v *Visit) add(e job.Entry, took time.Duration) {
	v.at = v.at.Add(took)
	e.At = v.at
	v.Job.Entries = append(v.Job.Entries, e)
	v.said[job.At(e.Topic, e.Round, e.Item)] = e.Value
	v.after(e)
}

func (v *Visit) choice(p job.Place) string { return v.said[p].Choice }

// takes is the time that an answer takes: waits are waited for.
func (v *Visit) takes(t job.Topic) time.Duration {
	if v.Slips.Has(WaitsSkipped) || v.Slips.Has(ClicksOn) {
		return time.Second
	}
	switch t {
	case job.DripReading, job.DripsEnded:
		if v.Slips.Has(DrainShort) {
			return 2 * time.Minute
		}
		return 16 * time.Minute
	case job.LookedAgain, job.LevelWeeps, job.LevelLookedAgain, job.PlugSeated, job.EscapedAtCap:
		return 11 * time.Minute
	case job.LeakCheck:
		return 40 * time.Minute
	case job.WasherRecheck:
		return 13 * time.Hour
	}
	return 30 * time.Second
}
