// Package demo makes the invented job that the demo opens, part way through, and the
// tour of what to type and to look at from there.
package demo

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
)

// start is the line that the demo opens at.
const start = job.DrainedAmount

// Answers are said in turn to the lines that stand for these questions: a digit, a
// label or a text. What is not named is taken as it is offered, or is the first
// where nothing is. All of it is invented.
func Answers() map[job.Topic][]string {
	return map[job.Topic][]string{
		job.Vehicle: {"demo estate"}, job.UnitName: {"rear axle"}, job.Capacity: {"900"}, job.PriorLevel: {"2"}, job.HoseHolds: {"25"},
		job.OilGrade: {"75W-90"}, job.PlugThread: {"M18x1.5, 8 mm hexagon, copper 18 x 24"},
		job.TorqueFigure:   {"35, invented for the demo"},
		job.OilTemperature: {"2"}, job.MagnetLook: {"2"}, job.Odometer: {"118 400"}, job.IntervalKm: {"60 000, 48"},
	}
}

// pause is how long an answer takes; the oil drips longer.
func pause(at sheet.ID) time.Duration {
	if at == sheet.Drain {
		return 9 * time.Minute
	}
	return 20 * time.Second
}

// maxAnswers is far more than there are lines.
const maxAnswers = 500

// Job is the job up to start, its last answer given just now.
func Job(now time.Time) (job.Job, error) {
	j, err := Answered(job.Job{Started: now.UTC().Round(0)}, Answers(), start)
	if err != nil {
		return job.Job{}, err
	}
	took := guide.Fold(j, guide.Offers{}).Updated.Sub(j.Started)
	j.Started = j.Started.Add(-took)
	for i := range j.Entries {
		j.Entries[i].At = j.Entries[i].At.Add(-took)
	}
	j.ID = job.NewID(j.Started, rand.Uint32())
	return j, nil
}

// Answered continues a job sheet by sheet until keys would go to the line of a topic,
// or, for NoTopic, until nothing is left to ask. What is used is taken out of said.
func Answered(j job.Job, said map[job.Topic][]string, stop job.Topic) (job.Job, error) {
	at := guide.Fold(j, guide.Offers{}).Updated
	if at.Before(j.Started) {
		at = j.Started
	}
	for range maxAnswers {
		g := guide.Fold(j, guide.Offers{})
		s, more := sheet.Now(g, at)
		i, topic := next(s, said)
		if home, ok := sheet.Home(g, job.Place{Topic: stop}); !more || i < 0 && ok && home == s.At && !g.Has(stop) ||
			i >= 0 && slices.Contains(s.Lines[i].Topics(), stop) {
			return j, nil
		}
		at = at.Add(pause(s.ID))
		entries, err := s.Complete(g, at)
		if i >= 0 {
			line := ""
			if rest := said[topic]; len(rest) > 0 {
				line, said[topic] = rest[0], rest[1:]
			}
			entries, err = say(g, s, i, line, at)
		}
		if err != nil {
			return job.Job{}, fmt.Errorf("demo job: sheet %v: %w", s.ID, err)
		}
		j.Entries = append(j.Entries, entries...)
	}
	return job.Job{}, errors.New("demo job: the sheets do not end")
}

// next is the first line of a sheet that there is something to say to, by which of
// its topics, or that must be answered; -1 none.
func next(s sheet.Sheet, said map[job.Topic][]string) (line int, by job.Topic) {
	for i, l := range s.Lines {
		for _, t := range l.Topics() {
			if len(said[t]) > 0 {
				return i, t
			}
		}
		if l.Standing == sheet.Open {
			return i, job.NoTopic
		}
	}
	return -1, job.NoTopic
}

// say makes the entries of what is said to line i of a sheet: its own digit, the
// digit or the label of an option, the first where nothing is said, or a text.
func say(g *guide.Guide, s sheet.Sheet, i int, said string, at time.Time) ([]job.Entry, error) {
	l := s.Lines[i]
	switch {
	case l.Kind == sheet.Confirm:
		return s.Take(g, i, sheet.Answer{Key: l.Key}, at)
	case l.Kind != sheet.Choice:
		return s.Take(g, i, sheet.Answer{Typed: said}, at)
	}
	for _, o := range l.Options {
		if said == "" || said == string(o.Key) || said == o.Label || said == o.Token {
			return s.Take(g, i, sheet.Answer{Key: o.Key}, at)
		}
	}
	entries, err := s.Take(g, i, sheet.Answer{Key: l.Options[0].Key}, at) // of a kind, but named otherwise
	if err != nil {
		return nil, err
	}
	topics := l.Topics()
	more, err := sheet.Correct(g.With(entries...), l.Place.Of(topics[len(topics)-1]), sheet.Answer{Typed: said}, at)
	return append(entries, more...), err
}
