package sheet

// This file gives every line that is confirmed a digit of its own.

import (
	"hash/fnv"

	"garage/tundish/model/guide"
)

// orders are the orders in which the digits stand down a sheet: in none does a finger
// that runs over the pad, up or down, confirm more than two lines.
var orders = []string{"849576", "694857", "758496", "485769", "967485", "576948"}

// keyOf is the digit of the nth line of a sheet that is confirmed. It is the same for
// as long as the job lasts, on paper too, and another one in the next job.
func keyOf(g *guide.Guide, id ID, n int) rune {
	h := fnv.New32a()
	h.Write([]byte(g.ID))
	order := orders[(h.Sum32()+uint32(id))%uint32(len(orders))]
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
