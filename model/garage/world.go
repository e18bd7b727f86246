// Package garage simulates oil changes, for tests: a unit of which it is known
// what is really in it, tools with errors of their own, and a person who goes
// through the guide question by question, as it asks them, and gets some things
// wrong. Nothing in the program imports it.
package garage

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// World is one job under way. Where oil is, is kept in ml at 20 °C.
type World struct {
	Unit  Unit
	Tools Tools
	Slips Slips
	Job   job.Job

	dice      dice
	at        time.Time
	blind     bool // gross slips may hit what nothing else reads
	slipped   bool // the unit slip was made
	outAt     time.Time
	needML    float64 // belonged in when the drain had ended
	rightFill float64 // belongs in after an ordinary drain
	pan       float64 // came out
	over      float64 // still in the unit beyond what stays behind
	vessel    float64
	hose      float64
	bottles   float64 // left in the bottles that were opened
	opened    int
	catch     float64
	lost      float64              // at a plug that weeps
	honest    map[job.Place]string // what should have been typed
	stood     map[job.Place]bool   // was asked to be read again
	done      map[job.Place]bool
	more      float64 // came out on a second look
	overflow  float64
	out       float64 // let out
	hoseIs    string
	hoseLied  bool // before the first push
}

// Config says what a job is to be like.
type Config struct {
	Seed  uint64
	Slips Slips
	// Blind lets gross slips hit readings that nothing else checks; else such a
	// reading is wrong by one mark at most.
	Blind bool
}

// Result is what a job came to at one of its moments, or at its end.
type Result struct {
	State    *guide.Guide
	InML     float64 // really in the unit
	OffML    float64 // of what belongs in it
	OffShare float64 // of the right fill after an ordinary drain
}

// Beyond reports whether the unit is so far off that the car must not be
// driven.
func (r Result) Beyond() bool {
	return r.OffShare < -verdict.DoNotDriveShort || r.OffShare > verdict.DoNotDriveOver
}

// New begins a job.
func New(c Config) *World {
	d := dice{rand.New(rand.NewPCG(c.Seed, 0x6f696c))}
	start := time.Date(2026, 4, 18, 9, 0, 0, 0, time.UTC)
	w := &World{
		Slips: c.Slips, dice: d, at: start, blind: c.Blind,
		Job:    job.Job{ID: fmt.Sprintf("sim-%d", c.Seed), Started: start},
		honest: map[job.Place]string{}, stood: map[job.Place]bool{}, done: map[job.Place]bool{},
	}
	w.Unit = newUnit(d, c.Slips)
	w.Tools = newTools(d, c.Slips, w.Unit.RightML)
	w.needML, w.rightFill = w.Unit.RightML, w.Unit.RightML-w.Unit.StaysML
	if w.dice.chance(0.3) {
		w.hose = w.Tools.HoldUpML // primed
	}
	return w
}

// mostEntries ends a job that goes round in circles.
const mostEntries = 350

// Play goes on to the end and calls each with the job as it stands after every
// entry. It stops where each does not want more.
func (w *World) Play(each func(Result) bool) error {
	for len(w.Job.Entries) < mostEntries {
		s := guide.Fold(w.Job, guide.Offers{})
		if len(w.Job.Entries) > 0 && !each(w.result(s)) {
			return nil
		}
		p, more := s.Next()
		if !more {
			return nil
		}
		if err := w.step(s, p); err != nil {
			return fmt.Errorf("%v of round %d, item %d: %w", p.Topic, p.Place.Round, p.Place.Item, err)
		}
	}
	return fmt.Errorf("no end after %d entries", mostEntries)
}

func (w *World) result(s *guide.Guide) Result {
	off := w.Unit.HeldML - w.Unit.RightML
	return Result{State: s, InML: w.Unit.HeldML, OffML: off, OffShare: off / w.rightFill}
}

// step does what is asked, answers it and lets time go by.
func (w *World) step(s *guide.Guide, p guide.Prompt) error {
	w.act(s, p)
	if w.readAgain(s, p) {
		return nil
	}
	e, err := w.answer(s, p)
	if err != nil && w.correctAny(s) {
		return nil
	}
	if err != nil {
		return err
	}
	w.at = w.at.Add(w.takes(p.Topic))
	e.At = w.at
	if err := e.Check(); err != nil {
		return err
	}
	w.Job.Entries = append(w.Job.Entries, e)
	w.after(s, p, e)
	return nil
}

// takes is the time that an answer takes: waits are waited for.
func (w *World) takes(t job.Topic) time.Duration {
	if w.Slips.Has(WaitsSkipped) || w.Slips.Has(ClicksOn) {
		return time.Second
	}
	switch t {
	case job.DripReading, job.DripsEnded:
		if w.Slips.Has(DrainShort) {
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

// answer finds an answer that is taken.
func (w *World) answer(s *guide.Guide, p guide.Prompt) (job.Entry, error) {
	if p.Ends != job.NoTopic && !w.looksNow(p) || p.Kind == job.Acknowledge || p.Kind == job.Event {
		return p.Answer(s, "", w.at)
	}
	if p.Kind == job.Choose {
		return w.choose(s, p)
	}
	v, usual := p.DefaultValue(s)
	lines := w.lines(s, p)
	if usual && (len(lines) == 0 || w.Slips.Has(ClicksOn) && p.Step != job.Prepare) {
		return p.Entry(s, v, "", w.at), p.Accept(s, v)
	}
	if p.Unknown != "" && (len(lines) == 0 || lines[0] == "") {
		return p.Entry(s, job.Value{Unknown: true}, "", w.at), nil
	}
	var err error
	if len(lines) == 0 {
		lines = []string{"0 ml", "0 g", "10", "10 ml", "as it was"}
	}
	for _, line := range lines {
		if v, err = p.Parse(s, line); err == nil {
			return p.Entry(s, v, line, w.at), nil
		}
	}
	if unclear := (*guide.UnclearUnit)(nil); errors.As(err, &unclear) { // asked, it is the unit shown that was meant
		v = unclear.Readings[0].Value
		if err = p.Accept(s, v); err == nil {
			return p.Entry(s, v, lines[len(lines)-1], w.at), nil
		}
	}
	if p.Unknown != "" && len(w.honest) == 0 {
		return p.Entry(s, job.Value{Unknown: true}, "", w.at), nil
	}
	return job.Entry{}, fmt.Errorf("%q: no answer is taken of %q: %w", p.AskText(s), lines, err)
}

func (w *World) choose(s *guide.Guide, p guide.Prompt) (job.Entry, error) {
	options := p.Choices(s)
	if len(options) == 0 {
		return job.Entry{}, fmt.Errorf("%q: nothing to choose", p.AskText(s))
	}
	token := w.token(s, p, options)
	chosen := options[0]
	for _, o := range options {
		if o.Token == token {
			chosen = o
		}
	}
	v := p.ChoiceValue(s, chosen)
	return p.Entry(s, v, "", w.at), p.Accept(s, v)
}

// looksNow reports whether a reading is taken that may be left out.
func (w *World) looksNow(guide.Prompt) bool { return false }
