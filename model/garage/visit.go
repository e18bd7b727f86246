package garage

// This file holds a car over the years, and one oil change of its unit.

import (
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"time"

	"garage/tundish/model/card"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
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
	// Alike is a unit that this one is of one kind with, nil none.
	Alike *Unit
	// Card is what others measured of such a unit, nil none: the owner takes it.
	Card *card.Card
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
	if c.Alike != nil {
		car.Unit.alike(c.dice("alike", 0), c.Alike)
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
	return dice{rand.New(rand.NewPCG(c.Seed, h.Sum64())), c.World}
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
	Accepted bool    // else left, or not at its end
	Round    int     // of filling
	OffML    float64 // of what belongs in it
	OffShare float64 // of the right fill after an ordinary drain
}

func (v *Visit) result(s *guide.Guide) Result {
	off := v.Unit.HeldML - v.Unit.RightML
	return Result{State: s, OffML: off, OffShare: off / v.rightFill}
}
