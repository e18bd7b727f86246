package verdict

// This file says what the jobs of a unit taught about it and the rig.

import (
	"math"

	"garage/tundish/model/estimate"
	"garage/tundish/model/measure"
)

// Learned is a quantity that jobs taught, ml at 20 °C.
type Learned struct {
	ML, UML float64
	Jobs    int // how many; 0 means nothing was learned
}

// Lessons are what jobs taught. Jobs is 0 where they taught nothing, and what
// is usual in the trade holds.
type Lessons struct {
	Residual Learned // what stays behind in this unit at an ordinary drain
	Escape   Learned // what escapes at the swap with this rig
}

// teaches is the part of the uncertainty of what is usual that must be left at
// most where jobs are said to have taught something.
const teaches = 0.92

// Lessons are what the job and those of its unit before it taught.
func (s *Assessment) Lessons() Lessons {
	usual, now := s.Usual()
	return Lessons{
		Residual: learned(usual.Stays, now.Stays, s.jobsThat(func(b *Assessment) bool { return b.Measured() && !b.DrainedVoid() })),
		Escape: learned(usual.Escape, now.Escape, s.jobsThat(func(b *Assessment) bool {
			return !b.Path().PouredIn() && b.SwapTold(0)
		})).oneMore(estimate.EscapeOwnUML),
	}
}

// oneMore is a quantity as the next job has it: with a scatter of its own.
func (l Learned) oneMore(ownUML float64) Learned {
	if l.Jobs > 0 {
		l.UML = math.Hypot(l.UML, ownUML)
	}
	return l
}

func (s *Assessment) jobsThat(tell func(*Assessment) bool) int {
	n := 0
	for b := s; b != nil; b = b.before {
		if tell(b) {
			n++
		}
	}
	return n
}

func learned(usual, now measure.Value, jobs int) Learned {
	if jobs == 0 || !(now.U() < teaches*usual.U()) || now.Nominal < 0 {
		return Learned{}
	}
	return Learned{ML: now.Nominal, UML: now.U(), Jobs: jobs}
}
