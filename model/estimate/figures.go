package estimate

// This file holds the figures of a job and what they remember. How each is worked
// out is in the file of its kind.

import (
	"garage/tundish/model/device"
	"garage/tundish/model/job"
)

// Figures are what the answers of a job come to. They say the same for ever, but
// remember what they have worked out: they are for one goroutine at a time.
type Figures struct {
	*device.Tools
	before *Figures // of the unit's job before this one, with its own before it; nil none
	memo   memo
}

// New works on a job, with the figures of the unit's job before it; nil where
// there is none.
func New(j job.Job, before *Figures) *Figures {
	return &Figures{Tools: &device.Tools{State: job.Fold(j)}, before: before}
}

// memo is what the figures of a job remember.
type memo struct {
	drained  job.Lazy[Drained]
	before   job.Lazy[known]
	earlier  job.Lazy[*Figures]
	link     job.Lazy[int]
	plan     job.Lazy[planned]
	oilEnds  job.Lazy[oilEnds]
	puts     []Put // by round
	balances map[int]RoundBalance
	rounds   map[int]round
}
