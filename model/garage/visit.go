package garage

// This file holds a car over the years and one oil change of its unit, and goes
// through the guide's questions in one of two ways that end in the same entries.

import (
	"errors"
	"fmt"
	"hash/fnv"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// Config says what a car is to be like.
type Config struct {
	Seed  uint64
	World *World // nil: Usual
	Kind  Kind
	Slips Slips
	// Blind lets gross slips hit readings that nothing else checks; else such a
	// reading is wrong by one mark at most.
	Blind bool
	// Careful persons read twice, note the bottles and look the stated quantity
	// up in a second place.
	Careful bool
	// LossShare of what belongs in is lost from one change to the next; 0 is what
	// the world has.
	LossShare float64
}

// Car is a car with its unit and its owner's tools, over the years.
type Car struct {
	Config
	Unit   *Unit
	Tools  *Tools
	before *guide.Guide // the last oil change, as it ended
	visits int
}

// NewCar is a car before its first oil change.
func NewCar(c Config) *Car {
	if c.World == nil {
		c.World = &Usual
	}
	car := &Car{Config: c, Unit: newUnit(c.dice("unit", 0), c)}
	car.Tools = newTools(c.dice("tools", 0), c.Slips, car.Unit.RightML)
	if c.Careful {
		car.Tools.BottlesNoted, car.Tools.OutTwice = true, true
	}
	if c.LossShare > 0 {
		car.Unit.LossML = c.LossShare * car.Unit.RightML
	}
	return car
}

// dice are those of one thing, the nth time.
func (c Config) dice(thing string, n int) dice {
	h := fnv.New64a()
	fmt.Fprint(h, thing, n)
	return c.World.dice(c.Seed, h.Sum64())
}

// Visit is one oil change under way. Where oil is, is kept in ml at 20 °C.
type Visit struct {
	*Car
	Day
	Slips Slips
	Job   job.Job

	n        int  // 0 the car's first
	straight bool // writes what is certain to be asked without waiting for it
	dice     dice // of the question under way
	at       time.Time
	outAt    time.Time

	needML    float64 // belonged in when the drain had ended
	rightFill float64 // belongs in after an ordinary drain
	pan       float64 // came out
	over      float64 // still in the unit beyond what stays behind
	more      float64 // came out on a second look
	chargeML  float64 // the plan: is to leave the vessel
	vessel    float64
	hose      float64
	hoseIs    string
	bottles   float64 // left in the bottles that were opened
	opened    int
	catch     float64
	lost      float64 // at a plug that weeps
	overflow  float64
	out       float64 // let out

	said      map[job.Place]job.Value
	asked     map[job.Place]int    // how often
	honest    map[job.Place]string // what should have been typed
	corrected map[job.Place]bool   // is read right from now on
	stood     map[job.Place]bool   // was asked to be read again
	slipped   bool                 // the unit slip was made
	hoseLied  bool                 // before the first push
	sawCatch  bool                 // looked again, and found what had escaped
	suspects  int                  // readings of the first load that the guide named as one of which is wrong
}

// Visit begins the next oil change of the car.
func (c *Car) Visit(slips Slips) *Visit {
	if c.visits > 0 {
		c.Unit.goOn(c.Config.dice("road", c.visits))
	}
	v := &Visit{
		Car: c, Slips: slips, n: c.visits, Day: c.Unit.newDay(c.Config.dice("day", c.visits), c.Tools, slips),
		at:   time.Date(2026+c.visits, 4, 18, 9, 0, 0, 0, time.UTC),
		said: map[job.Place]job.Value{}, asked: map[job.Place]int{}, honest: map[job.Place]string{},
		corrected: map[job.Place]bool{}, stood: map[job.Place]bool{},
	}
	v.Job = job.Job{ID: fmt.Sprintf("sim-%d-%d", c.Seed, c.visits), Started: v.at}
	v.needML, v.rightFill = c.Unit.RightML, c.Unit.RightML-v.StaysML
	if v.Primed {
		v.hose = c.Tools.HoldUpML
	}
	c.visits++
	return v
}

// New begins the first oil change of a car.
func New(c Config) *Visit { return NewCar(c).Visit(c.Slips) }

// Result is what an oil change came to at one of its moments, or at its end.
type Result struct {
	State    *guide.Guide
	Decided  job.Decided // by the last entry
	Round    int         // that it is about
	InML     float64     // really in the unit
	OffML    float64     // of what belongs in it
	OffShare float64     // of the right fill after an ordinary drain
}

// Beyond reports whether the unit is so far off that the car must not be
// driven.
func (r Result) Beyond() bool {
	return r.OffShare < -verdict.DoNotDriveShort || r.OffShare > verdict.DoNotDriveOver
}

func (v *Visit) result(s *guide.Guide) Result {
	off := v.Unit.HeldML - v.Unit.RightML
	return Result{State: s, InML: v.Unit.HeldML, OffML: off, OffShare: off / v.rightFill}
}

// mostEntries ends a job that goes round in circles.
const mostEntries = 350

func (v *Visit) fold() *guide.Guide { return guide.Fold(v.Job, guide.Offers{Before: v.before}) }

// Play answers question by question to the end and calls each with the job as it
// stands after every entry. It stops where each does not want more.
func (v *Visit) Play(each func(Result) bool) error {
	for len(v.Job.Entries) < mostEntries {
		s := v.fold()
		if len(v.Job.Entries) > 0 && !each(v.result(s)) {
			return nil
		}
		p, more := s.Next()
		if !more {
			return nil
		}
		if err := v.step(s, p); err != nil {
			return err
		}
	}
	return fmt.Errorf("no end after %d entries", mostEntries)
}

// ByQuestions answers question by question until the owner accepts the fill or
// leaves it; Straight does the same with the entries written as they must come,
// so that most jobs are folded twice: for the plan and for the verdict. No slip
// that the guide refuses to take must be made then.
func (v *Visit) ByQuestions() (Result, error) { return v.toDecision() }

// Straight: see ByQuestions.
func (v *Visit) Straight() (Result, error) {
	v.straight = true
	return v.toDecision()
}

func (v *Visit) toDecision() (Result, error) {
	if v.straight {
		v.begin()
	}
	for len(v.Job.Entries) < mostEntries {
		s := v.fold()
		p, more := s.Next()
		if !more {
			return Result{}, errors.New("the end without a decision")
		}
		if err := v.step(s, p); err != nil {
			return Result{}, err
		}
		if p.Topic == job.Decision {
			r := v.result(s)
			r.Round, r.Decided = p.Place.Round, job.DecideAccept
			switch v.choice(p.Place) {
			case job.DecideLeave.String():
				r.Decided = job.DecideLeave
				fallthrough
			case job.DecideAccept.String():
				v.Car.before = v.fold()
				return r, nil
			}
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
