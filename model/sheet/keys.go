package sheet

// This file gives every line that is confirmed a digit of its own.

import (
	"hash/fnv"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// orders are the orders in which the digits stand down a sheet: in none does a finger
// that runs over the pad, up or down, confirm more than two lines.
var orders = []string{"849576", "694857", "758496", "485769", "967485", "576948"}

// earlyOrders are those of the lines before anybody is under the car, at most three. The
// lines that are chosen by these digits are not seen yet.
var earlyOrders = []string{"213", "312"}

// earlyKey is the digit of the nth of these lines.
func earlyKey(g *guide.Guide, n int) rune {
	order := earlyOrders[hashOf(g)%uint32(len(earlyOrders))]
	return rune(order[n%len(order)])
}

func hashOf(g *guide.Guide) uint32 {
	h := fnv.New32a()
	h.Write([]byte(g.ID))
	return h.Sum32()
}

// Early reports whether a line stands before anybody is under the car: those after it are
// not shown before it is confirmed.
func (l Line) Early() bool {
	switch l.Place.Topic {
	case job.ElectricOff, job.GroundAndChocks, job.StandsAndShake:
		return true
	}
	return false
}

// keyOf is the digit of the nth line of a sheet that is confirmed. It is the same for
// as long as the job lasts, on paper too, and another one in the next job.
func keyOf(g *guide.Guide, id ID, n int) rune {
	seed := id
	switch { // Level came after the others, whose digits are on paper already
	case id == Level:
		seed = numIDs - 1
	case id > Level:
		seed--
	}
	order := orders[(hashOf(g)+uint32(seed))%uint32(len(orders))]
	return rune(order[n%len(order)])
}

// Digits of the options where nothing must be chosen by the way.
const (
	stopKeys = "472958361"
	notKnown = '0' // not looked
)

// Digits of what is done after a verdict.
const (
	acceptKey  = '6'
	correctKey = '3'
	leaveKey   = '5'
	wrongKey   = '2'
)
